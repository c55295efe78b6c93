"""Give a seam intake: press on it for a station and draw it in; the edge passes under the pointer.

Stations gather until Enter keeps them all as one step. Away from the piece it puts in. A press on
a station takes hold of it again, with Shift it takes it out. A typed number is the width.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeAlias

from wedgework.bench.gestures import (
    PICK_PX,
    Cancel,
    Enter,
    Gesture,
    Move,
    Pointer,
    Press,
    Release,
    Typed,
)
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Choose, Commit, DropPreview, Hint, Preview, Wish
from wedgework.edits.shape import IntakeStation, ShapeSeam
from wedgework.geometry.nearest import signed_distance_mm
from wedgework.pattern.document import Spot
from wedgework.pattern.lookup import skin_seam_of, the_edge, the_seam
from wedgework.pattern.seams import measure_seam

SHARE_A = 0.5
"""Half on each side bends both edges least (see TRADE: half and half is best)."""


@dataclass(frozen=True, slots=True)
class Idle:
    """No seam is being shaped."""


@dataclass(frozen=True, slots=True)
class Station:
    """A place along A, in mm, and the width that is taken out there, in mm."""

    at_mm: float
    width_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Shaping:
    """Stations of a seam; `held` is the one under the hand, `edge` the edge that was pressed."""

    seam: str
    edge: str
    stations: tuple[Station, ...] = ()
    held: Station | None = None
    typed: bool = False

    @property
    def all_stations(self) -> tuple[Station, ...]:
        """Set stations and the held one, in the order of the seam."""
        held = () if self.held is None else (self.held,)
        return tuple(sorted((*self.stations, *held), key=lambda station: station.at_mm))


State: TypeAlias = Idle | Shaping
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on a seam and draw it in: a station of its intake."
_MORE = "Press for the next station; Enter keeps them, Escape drops them."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle() | Shaping(held=None), Press():
            return _pressed(state, gesture, scene)
        case Idle() | Shaping(held=None), Move():
            return state, (_hint(state, scene, gesture),)
        case Shaping(), _:
            return _step_shaping(state, gesture, scene)
        case _:
            return state, ()


def _step_shaping(state: Shaping, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Enter() if state.all_stations:
            return Idle(), (Commit((intake_edit(state, scene),), chosen=(state.seam,)),)
        case Cancel():
            return Idle(), (DropPreview(),)
        case Typed((width_mm, *_)):
            return _widened(_last_held(state), width_mm, scene, typed=True)
        case Move() if state.held and not state.typed:
            return _widened(state, _width_mm(state, gesture, scene), scene)
        case Release() if state.held:
            return _let_go(state, gesture, scene)
        case _:
            return state, ()


def _let_go(state: Shaping, release: Release, scene: Scene) -> Answer:
    if state.held and not state.typed:
        held = replace(state.held, width_mm=_width_mm(state, release, scene))
        state = replace(state, held=held)
    state = replace(state, stations=state.all_stations, held=None, typed=False)
    return state, (*_tried(state, scene), Hint(_MORE))


def _pressed(state: Idle | Shaping, press: Press, scene: Scene) -> Answer:
    found = _on_seam(scene, press)
    if found is None or (isinstance(state, Shaping) and found[0] != state.seam):
        return state, (Hint(_BEGIN if isinstance(state, Idle) else _MORE),)
    seam, edge, at_mm = found
    if isinstance(state, Idle):
        fresh = Shaping(seam=seam, edge=edge, held=Station(at_mm, 0.0))
        return fresh, (Choose((seam,)), Hint("Draw it in, or type the width."))
    near = _near(state, at_mm, press)
    rest = tuple(station for station in state.stations if station is not near)
    if press.shift:
        state = replace(state, stations=rest)
        return state, _tried(state, scene)
    return replace(state, edge=edge, stations=rest, held=near or Station(at_mm, 0.0)), ()


def _near(state: Shaping, at_mm: float, press: Press) -> Station | None:
    reach = PICK_PX * press.px_mm
    near = [station for station in state.stations if abs(station.at_mm - at_mm) <= reach]
    return min(near, key=lambda station: abs(station.at_mm - at_mm), default=None)


def _on_seam(scene: Scene, pointer: Pointer) -> tuple[str, str, float] | None:
    """Seam, edge and station along A under the pointer."""
    hit = scene.edge_under(pointer)
    seam = skin_seam_of(scene.project, hit.id) if hit else None
    if hit is None or seam is None:
        return None
    measure = measure_seam(scene.project, seam)
    spot = Spot(hit.id, hit.station_mm)
    on_a, on_b = measure.a.station_of(spot), measure.b.station_of(spot)
    if on_a is None:
        on_a = measure.a_of(on_b or 0.0)
    return seam.id, hit.id, on_a


def _width_mm(state: Shaping, pointer: Pointer, scene: Scene) -> float:
    """What puts the pressed edge under the pointer: its own share of the width."""
    curve = the_edge(scene.project, state.edge).curve
    return signed_distance_mm(curve, pointer.at_mm) / SHARE_A


def _last_held(state: Shaping) -> Shaping:
    """The shaping with its last station in hand, if none is: typing goes to that one."""
    if state.held is not None or not state.stations:
        return state
    return replace(state, held=state.stations[-1], stations=state.stations[:-1])


def _widened(state: Shaping, width_mm: float, scene: Scene, *, typed: bool = False) -> Answer:
    if state.held is None:
        return state, ()
    held = replace(state.held, width_mm=width_mm)
    state = replace(state, held=held, typed=typed)
    hint = Hint(f"{scene.said(width_mm)} at {scene.said(held.at_mm)} along A", state.seam)
    return state, (*_tried(state, scene), hint)


def _tried(state: Shaping, scene: Scene) -> tuple[Wish, ...]:
    if not state.all_stations:
        return (DropPreview(),)
    return (Preview((intake_edit(state, scene),)),)


def intake_edit(state: Shaping, scene: Scene) -> ShapeSeam:
    """The edit that gives the seam this intake, running to nothing at both of its ends."""
    whole_mm = measure_seam(scene.project, the_seam(scene.project, state.seam)).a.length_mm
    rows = {0.0: 0.0, whole_mm: 0.0}
    rows |= {min(max(row.at_mm, 0.0), whole_mm): row.width_mm for row in state.all_stations}
    intake = tuple(IntakeStation(at, width) for at, width in sorted(rows.items()))
    return ShapeSeam(seam=state.seam, intake=intake, share_a=SHARE_A)


def _hint(state: State, scene: Scene, move: Move) -> Hint:
    found = _on_seam(scene, move)
    if found is None:
        return Hint(_BEGIN if isinstance(state, Idle) else _MORE)
    return Hint(f"Sets a station {scene.said(found[2])} along A of {found[0]}.", found[0])
