"""Walk a seam: press on an edge and its piece rolls along its partner, drawn where it would lie.

The walk stops anywhere, by the hand, by a typed length, by arrow keys; a press that does not drag,
or Enter, marks a notch on both sides there. What one side has gained on the other is told as it
grows, and at each matching notch that was passed.
"""

from __future__ import annotations

from collections.abc import Iterator
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
)
from wedgework.bench.picking import Hit
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Choose, Commit, Figure, Ghost, Hint, Overlay, Wish
from wedgework.edits.marks import AddNotches
from wedgework.geometry.curve import Curve
from wedgework.geometry.nearest import nearest
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Seam, SeamId, Side, Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import seams_of
from wedgework.pattern.runs import WalkedRun
from wedgework.pattern.seams import SeamMeasure, measure_seam, notches_of
from wedgework.pattern.walk import gained_mm, passed, rolled


@dataclass(frozen=True, slots=True)
class Idle:
    """No seam is walked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Walking:
    """One side rolls along the other; both touch `at_mm` from the start of the walk.

    `pressed_mm` is where the button went down, None while it is up; `begins`, that this press has
    only just taken the seam up; `dragged`, that the hand has moved since.
    """

    seam: SeamId
    rolling: Side
    at_mm: float
    pressed_mm: Mm2 | None = None
    begins: bool = False
    dragged: bool = False


State: TypeAlias = Idle | Walking
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on an edge of a seam and drag: its piece rolls along its partner."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    if isinstance(state, Walking):
        return _step_walking(state, gesture, scene)
    match gesture:
        case Press():
            return _begun(gesture, scene) or (state, (Hint(_BEGIN),))
        case Move():
            return state, (_offered(scene, gesture),)
        case _:
            return state, ()


def resumed(state: State, scene: Scene) -> Answer | None:
    """The walk where it stood, if its seam is still there."""
    if isinstance(state, Idle) or state.seam not in scene.project.seams:
        return None
    try:
        return _stopped(replace(state, pressed_mm=None, begins=False, dragged=False), scene)
    except EditRefused:
        return None


def _step_walking(state: Walking, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Press() | Move() | Release():
            return _step_pointer(state, gesture, scene)
        case Typed((at_mm, *_)):
            return _stopped(replace(state, at_mm=at_mm, pressed_mm=None), scene)
        case Nudge((across, up)):
            return _stopped(replace(state, at_mm=state.at_mm + across + up), scene)
        case Enter():
            return _marked(state, scene)
        case Cancel():
            return Idle(), (Overlay(), Hint(_BEGIN))
        case _:
            return state, ()


def _step_pointer(state: Walking, pointer: Pointer, scene: Scene) -> Answer:
    match pointer:
        case Press():
            other = _other_seam(state, pointer, scene)
            pressed = replace(state, pressed_mm=pointer.at_mm, begins=False, dragged=False)
            return other or (pressed, ())
        case Move() if state.pressed_mm is not None:
            if state.dragged or is_drag(state.pressed_mm, pointer):
                at_mm = _nearest_station(_measured(state, scene), pointer)
                return _stopped(replace(state, at_mm=at_mm, dragged=True), scene)
        case Release() if state.pressed_mm is not None:
            let_go = replace(state, pressed_mm=None, begins=False, dragged=False)
            return (let_go, ()) if state.begins or state.dragged else _marked(let_go, scene)
    return state, ()


def _begun(press: Press, scene: Scene) -> Answer | None:
    """The seam under a press taken up, its piece laid to where it was pressed."""
    hit = scene.edge_under(press)
    seam = None if hit is None else _seam_at(hit, scene)
    if hit is None or seam is None:
        return None
    measure = measure_seam(scene.project, seam)
    spot = Spot(hit.id, hit.station_mm)
    on_a, on_b = measure.a.station_of(spot), measure.b.station_of(spot)
    # Where a piece is joined to its own mirror image, both sides are one edge.
    rolling: Side = "a" if on_b is None else "b"
    at_mm = on_b if on_b is not None else on_a or 0.0
    state = Walking(seam=seam.id, rolling=rolling, at_mm=at_mm, pressed_mm=press.at_mm, begins=True)
    taken_up, wishes = _stopped(state, scene)
    return taken_up, (Choose((seam.id,)), *wishes)


def _other_seam(state: Walking, press: Press, scene: Scene) -> Answer | None:
    """Another seam taken up, if a press is on one of its edges and not on this one's."""
    hit = scene.edge_under(press)
    seam = scene.project.seams[state.seam]
    is_own = hit is not None and any(ref.edge == hit.id for ref in (*seam.a, *seam.b))
    return None if hit is None or is_own else _begun(press, scene)


