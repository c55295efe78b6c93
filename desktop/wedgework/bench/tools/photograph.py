"""Place a photograph under the table: drag it, turn it, scale it, square it up.

A drag moves it, with Shift it turns. Presses set marks on it: two with their true distance scale
it; four on the corners of a rectangle, with its true size, undo the slant of the camera. The
numbers are typed, or Enter asks for them. Marks are kept in pixels: they go with the photograph.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

import numpy as np

from wedgework.bench.gestures import (
    PICK_PX,
    Back,
    Cancel,
    Enter,
    Gesture,
    Mm2,
    Move,
    Pointer,
    Press,
    Release,
    Typed,
    distance_mm,
    is_drag,
    shift_between,
)
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import (
    Ask,
    Choose,
    Commit,
    DropPreview,
    Figure,
    Hint,
    Preview,
    Trace,
    Wish,
)
from wedgework.edits import Edit
from wedgework.edits.pictures import (
    MovePicture,
    ScalePicture,
    SquarePicture,
    TurnPicture,
    middle_mm,
)
from wedgework.geometry.projective import NotProjective, mapped, sorted_round, undone
from wedgework.pattern.document import Picture
from wedgework.pattern.pictures import in_sight, placing_of, size_of

Px2: TypeAlias = tuple[float, float]
MOST_MARKS: Final = 4
STEP_DEG: Final = 15.0


@dataclass(frozen=True, slots=True)
class Idle:
    """No photograph is worked on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """Marks on a photograph, in its pixels, and what the hand does since a press at `from_mm`.

    `held` is the mark that it has hold of; `typed` are true sizes that are being tried.
    """

    picture: str
    marks: tuple[Px2, ...] = ()
    from_mm: Mm2 | None = None
    held: int | None = None
    is_dragged: bool = False
    is_turning: bool = False
    typed: tuple[float, ...] = ()


State: TypeAlias = Idle | Placing
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]

_BEGIN = "Drag a photograph to move it, with Shift to turn it; press on it to set a mark."
_NONE = "Lay a photograph under the table first: File, or drop one here."
_SAYS: Final = {
    0: _BEGIN,
    1: "Press on a second point whose distance is known, or on the next corner of a rectangle.",
    2: "Type how far apart they are in truth, or Enter; a rectangle needs two more corners.",
    3: "Press on the fourth corner of the rectangle.",
    4: "Enter says what rectangle it is, or type width; height. Marks can be dragged.",
}


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            return _began(gesture, scene)
        case Idle(), Move():
            return state, (Hint(_BEGIN if scene.project.pictures else _NONE),)
        case Placing(), _ if state.picture not in scene.project.pictures:
            return Idle(), (DropPreview(), Trace())
        case Placing(), Press() | Move() | Release():
            return _pointed(state, gesture, scene)
        case Placing(), _:
            return _keyed(state, gesture, scene)
        case _:
            return state, ()


def _began(press: Press, scene: Scene) -> Answer:
    found = picture_under(scene, press.at_mm)
    if found is None:
        return Idle(), (Hint(_BEGIN if scene.project.pictures else _NONE),)
    state = Placing(picture=found.id, from_mm=press.at_mm, is_turning=press.shift)
    return state, (Choose((found.id,)),)


def _pointed(state: Placing, gesture: Press | Move | Release, scene: Scene) -> Answer:
    match gesture:
        case Press():
            return _pressed(state, gesture, scene)
        case Move() if state.from_mm is not None:
            return _dragged(state, gesture, scene)
        case Release() if state.from_mm is not None:
            return _released(state, gesture, scene)
        case Move() if state.marks and not state.typed:
            return _shown(state, scene)
        case _:
            return state, ()


def _pressed(state: Placing, press: Press, scene: Scene) -> Answer:
    places = _places(state, scene)
    reach = PICK_PX * press.px_mm
    near = [i for i, place in enumerate(places) if distance_mm(place, press.at_mm) <= reach]
    held = replace(state, from_mm=press.at_mm, held=near[-1] if near else None, is_dragged=False,
                   is_turning=press.shift, typed=())  # fmt: skip
    if near:
        return held, (DropPreview(),)
    found = picture_under(scene, press.at_mm)
    if found is None:
        return state, ()
    if found.id != state.picture:
        answer, wishes = _began(press, scene)
        return answer, (DropPreview(), Trace(), *wishes)
    return held, (DropPreview(),)


def _dragged(state: Placing, move: Move, scene: Scene) -> Answer:
    if state.from_mm is None or not (state.is_dragged or is_drag(state.from_mm, move)):
        return state, ()
    begins = not state.is_dragged and move.shift
    now = replace(state, is_dragged=True, is_turning=state.is_turning or begins)
    if state.held is None:
        edit = _motion(now, move, scene)
        return now, (Preview((edit,)), Trace())
    mark = pixel_at(scene.project.pictures[state.picture], move.at_mm)
    if mark is None:
        return now, ()
    marks = (*state.marks[: state.held], mark, *state.marks[state.held + 1 :])
    return _shown(replace(now, marks=marks), scene)


def _motion(state: Placing, pointer: Pointer, scene: Scene) -> Edit:
    """The photograph follows the hand, or turns about its middle."""
    start = state.from_mm or pointer.at_mm
    if not state.is_turning:
        return MovePicture(picture=state.picture, by_mm=shift_between(start, pointer.at_mm))
    x, y = middle_mm(scene.project.pictures[state.picture])
    (x0, y0), (x1, y1) = start, pointer.at_mm
    turn = math.degrees(math.atan2(y1 - y, x1 - x) - math.atan2(y0 - y, x0 - x))
    turn = math.remainder(turn, 360.0)
    if pointer.alt:
        turn = STEP_DEG * round(turn / STEP_DEG)
    return TurnPicture(picture=state.picture, turn_deg=turn)


