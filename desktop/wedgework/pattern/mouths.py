"""The mouth of a folded dart: what its cut line has to be, so that the fold runs to the edge.

A dart that is folded keeps its wedge: sewn along its legs and laid to one side, the wedge lies
under (or over) the sheet there and has to end at its edge. So the mouth is that edge, mirrored in
the leg onto one half of the wedge, and that mirrored in the crease onto the other, with a peak
between. A shaped leg folds, near its mouth, along the way that it takes there.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final, NamedTuple

import numpy as np

from wedgework.geometry.crossing import crossings
from wedgework.geometry.curve import Curve, Floats, joined, line, reversed_curve, with_ends
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.motion import Affine, moved, reflection
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.geometry.turning import end_tangent, start_tangent
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Ring, Seam
from wedgework.pattern.lookup import seams_of

LEGS_MM: Final = 0.5
"""Legs that differ by more do not fold onto each other; as `dart_legs` has it."""

SAMPLES: Final = 33
"""Places at which the legs are compared."""


class Fold(NamedTuple):
    """A dart that is folded: its legs as the outline walks them, and the one it is folded towards.

    `back` says that this is the leg that the outline walks from the apex.
    """

    towards: tuple[EdgeId, ...]
    away: tuple[EdgeId, ...]
    back: bool


def is_folded(piece: Piece, dart: Seam) -> bool:
    """Whether a dart keeps its wedge: joined face to face, and nothing allowed along its legs."""
    legs = {ref.edge for ref in (*dart.a, *dart.b)}
    edges = [edge for edge in piece.edges if edge.id in legs]
    return (
        dart.apex is not None
        and dart.tip is None
        and dart.join == "superimposed"
        and len(edges) == len(legs)
        and all(edge.allowance_mm == 0.0 for edge in edges)
    )


def folds_of(project: Project, piece: Piece) -> tuple[Fold, ...]:
    """The darts of a piece that are folded, in the order of its outline."""
    darts = [seam for edge in piece.edges for seam in seams_of(project, edge.id)]
    return tuple(_fold(piece, dart) for dart in dict.fromkeys(darts) if is_folded(piece, dart))


def mouths_of(project: Project, piece: Piece) -> list[Curve]:
    """The cut line across the mouth of each dart of a piece that is folded, without allowances."""
    folds = folds_of(project, piece)
    ring, _ = with_folds(piece.edges, (0.0,) * len(piece.edges), folds)
    own = set(piece.edges)
    return [edge.curve for edge in ring if edge not in own]


def _fold(piece: Piece, dart: Seam) -> Fold:
    a, b = ({ref.edge for ref in run} for run in (dart.a, dart.b))
    ids = [edge.id for edge in piece.edges]
    at = next(i for i, edge in enumerate(piece.edges) if edge.corner == dart.apex)
    first, last = (a, b) if ids[at - 1] in a else (b, a)
    ring = ids[at:] + ids[:at]
    over = a if dart.over == "a" else b
    return Fold(
        towards=tuple(own for own in ring if own in first),
        away=tuple(own for own in ring if own in last),
        back=over is last,
    )


def with_folds(
    ring: Ring, outsets: tuple[float, ...], folds: tuple[Fold, ...]
) -> tuple[Ring, tuple[float, ...]]:
    """The outline, and how far out each edge is cut, with the mouths of folded darts for legs.

    Each stretch of a mouth has the id of the leg that it lies at, and is cut as far out as the edge
    that it is an image of.
    """
    rows = list(zip(ring, outsets, strict=True))
    for fold in folds:
        rows = _with_fold(rows, fold)
    return tuple(edge for edge, _ in rows), tuple(outset for _, outset in rows)


def _with_fold(rows: list[tuple[Edge, float]], fold: Fold) -> list[tuple[Edge, float]]:
    at = next(i for i, (edge, _) in enumerate(rows) if edge.id == fold.towards[0])
    turned = rows[at:] + rows[:at]
    legs = len(fold.towards) + len(fold.away)
    ring = tuple(edge for edge, _ in turned)
    # Another dart may have opened in a leg: such a wedge no longer folds flat.
    is_whole = tuple(edge.id for edge in ring[:legs]) == (*fold.towards, *fold.away)
    mouth = _mouth(ring[:legs], ring[legs:], fold) if is_whole else None
    if mouth is None:
        return rows
    known = {edge.id: outset for edge, outset in turned[legs:]}
    half = len(mouth) // 2
    images = [
        (replace(source, id=fold.towards[0] if i < half else fold.away[-1], curve=curve,
                 corner=ring[0].corner if i == 0 else ""), known[source.id])
        for i, (source, curve) in enumerate(mouth)
    ]  # fmt: skip
    return [*images, *turned[legs:]]


def _mouth(legs: Ring, rest: Ring, fold: Fold) -> list[tuple[Edge, Curve]] | None:
    """Edges and their images across the mouth, in the outline's order; None where none fits."""
    count = len(fold.towards)
    sides = [joined(*(edge.curve for edge in part)) for part in (legs[:count], legs[count:])]
    if not folds_flat(sides[0], sides[1]):
        return None
    start, apex, end = sides[0].start, sides[0].end, sides[1].end
    chain = list(rest) if fold.back else [_turned_round(edge) for edge in reversed(rest)]
    crease = _crease(start, end)
    out = end_tangent(sides[1]) if fold.back else -start_tangent(sides[0])
    leg = end if fold.back else start
    mirrored = reflection(leg - out, leg)
    turned = crease.after(mirrored)
    deep = (apex + crease.points(apex)) / 2
    reached = _up_to(chain, mirrored.points(deep), mirrored.points((start + end) / 2))
    if reached is None:
        return None
    first, second = (turned, mirrored) if fold.back else (mirrored, turned)
    rows = [*_images(reached, first), *_images(reached, second, back=True)]
    return _stitched(rows, start, end)


