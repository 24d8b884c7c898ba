"""An advisory lock on an open file, on every platform."""

from __future__ import annotations

import sys

if sys.platform == "win32":
    import msvcrt
    import os

    _FAR = 1 << 40  # a byte that no journal reaches, so that reading is never blocked

    def lock(handle: int) -> None:
        """Wait for the lock of a file; closing the file lets it go."""
        os.lseek(handle, _FAR, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_LOCK, 1)

else:
    import fcntl

    def lock(handle: int) -> None:
        """Wait for the lock of a file; closing the file lets it go."""
        fcntl.flock(handle, fcntl.LOCK_EX)
