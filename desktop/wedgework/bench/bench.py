"""What is open now: the project, what was done to it, what is being tried, and what is chosen.

Nothing here knows a window. Everyone who shows the bench subscribes and is told what changed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Literal, TypeAlias

from wedgework.bench.changes import Change, Kind, change_between
from wedgework.bench.filling import filled_and_applied, tried
from wedgework.bench.history import Done, History
from wedgework.bench.keeping import Keeper
from wedgework.bench.recovery import NotSaved
from wedgework.bench.steps import STEPS, StepName
from wedgework.edits import Edit, undo_text
from wedgework.edits.settle import Released
from wedgework.pattern.changes import has_id
from wedgework.pattern.document import Project
from wedgework.pattern.errors import EditRefused

Listener: TypeAlias = Callable[[Change], None]
Recovery: TypeAlias = Literal["ask", "take", "drop"]


class Bench:
    """The open project and all that a maker does to it.

    `state_folder` is where journals of unsaved projects lie (and those of files in folders that
    cannot be written); None keeps no journal at all, for scripts that save at once.
    """

    def __init__(self, project: Project | None = None, *, state_folder: Path | None = None) -> None:
        self._keeper, self._state_folder = Keeper(state_folder), state_folder
        self._history = History()
        self._listeners: list[Listener] = []
        self._project = self._shown = self._at_save = Project()
        self._tried: tuple[Edit, ...] = ()
        self._chosen: tuple[str, ...] = ()
        self._step: StepName = "Shape"
        self._released: tuple[Released, ...] = ()
        self._told: tuple[str, ...] = ()
        self.refusal: str | None = None
        if project is not None:
            self.new(project)

    # What is there

    @property
    def project(self) -> Project:
        """The project as it was last kept; a preview is not in it."""
        return self._project

    @property
    def shown(self) -> Project:
        """The project with the preview, if there is one: what everyone draws and measures."""
        return self._shown

    @property
    def path(self) -> Path | None:
        """The file of the project; None while it was never saved."""
        return self._keeper.path

    @property
    def state_folder(self) -> Path | None:
        """Where journals of projects without a file lie; None where none are kept."""
        return self._state_folder

    @property
    def name(self) -> str:
        """What to call the project in a title."""
        return self._project.name or (self.path.stem if self.path else "Untitled")

    @property
    def is_dirty(self) -> bool:
        """Whether there is work that the file does not hold."""
        return self._project is not self._at_save

    @property
    def is_previewing(self) -> bool:
        """Whether something is being tried that is not kept."""
        return self._shown is not self._project

    @property
    def tried(self) -> tuple[Edit, ...]:
        """The edits of the preview."""
        return self._tried

    @property
    def released(self) -> tuple[Released, ...]:
        """Holds that what is tried lets go, or that the last step did; none where nothing did."""
        return self._released

    @property
    def told(self) -> tuple[str, ...]:
        """Sentences about what the last step did that a maker may not expect of it."""
        return (*(one.sentence for one in self._released), *self._told)

    @property
    def journal_problem(self) -> str | None:
        """Why no journal is kept, as a sentence; None while one is (or none was asked for)."""
        return self._keeper.problem

    @property
    def history(self) -> tuple[Done, ...]:
        """Steps that can be undone, the first one first; each has its `text`."""
        return self._history.done

    @property
    def undone(self) -> tuple[Done, ...]:
        """Steps that can be done again, the next one first."""
        return self._history.undone

    @property
    def next_undo(self) -> str | None:
        """What undo would undo, for its menu entry; None where there is nothing."""
        return self.history[-1].text if self.history else None

    @property
    def next_redo(self) -> str | None:
        """What redo would do again; None where there is nothing."""
        return self.undone[0].text if self.undone else None

    def subscribe(self, listener: Listener) -> Callable[[], None]:
        """Call `listener` with every change from now on; the answer ends that."""
        self._listeners.append(listener)
        return lambda: self._listeners.remove(listener)

    def has(self, own: str) -> bool:
        """Whether anything in the kept project has this id."""
        return has_id(self._project, own)

    # Edits

    def do(self, *edits: Edit, text: str | None = None) -> bool:
        """Keep edits as one step: on the disk first, then shown. False where nothing changes.

        `text` is what the undo list says, by default what it says of the first edit. EditRefused,
        with nothing changed, where one cannot be done; FileRefused where the journal cannot be
        written: then nothing is changed either.
        """
        edits, settled = filled_and_applied(self._project, edits)
        after = settled.project
        if after is self._project:
            self.drop_preview()
            return False
        said = (text or _said(edits, self._project)) + "".join(
            f", letting “{one.name}” go" for one in settled.released
        )
        self._keeper.note_step(self._project, edits, said)
        self._history.push(Done(text=said, edits=edits, before=self._project, after=after))
        self._keep(after, settled.released, settled.told)
        return True

    def preview(self, *edits: Edit) -> bool:
        """Try edits on the kept project, in place of what was tried before.

        False where they are refused: then `refusal` says why and what was shown stays.
        """
        try:
            settled = tried(self._project, edits)
        except EditRefused as error:
            self._refuse(error.sentence)
            return False
        self._tried, self._released, self.refusal = edits, settled.released, None
        self._show("previewed", settled.project)
        return True

    def drop_preview(self) -> None:
        """Show the kept project again."""
        self._tried, self._released, self.refusal = (), (), None
        if self.is_previewing:
            self._show("previewed", self._project)

    def commit(self, text: str | None = None) -> bool:
        """Keep what is being tried, as `do`."""
        return bool(self._tried) and self.do(*self._tried, text=text)

    def undo(self) -> bool:
        """Take the last step back; False where there is none."""
        return self._step_to(self._history.done[-1:], back=True)

    def redo(self) -> bool:
        """Do the last undone step again; False where there is none."""
        return self._step_to(self._history.undone[:1], back=False)

    def _step_to(self, step: tuple[Done, ...], *, back: bool) -> bool:
        if not step:
            return False
        after = step[0].before if back else step[0].after
        self._keeper.note_move(after, back=back)
        self._history.back() if back else self._history.forth()
        self._keep(after)
        return True

    # Files

    def new(self, project: Project, *, is_work: bool = True) -> None:
        """Start with a project that no file holds yet: imported, drafted, or a demo.

        `is_work`: it would be missed. A demo would not, as long as nothing is done to it.
        """
        self._keeper.start_unsaved(project)
        self._open(project, at_save=Project() if is_work else project, history=History())

    def open(self, path: Path, recovery: Recovery = "ask") -> str | None:
        """Open a project file; the answer is what could not be recovered, as a sentence.

        Where steps were never saved: `ask` raises NotSaved and opens nothing, `take` goes on from
        the last step, `drop` forgets them. InUse where another program has it open; FileRefused
        where it cannot be read.
        """
        opened = self._keeper.open_saved(path)
        found = opened.recovered
        if found is not None and recovery == "ask":
            opened.journal_closed()
            raise NotSaved(f"“{path.name}” has steps that were never saved.", found)
        self._keeper.accept(opened, take=recovery == "take")
        if found is None or recovery == "drop":
            self._open(opened.project, at_save=opened.project, history=History())
            return None
        self._open(found.project, at_save=found.start, history=found.history)
        return found.problem

    def open_unsaved(self, journal: Path) -> str | None:
        """Go on with a project that was never saved, from its journal; answers as `open`."""
        found = self._keeper.open_unsaved(journal)
        self._open(found.project, at_save=Project(), history=found.history)
        return found.problem

    def save(self, path: Path | None = None, *, overwrite: bool = False) -> None:
        """Save, to `path` from now on if it is given; then a new journal begins.

        FileRefused, with nothing changed, where it cannot be written, or where the file was
        changed by something else since it was opened, unless `overwrite`.
        """
        self._keeper.save(self._project, path, overwrite=overwrite)
        self._at_save = self._project
        self.tell(Change(kind="saved"))

    def close(self) -> None:
        """Let go of the file. What was not saved is given up: ask before."""
        self._keeper.close()

    # What is chosen and seen

    @property
    def chosen(self) -> tuple[str, ...]:
        """Ids of what is chosen, the first chosen first."""
        return self._chosen

    def choose(self, ids: Iterable[str]) -> None:
        """Choose these and nothing else."""
        chosen = tuple(dict.fromkeys(ids))
        if chosen != self._chosen:
            touched = frozenset(chosen) ^ frozenset(self._chosen)
            self._chosen = chosen
            self.tell(Change(kind="chosen", others=touched))

    @property
    def step(self) -> StepName:
        """The step of the job that the maker is at."""
        return self._step

    def go_to_step(self, step: StepName) -> None:
        """Go to a step of the job; ValueError for what is none."""
        if step not in STEPS:
            raise ValueError(f"there is no step {step}")
        if step != self._step:
            self._step = step
            self.tell(Change(kind="step"))

    def _refuse(self, sentence: str) -> None:
        self.refusal = sentence
        self.tell(Change(kind="hint"))

    def _open(self, project: Project, *, at_save: Project, history: History) -> None:
        self._project = self._shown = project
        self._at_save, self._history = at_save, history
        self._tried, self._chosen, self.refusal, self._released = (), (), None, ()
        self.tell(Change(kind="opened"))

    def _keep(
        self, after: Project, released: tuple[Released, ...] = (), told: tuple[str, ...] = ()
    ) -> None:
        self._project = after
        self._tried, self._released, self._told, self.refusal = (), released, told, None
        self._show("edited", after)

    def _show(self, kind: Kind, after: Project) -> None:
        change = change_between(kind, self._shown, after)
        self._shown = after
        if self._chosen and not all(has_id(after, own) for own in self._chosen):
            self._chosen = tuple(own for own in self._chosen if has_id(after, own))
        self.tell(change)

    def tell(self, change: Change) -> None:
        """Tell everyone who listens."""
        for listener in tuple(self._listeners):
            listener(change)


def _said(edits: tuple[Edit, ...], project: Project) -> str:
    more = f" and {len(edits) - 1} more" if len(edits) > 1 else ""
    return undo_text(edits[0], project) + more
