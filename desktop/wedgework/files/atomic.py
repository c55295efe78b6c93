"""Whole files from and to the disk: a write is there entirely, or not at all.

The bytes go into a file beside the target, are forced to the disk, and take the target's place in
one step. A crash, a full disk or Ctrl-C leaves the old file as it was and nothing beside it.
"""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
from pathlib import Path
from typing import Final

from wedgework.pattern.errors import FileRefused

LARGEST_FILE_BYTES: Final = 256 * 1024 * 1024
"""Twenty times a project of 3000 pieces; what is larger is no pattern."""

_WHY: Final = {
    errno.ENOENT: "there is no such file or folder",
    errno.ENOTDIR: "its folder is no folder",
    errno.EISDIR: "it is a folder",
    errno.EACCES: "you may not",
    errno.EPERM: "you may not",
    errno.EROFS: "the disk is write-protected",
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EFBIG: "it is too large for this disk",
    errno.ENAMETOOLONG: "its name is too long",
    errno.ELOOP: "its links lead in a circle",
}


def write_atomically(path: Path, data: bytes) -> None:
    """Make `data` the whole content of the file at `path`; FileRefused where that cannot be.

    An existing file keeps its mode, a link stays a link to the file that is written; a folder, a
    device or a file that is write-protected is refused. Nothing is left behind on failure.
    """
    try:
        target = path.resolve()
        _write_beside(target, data, _mode_of(target))
        _force_folder(target.parent)
    except OSError as error:
        raise FileRefused(f"“{path}” cannot be written: {_reason(error)}.") from error


def read_whole(path: Path, largest_bytes: int = LARGEST_FILE_BYTES) -> bytes:
    """The bytes of a file; FileRefused where it cannot be read or is larger than allowed."""
    try:
        with path.open("rb") as file:
            data = file.read(largest_bytes + 1)
    except OSError as error:
        raise FileRefused(f"“{path}” cannot be read: {_reason(error)}.") from error
    if len(data) > largest_bytes:
        limit = f"{largest_bytes / 1024**2:.0f} MB"
        raise FileRefused(f"“{path}” is larger than {limit}, which no pattern file is.")
    return data


def _mode_of(target: Path) -> int | None:
    """Mode of the file that is there, None where there is none."""
    try:
        mode = target.stat().st_mode
    except FileNotFoundError:
        return None
    if not stat.S_ISREG(mode):
        raise FileRefused(f"“{target}” cannot be written: it is no ordinary file.")
    # A rename would replace a protected file all the same: the folder alone decides about it.
    if not os.access(target, os.W_OK):
        raise FileRefused(f"“{target}” cannot be written: it is write-protected.")
    return stat.S_IMODE(mode)


def _write_beside(target: Path, data: bytes, mode: int | None) -> None:
    beside = target.with_name(f".wedgework-{secrets.token_hex(8)}.part")
    # Not tempfile: that makes files for the owner alone; this follows the user's own mask.
    handle = os.open(
        beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666
    )
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if mode is not None:
            beside.chmod(mode)
        beside.replace(target)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def _force_folder(folder: Path) -> None:
    """Force the new name to the disk, where the system can; the file itself already is there."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _reason(error: OSError) -> str:
    known = _WHY.get(error.errno or 0)
    return known or (error.strerror or str(error)).rstrip(".").lower()
