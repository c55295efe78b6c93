"""Choose, and move what is chosen: corners, handles, points of edges, marks, labels, pieces.

A press takes what is nearest, corners before edges before pieces. A second press at the same
place takes the next below when it is let go; a drag from there moves what is chosen already.
Arrow keys move what is chosen: one after the other they gather to one step.
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
    Nudge,
    Pointer,
    Press,
    Release,
    Typed,
    is_drag,
    shift_between,
    sum_of,
)
from wedgework.bench.picking import Hit
from wedgework.bench.tools.dragging import edits_of_drag, edits_of_move, typed_shift
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Choose, Commit, DropPreview, Hint, Preview, Trace, Wish
from wedgework.units.shown import format_number


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
    corners: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Dragging:
    """Something moves along. `by_mm` is how far; `typed`, that numbers have taken over."""

    from_mm: Mm2
    held: Hit
    by_mm: Mm2
    typed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Banding:
    """A rectangle is drawn over the empty table: what lies in it will be chosen.

    Pieces that lie in it as a whole, or with `corners` corners, of whichever piece.
    """

    from_mm: Mm2
    shift: bool
    corners: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Nudging:
    """Arrow keys have moved these things by so much; another gesture keeps it as one step."""

    things: tuple[str, ...]
    by_mm: Mm2


State: TypeAlias = Idle | Pressed | Dragging | Banding | Nudging
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state:
        case Idle():
            return _step_idle(state, gesture, scene)
        case Pressed():
            return _step_pressed(state, gesture, scene)
        case Dragging():
            return _step_dragging(state, gesture, scene)
        case Banding():
            return _step_banding(state, gesture, scene)
    return _step_nudging(state, gesture, scene)


def _step_idle(state: Idle, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Press():
            return _pressed(state, gesture, scene), ()
        case Move():
            return state, (_hint(scene, gesture),)
        case Nudge() if scene.chosen:
            return _step_nudging(Nudging(things=scene.chosen, by_mm=(0.0, 0.0)), gesture, scene)
        case _:
            return state, ()


def _step_pressed(state: Pressed, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if state.dragged and is_drag(state.from_mm, gesture):
            held = Dragging(from_mm=state.from_mm, held=state.dragged, by_mm=(0.0, 0.0))
            return _dragged(held, gesture, scene)
        case Move() if (state.clicked is None or state.corners) and is_drag(state.from_mm, gesture):
            band = Banding(from_mm=state.from_mm, shift=state.shift, corners=state.corners)
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
        case Typed() | Nudge():
            return _put(state, _by_numbers(state.by_mm, gesture), scene)
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


def _put(state: Dragging, by_mm: Mm2, scene: Scene) -> Answer:
    """What is held goes by numbers from now on, not with the pointer."""
    put = replace(state, by_mm=by_mm, typed=True)
    return put, (Preview(edits_of_drag(scene, state.held, by_mm)),)


def _by_numbers(by_mm: Mm2, gesture: Typed | Nudge) -> Mm2:
    if isinstance(gesture, Nudge):
        return sum_of(by_mm, gesture.by_mm)
    return typed_shift(gesture.numbers, by_mm) if gesture.numbers else by_mm


def _step_nudging(state: Nudging, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Typed() | Nudge():
            return _nudged(state, _by_numbers(state.by_mm, gesture), scene)
        case Enter():
            edits = edits_of_move(scene, state.things, state.by_mm)
            return Idle(), (Commit(edits),) if edits else ()
        case Cancel():
            return Idle(), (DropPreview(),)
        case _:
            return state, ()


def _nudged(state: Nudging, by_mm: Mm2, scene: Scene) -> Answer:
    edits = edits_of_move(scene, state.things, by_mm)
    if not edits:
        return Idle(), (Hint("What is chosen does not move: seams go with their pieces."),)
    across, up = map(format_number, by_mm)
    said = Hint(f"Moved by {across} across and {up} up. Enter keeps it.")
    return replace(state, by_mm=by_mm), (Preview(edits), said)


def _step_banding(state: Banding, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move():
            (x0, y0), (x1, y1) = state.from_mm, gesture.at_mm
            frame = Trace(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True)
            count = len(_within(state, gesture, scene))
            word = "Corners" if state.corners else "Pieces"
            return state, (frame, Hint(f"{word} that lie in it are chosen: {count}."))
        case Release():
            kept = scene.chosen if state.shift else ()
            within = _within(state, gesture, scene)
            return Idle(), (Trace(), Choose((*kept, *within)))
        case Cancel():
            return Idle(), (Trace(),)
        case _:
            return state, ()


def _within(state: Banding, pointer: Pointer, scene: Scene) -> tuple[str, ...]:
    within = scene.corners_within if state.corners else scene.pieces_within
    return within(state.from_mm, pointer.at_mm)


def _pressed(state: Idle, press: Press, scene: Scene) -> Pressed:
    hits = scene.under(press)
    again = state.pressed_mm is not None and not _is_far(state.pressed_mm, press)
    chosen = [hit for hit in hits if hit.id in scene.chosen] if again else []
    if not chosen:
        first = hits[0] if hits else None
        held = Pressed(from_mm=press.at_mm, clicked=first, dragged=first, shift=press.shift)
        # With Alt a rectangle is drawn even where a piece lies: its corners are wanted.
        if press.alt and (first is None or first.kind == "piece"):
            return replace(held, dragged=None, corners=True)
        return held
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
        return Hint("Press on a corner, an edge or a piece; a box takes pieces, with Alt corners.")
    more = f"; a second press takes {scene.called(hits[1])}" if len(hits) > 1 else ""
    return Hint(f"Takes {scene.called(hits[0])}{more}.", hits[0].id)