def _seam_at(hit: Hit, scene: Scene) -> Seam | None:
    """The seam that an edge is walked in: a chosen one first, then one of the skin."""
    seams = seams_of(scene.project, hit.id)
    ordered = sorted(seams, key=lambda seam: (seam.id not in scene.chosen, seam.laid_on))
    return next(iter(ordered), None)


def _measured(state: Walking, scene: Scene) -> SeamMeasure:
    return measure_seam(scene.project, scene.project.seams[state.seam])


def _nearest_station(measure: SeamMeasure, pointer: Pointer) -> float:
    """The station of the place, on either line, that is nearest to the pointer."""
    return min(found for run in (measure.a, measure.b) for found in _feet(run, pointer))[1]


def _feet(run: WalkedRun, pointer: Pointer) -> Iterator[tuple[float, float]]:
    for stretch in run.stretches:
        foot = nearest(stretch.edge.curve, pointer.at_mm)
        yield foot.distance_mm, stretch.station_mm(foot.station_mm)


def _stopped(state: Walking, scene: Scene) -> Answer:
    """The walk as it stands at a station, within the longer of both sides."""
    measure = _measured(state, scene)
    longest = max(measure.a.length_mm, measure.b.length_mm)
    state = replace(state, at_mm=min(max(state.at_mm, 0.0), longest))
    return state, (_overlay(state, scene, measure), Hint(_said(state, scene), None))


def _overlay(state: Walking, scene: Scene, measure: SeamMeasure) -> Overlay:
    seam = scene.project.seams[state.seam]
    found = rolled(scene.project, seam, state.at_mm, state.rolling)
    fixed = measure.b if state.rolling == "a" else measure.a
    x, y = found.touching.tolist()
    return Overlay(
        ghosts=(Ghost(found.piece, found.motion),),
        curves=tuple(_behind(fixed, state.at_mm)),
        places_mm=((x, y),),
        figures=tuple(_figures(state, seam, measure)),
    )


def _behind(run: WalkedRun, at_mm: float) -> Iterator[Curve]:
    """What of the fixed side lies behind the touching point."""
    for stretch in run.stretches:
        low, high = sorted((stretch.own_mm(stretch.from_mm), stretch.own_mm(at_mm)))
        if at_mm > stretch.from_mm and high - low > SAME_STATION_MM:
            yield part(stretch.edge.curve, low, high)


def _figures(state: Walking, seam: Seam, measure: SeamMeasure) -> Iterator[Figure]:
    on_a = min(state.at_mm, measure.a.length_mm)
    yield Figure("walked", state.at_mm)
    yield Figure("A less B so far", gained_mm(measure, on_a), "difference")
    notches = passed(measure, on_a)
    if notches:
        last = notches[-1]
        yield Figure(f"at notch {len(notches)}", last.gained_mm, "difference")
    if seam.wanted_mm:
        yield Figure("wanted at the end", seam.wanted_mm, "signed")


def _said(state: Walking, scene: Scene) -> str:
    seam = scene.project.seams[state.seam]
    name = seam.name or seam.id
    return f"{name}: drag or use arrow keys to walk; a press or Enter sets a notch on both sides."


def _marked(state: Walking, scene: Scene) -> Answer:
    """A notch on both sides at the touching point; EditRefused beyond the end of a side."""
    measure = _measured(state, scene)
    if state.at_mm > min(measure.a.length_mm, measure.b.length_mm) + SAME_STATION_MM:
        raise EditRefused("Here one side has ended; a notch needs both.", culprit=state.seam)
    at_mm = min(state.at_mm, measure.a.length_mm)
    if _has_notch(state, scene, measure.a.spot_at(at_mm)):
        return state, (Hint("There is a notch at this place already."),)
    marked = AddNotches(seam=state.seam, at_mm=(at_mm,), walked=True)
    return state, (Commit((marked,)), Hint(_said(state, scene)))


def _has_notch(state: Walking, scene: Scene, spot: Spot) -> bool:
    notches = notches_of(scene.project, scene.project.seams[state.seam])
    spots = (one for notch in notches for one in (notch.at, notch.mate) if one is not None)
    return any(
        one.edge == spot.edge and abs(one.at_mm - spot.at_mm) <= SAME_STATION_MM for one in spots
    )


def _offered(scene: Scene, move: Move) -> Hint:
    hit = scene.edge_under(move)
    seam = None if hit is None else _seam_at(hit, scene)
    if hit is None or seam is None:
        return Hint(_BEGIN)
    return Hint(f"Walks {seam.name or seam.id}: {scene.called(hit)} rolls.", hit.id)
