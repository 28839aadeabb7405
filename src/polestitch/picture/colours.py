"""sRGB and linear light.

In: hexadecimal colours, or linear values.  Out: linear values 0 to 1, or bytes (IEC 61966-2-1).
"""

import numpy as np
from numpy.typing import NDArray

from polestitch.document.colours import Colour


def linear(colour: str) -> NDArray[np.float64]:
    """(3,) linear light of ``"#rrggbb"``."""
    value = np.array(Colour(colour).rgb) / 255
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def srgb_bytes(light: NDArray[np.floating]) -> NDArray[np.uint8]:
    """Bytes of linear light of any shape; looked up in a table fine enough for every one of the 256 steps."""
    index = np.clip(light, 0, 1) * np.float32(_STEPS - 1) + np.float32(0.5)
    return _TABLE[index.astype(np.int32)]


def _table() -> NDArray[np.uint8]:
    value = np.linspace(0, 1, _STEPS)
    encoded = np.where(value <= 0.0031308, 12.92 * value, 1.055 * value ** (1 / 2.4) - 0.055)
    return np.asarray(np.round(encoded * 255).astype(np.uint8))


_STEPS = 8192
_TABLE = _table()
