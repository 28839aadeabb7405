"""One studio a folder: the second one is told where the first is open.

In: a folder.  Out: a lock that the system lets go when the process ends, however it ends.
"""

import os
import sys
from pathlib import Path

from polestitch.errors import DesignError


class FolderLock:
    """Held from ``__init__`` to ``release``; ``DesignError`` where another process holds it."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / "studio.lock"
        self._handle = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o600)
        try:
            _take(self._handle)
        except OSError:
            address = os.read(self._handle, 200).decode("utf-8", "replace").strip()
            os.close(self._handle)
            open_at = f"; it is open at {address}" if address.startswith("http://") else ""
            raise DesignError(str(folder), f"another studio is working in this folder{open_at}") from None

    def note(self, address: str) -> None:
        """Write down where this studio is open, for whoever comes second."""
        os.ftruncate(self._handle, 0)
        os.lseek(self._handle, 0, os.SEEK_SET)
        os.write(self._handle, address.encode())

    def release(self) -> None:
        """Let go; once more does nothing."""
        if self._handle >= 0:
            os.close(self._handle)
            self._handle = -1


if sys.platform == "win32":
    import msvcrt

    def _take(handle: int) -> None:
        # A byte far behind the note, so that the note stays readable.
        os.lseek(handle, 1 << 30, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        os.lseek(handle, 0, os.SEEK_SET)

else:
    import fcntl

    def _take(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
