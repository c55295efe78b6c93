"""Join two edges in a seam: press on one, then on its mate.

With Shift edges are gathered into a run, over several pieces if need be; Enter ends a run. The
second run is walked against its edges, as two pieces that lie side by side need it, or in the
mirror image where both are halves of one side (`bench/mating.py`); Alt takes the other of the two.
Pressing the same edge twice joins a piece to its own mirror image.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TypeAlias

from wedgework.bench.gestures import Cancel, Enter, Gesture, Move, Press
from wedgework.bench.mating import mate_run
from wedgework.bench.offers import seam_name
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Choose, Commit, DropPreview, Hint, Preview, Wish
from wedgework.edits.seams import JoinEdges
from wedgework.pattern.document import Ref, Run
from wedgework.pattern.lookup import ring_of, skin_seam_of


@dataclass(frozen=True, slots=True)
class Idle:
    """No edge is chosen."""


@dataclass(frozen=True, slots=True)
class First:
    """Edges of run A, in the order in which they were pressed."""

    a: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Second:
    """Run A is gathered, and run B is being."""

    a: tuple[str, ...]
    b: tuple[str, ...] = ()


State: TypeAlias = Idle | First | Second
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on an edge, then on the one that it is joined to. Shift gathers several."
_MATE = "Press on the edge that it is joined to; Shift gathers more of this side, Enter ends it."
_MORE = "Shift gathers more of the second side; a press without it, or Enter, joins."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle() | First() | Second(), Press():
            edge = _free_edge(scene, gesture)
            return _pressed(state, edge, scene, gesture) if edge else (state, ())
        case Idle() | First() | Second(), Move():
            return state, _seen(state, scene, gesture)
        case First(), Enter():
            return Second(state.a), (Hint(_MORE),)
        case Second(), Enter() if state.b:
            return _joined(scene, state.a, state.b)
        case First() | Second(), Cancel():
            return Idle(), (DropPreview(), Choose(()))
        case _:
            return state, ()


def _free_edge(scene: Scene, pointer: Press | Move) -> str | None:
    """The edge under the pointer, unless it lies in a seam of the skin already."""
    hit = scene.edge_under(pointer)
    return None if hit is None or skin_seam_of(scene.project, hit.id) else hit.id


def _pressed(state: State, edge: str, scene: Scene, press: Press) -> Answer:
    shift, other = press.shift, press.alt
    match state:
        case Idle():
            return First((edge,)), (Choose((edge,)), Hint(_MATE))
        case First(a) if shift and edge not in a:
            return First((*a, edge)), (Choose((*a, edge)), Hint(_MATE))
        case First(a):
            return _joined(scene, a, (edge,), other=other)
        case Second(a, b) if shift and edge not in b:
            return Second(a, (*b, edge)), (Choose((*a, *b, edge)), Hint(_MORE))
        case Second(a, b):
            return _joined(scene, a, b if edge in b else (*b, edge), other=other)


def _joined(scene: Scene, a: tuple[str, ...], b: tuple[str, ...], *, other: bool = False) -> Answer:
    return Idle(), (Commit((join_edit(scene, a, b, other=other),)),)


def _seen(state: State, scene: Scene, move: Move) -> tuple[Wish, ...]:
    hit = scene.edge_under(move)
    if hit is None:
        return (Hint({Idle: _BEGIN, First: _MATE, Second: _MORE}[type(state)]),)
    if skin_seam_of(scene.project, hit.id):
        said = f"{scene.called(hit)} is joined already, in {scene.seam_names(hit.id)}."
        return DropPreview(), Hint(said[:1].upper() + said[1:], hit.id)
    if isinstance(state, Idle):
        return (Hint(f"Joins {scene.called(hit)} to …", hit.id),)
    b = state.b if isinstance(state, Second) else ()
    edit = join_edit(scene, state.a, b if hit.id in b else (*b, hit.id), other=move.alt)
    image = " in its mirror image" if "~" in edit.b[0] else ""
    return Preview((edit,)), Hint(f"Joins it to {scene.called(hit)}{image}.", hit.id)


def join_edit(
    scene: Scene, a: tuple[str, ...], b: tuple[str, ...], *, other: bool = False
) -> JoinEdges:
    """The edit that joins two runs of edges, A walked along its edges and B as suits them."""
    first = _in_outline_order(scene, a)
    refs = tuple(Ref(edge) for edge in first)
    if a == b:
        mate: Run = tuple(Ref(edge, mirrored=True) for edge in first)
    else:
        mate = mate_run(scene.project, first, _in_outline_order(scene, b), other=other)
    name = seam_name(scene.project, refs, mate)
    return JoinEdges(name=name, a=tuple(map(str, refs)), b=tuple(map(str, mate)))


def _in_outline_order(scene: Scene, edges: tuple[str, ...]) -> list[str]:
    """Edges of each piece as its outline has them, pieces as they were pressed.

    Where a run goes round the outline's first corner, it begins after its gap.
    """
    ordered: list[str] = []
    for _, group in groupby(edges, key=lambda edge: scene.piece(edge).id):
        wanted = set(group)
        ring = [edge.id for edge in ring_of(scene.piece(next(iter(wanted))), next(iter(wanted)))]
        gap = next((i for i, edge in enumerate(ring) if edge not in wanted), 0)
        ordered += [edge for edge in (*ring[gap:], *ring[:gap]) if edge in wanted]
    return ordered
