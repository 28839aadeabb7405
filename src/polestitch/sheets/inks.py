"""Thread colours as inks on white paper: hue kept, lightness told by the row, so grey prints read too.

In: sRGB hexadecimal.  Out: the same.  OKLab (Ottosson 2020, from memory) keeps equal steps looking equal.
"""

import math

DARKEST, PALEST = 0.30, 0.76  # OKLab lightness of the first and the last row
MOST_CHROMA = 0.13  # beyond it pale tints leave sRGB


def row_ink(colour: str, share: float) -> str:
    """The ink of a row: ``share`` 0 is the first row (dark), 1 the last (pale)."""
    _, a, b = _oklab(colour)
    chroma = math.hypot(a, b)
    keep = min(1.0, MOST_CHROMA / chroma) if chroma > 1e-6 else 1.0
    return _hexadecimal(DARKEST + (PALEST - DARKEST) * share, a * keep, b * keep)


def lightness(colour: str) -> float:
    """OKLab lightness, 0 black to 1 white."""
    return _oklab(colour)[0]


def _oklab(colour: str) -> tuple[float, float, float]:
    digits = colour[1:] if len(colour) == 7 else "".join(2 * digit for digit in colour[1:])
    r, g, b = (_linear(int(digits[k : k + 2], 16) / 255) for k in (0, 2, 4))
    long = math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b)
    middle = math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b)
    short = math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b)
    return (
        0.2104542553 * long + 0.7936177850 * middle - 0.0040720468 * short,
        1.9779984951 * long - 2.4285922050 * middle + 0.4505937099 * short,
        0.0259040371 * long + 0.7827717662 * middle - 0.8086757660 * short,
    )


def _hexadecimal(lightness: float, a: float, b: float) -> str:
    long = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3
    middle = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3
    short = (lightness - 0.0894841775 * a - 1.2914855480 * b) ** 3
    linear = (
        4.0767416621 * long - 3.3077115913 * middle + 0.2309699292 * short,
        -1.2684380046 * long + 2.6097574011 * middle - 0.3413193965 * short,
        -0.0041960863 * long - 0.7034186147 * middle + 1.7076147010 * short,
    )
    return "#" + "".join(f"{round(255 * _coded(channel)):02x}" for channel in linear)


def _linear(value: float) -> float:
    return value / 12.92 if value <= 0.04045 else float(((value + 0.055) / 1.055) ** 2.4)


def _coded(value: float) -> float:
    value = min(max(value, 0.0), 1.0)
    return 12.92 * value if value <= 0.0031308 else float(1.055 * value ** (1 / 2.4) - 0.055)
