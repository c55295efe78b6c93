"""One program at a time on one journal: a lock that the system lets go of when the program dies."""

from __future__ import annotations

import os
import sys
from typing import Final

from wedgework.pattern.errors import FileRefused

_FAR: Final = 1 << 40
"""Windows locks bytes, and nobody may read those: one that no journal reaches is locked."""


class InUse(FileRefused):
    """Another program holds the file."""


def lock(handle: int, name: str) -> None:
    """Lock an open file for this program alone; InUse where another one has it."""
    try:
        _lock(handle)
    except (BlockingIOError, PermissionError):
        raise InUse(f"“{name}” is open in another window of Wedgework.", culprit=name) from None


if sys.platform == "win32":

    def _lock(handle: int) -> None:
        import msvcrt  # noqa: PLC0415 - Windows alone has it

        place = os.lseek(handle, 0, os.SEEK_CUR)
        os.lseek(handle, _FAR, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        finally:
            os.lseek(handle, place, os.SEEK_SET)

else:

    def _lock(handle: int) -> None:
        import fcntl  # noqa: PLC0415 - Windows has none

        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
