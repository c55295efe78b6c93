"""The hand: which tool it holds, and how what the tool wishes for is carried out on the bench."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from wedgework.bench.bench import Bench
from wedgework.bench.changes import Change
from wedgework.bench.gestures import Cancel, Enter, Gesture, Mm2, Press, Typed
from wedgework.bench.snapping import Snapping
from wedgework.bench.tools import Scene, Tool, tool_named
from wedgework.bench.tools.choose import Nudging
from wedgework.bench.wishes import (
    Ask,
    Choose,
    Commit,
    DropPreview,
    Hint,
    Overlay,
    Preview,
    Trace,
    Wish,
)
from wedgework.pattern.errors import WedgeworkError
from wedgework.units.scale import Unit


class Hand:
    """A tool at work on a bench.

    Every gesture goes through `does`. What a maker sees of it besides the preview stands in
    `hint`, `hovered`, `trace`, `overlay` and `refusal`; listeners of the bench are
    told with a change of kind `hint` when these become others.
    """

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.snapping: Snapping | None = Snapping()
        self.unit = Unit.MM
        self.hint = ""
        self.hovered: str | None = None
        self.trace = Trace()
        self.overlay = Overlay()
        self.asked: Ask | None = None
        self._tool = tool_named("choose")
        self._state: Any = self._tool.idle
        self._refusal: str | None = None
        self._is_committing = False
        bench.subscribe(self._heard)

    @property
    def tool(self) -> Tool:
        """The tool in the hand."""
        return self._tool

    @property
    def state(self) -> Any:  # noqa: ANN401 - each tool has states of its own
        """The state of the tool, for tests and for what the window draws of it."""
        return self._state

    @property
    def is_idle(self) -> bool:
        """Whether nothing is held or half done."""
        return isinstance(self._state, type(self._tool.idle))

    @property
    def refusal(self) -> str | None:
        """Why the last gesture could not be followed, as a sentence; None where it could."""
        return self._refusal or self.bench.refusal

    def take(self, name: str) -> None:
        """Take another tool; what the old one had not finished is dropped."""
        self.settle()
        self.does(Cancel())
        self._tool = tool_named(name)
        self._state = self._tool.idle
        self.hint, self.hovered = self._tool.hint, None
        self.bench.tell(Change(kind="tool"))

    def settle(self) -> None:
        """Keep what arrow keys have moved, as one step, before anything else is done."""
        if isinstance(self._state, Nudging):
            self.does(Enter())

    def does(self, gesture: Gesture) -> None:
        """Follow a gesture. A refusal is kept in `refusal`, not raised: the hand goes on."""
        if isinstance(gesture, Press):
            self.settle()
        scene = self._scene()
        before = (self.hint, self.hovered, self.trace, self.overlay, self._refusal)
        held, was_idle = self._state, self.is_idle
        self._refusal = None
        try:
            self._state, wishes = self._tool.advance(self._state, gesture, scene)
            if self.is_idle and not was_idle:
                self.hint, self.overlay = self._tool.hint, Overlay()
            self._carry_out(wishes)
        except WedgeworkError as error:
            self._refusal = error.sentence
        if self._refusal and isinstance(gesture, Enter):
            # What was gathered and cannot be kept so is still in the hand, to be put right.
            self._state = held
        if before != (self.hint, self.hovered, self.trace, self.overlay, self._refusal):
            self.bench.tell(Change(kind="hint"))

    def _carry_out(self, wishes: Iterable[Wish]) -> None:
        for wish in wishes:
            match wish:
                case Preview(edits):
                    self.bench.preview(*edits)
                case Commit():
                    self._commit(wish)
                case DropPreview():
                    self.bench.drop_preview()
                case Choose(ids):
                    self.bench.choose(ids)
                case _:
                    self._say(wish)

    def _say(self, wish: Hint | Trace | Overlay | Ask) -> None:
        match wish:
            case Hint(text, hovered):
                self.hint, self.hovered = text, hovered
            case Trace():
                self.trace = wish
            case Overlay():
                self.overlay = wish
            case Ask():
                self.asked = wish
                self.bench.tell(Change(kind="asked"))

    def answer(self, numbers: tuple[float, ...] | None) -> None:
        """What the maker says to what the tool has asked; None where they say nothing."""
        self.asked = None
        if numbers is not None:
            self.does(Typed(numbers))
            self.does(Enter())

    def _commit(self, wish: Commit) -> None:
        self._is_committing = True
        try:
            self.bench.do(*wish.edits)
        except WedgeworkError as error:
            self.bench.drop_preview()
            self._refusal = error.sentence
            return
        finally:
            self._is_committing = False
        # What was said of the drag is over; a tool that goes on says so after its commit.
        self.hint, self.hovered = self._tool.hint, None
        if wish.chosen is not None:
            self.bench.choose(own for own in wish.chosen if self.bench.has(own))

    def _heard(self, change: Change) -> None:
        """Another project under the hand, by undo or by opening: what it held is not there."""
        if change.kind == "chosen":
            self.settle()
        if change.kind == "step" and self._tool.step not in {None, self.bench.step}:
            # A tool of another step is not to be seen there, and would work unseen.
            self.take("choose")
        if change.kind in {"opened", "edited"} and not self._is_committing:
            held = self._state
            if not self.is_idle:
                self._state, self.hint = self._tool.idle, self._tool.hint
            self.trace, self.hovered, self._refusal = Trace(), None, None
            self.overlay = Overlay()
            if change.kind == "edited" and self._tool.resume is not None:
                self._resume(held)

    def _scene(self) -> Scene:
        return Scene(
            project=self.bench.project,
            chosen=self.bench.chosen,
            snapping=self.snapping,
            unit=self.unit,
        )

    def _resume(self, held: Any) -> None:  # noqa: ANN401 - each tool has states of its own
        """Go on with what is still there after undo, or after an edit made elsewhere."""
        resumed = self._tool.resume and self._tool.resume(held, self._scene())
        if resumed:
            self._state, wishes = resumed
            self._carry_out(wishes)
            self.bench.tell(Change(kind="hint"))

    def typed_at(self) -> Mm2 | None:
        """Where numbers are best shown: at the end of what the tool traces or marks, if it does."""
        places = self.trace.points_mm or self.overlay.places_mm
        return places[-1] if places else None
