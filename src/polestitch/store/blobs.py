"""Blobs: bytes on disk under the SHA-256 of their content.

In: bytes.  Out: the name they are found by, and the bytes again.
"""

import hashlib
from pathlib import Path

from polestitch.store.files import write_whole


def sha_of(data: bytes) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def kept_blob(folder: Path, data: bytes) -> str:
    """The name under which ``data`` now lies in ``folder``."""
    name = sha_of(data)
    path = blob_path(folder, name)
    if not path.exists():
        write_whole(path, data)
    return name


def blob(folder: Path, name: str) -> bytes | None:
    """The bytes called ``name``, or None where they are gone or no longer what they were."""
    path = blob_path(folder, name)
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        return None
    if sha_of(data) != name:
        path.unlink(missing_ok=True)
        return None
    return data


def blob_path(folder: Path, name: str) -> Path:
    """Two letters make a folder, so that none holds too many."""
    return folder / name[:2] / name
