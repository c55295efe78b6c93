"""Choose, and move what is chosen: corners, handles, points of edges, marks, labels, pieces.

A press takes what is nearest, corners before edges before pieces. A second press at the same
place takes the next below when it is let go; a drag from there moves what is chosen already.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeAlias

from wedgework.bench.gestures import (
    Cancel,
    Enter,
    Gesture,
    Mm2,
    Move,
    Pointer,
    Press,
    Release,
    Typed,
    is_drag,
    shift_between,
)
from wedgework.bench.picking import Hit
from wedgework.bench.tools.dragging import edits_of_drag, typed_shift
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Choose, Commit, DropPreview, Hint, Preview, Trace, Wish


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is held. `pressed_mm` is where the last press chose something."""

    pressed_mm: Mm2 | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressed:
    """The button is down and has not gone far: `clicked` is chosen if it stays so."""

    from_mm: Mm2
    clicked: Hit | None
    dragged: Hit | None
    shift: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Dragging:
    """Something moves along. `by_mm` is how far; `typed`, that numbers have taken over."""

    from_mm: Mm2
    held: Hit
    by_mm: Mm2
    typed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Banding:
    """A rectangle is drawn over the empty table: pieces that lie in it will be chosen."""

    from_mm: Mm2
    shift: bool


State: TypeAlias = Idle | Pressed | Dragging | Banding
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            return _pressed(state, gesture, scene), ()
        case Idle(), Move():
            return state, (_hint(scene, gesture),)
        case Pressed(), _:
            return _step_pressed(state, gesture, scene)
        case Dragging(), _:
            return _step_dragging(state, gesture, scene)
        case Banding(), _:
            return _step_banding(state, gesture, scene)
        case _:
            return state, ()


def _step_pressed(state: Pressed, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if state.dragged and is_drag(state.from_mm, gesture):
            held = Dragging(from_mm=state.from_mm, held=state.dragged, by_mm=(0.0, 0.0))
            return _dragged(held, gesture, scene)
        case Move() if state.clicked is None and is_drag(state.from_mm, gesture):
            band = Banding(from_mm=state.from_mm, shift=state.shift)
            return _step_banding(band, gesture, scene)
        case Release():
            return _chosen(state, scene)
        case Cancel():
            return Idle(), ()
        case _:
            return state, ()


def _step_dragging(state: Dragging, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if not state.typed:
            return _dragged(state, gesture, scene)
        case Typed(numbers) if numbers:
            by_mm = typed_shift(numbers, state.by_mm)
            typed = replace(state, by_mm=by_mm, typed=True)
            return typed, (Preview(edits_of_drag(scene, state.held, by_mm)),)
        case Release():
            if not state.typed:
                state = replace(state, by_mm=_shift(state, gesture, scene)[0])
            return Idle(), (_commit(state, scene),)
        case Enter():
            return Idle(), (_commit(state, scene),)
        case Cancel():
            return Idle(), (DropPreview(),)
        case _:
            return state, ()


def _step_banding(state: Banding, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move():
            (x0, y0), (x1, y1) = state.from_mm, gesture.at_mm
            frame = Trace(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True)
            count = len(scene.pieces_within(state.from_mm, gesture.at_mm))
            return state, (frame, Hint(f"Pieces that lie in it are chosen: {count}."))
        case Release():
            kept = scene.chosen if state.shift else ()
            within = scene.pieces_within(state.from_mm, gesture.at_mm)
            return Idle(), (Trace(), Choose((*kept, *within)))
        case Cancel():
            return Idle(), (Trace(),)
        case _:
            return state, ()


def _pressed(state: Idle, press: Press, scene: Scene) -> Pressed:
    hits = scene.under(press)
    again = state.pressed_mm is not None and not _is_far(state.pressed_mm, press)
    chosen = [hit for hit in hits if hit.id in scene.chosen] if again else []
    if not chosen:
        first = hits[0] if hits else None
        return Pressed(from_mm=press.at_mm, clicked=first, dragged=first, shift=press.shift)
    # The next below, round to the first again: no place is out of reach.
    following = hits[(hits.index(chosen[0]) + 1) % len(hits)]
    return Pressed(from_mm=press.at_mm, clicked=following, dragged=chosen[0], shift=press.shift)


def _is_far(place: Mm2, press: Press) -> bool:
    return is_drag(place, press)


def _chosen(state: Pressed, scene: Scene) -> Answer:
    """A press without a drag chooses; with Shift it adds, or takes out what is chosen already."""
    clicked = state.clicked
    if clicked is None:
        return Idle(), () if state.shift else (Choose(()),)
    after = Idle(state.from_mm)
    if not state.shift:
        return after, (Choose((clicked.id,)),)
    rest = tuple(own for own in scene.chosen if own != clicked.id)
    ids = rest if clicked.id in scene.chosen else (*scene.chosen, clicked.id)
    return after, (Choose(ids),)


def _dragged(state: Dragging, move: Move, scene: Scene) -> Answer:
    by_mm, reason = _shift(state, move, scene)
    edits = edits_of_drag(scene, state.held, by_mm)
    said = f"{scene.called(state.held)}{': ' + reason if reason else ''}"
    return replace(state, by_mm=by_mm), (Preview(edits), Hint(said, state.held.id))


def _shift(state: Dragging, pointer: Pointer, scene: Scene) -> tuple[Mm2, str | None]:
    """How far what is held goes, its own point drawn in; and what drew it in.

    With Shift it keeps to the direction in which it goes further, across or up.
    """
    raw = shift_between(state.from_mm, pointer.at_mm)
    if pointer.shift:
        return ((raw[0], 0.0), "across") if abs(raw[0]) > abs(raw[1]) else ((0.0, raw[1]), "up")
    if state.held.kind not in {"corner", "edge"}:
        return raw, None
    point = (state.held.at_mm[0] + raw[0], state.held.at_mm[1] + raw[1])
    rest = scene.snapped(point, pointer, frozenset({state.held.id}))
    if rest.reason is None:
        return raw, None
    return shift_between(state.held.at_mm, rest.at_mm), rest.reason


def _commit(state: Dragging, scene: Scene) -> Commit:
    edits = edits_of_drag(scene, state.held, state.by_mm)
    return Commit(edits, chosen=None if state.held.id in scene.chosen else (state.held.id,))


def _hint(scene: Scene, move: Move) -> Hint:
    hits = scene.under(move)
    if not hits:
        return Hint("Press on a corner, an edge or a piece, and drag it.")
    more = f"; a second press takes {scene.called(hits[1])}" if len(hits) > 1 else ""
    return Hint(f"Takes {scene.called(hits[0])}{more}.", hits[0].id)
