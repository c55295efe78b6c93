"""Set a level: press at its height; every piece that lies at that height gets its line.

With Shift pieces are gathered one by one, each at a height of its own; Enter keeps them. Levels
come in the order in which a body is measured: bust, under-bust, waist, hip; then more.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, TypeAlias

from wedgework.bench.gestures import Cancel, Enter, Gesture, Move, Pointer, Press, Release, Typed
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Figure, Hint, Preview, Wish, say
from wedgework.edits.body import AddLevel, LevelPoint
from wedgework.geometry.extent import bounds_of_all
from wedgework.pattern.document import Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.levels import flat_girth_mm

ORDER: Final = (
    ("bust", "bust_girth_mm"),
    ("under-bust", "under_bust_girth_mm"),
    ("waist", "waist_girth_mm"),
    ("hip", "hip_girth_mm"),
)


@dataclass(frozen=True, slots=True)
class Idle:
    """No level is set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """Heights by piece, in mm; `whole_row`: one height for all pieces, under the hand."""

    heights: tuple[tuple[str, float], ...]
    whole_row: bool


State: TypeAlias = Idle | Setting
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle() | Setting(whole_row=False), Press():
            return _pressed(state, gesture, scene)
        case Idle(), Move():
            return state, (Hint(f"Press at the height of the {_next(scene.project)[0]} line."),)
        case Setting(), _:
            return _step_setting(state, gesture, scene)
        case _:
            return state, ()


def _step_setting(state: Setting, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if state.whole_row:
            return _tried(_row_at(gesture, scene), scene)
        case Typed((y_mm, *_)) if state.whole_row:
            return _tried(_row_at_height(y_mm, scene), scene)
        case Release() if state.whole_row:
            return _kept(state, scene)
        case Enter() if state.heights:
            return _kept(state, scene)
        case Cancel():
            return Idle(), (DropPreview(),)
        case _:
            return state, ()


def _pressed(state: Idle | Setting, press: Press, scene: Scene) -> Answer:
    if not press.shift and isinstance(state, Idle):
        return _tried(_row_at(press, scene), scene)
    hit = scene.piece_under(press)
    if hit is None:
        return state, ()
    heights = dict(state.heights) if isinstance(state, Setting) else {}
    heights[hit.piece] = press.at_mm[1]
    return _tried(Setting(heights=tuple(heights.items()), whole_row=False), scene)


def _row_at(pointer: Pointer, scene: Scene) -> Setting:
    return _row_at_height(scene.snapped(pointer.at_mm, pointer).at_mm[1], scene)


def _row_at_height(y_mm: float, scene: Scene) -> Setting:
    """Every piece that lies at a height, with that height."""
    found = []
    for piece in scene.project.pieces.values():
        _, low, _, high = bounds_of_all([edge.curve for edge in piece.edges]).tolist()
        if low < y_mm < high:
            found.append((piece.id, y_mm))
    return Setting(heights=tuple(found), whole_row=True)


def _tried(state: Setting, scene: Scene) -> Answer:
    name, _ = _next(scene.project)
    count = len(state.heights)
    hint = Hint(f"The {name} line, on {count} piece{'' if count == 1 else 's'}.")
    if not state.heights:
        return state, (DropPreview(), say(), hint)
    edit = level_edit(state, scene.project)
    return state, (Preview((edit,)), say(*_said(state, edit, scene.project)), hint)


def _said(state: Setting, edit: AddLevel, project: Project) -> Iterator[Figure]:
    """The height under the hand, and the girth there of all pieces together."""
    yield Figure("height", state.heights[-1][1], "signed")
    try:
        after = edit.apply(project)
    except EditRefused:
        return
    made = next(own for own in after.levels if own not in project.levels)
    yield Figure("flat girth", flat_girth_mm(after, made))


def _kept(state: Setting, scene: Scene) -> Answer:
    if not state.heights:
        return Idle(), (DropPreview(),)
    return Idle(), (Commit((level_edit(state, scene.project),)),)


def level_edit(state: Setting, project: Project) -> AddLevel:
    """The edit that sets the next level at these heights."""
    name, measure = _next(project)
    points = tuple(LevelPoint(piece=piece, y_mm=y_mm) for piece, y_mm in state.heights)
    return AddLevel(name=name, points=points, measure=measure)


def _next(project: Project) -> tuple[str, str | None]:
    """Name and measure of the level that comes next."""
    there = {level.measure for level in project.levels.values()}
    for name, measure in ORDER:
        if measure not in there:
            return name, measure
    return f"level {len(project.levels) + 1}", None
