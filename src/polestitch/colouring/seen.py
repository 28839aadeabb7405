"""How unlike two threads are, to every eye and to those that do not tell all colours apart.

In: colours of threads.  Out: differences (CIEDE2000), contrast of light and dark, and pairs that look alike.

CIEDE2000: G. Sharma, W. Wu, E. N. Dalal, Color Res. Appl. 30 (2005) 21-30.  Contrast: WCAG 2.2, relative luminance.
Sights: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A physiologically-based model for simulation of color
vision deficiency", IEEE TVCG 15(6) (2009) 1291-1298, severity 1, applied to linear sRGB (paper not seen; the matrices
are those that two independent colour libraries share).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

Sight = Literal["everyone", "protan", "deutan", "tritan"]
Matrix = tuple[tuple[float, float, float], ...]
SIGHTS: dict[Sight, Matrix] = {
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
ALIKE = 10.0  # CIEDE2000 below which two threads side by side are taken for one; common practice, no source
GREY = 1.25  # contrast below which light and dark do not part them; common practice, no source


@dataclass(frozen=True)
class Alike:
    """Two threads that ``sight`` hardly tells apart."""

    one: str
    other: str
    sight: Sight
    difference: float  # CIEDE2000
    contrast: float  # WCAG ratio, 1 to 21, to the eye that sees all colours


@cache
def difference(one: str, other: str) -> float:
    """CIEDE2000 between two colours."""
    from coloraide import Color

    return float(Color(one).delta_e(other, method="2000"))


@cache
def contrast(one: str, other: str) -> float:
    """WCAG ratio of the lighter to the darker, 1 to 21."""
    from coloraide import Color

    return float(Color(one).contrast(other, method="wcag21"))


@cache
def lightness(colour: str) -> float:
    """OKLab lightness, 0 black to 1 white."""
    from coloraide import Color

    return float(Color(colour).convert("oklab")["lightness"])


@cache
def seen_by(colour: str, sight: Sight) -> str:
    """The colour as ``sight`` has it, at its strongest, as #rrggbb."""
    if sight == "everyone":
        return colour
    from coloraide import Color

    light = Color(colour).convert("srgb-linear").coords()
    shown = [min(max(sum(share * part for share, part in zip(row, light)), 0.0), 1.0) for row in SIGHTS[sight]]
    return str(Color("srgb-linear", shown).convert("srgb").to_string(hex=True))


def unlike(colours: Sequence[str]) -> list[list[float]]:
    """(k, k) CIEDE2000 between threads."""
    return [[difference(one, other) for other in colours] for one in colours]


def alike(pairs: Iterable[tuple[tuple[str, str], tuple[str, str]]]) -> list[Alike]:
    """Of pairs of (name, colour) those that look alike, by every sight that has them so; "everyone" stands alone."""
    found: list[Alike] = []
    for (one, colour), (other, beside) in pairs:
        far = contrast(colour, beside)
        for sight in ("everyone", *SIGHTS):
            off = difference(seen_by(colour, sight), seen_by(beside, sight))
            if off < ALIKE:
                found.append(Alike(one, other, sight, off, far))
                if sight == "everyone":
                    break
    return found


def grey(pairs: Iterable[tuple[tuple[str, str], tuple[str, str]]]) -> list[str]:
    """A sentence for each pair of (name, colour) that colour alone parts, light and dark hardly."""
    told = []
    for (one, colour), (other, beside) in pairs:
        ratio = contrast(colour, beside)
        if ratio < GREY and difference(colour, beside) >= ALIKE:
            told.append(f"{one} and {other} are equally light ({ratio:.2f} to 1): without colour they look alike.")
    return told


# J. Birch, "Worldwide prevalence of red-green color deficiency", J. Opt. Soc. Am. A 29(3) (2012) 313-320, abstract:
# about 8 % of men and about 0.4 % of women in European Caucasians, 4 to 6.5 % of men of Chinese and Japanese ethnicity.
HOW_MANY = "about 8 in 100 men and 1 in 250 women of European descent, mostly more mildly (Birch 2012)"


def said(found: Sequence[Alike]) -> list[str]:
    """The same in sentences, one for each pair."""
    pairs: dict[tuple[str, str], list[Alike]] = {}
    for each in found:
        pairs.setdefault((each.one, each.other), []).append(each)
    return [_sentence(both, alikes) for both, alikes in pairs.items()]


def _sentence(both: tuple[str, str], alikes: Sequence[Alike]) -> str:
    names, sights = f"{both[0]} and {both[1]}", {each.sight for each in alikes}
    grey = "" if alikes[0].contrast >= GREY else " They are equally light too, so not even light and dark part them."
    if "everyone" in sights:
        return f"{names} look nearly alike to everyone.{grey}"
    if sights <= {"tritan"}:
        return f"{names} look nearly alike to the few who do not tell blue from green.{grey}"
    blue = ", and to the few who do not tell blue from green" if "tritan" in sights else ""
    return f"{names} look nearly alike to many who do not tell red from green: {HOW_MANY}{blue}.{grey}"
