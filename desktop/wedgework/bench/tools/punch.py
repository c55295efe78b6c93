"""Punch a row of holes: press on a seam or an edge; through a seam both sides are punched.

A press alone spreads a row with the usual pitch over the whole length. Drawn along the edge, the
first hole stands where the press was, and the way drawn is the pitch. Pitch and inset may be typed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Final, TypeAlias

from wedgework.bench.gestures import Cancel, Enter, Gesture, Move, Pointer, Press, Release, Typed
from wedgework.bench.tools.notch import station_on_a
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Figure, Hint, Preview, Wish, say
from wedgework.edits.rows import AddPunchRow
from wedgework.geometry.length import length_mm
from wedgework.geometry.nearest import nearest
from wedgework.pattern.document import Project, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import skin_seam_of, the_edge
from wedgework.pattern.rows import punch_row, rows_by_id
from wedgework.pattern.seams import measure_seam

PITCH_MM: Final = 20.0
"""From hole to hole where nothing else is said; common practice, no source."""

LEAST_PITCH_MM: Final = 4.0
"""Holes nearer to each other tear into one; what is drawn shorter was meant as a press; common
practice, no source."""


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is held."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spreading:
    """A row is being spread: stations along its edge where it was pressed and where the hand is."""

    edge: str
    from_mm: float
    to_mm: float
    pitch_mm: float | None = None
    inset_mm: float | None = None

    @property
    def drawn_mm(self) -> float:
        """How far the hand has gone along the edge."""
        return abs(self.to_mm - self.from_mm)


State: TypeAlias = Idle | Spreading
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on a seam or an edge: a row of holes; draw along it for first hole and pitch."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            hit = scene.edge_under(gesture)
            if hit is None:
                return state, (Hint(_BEGIN),)
            at_mm = hit.station_mm
            return _tried(Spreading(edge=hit.id, from_mm=at_mm, to_mm=at_mm), scene)
        case Idle(), Move():
            return state, (_hint(scene, gesture),)
        case Spreading(), _:
            return _step_spreading(state, gesture, scene)
        case _:
            return state, ()


def _step_spreading(state: Spreading, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if state.pitch_mm is None:
            return _tried(_drawn(state, gesture, scene), scene)
        case Typed((pitch_mm, *more)):
            inset_mm = more[0] if more else None
            return _tried(replace(state, pitch_mm=pitch_mm, inset_mm=inset_mm), scene)
        case Release():
            state = state if state.pitch_mm is not None else _drawn(state, gesture, scene)
            return _kept(state, scene)
        case Enter():
            return _kept(state, scene)
        case Cancel():
            return Idle(), (DropPreview(),)
        case _:
            return state, ()


def _kept(state: Spreading, scene: Scene) -> Answer:
    """EditRefused where holes are so near to each other that they were hardly meant."""
    edit = _edit(state, scene.project)
    if (edit.pitch_mm or 0.0) < LEAST_PITCH_MM:
        raise EditRefused(f"Holes less than {LEAST_PITCH_MM:g} mm apart tear into one.")
    return Idle(), (Commit((edit,)),)


def _drawn(state: Spreading, pointer: Pointer, scene: Scene) -> Spreading:
    curve = the_edge(scene.project, state.edge).curve
    return replace(state, to_mm=nearest(curve, pointer.at_mm).station_mm)


def _tried(state: Spreading, scene: Scene) -> Answer:
    edit = _edit(state, scene.project)
    pitch_mm = edit.pitch_mm or 0.0
    hint = Hint(f"A row of holes {scene.said(pitch_mm)} apart on {state.edge}", state.edge)
    if pitch_mm < LEAST_PITCH_MM:
        # The first figure of a pitch that is still being typed: no row of a thousand holes.
        return state, (say(Figure("pitch", pitch_mm)), hint)
    return state, (Preview((edit,)), say(*_said(edit, scene.project)), hint)


def _said(edit: AddPunchRow, project: Project) -> Iterator[Figure]:
    """Pitch, number and first hole of what is tried; nothing but the pitch where it is refused."""
    yield Figure("pitch", edit.pitch_mm or 0.0)
    try:
        after = edit.apply(project)
    except EditRefused:
        return
    row = punch_row(after, next(own for own in rows_by_id(after.holes)
                                if own not in rows_by_id(project.holes)))  # fmt: skip
    yield Figure("holes", len(row.holes), "count")
    yield Figure("first at", row.first_mm)


def _edit(state: Spreading, project: Project) -> AddPunchRow:
    seam = skin_seam_of(project, state.edge)
    along = {"edge": state.edge} if seam is None else {"seam": seam.id}
    row: dict[str, Any] = along | {"inset_mm": state.inset_mm, "pitch_mm": PITCH_MM}
    if state.drawn_mm >= LEAST_PITCH_MM:
        row |= _start_and_pitch(state, project, seam)
    if state.pitch_mm is not None:
        row["pitch_mm"] = state.pitch_mm
    return AddPunchRow(**row)


def _start_and_pitch(state: Spreading, project: Project, seam: Seam | None) -> dict[str, float]:
    """Where the row begins, and its pitch as drawn; drawn back it ends where it was pressed."""
    if seam is None:
        whole, first, last = _edge_mm(project, state.edge), state.from_mm, state.to_mm
    else:
        whole = measure_seam(project, seam).a.length_mm
        first = station_on_a(project, seam, state.edge, state.from_mm)
        last = station_on_a(project, seam, state.edge, state.to_mm)
    start = {"first_mm": first} if last > first else {"last_mm": max(whole - first, 0.0)}
    return start | {"pitch_mm": abs(last - first)}


def _edge_mm(project: Project, edge: str) -> float:
    return length_mm(the_edge(project, edge).curve)


def _hint(scene: Scene, move: Move) -> Hint:
    hit = scene.edge_under(move)
    if hit is None:
        return Hint(_BEGIN)
    seams = scene.seam_names(hit.id)
    where = f"both sides of {seams}" if seams else f"edge {hit.id}"
    return Hint(f"Punches a row on {where}; draw along it for first hole and pitch.", hit.id)