def _released(state: Placing, release: Release, scene: Scene) -> Answer:
    free = replace(state, from_mm=None, held=None, is_dragged=False)
    if state.held is not None:
        return _shown(free, scene)
    if state.is_dragged:
        commit = Commit((_motion(state, release, scene),))
        # Marks go with it: where they lie then, only the next gesture can tell.
        return (free if state.marks else Idle()), (commit, Trace(), Hint(_SAYS[len(free.marks)]))
    mark = pixel_at(scene.project.pictures[state.picture], release.at_mm)
    if mark is None or len(state.marks) == MOST_MARKS:
        return _shown(free, scene)
    return _shown(replace(free, marks=(*state.marks, mark)), scene)


def _keyed(state: Placing, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Typed(numbers):
            tried = replace(state, typed=numbers)
            edit = _edit(tried, scene)
            return (tried, (Preview((edit,)),)) if edit else (state, ())
        case Enter():
            return _entered(state, scene)
        case Back() if len(state.marks) > 1:
            return _shown(replace(state, marks=state.marks[:-1], typed=()), scene)
        case Back() | Cancel():
            return Idle(), (DropPreview(), Trace(), Hint(_BEGIN))
        case _:
            return state, ()


def _entered(state: Placing, scene: Scene) -> Answer:
    edit = _edit(state, scene)
    if edit is not None:
        return Idle(), (Commit((edit,)), Trace(), Hint(_BEGIN))
    if len(state.marks) == 2:
        return state, (Ask("distance", _seen_mm(state, scene)),)
    if len(state.marks) == MOST_MARKS:
        return state, (Ask("rectangle", _seen_mm(state, scene)),)
    return state, ()


def _edit(state: Placing, scene: Scene) -> Edit | None:
    """What the typed numbers say, if they suit the marks."""
    if any(number <= 0 for number in state.typed):
        return None
    if len(state.marks) == 2 and len(state.typed) == 1:
        one, other = state.marks
        return ScalePicture(picture=state.picture, one_px=one, other_px=other,
                            distance_mm=state.typed[0])  # fmt: skip
    if len(state.marks) == MOST_MARKS and len(state.typed) == 2:
        ul, ur, lr, ll = (state.marks[index] for index in _round(state, scene))
        return SquarePicture(picture=state.picture, corners_px=(ul, ur, lr, ll),
                             width_mm=state.typed[0], height_mm=state.typed[1])  # fmt: skip
    return None


def _round(state: Placing, scene: Scene) -> list[int]:
    """Indices of four marks clockwise from the upper left, as they lie on the table."""
    places = np.array(_places(state, scene))
    order = sorted_round(places)[::-1]
    first = min(range(4), key=lambda at: places[order[at], 0] - places[order[at], 1])
    return order[first:] + order[:first]


def _seen_mm(state: Placing, scene: Scene) -> tuple[float, ...]:
    """The distance as it lies now, or width and height of the rectangle on average."""
    places = _places(state, scene)
    if len(places) == 2:
        return (distance_mm(*places),)
    ul, ur, lr, ll = (places[index] for index in _round(state, scene))
    return ((distance_mm(ul, ur) + distance_mm(ll, lr)) / 2,
            (distance_mm(ul, ll) + distance_mm(ur, lr)) / 2)  # fmt: skip


def _shown(state: Placing, scene: Scene) -> Answer:
    """The marks with lines between them, and what comes next."""
    places = _places(state, scene)
    marks = tuple((place, True) for place in places)
    says: tuple[Figure, ...] = ()
    if len(places) == 2:
        says = (Figure("distance", distance_mm(*places)),)
    if len(places) == MOST_MARKS:
        places = [places[index] for index in _round(state, scene)]
    trace = Trace(tuple(places), closed=len(places) == MOST_MARKS, marks=marks, says=says)
    return state, (DropPreview(), trace, Hint(_SAYS[len(state.marks)]))


def _places(state: Placing, scene: Scene) -> list[Mm2]:
    """Where the marks lie on the table."""
    if not state.marks:
        return []
    placing = placing_of(scene.project.pictures[state.picture])
    return [(x, y) for x, y in mapped(placing, np.array(state.marks)).tolist()]


def pixel_at(picture: Picture, at_mm: Mm2) -> Px2 | None:
    """The place in a photograph that lies at a place of the table; None where it has none there."""
    try:
        x, y = mapped(undone(placing_of(picture)), at_mm).tolist()
    except NotProjective:
        return None
    return (x, y) if math.isfinite(x) and math.isfinite(y) else None


def picture_under(scene: Scene, at_mm: Mm2) -> Picture | None:
    """The photograph at a place: a chosen one first, else the one that lies on top."""
    shown = [one for one in scene.project.pictures.values() if one.shown]
    shown.sort(key=lambda one: one.id in scene.chosen)
    return next((one for one in reversed(shown) if _covers(one, at_mm)), None)


def _covers(picture: Picture, at_mm: Mm2) -> bool:
    pixel, size = pixel_at(picture, at_mm), size_of(picture)
    if pixel is None or not (0 <= pixel[0] <= size.width_px and 0 <= pixel[1] <= size.height_px):
        return False
    return in_sight(picture, placing_of(picture), np.array([pixel]))
