"""What a journal brings back after a crash: the project as it was when the last step was kept."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from wedgework.bench.history import Done, History
from wedgework.bench.journal import (
    VERSION,
    Entry,
    Lines,
    edits_print,
    picture_prints,
    print_of,
    read_lines,
    with_pictures,
)
from wedgework.edits import decode_plain
from wedgework.edits.pictures import AddPicture
from wedgework.files.atomic import read_whole
from wedgework.files.wedge import read_wedge
from wedgework.pattern.document import Project
from wedgework.pattern.errors import WedgeworkError


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Recovered:
    """A project brought back. `problem` says what could not be, None where all of it could.

    `start` is the project that the journal began with, `history` what was done since, and
    `goes_on`, whether the journal can be written on where it ends.
    """

    start: Project
    project: Project
    history: History
    goes_on: bool
    problem: str | None = None

    @property
    def texts(self) -> tuple[str, ...]:
        """What was done and not saved, as the undo list says it."""
        return tuple(step.text for step in self.history.done)

    @property
    def is_something(self) -> bool:
        """Whether there is anything that the saved file does not hold."""
        return self.project is not self.start or self.problem is not None


class NotSaved(WedgeworkError):
    """A project has a journal with steps that were never saved: the maker must say what to do."""

    def __init__(self, sentence: str, recovered: Recovered) -> None:
        super().__init__(sentence)
        self.recovered = recovered


def recover(journal: Path, saved: Path | None = None) -> Recovered | None:
    """What a journal brings back, beside its saved project if it has one; None if nothing.

    Reads only. FileRefused where the journal or the saved file cannot be read.
    """
    data = None if saved is None else read_whole(saved)
    return recovered(read_lines(read_whole(journal)), data)


def recovered(lines: Lines, saved: bytes | None) -> Recovered | None:
    """As `recover`, from what was read; None where the journal holds no sound first line."""
    if not lines.entries or "journal" not in lines.entries[0]:
        return None
    head, *rest = lines.entries
    start, rest, problem = _beginning(head, rest, saved)
    if problem is None and not _same_edits(head):
        problem, rest = _OTHER_VERSION, _last_whole(rest)
    replay = _Replay(start)
    problem = replay.run(rest) or problem or _broken(lines.broken)
    return Recovered(
        start=start,
        project=replay.project,
        history=replay.history,
        goes_on=problem is None,
        problem=problem,
    )


_OTHER_VERSION = (
    "These steps were kept by another version of Wedgework, whose edits are not the same: "
    "the project is as it was last written down as a whole."
)


def _same_edits(head: Entry) -> bool:
    return head["journal"] == VERSION and head.get("edits") == edits_print()


def _last_whole(entries: list[Entry]) -> list[Entry]:
    return [entry for entry in entries if "whole" in entry][-1:]


def _broken(count: int) -> str | None:
    # One line that broke is the crash itself: what it held was never shown.
    return None if count <= 1 else f"{count} lines of the journal are damaged and were left out."


def _beginning(
    head: Entry, rest: list[Entry], saved: bytes | None
) -> tuple[Project, list[Entry], str | None]:
    """The project that the entries begin from, and those that are still to be done."""
    if "project" in head:
        return read_wedge(head["project"].encode()), rest, None
    if saved is None:
        raise WedgeworkError("The file that the journal belongs to is gone.")
    start, now = read_wedge(saved), print_of(saved)
    if head.get("saved") == now:
        return start, rest, None
    for index, entry in reversed(list(enumerate(rest))):
        if entry.get("saving") == now:  # it was saved, and died before it began a new journal
            return start, rest[index + 1 :], None
    done = sum("do" in entry for entry in rest)
    problem = (
        f"The file was changed by something else since its journal was begun; {done} steps in the "
        "journal do not fit it any more."
    )
    return start, [], problem if done else None


class _Replay:
    """Does what the journal says, one entry after another."""

    def __init__(self, start: Project) -> None:
        self.project = start
        self.history = History()
        self._held: dict[str, bytes] = {}
        self._hold_pictures()

    def run(self, entries: list[Entry]) -> str | None:
        """Replay; what stops it, as a sentence, or None. What was done before that stays."""
        for number, entry in enumerate(entries, start=1):
            try:
                self._do(entry)
            except WedgeworkError as error:
                return f"Step {number} of {len(entries)} cannot be done again: {error.sentence}"
        return None

    def _do(self, entry: Entry) -> None:
        if "do" in entry:
            self._edit(entry)
        elif "whole" in entry:
            self.history.clear()
            bare = read_wedge(entry["whole"].encode())
            self.project = with_pictures(bare, entry.get("pictures", {}), self._held)
            self._hold_pictures()
        elif "undo" in entry:
            step = self.history.back()
            self.project = step.before if step else self.project
        elif "redo" in entry:
            step = self.history.forth()
            self.project = step.after if step else self.project

    def _edit(self, entry: dict[str, Any]) -> None:
        edits = tuple(decode_plain(row) for row in entry["do"])
        after = self.project
        for edit in edits:
            after = edit.apply(after)
        self.history.push(Done(text=entry["text"], edits=edits, before=self.project, after=after))
        self.project = after
        if any(isinstance(edit, AddPicture) for edit in edits):
            self._hold_pictures()

    def _hold_pictures(self) -> None:
        """Remember the bytes of every photograph, so that a later line may name them."""
        pictures = self.project.pictures
        self._held |= {kept: pictures[own].data for own, kept in
                       picture_prints(self.project).items()}  # fmt: skip