def folds_flat(towards: Curve, back: Curve) -> bool:
    """Whether the legs of a dart fold onto each other, within LEGS_MM all along.

    `towards` runs from the mouth to the apex, `back` from there to the mouth.
    """
    start, end = towards.start, back.end
    if np.hypot(*(end - start)) <= SAME_STATION_MM:
        return False
    shares = np.linspace(0.0, 1.0, SAMPLES)
    one = points_at(towards, shares * length_mm(towards))
    other = points_at(back, (1.0 - shares) * length_mm(back))
    return bool(np.hypot(*(_crease(start, end).points(one) - other).T).max() <= LEGS_MM)


def _crease(start: Floats, end: Floats) -> Affine:
    """The mirror image in the line on which the wedge is folded: square across its mouth."""
    middle, across = (start + end) / 2, end - start
    return reflection(middle, middle + np.array([-across[1], across[0]]))


def _turned_round(edge: Edge) -> Edge:
    return replace(edge, curve=reversed_curve(edge.curve))


def _up_to(chain: list[Edge], apex: Floats, ray: Floats) -> list[Edge] | None:
    """The chain up to where the ray from the apex first meets it; None where it does not."""
    box = bounds_of_all([edge.curve for edge in chain])
    far = float(np.hypot(*(box[2:] - box[:2]))) + float(np.hypot(*(ray - apex)))
    along = (ray - apex) / np.hypot(*(ray - apex))
    beam = line(apex, apex + far * along)
    for number, edge in enumerate(chain):
        stations = np.sort(crossings(edge.curve, beam)[:, 0])
        met = stations[stations > SAME_STATION_MM]
        if len(met):
            whole = length_mm(edge.curve)
            cut = part(edge.curve, 0.0, min(float(met[0]), whole))
            return [*chain[:number], replace(edge, curve=cut)]
    return None


def _images(chain: list[Edge], motion: Affine, *, back: bool = False) -> list[tuple[Edge, Curve]]:
    rows = [(edge, moved(edge.curve, motion)) for edge in chain]
    return [(edge, reversed_curve(curve)) for edge, curve in reversed(rows)] if back else rows


def _stitched(
    rows: list[tuple[Edge, Curve]], start: Floats, end: Floats
) -> list[tuple[Edge, Curve]]:
    points = [start, *(curve.start for _, curve in rows[1:]), end]
    return [
        (edge, with_ends(curve, points[i], points[i + 1])) for i, (edge, curve) in enumerate(rows)
    ]
