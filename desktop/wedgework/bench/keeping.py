"""The bench's dealings with the disk: the file, its journal, and what happens between them."""

from __future__ import annotations

import contextlib
import json
import secrets
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from wedgework.bench.journal import (
    Entry,
    Journal,
    Lines,
    beside,
    did,
    head_of_saved,
    head_of_unsaved,
    picture_prints,
    print_of,
    whole,
)
from wedgework.bench.locking import InUse
from wedgework.bench.recovery import Recovered, recovered
from wedgework.edits import Edit
from wedgework.edits.pictures import AddPicture
from wedgework.files.atomic import read_whole, write_atomically
from wedgework.files.wedge import read_wedge, refuse_newer_target, write_wedge
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused

UNSAVED: Final = "unsaved-"
"""How the names of journals of projects without a file begin."""


class ChangedOutside(FileRefused):
    """The file on the disk is not the one that was opened; saving would lose what it holds."""


@dataclass(eq=False, kw_only=True)
class Opened:
    """A file that was read, its journal (None where none can be kept) and what that brings back."""

    path: Path
    data: bytes
    project: Project
    journal: Journal | None = None
    recovered: Recovered | None = None
    problem: str | None = None

    def journal_closed(self) -> None:
        """Let go of the journal and leave it where it is."""
        if self.journal is not None:
            self.journal.close(remove=False)


