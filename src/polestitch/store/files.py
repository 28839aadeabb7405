"""Files that are there whole or not at all.

In: bytes, paths.  Out: files on disk, written beside, brought to the disk, then renamed.
"""

import os
from collections.abc import Callable
from pathlib import Path
from uuid import uuid4


def write_whole(path: Path, data: bytes) -> None:
    """Put ``data`` at ``path``: after a crash the file is the old one or the new one."""
    put_whole(path, lambda beside: beside.write_bytes(data))


def put_whole(path: Path, write: Callable[[Path], object]) -> None:
    """Let ``write`` make a file beside ``path``, then bring it to the disk and into place."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.{uuid4().hex}.part")
    try:
        write(beside)
        synced(beside)
        beside.replace(path)
        synced(path.parent)
    finally:
        beside.unlink(missing_ok=True)


def synced(path: Path) -> None:
    """Bring a file, or a folder's list of names, to the disk."""
    if path.is_dir() and os.name == "nt":
        return  # Windows opens no folders; NTFS journals the rename itself
    handle = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def sweep_parts(folder: Path) -> None:
    """Take away what a killed server left half written."""
    for part in folder.rglob(".*.part*"):
        part.unlink(missing_ok=True)
