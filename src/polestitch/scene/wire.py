"""The wire format: a scene as bytes that a browser reads without copying.  Twin of ``web/src/wire/scene.ts``.

In: ``Scene``.  Out: bytes, and back.

Four bytes, little-endian, hold the length L; then come L bytes of JSON, the index, filled up with spaces so
that what follows starts on a four-byte boundary; then the arrays, each on such a boundary.
``index["arrays"]`` tells of each its type, its shape and where it begins, in bytes from the start of the arrays.
"""

import json
from typing import Any

import numpy as np
from numpy.typing import NDArray

from polestitch.scene.scene import Scene

TYPES: dict[str, np.dtype[Any]] = {
    "f32": np.dtype("<f4"),
    "u32": np.dtype("<u4"),
    "u16": np.dtype("<u2"),
    "u8": np.dtype("u1"),
}
_NAMES = {dtype: name for name, dtype in TYPES.items()}


def encoded(scene: Scene) -> bytes:
    """The scene as bytes; the same scene always gives the same bytes."""
    told: dict[str, Any] = {}
    parts: list[bytes] = []
    at = 0
    for name, array in scene.arrays.items():
        data = np.ascontiguousarray(array).tobytes()
        told[name] = {"type": _NAMES[array.dtype], "shape": list(array.shape), "at": at}
        parts += [data, b"\0" * (-len(data) % 4)]
        at += len(data) + -len(data) % 4
    text = json.dumps({**scene.index, "arrays": told}, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    index = text.encode()
    index += b" " * (-len(index) % 4)
    return b"".join([len(index).to_bytes(4, "little"), index, *parts])


def decoded(data: bytes) -> Scene:
    """The scene that ``data`` holds, its arrays as views on the bytes."""
    begin = 4 + int.from_bytes(data[:4], "little")
    index = json.loads(data[4:begin])
    arrays = {name: _array(data, begin, told) for name, told in index.pop("arrays").items()}
    return Scene(index, arrays)


def _array(data: bytes, begin: int, told: dict[str, Any]) -> NDArray[Any]:
    count = int(np.prod(told["shape"]))
    flat = np.frombuffer(data, TYPES[told["type"]], count, begin + told["at"])
    return flat.reshape(told["shape"])
