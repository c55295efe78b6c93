"""A style line from a dart: press on a leg, inside where the line passes, and where it ends.

It ends on the outline, or in another dart, and dart and line become one shaped seam.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeAlias

from wedgework.bench.gestures import Cancel, Enter, Gesture, Mm2, Move, Pointer, Press, is_drag
from wedgework.bench.tools.dart_pick import apex_of, dart_under
from wedgework.bench.tools.places import Spot, spot_under
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Hint, Preview, Trace, Wish
from wedgework.edits import Edit, Place
from wedgework.edits.dart_seam import DartsToSeam, DartToSeam
from wedgework.geometry.length import length_mm
from wedgework.pattern.darts import shares_apex
from wedgework.pattern.document import Seam
from wedgework.pattern.lookup import piece_of, the_edge


@dataclass(frozen=True, slots=True)
class Idle:
    """No line has begun."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A line runs on from a dart's apex; `via_mm` is what it passes, `edit` where it would end."""

    dart: str
    apex_mm: Mm2
    via_mm: tuple[Mm2, ...] = ()
    edit: Edit | None = None


State: TypeAlias = Idle | Drawing
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on a leg of a dart: the line runs on from its apex."
_NEXT = "Press inside for a point that the line passes, on the outline or a dart where it ends."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            dart = dart_under(scene, gesture)
            if dart is None:
                return state, (Hint(_BEGIN),)
            return Drawing(dart=dart.id, apex_mm=apex_of(scene, dart)), (Hint(_NEXT),)
        case Idle(), Move():
            return state, (Hint(_BEGIN),)
        case Drawing(), _:
            return _step_drawing(state, gesture, scene)
        case _:
            return state, ()


def _step_drawing(state: Drawing, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move():
            return _followed(state, gesture, scene)
        case Press():
            return _pressed(state, gesture, scene)
        case Enter() if state.edit is not None:
            return _kept(state.edit)
        case Cancel():
            return Idle(), (DropPreview(), Trace())
        case _:
            return state, ()


def _followed(state: Drawing, move: Move, scene: Scene) -> Answer:
    state = replace(state, edit=_edit(state, move, scene))
    trace = Trace((state.apex_mm, *state.via_mm, move.at_mm))
    if state.edit is None:
        return state, (DropPreview(), trace, Hint(_NEXT))
    return state, (Preview((state.edit,)), trace, Hint("Press to end the line here."))


def _pressed(state: Drawing, press: Press, scene: Scene) -> Answer:
    edit = _edit(state, press, scene)
    if edit is not None:
        return _kept(edit)
    if dart_under(scene, press) is not None:  # where it began
        return state, ()
    state = replace(state, via_mm=(*state.via_mm, press.at_mm), edit=None)
    return state, (Trace((state.apex_mm, *state.via_mm)), Hint(_NEXT))


def _edit(state: Drawing, pointer: Pointer, scene: Scene) -> Edit | None:
    """The edit of a line that ends under the pointer; None where it does not end there."""
    own = scene.project.seams[state.dart]
    other = dart_under(scene, pointer)
    if other is not None:
        return None if other is own else _into(state, other, scene)
    spot = _outline_under(state, pointer, scene)
    if spot is None:
        return None
    return DartToSeam(dart=state.dart, to=spot.place, via_mm=state.via_mm)


def _outline_under(state: Drawing, pointer: Pointer, scene: Scene) -> Spot | None:
    piece = piece_of(scene.project, scene.project.seams[state.dart].a[0].edge)
    spot = spot_under(scene, pointer, piece.id)
    if spot is None or not is_drag(state.apex_mm, replace(pointer, at_mm=spot.at_mm)):
        return None
    return spot


def _into(state: Drawing, other: Seam, scene: Scene) -> Edit | None:
    own = scene.project.seams[state.dart]
    leg = other.a[-1]
    if piece_of(scene.project, leg.edge) is not piece_of(scene.project, own.a[-1].edge):
        return None
    if shares_apex(scene.project, own, other):
        return DartsToSeam(darts=(own.id, other.id))
    at_mm = 0.0 if leg.backward else length_mm(the_edge(scene.project, leg.edge).curve)
    return DartToSeam(dart=own.id, to=Place(leg.edge, at_mm), via_mm=state.via_mm)


def _kept(edit: Edit) -> Answer:
    return Idle(), (Commit((edit,), chosen=()), Trace())
