"""Corners where laps meet: which are cut off, so that never more than three layers lie there.

Where three laps or more meet in a corner of the garment, a piece that lies under along both of its
edges would reach with the corner of its laps under a third piece, below the laps of two others.
That corner is cut off, back to the seam line; both laps keep their whole width up to there. And a
lap ends, where the piece above it has a sharp corner, along that piece's next edge, which at an
opening would else leave it in sight. So on each piece there lie at most the two laps that come in
over its own two edges.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final, NamedTuple

from wedgework.pattern.angles import corner_angle
from wedgework.pattern.document import CornerId, Edge, EdgeId, Piece, Project, Ref, Run, Seam
from wedgework.pattern.ends import is_of_one_outline
from wedgework.pattern.instances import flipped, has_mirror
from wedgework.pattern.lookup import edge_in, piece_of, ring_of, seams_of

MOST_LAPS: Final = 2
"""Where no more laps than this meet, a corner of theirs lies on two other layers at most."""

SQUARE_RAD: Final = math.radians(0.5)
"""Corners nearer to square than this need no slanted end: over a lap it is a tenth of a mm."""

MOST_PIECES_ROUND: Final = 64
"""More pieces than this do not meet in a corner: what turns longer is no corner."""


class _Side(NamedTuple):
    """An edge of a piece as drawn or of its mirror image, and at which end of it a corner is."""

    edge: EdgeId
    mirrored: bool
    at_start: bool


def lap_of_mm(seam: Seam, edge: EdgeId) -> float:
    """How far an edge of a seam is cut outside of its seam line because it lies under."""
    if seam.join != "lapped":
        return 0.0
    if is_of_one_outline(seam):
        # Both copies come from one outline, so each takes half of the lap.
        return seam.lap_mm / 2
    over = seam.a if seam.over == "a" else seam.b
    return 0.0 if any(ref.edge == edge for ref in over) else seam.lap_mm


def widest_lap_mm(project: Project, edge: EdgeId) -> float:
    """The widest lap with which an edge lies under, 0 where it lies under in no seam."""
    return max((lap_of_mm(seam, edge) for seam in seams_of(project, edge)), default=0.0)


class Slant(NamedTuple):
    """An end of an edge where its lap ends along the next seam of the piece above.

    `angle_rad` is that between the edge and the end of its lap.
    """

    edge: EdgeId
    at_start: bool
    angle_rad: float


class CornerCuts(NamedTuple):
    """What is cut off where laps meet: corners of two laps of a piece, and ends of single laps."""

    bare: frozenset[CornerId] = frozenset()
    slants: tuple[Slant, ...] = ()


def corner_cuts(project: Project, piece: Piece) -> CornerCuts:
    """What is cut off of the laps of a piece, so that three layers at most lie in any corner."""
    bare: list[CornerId] = []
    slants: list[Slant] = []
    for before, after in zip((piece.edges[-1], *piece.edges[:-1]), piece.edges, strict=True):
        under = _lies_under(project, before), _lies_under(project, after)
        if not any(under):
            continue
        own = [*_slants(project, before, after, under)]
        runs_out = under[0] != under[1] and _is_free(project, after if under[0] else before)
        if (own and runs_out) or laps_round(project, after) > MOST_LAPS:
            bare.append(after.corner)
            slants += own
    return CornerCuts(frozenset(bare), tuple(slants))


def _is_free(project: Project, edge: Edge) -> bool:
    """Whether an edge is an opening of the garment that is cut on its seam line."""
    return not seams_of(project, edge.id) and edge.allowance_mm <= 0.0


def _slants(
    project: Project, before: Edge, after: Edge, under: tuple[bool, bool]
) -> Iterator[Slant]:
    if under[0]:
        yield from _slant(project, _Side(before.id, mirrored=False, at_start=False))
    if under[1]:
        yield from _slant(project, _Side(after.id, mirrored=False, at_start=True))


def _slant(project: Project, side: _Side) -> Iterator[Slant]:
    """How the lap of a side ends at a corner where the piece above it has a sharp corner."""
    crossed = _across(project, side)
    if crossed is None or crossed[1] != 1:
        return
    above = crossed[0]
    corner = above.edge if above.at_start else _round_corner(project, above).edge
    piece = piece_of(project, above.edge)
    edge = edge_in(piece, corner)
    if edge is None:
        return
    angle_rad = corner_angle(piece, edge.corner)
    # A spike has no second edge along which a lap could end.
    if SQUARE_RAD < angle_rad < math.pi / 2 - SQUARE_RAD:
        yield Slant(side.edge, side.at_start, angle_rad)


def _lies_under(project: Project, edge: Edge) -> bool:
    return any(
        not seam.laid_on and lap_of_mm(seam, edge.id) > 0.0 for seam in seams_of(project, edge.id)
    )


def laps_round(project: Project, edge: Edge) -> int:
    """How many laps meet in the corner of the garment where an edge of a piece as drawn starts."""
    first = _Side(edge.id, mirrored=False, at_start=True)
    found = 0
    side = first
    for _ in range(MOST_PIECES_ROUND):
        crossed = _across(project, side)
        if crossed is None:
            return found + _laps_backwards(project, first)
        side, laps = crossed
        found += laps
        side = _round_corner(project, side)
        if side == first:
            break
    return found


def _laps_backwards(project: Project, first: _Side) -> int:
    """Laps met the other way round, as far as the garment reaches."""
    found, side = 0, _round_corner(project, first)
    for _ in range(MOST_PIECES_ROUND):
        crossed = _across(project, side)
        if crossed is None:
            break
        side, laps = crossed
        found += laps
        side = _round_corner(project, side)
    return found


def _round_corner(project: Project, side: _Side) -> _Side:
    """The other edge of the piece at the corner of a side."""
    ring = ring_of(piece_of(project, side.edge), side.edge)
    index = next(i for i, one in enumerate(ring) if one.id == side.edge)
    beyond = ring[index - 1] if side.at_start else ring[(index + 1) % len(ring)]
    return _Side(beyond.id, side.mirrored, not side.at_start)


def _across(project: Project, side: _Side) -> tuple[_Side, int] | None:
    """What lies on the other side of a seam or fold at a corner, and how many laps that passes.

    A corner inside a run lies on the other side's edge, which goes on without one: there the walk
    comes to the neighbour in its own run, past the laps of both.
    """
    if piece_of(project, side.edge).fold_edge == side.edge:
        return side._replace(mirrored=not side.mirrored), 0
    for seam, run, other in _runs_with(project, side.edge):
        for index, ref in enumerate(run):
            if (ref.edge, ref.mirrored) != (side.edge, side.mirrored):
                continue
            is_first = side.at_start != ref.backward
            beyond, starts, laps = _mate(run, other, index, is_first=is_first)
            is_lapped = seam.join == "lapped" and seam.lap_mm > 0.0
            at_start = starts != beyond.backward
            return _Side(beyond.edge, beyond.mirrored, at_start), laps if is_lapped else 0
    return None


def _mate(run: Run, other: Run, index: int, *, is_first: bool) -> tuple[Ref, bool, int]:
    """The ref beyond a corner of a run, whether its walk starts there, and the laps between."""
    if is_first:
        return (other[0], True, 1) if index == 0 else (run[index - 1], False, 2)
    return (other[-1], False, 1) if index == len(run) - 1 else (run[index + 1], True, 2)


def _runs_with(project: Project, edge: EdgeId) -> Iterator[tuple[Seam, Run, Run]]:
    """Both runs, either first, of each skin seam of an edge, and of the seam's mirror image."""
    for seam in seams_of(project, edge):
        if seam.laid_on:
            continue
        yield seam, seam.a, seam.b
        yield seam, seam.b, seam.a
        if has_mirror(project, seam):
            yield seam, flipped(seam.a), flipped(seam.b)
            yield seam, flipped(seam.b), flipped(seam.a)