class Keeper:
    """Holds the open file's journal, and knows how far undo and redo can be told in it.

    A journal begins at the last save, so a step back beyond that cannot be said as `undo`: the
    project itself is written instead, and counting begins anew.
    """

    def __init__(self, state_folder: Path | None) -> None:
        self.path: Path | None = None
        self.problem: str | None = None
        self._folder = state_folder
        self._journal: Journal | None = None
        self._saved_print: str | None = None
        self._back = self._forth = 0
        self._held: set[str] = set()

    # Steps

    def note_step(self, before: Project, edits: tuple[Edit, ...], text: str) -> None:
        """Write a step on `before` down; FileRefused where the disk does not take it."""
        if self._journal is None and self.path is None and self.problem is None:
            self.start_unsaved(before)
        self._append(did(edits, text))
        self._held |= {print_of(edit.data) for edit in edits if isinstance(edit, AddPicture)}
        self._back, self._forth = self._back + 1, 0

    def note_move(self, after: Project, *, back: bool) -> None:
        """Write an undo or a redo down, of which `after` is the result."""
        if (self._back if back else self._forth) == 0:
            if self._journal is not None:
                self._append(whole(after, self._held))
                self._held |= {*picture_prints(after).values()}
            self._back = self._forth = 0
            return
        self._append(b'{"undo":1}' if back else b'{"redo":1}')
        step = -1 if back else 1
        self._back, self._forth = self._back + step, self._forth - step

    def _append(self, payload: bytes) -> None:
        if self._journal is not None:
            self._journal.append(payload)

    # Opening

    def start_unsaved(self, project: Project) -> None:
        """Close what is open and keep a journal for a project without a file.

        Where none can be kept, work goes on, and `problem` says why.
        """
        self.close()
        if self._folder is None:
            return
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            journal = Journal.take(self._folder / f"{UNSAVED}{secrets.token_hex(6)}.journal", "")
            journal.start(head_of_unsaved(project))
            self._held = {*picture_prints(project).values()}
        except (OSError, FileRefused) as error:
            self.problem = f"No journal is kept: {error}"
        else:
            self._journal = journal

    def open_saved(self, path: Path) -> Opened:
        """Read a file and its journal, without letting go of what is open.

        A file that is open already is read again, and its journal begins anew when it is accepted.
        """
        data = read_whole(path)
        opened = Opened(path=path, data=data, project=read_wedge(data))
        if self._folder is None:
            return opened
        if self.path is not None and same_file(self.path, path):
            opened.journal = self._journal
            return opened
        opened.journal, opened.problem = self._journal_for(path)
        if opened.journal is not None and opened.journal.entries:
            found = recovered(lines_of(opened.journal), data)
            opened.recovered = found if found is not None and found.is_something else None
        return opened

    def accept(self, opened: Opened, *, take: bool) -> None:
        """Let go of what was open and go on with this file, and with its journal if `take`."""
        if opened.journal is not self._journal:
            self.close()
        self.path, self._journal, self.problem = opened.path, opened.journal, opened.problem
        self._saved_print = print_of(opened.data)
        if take and opened.recovered is not None:
            self._go_on(opened.recovered, head_of_saved(opened.data))
        else:
            self._begin(head_of_saved(opened.data), opened.project)

    def open_unsaved(self, path: Path) -> Recovered:
        """Take over the journal of a project that was never saved; FileRefused if it holds none."""
        journal = Journal.take(path, "This unsaved project")
        found = recovered(lines_of(journal), None)
        if found is None:
            journal.close(remove=True)
            raise FileRefused(f"“{path}” holds no project.")
        self.close()
        self._journal = journal
        self._go_on(found, head_of_unsaved(found.start))
        return found

    def _go_on(self, found: Recovered, head: Entry) -> None:
        """Write on where the journal ends; where it cannot be gone on with, write it anew."""
        if found.goes_on:
            self._held = {*picture_prints(found.start).values()}
            self._back, self._forth = len(found.history.done), len(found.history.undone)
            return
        self._begin(head, found.start)
        if found.project is not found.start:
            self._append(whole(found.project, self._held))
            self._held |= {*picture_prints(found.project).values()}

    def _journal_for(self, path: Path) -> tuple[Journal | None, str | None]:
        """The journal of a file: beside it, else in the state folder; else why there is none."""
        places = [beside(path.resolve())]
        if self._folder is not None:
            with contextlib.suppress(OSError):  # taking the journal says what is wrong
                self._folder.mkdir(parents=True, exist_ok=True)
            name = f"{print_of(bytes(path.resolve()))[:16]}-{path.name}.journal"
            places.append(self._folder / name)
        problem = None
        for place in places:
            try:
                return Journal.take(place, path.name), None
            except InUse:
                raise
            except FileRefused as error:
                problem = problem or error.sentence
        return None, problem

    # Saving

    def save(self, project: Project, path: Path | None, *, overwrite: bool) -> None:
        """Write the file, then begin a new journal; FileRefused, with nothing changed, else."""
        target = path or self.path
        if target is None:
            raise FileRefused("The project has no file yet: say where it is to be saved.")
        moves = self.path is None or not same_file(self.path, target)
        refuse_newer_target(target)
        if not moves and not overwrite:
            self._refuse_changed(target)
        data = write_wedge(project)
        journal, problem = self._journal, self.problem
        if moves and self._folder is not None:
            journal, problem = self._journal_for(target)
        self._write(target, data, journal if moves else None)
        if moves:
            self.close()
        self.path, self._journal, self.problem = target, journal, problem
        self._saved_print = print_of(data)
        self._begin(head_of_saved(data), project)

    def _write(self, target: Path, data: bytes, new: Journal | None) -> None:
        """Write the file, noted before in the journal: a crash between both is then understood."""
        try:
            self._append(json.dumps({"saving": print_of(data)}).encode())
            write_atomically(target, data)
        except BaseException:
            if new is not None:
                new.close(remove=not new.entries)
            raise

    def _refuse_changed(self, target: Path) -> None:
        if target.exists() and print_of(read_whole(target)) != self._saved_print:
            raise ChangedOutside(
                f"“{target.name}” was changed by another program since it was opened."
            )

    def _begin(self, head: Entry, start: Project) -> None:
        """A new journal in place of the old one; where that fails, work goes on without."""
        self._back = self._forth = 0
        self._held = {*picture_prints(start).values()}
        if self._journal is None:
            return
        try:
            self._journal.start(head)
        except FileRefused as error:
            self.problem = error.sentence
            self._journal.close(remove=True)
            self._journal = None

    def close(self) -> None:
        """Let go of the file and take its journal off the disk."""
        if self._journal is not None:
            self._journal.close(remove=True)
        self.path = self._journal = self.problem = self._saved_print = None
        self._back = self._forth = 0


def lines_of(journal: Journal) -> Lines:
    """What an open journal held when it was taken."""
    return Lines(
        entries=journal.entries,
        broken=journal.broken,
        sound_bytes=journal.size,
        checksum=journal.checksum,
    )


def same_file(one: Path, other: Path) -> bool:
    """Whether two paths lead to one file, whether or not it is there yet."""
    return one.resolve() == other.resolve()


def unsaved_journals(state_folder: Path) -> tuple[Path, ...]:
    """Journals of projects that were never saved and that no program has open, newest first."""
    if not state_folder.is_dir():
        return ()
    found = sorted(state_folder.glob(f"{UNSAVED}*.journal"), key=lambda path: -path.stat().st_mtime)
    return tuple(path for path in found if _is_free(path))


def _is_free(path: Path) -> bool:
    try:
        journal = Journal.take(path, path.name)
    except FileRefused:
        return False
    # Without a step it would bring back what was opened and nothing else: a demo, a drawing.
    has_steps = len(journal.entries) > 1
    journal.close(remove=not has_steps)
    return has_steps
