"""Double-pointed darts in the way of a cut: each comes apart into two single darts.

The cut goes in through one leg of the slit and out through the other. What is left of the slit on
either side is a dart whose mouth lies at the cut, so the seam walks past it as past any dart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from wedgework.edits.places import Bit, Cut, Naming, between, bit_from, bits_of
from wedgework.geometry.crossing import crossings
from wedgework.geometry.curve import Curve, with_ends
from wedgework.geometry.length import length_mm
from wedgework.geometry.split import split
from wedgework.geometry.tolerances import ON_OUTLINE_MM, SAME_STATION_MM
from wedgework.pattern.changes import with_seams
from wedgework.pattern.darts import darts_of
from wedgework.pattern.document import Cutout, Piece, Project, Run, Seam
from wedgework.pattern.instances import reversed_run
from wedgework.pattern.lookup import piece_of


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Slit:
    """A double-pointed dart that a way crosses: where on its ring, and where along the way."""

    dart: Seam
    cutout: Cutout
    enters: Cut
    leaves: Cut
    from_mm: float
    to_mm: float


@dataclass(frozen=True, eq=False, slots=True)
class Halves:
    """The bits of a slit on the left and on the right of the way that crosses it."""

    left: list[Bit]
    right: list[Bit]


def slits_in_way(project: Project, piece: Piece, way: Curve) -> list[Slit]:
    """The double-pointed darts of a piece that a way crosses from leg to leg, in its order."""
    found: list[Slit] = []
    for dart in darts_of(project):
        own = dart.a[0].edge
        for cutout in piece.cutouts if dart.tip is not None else ():
            if any(edge.id == own for edge in cutout.edges):
                found += _crossed(dart, cutout, way)
    return sorted(found, key=lambda slit: slit.from_mm)


def without_double_darts(project: Project, piece: Piece) -> Piece:
    """The piece as if no double-pointed dart were cut out of it."""
    legs = {dart.a[0].edge for dart in darts_of(project) if dart.tip is not None}
    left = tuple(
        cutout for cutout in piece.cutouts if legs.isdisjoint(edge.id for edge in cutout.edges)
    )
    return piece if left == piece.cutouts else replace(piece, cutouts=left)


def _crossed(dart: Seam, cutout: Cutout, way: Curve) -> list[Slit]:
    """The slit, if the way goes in through one leg and out through the other, and not at a tip."""
    met: list[tuple[float, Cut]] = []
    for index, edge in enumerate(cutout.edges):
        for way_mm, own_mm in crossings(way, edge.curve).tolist():
            if not SAME_STATION_MM < own_mm < length_mm(edge.curve) - SAME_STATION_MM:
                return []
            if all(abs(way_mm - other) > ON_OUTLINE_MM for other, _ in met):
                met.append((way_mm, Cut(index, own_mm)))
    legs = {ref.edge for ref in dart.a}
    is_on_a = [cutout.edges[cut.index].id in legs for _, cut in met]
    if len(met) != 2 or is_on_a[0] == is_on_a[1]:
        return []
    (from_mm, enters), (to_mm, leaves) = sorted(met, key=lambda row: row[0])
    slit = Slit(
        dart=dart, cutout=cutout, enters=enters, leaves=leaves, from_mm=from_mm, to_mm=to_mm
    )
    return [slit]


def slit_from_point_to_point(piece: Piece, dart: Seam) -> Slit:
    """The slit of a double-pointed dart as a way crosses it that runs through both points."""
    own = dart.a[0].edge
    cutout = next(one for one in piece.cutouts if any(edge.id == own for edge in one.edges))
    at = {edge.corner: index for index, edge in enumerate(cutout.edges)}
    tip, apex = (Cut(at[corner], 0.0) for corner in (str(dart.tip), str(dart.apex)))
    return Slit(dart=dart, cutout=cutout, enters=tip, leaves=apex, from_mm=0.0, to_mm=0.0)


def without_slits(piece: Piece, slits: Sequence[Slit]) -> Piece:
    """The piece without these slits, as if it were whole there."""
    gone = [slit.cutout for slit in slits]
    return replace(piece, cutouts=tuple(one for one in piece.cutouts if one not in gone))


def halves_of(slit: Slit) -> Halves:
    """Both halves: walked with the sheet on the left, the left one runs on from where it enters."""
    ring = slit.cutout.edges
    bits = bits_of(ring, (slit.enters, slit.leaves))
    enters, leaves = (bit_from(bits, ring, cut) for cut in (slit.enters, slit.leaves))
    return Halves(between(bits, enters, leaves), between(bits, leaves, enters))


def ways_between(way: Curve, slits: Sequence[Slit], halves: Sequence[Halves]) -> list[Curve]:
    """What a way is outside of the slits, its parts ending on them bit for bit."""
    if not slits:
        return [way]
    at = [station for slit in slits for station in (slit.from_mm, slit.to_mm)]
    parts = [_without_crumbs(one) for one in split(way, *at)[::2]]
    for number, half in enumerate(halves):
        before, after = parts[number], parts[number + 1]
        parts[number] = with_ends(before, before.start, half.left[0].curve.start)
        parts[number + 1] = with_ends(after, half.right[0].curve.start, after.end)
    return parts


def _without_crumbs(curve: Curve) -> Curve:
    """The curve without stretches that rounding left where it was split beside a joint."""
    steps = np.hypot(*(curve.segments[:, 3] - curve.segments[:, 0]).T)
    return Curve(curve.segments[steps > SAME_STATION_MM])


def with_halved_darts(project: Project, slits: Sequence[Slit]) -> Project:
    """The project where a slit's dart is two after a cut across it; its apex's keeps the id."""
    naming = Naming(project)
    for slit in slits:
        dart = project.seams[slit.dart.id]
        part = piece_of(project, dart.a[0].edge)
        tips = [_split_run(run, part) for run in (dart.a, dart.b)]
        own = naming.numbered(f"{dart.id}.", first=2)
        second = replace(
            dart,
            id=own,
            name=f"dart {own}",
            a=reversed_run(tips[0][0]),
            b=reversed_run(tips[1][0]),
            apex=dart.tip,
            tip=None,
            wanted_mm=0.0,
        )
        first = replace(dart, a=tips[0][1], b=tips[1][1], tip=None)
        project = with_seams(project, first, second)
    return project


def _split_run(run: Run, part: Piece) -> tuple[Run, Run]:
    """A leg's edges in a piece, and those in the other."""
    own = {edge.id for edge in part.edges}
    mine = tuple(ref for ref in run if ref.edge in own)
    return mine, tuple(ref for ref in run if ref.edge not in own)
