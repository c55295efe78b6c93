"""The journal: every edit on the disk before its result is shown.

First line: version, a print of the table of edits, and the hash of the saved project (or the
project itself, if it was never saved). Then a line for each edit, undo and redo. Each line begins
with a checksum over itself and all before it, so a line that broke in a crash, or one that is
missing, is seen; what stands before it is sound.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import json
import os
import zlib
from collections.abc import Mapping, Set
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Final, TypeAlias

from wedgework.bench.locking import lock
from wedgework.edits import Edit, edit_docs, encode_edit
from wedgework.files.wedge import write_wedge
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused

VERSION: Final = 1
Entry: TypeAlias = dict[str, Any]
"""One line, read: `do` (edits and the undo list's text), `undo`, `redo`, `saving` or `whole`."""


def print_of(data: bytes) -> str:
    """The hash by which a journal knows a file's content."""
    return hashlib.sha256(data).hexdigest()


def edits_print() -> str:
    """The hash of the table of edits: another version's journal replays only if it is the same."""
    docs = [{key: row[key] for key in ("edit", "arguments")} for row in edit_docs()]
    return print_of(json.dumps(docs, sort_keys=True).encode())


def head_of_saved(data: bytes) -> Entry:
    """First line for a project whose file holds `data`."""
    return {"journal": VERSION, "edits": edits_print(), "saved": print_of(data)}


def head_of_unsaved(project: Project) -> Entry:
    """First line that carries the project itself."""
    return {"journal": VERSION, "edits": edits_print(), "project": _text_of(project)}


def did(edits: tuple[Edit, ...], text: str) -> bytes:
    """The line of edits that were kept as one step."""
    rows = b",".join(map(encode_edit, edits))
    return b'{"do":[' + rows + b'],"text":' + json.dumps(text).encode() + b"}"


def whole(project: Project, held: Set[str] = frozenset()) -> bytes:
    """The line of a step that leads before the journal's own beginning: the project itself.

    Photographs whose prints are `held` stand in the journal before this line, or in the file that
    it belongs to: they are named by their print and not written again.
    """
    named = {own: kept for own, kept in picture_prints(project).items() if kept in held}
    bare = {own: replace(project.pictures[own], data=b"") for own in named}
    text = _text_of(replace(project, pictures=project.pictures.with_rows(bare)))
    return json.dumps({"whole": text, "pictures": named}).encode()


def with_pictures(project: Project, named: Mapping[str, str], held: Mapping[str, bytes]) -> Project:
    """The project with the bytes of photographs that are named by their print put back.

    One whose bytes are nowhere is left out: the pieces matter more.
    """
    rows = {
        own: replace(project.pictures[own], data=held[kept])
        for own, kept in named.items()
        if kept in held
    }
    gone = [own for own, kept in named.items() if kept not in held]
    return replace(project, pictures=project.pictures.with_rows(rows, gone)) if named else project


def picture_prints(project: Project) -> dict[str, str]:
    """The print of each photograph, by its id."""
    return {own: print_of(picture.data) for own, picture in project.pictures.items()}


def _text_of(project: Project) -> str:
    return write_wedge(project).decode()


@dataclass(frozen=True, kw_only=True)
class Lines:
    """What could be read: entries with the first line first, and how much was sound.

    `broken` counts lines after the first one that is not as it was written; `sound_bytes` and
    `checksum` say where and how to go on writing.
    """

    entries: tuple[Entry, ...]
    broken: int
    sound_bytes: int
    checksum: int


def read_lines(data: bytes) -> Lines:
    """Read a journal up to the first line that is not as it was written."""
    entries: list[Entry] = []
    checksum = place = 0
    lines = data.splitlines(keepends=True)
    for line in lines:
        payload = line[9:-1]
        after = zlib.crc32(payload, checksum)
        if not line.endswith(b"\n") or line[:9] != b"%08x " % after:
            break
        entries.append(json.loads(payload))
        checksum, place = after, place + len(line)
    return Lines(
        entries=tuple(entries),
        broken=len(lines) - len(entries),
        sound_bytes=place,
        checksum=checksum,
    )


@dataclass(eq=False)
class Journal:
    """An open journal; it is locked, so no other program writes to it."""

    path: Path
    handle: int
    checksum: int = 0
    size: int = 0
    entries: tuple[Entry, ...] = field(default=())
    broken: int = 0

    @classmethod
    def take(cls, path: Path, name: str) -> Journal:
        """Open the journal at `path`, or make an empty one, and lock it.

        InUse, naming the project `name`, where another program has it; FileRefused where the
        place cannot be written.
        """
        while True:
            try:
                handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o600)
            except OSError as error:
                raise FileRefused(f"No journal can be kept at “{path}”: {_why(error)}.") from None
            try:
                lock(handle, name)
            except FileRefused:
                os.close(handle)
                raise
            if _is_still_there(handle, path):
                return cls(path, handle)._read()
            os.close(handle)  # the other program put it away between the two calls: again

    def _read(self) -> Journal:
        with os.fdopen(os.dup(self.handle), "rb") as file:
            lines = read_lines(file.read())
        self.entries, self.broken = lines.entries, lines.broken
        self.checksum, self.size = lines.checksum, lines.sound_bytes
        return self

    def start(self, head: Entry) -> None:
        """Begin anew with this first line; FileRefused where the disk does not take it."""
        self.size = self.checksum = 0
        self.entries, self.broken = (), 0
        self.append(json.dumps(head).encode())

    def append(self, payload: bytes) -> None:
        """Write one line, forced to the disk; FileRefused, with nothing kept, where that fails."""
        after = zlib.crc32(payload, self.checksum)
        line = b"%08x " % after + payload + b"\n"
        try:
            # What a failed write left behind goes first, else the next line would follow it.
            os.ftruncate(self.handle, self.size)
            os.lseek(self.handle, self.size, os.SEEK_SET)
            _write_all(self.handle, line)
            os.fsync(self.handle)
        except OSError as error:
            with contextlib.suppress(OSError):
                os.ftruncate(self.handle, self.size)
            raise FileRefused(
                f"The step was not kept, since the journal “{self.path}” cannot be written: "
                f"{_why(error)}."
            ) from None
        self.checksum, self.size = after, self.size + len(line)

    def close(self, *, remove: bool) -> None:
        """Let go of it; `remove` takes it off the disk as well, when nothing in it is needed."""
        if remove:
            with contextlib.suppress(OSError):
                self.path.unlink()
        os.close(self.handle)


def _write_all(handle: int, data: bytes) -> None:
    while data:
        data = data[os.write(handle, data) :]


def _is_still_there(handle: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(handle), path.stat())
    except FileNotFoundError:
        return False


def _why(error: OSError) -> str:
    if error.errno in {errno.EACCES, errno.EPERM, errno.EROFS}:
        return "you may not write there"
    if error.errno == errno.ENOSPC:
        return "the disk is full"
    return (error.strerror or str(error)).rstrip(".").lower()


def beside(path: Path) -> Path:
    """Where the journal of a saved project lies."""
    return path.with_name(f".{path.name}.journal")
