"""sRGB and linear light.

In: hexadecimal colours, or linear values.  Out: linear values, or bytes (IEC 61966-2-1).
"""

import numpy as np
from numpy.typing import NDArray

from polestitch.document.colours import Colour


def linear(colour: str) -> NDArray[np.float64]:
    """(3,) linear light of ``"#rrggbb"``."""
    value = np.array(Colour(colour).rgb) / 255
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def bytes_of(light: NDArray[np.floating]) -> NDArray[np.uint8]:
    """Bytes in sRGB of linear light, as a film would take it: over three quarters it eases off toward white.

    Looked up in a table fine enough for every one of the 256 steps.
    """
    index = np.minimum(light, _MOST) * ((_STEPS - 1) / _MOST) + np.float32(0.5)
    return _TABLE[index.astype(np.int32)]


def _table() -> NDArray[np.uint8]:
    light = np.linspace(0, float(_MOST), _STEPS)
    value = np.where(light < 0.75, light, 1 - 0.25 * np.exp(-4 * (light - 0.75)))
    encoded = np.where(value <= 0.0031308, 12.92 * value, 1.055 * value ** (1 / 2.4) - 0.055)
    return np.asarray(np.round(encoded * 255).astype(np.uint8))


_MOST = np.float32(3)  # light beyond this is plain white
_STEPS = 24576
_TABLE = _table()
