"""Getting in: every section that a part of the body has to pass on its way into the garment.

For each girth on the way and each section that it passes, the needed stretch is girth / section
- 1. A garment is entered feet first through an opening above, head first through one below, or
through a slit between; where there are several ways, the one that stretches least is told. Plain
geometry; what passing may stretch is common practice, as the constant says.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

import numpy as np

from wedgework.geometry.curve import Point
from wedgework.geometry.length import length_mm
from wedgework.geometry.memo import memoised
from wedgework.pattern.body import base_of, measured
from wedgework.pattern.boundary import Boundary, Side
from wedgework.pattern.closings import closing_length_mm, closings_into, times_made
from wedgework.pattern.document import (
    Closing,
    Level,
    Line,
    Opening,
    Piece,
    PieceId,
    Project,
    Ref,
    Seam,
)
from wedgework.pattern.instances import made_seams
from wedgework.pattern.levels import flat_girth_mm, level_lines
from wedgework.pattern.limbs import ARM, LEG
from wedgework.pattern.lookup import piece_of, the_edge
from wedgework.pattern.openings import measure_opening, whole_ring
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.table import Table
from wedgework.pattern.wanted import station_at_level

ALLOWED_PASSING: Final = 0.4
"""So much may thin sheet stretch while a body passes; 0.15 for what lasts; common practice, no
source."""

BEYOND_MM: Final = 1.0
"""A closing opens a level when it goes on so far beyond it; common practice, no source."""

TRUNK: Final = (
    "head_girth_mm", "neck_girth_mm", "neck_base_girth_mm", "shoulder_girth_mm",
    "bust_girth_mm", "under_bust_girth_mm", "waist_girth_mm", "hip_girth_mm",
)  # fmt: skip
"""Girths of the trunk from above; a girth's index is its place."""

NECK: Final = 2.0
SHOULDER: Final = 3.0
HIP: Final = float(len(TRUNK) - 1)
"""Places: that of a neck opening, of the shoulders below it, and of the hips."""

Kind: TypeAlias = Literal["opening", "level", "slit"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """A section on the way, and the largest girth that passes it, in mm.

    `girth` is None where nothing that is known passes. An open section is one that a closing lays
    open: all passes.
    """

    id: str
    name: str
    kind: Kind
    section_mm: float
    girth: str | None
    girth_mm: float
    allowed: float
    is_open: bool
    at_mm: Point
    edges: tuple[str, ...] = ()

    @property
    def needed(self) -> float:
        """By which share of its length it stretches; below 0 the body passes without."""
        return -1.0 if self.is_open else self.girth_mm / self.section_mm - 1.0

    @property
    def passes(self) -> bool:
        """Whether what is needed is allowed."""
        return self.needed <= self.allowed


@dataclass(frozen=True, slots=True, kw_only=True)
class WayIn:
    """One way into the garment: through what, which end of the body first, and what it passes."""

    entrance: str
    first: Literal["feet", "head", "either"]
    passages: tuple[Passage, ...]

    @property
    def fails(self) -> tuple[Passage, ...]:
        """Sections that do not pass."""
        return tuple(one for one in self.passages if not one.passes)

    @property
    def excess(self) -> float:
        """How much more than allowed the worst section has to stretch; below 0 all passes."""
        return max((one.needed - one.allowed for one in self.passages), default=-1.0)


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Ring:
    """An opening as the way meets it: where it lies on the trunk, and how far it opens."""

    id: str
    name: str
    length_mm: float
    allowed: float
    measure: str
    edges: tuple[Ref, ...]
    place: float | None
    is_top: bool

    @property
    def is_neck(self) -> bool:
        """Whether head and shoulders lie beyond it."""
        return self.place == NECK


def way_in(project: Project) -> WayIn | None:
    """The way into the garment that stretches least; None where no opening or closing is said."""
    ways = tuple(ways_in(project))
    return min(ways, key=lambda way: way.excess) if ways else None


def ways_in(project: Project) -> Iterator[WayIn]:
    """Every way in: through each opening of the trunk, and each slit that reaches none."""
    rings = [*(_marked(project, one) for one in project.openings.values()), *_unmarked(project)]
    sections = tuple(_levels(project))
    trunk = [ring for ring in rings if ring.place is not None]
    limbs = [row for ring in rings if ring.place is None for row in _limb(project, ring)]
    if trunk and not sections and all(ring.is_neck for ring in rings):
        yield from (_over_the_head(project, ring) for ring in trunk)
        return
    for ring in trunk:
        feet_first = ring.is_top
        own = _passage(project, ring, _passing(project, ring.place or 0.0, feet_first=feet_first))
        beyond = [] if feet_first else _other_tops(project, trunk, ring)
        levels = _past_levels(project, sections, feet_first=feet_first)
        first: Literal["feet", "head"] = "feet" if feet_first else "head"
        rows = (*_known((own, *beyond)), *levels, *limbs)
        yield WayIn(entrance=ring.name, first=first, passages=rows)
    for closing in _alone(project, rings):
        slit = _slit(project, closing)
        levels = _past_slit(project, sections, closing)
        tops = _other_tops(project, trunk, None)
        rows = (*_known((slit, *tops)), *levels, *limbs)
        yield WayIn(entrance=slit.name, first="either", passages=rows)


def _known(rows: Iterable[Passage]) -> tuple[Passage, ...]:
    return tuple(row for row in rows if row.girth is not None)


def _over_the_head(project: Project, ring: _Ring) -> WayIn:
    """What has no more than a neck goes over the head."""
    row = _passage(project, ring, _largest(project, TRUNK[:1]))
    return WayIn(entrance=ring.name, first="head", passages=_known((row,)))


def _largest(project: Project, measures: Iterable[str]) -> tuple[str | None, float]:
    """The largest of some girths that is known, None and 0 where none is."""
    known = [
        (value, name) for name in measures if (value := measured(project.body, name)) is not None
    ]
    girth_mm, name = max(known, default=(0.0, None))
    return name, girth_mm


def _passing(project: Project, place: float, *, feet_first: bool) -> tuple[str | None, float]:
    """The largest girth of the trunk that passes a place: all below it, or all above."""
    below = [name for at, name in enumerate(TRUNK) if at > place and at >= SHOULDER]
    above = [name for at, name in enumerate(TRUNK) if at < place and name in OVER_HEAD]
    return _largest(project, below if feet_first else above)


OVER_HEAD: Final = frozenset(TRUNK) - {"neck_girth_mm", "neck_base_girth_mm"}
"""A neck is never the largest of what passes."""


def _passage(project: Project, ring: _Ring, passing: tuple[str | None, float]) -> Passage:
    girth, girth_mm = passing
    return Passage(
        id=ring.id, name=ring.name, kind="opening", section_mm=ring.length_mm, girth=girth,
        girth_mm=girth_mm, allowed=ring.allowed, is_open=False,
        at_mm=the_edge(project, ring.edges[0].edge).curve.start,
        edges=tuple(dict.fromkeys(ref.edge for ref in ring.edges)),
    )  # fmt: skip


def _other_tops(project: Project, trunk: list[_Ring], but: _Ring | None) -> list[Passage]:
    """Openings above that the head, or all above them, comes out of."""
    return [
        _passage(project, ring, _passing(project, ring.place or 0.0, feet_first=False))
        for ring in trunk
        if ring.is_top and ring is not but
    ]


def _limb(project: Project, ring: _Ring) -> Iterator[Passage]:
    """A hand or a foot, and what else of the limb is beyond, through the opening of a limb."""
    limb = LEG if ring.measure in LEG else ARM
    beyond = limb[limb.index(ring.measure) :]
    yield from _known((_passage(project, ring, _largest(project, beyond)),))


# Levels


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Section:
    level: Level
    place: float
    girth_mm: float
    is_open: bool
    at_mm: Point


def _levels(project: Project) -> Iterator[_Section]:
    """Levels of the trunk from above, and whether a closing lays them open."""
    found = []
    for level in project.levels.values():
        flat_mm = flat_girth_mm(project, level.id)
        drawn = next(_drawn(project, level), None)
        if level.measure in TRUNK and drawn is not None and flat_mm > 0.0:
            opened = any(_opens(project, one, level) for one in project.closings.values())
            found.append(_Section(
                level=level, place=float(TRUNK.index(level.measure)), girth_mm=flat_mm,
                is_open=opened, at_mm=(drawn.curve.start + drawn.curve.end) / 2.0,
            ))  # fmt: skip
    yield from sorted(found, key=lambda one: one.place)


def _drawn(project: Project, level: Level) -> Iterator[Line]:
    return (line for piece in project.pieces.values() for line in level_lines(piece, level.id))


def _opens(project: Project, closing: Closing, level: Level) -> bool:
    measured = measure_seam(project, project.seams[closing.seam])
    at_mm = station_at_level(measured, level)
    if at_mm is None:
        return False
    return BEYOND_MM < at_mm < measured.a.length_mm - BEYOND_MM


def _past_levels(
    project: Project, sections: Iterable[_Section], *, feet_first: bool
) -> tuple[Passage, ...]:
    rows = (_past(one, _passing(project, one.place, feet_first=feet_first)) for one in sections)
    return _known(rows)


def _past(section: _Section, passing: tuple[str | None, float]) -> Passage:
    girth, girth_mm = passing
    return Passage(
        id=section.level.id, name=section.level.name or section.level.id, kind="level",
        section_mm=section.girth_mm, girth=girth, girth_mm=girth_mm, allowed=ALLOWED_PASSING,
        is_open=section.is_open, at_mm=section.at_mm,
    )  # fmt: skip


# A slit of its own


def _alone(project: Project, rings: Iterable[_Ring]) -> Iterator[Closing]:
    """Closings that run out into no ring."""
    reached = {closing.id for ring in rings for closing, _ in closings_into(project, ring.edges)}
    return (one for one in project.closings.values() if one.id not in reached)


def _slit(project: Project, closing: Closing) -> Passage:
    """A slit of length s opens 2 s; below it the feet and hips go in, above it the rest."""
    seam = project.seams[closing.seam]
    girth, girth_mm = _largest(project, TRUNK[int(SHOULDER) :])
    times = times_made(project, seam)
    return Passage(
        id=closing.id, name=seam.name or seam.id, kind="slit",
        section_mm=2.0 * times * closing_length_mm(project, closing), girth=girth,
        girth_mm=girth_mm, allowed=ALLOWED_PASSING, is_open=False,
        at_mm=the_edge(project, seam.a[0].edge).curve.start,
        edges=tuple(dict.fromkeys(ref.edge for ref in (*seam.a, *seam.b))),
    )  # fmt: skip


def _past_slit(
    project: Project, sections: tuple[_Section, ...], closing: Closing
) -> tuple[Passage, ...]:
    crossed = [one.place for one in sections if _opens(project, closing, one.level)]
    # A slit that crosses no level lies below them all: in the crotch.
    middle = sum(crossed) / len(crossed) if crossed else HIP + 0.5
    rows = (
        _past(one, _passing(project, one.place, feet_first=one.place > middle)) for one in sections
    )
    return _known(rows)


# Openings, marked and unmarked


def _marked(project: Project, opening: Opening) -> _Ring:
    place, is_top = _place_of(project, base_of(opening.measure)[0], opening.edges)
    return _Ring(
        id=opening.id, name=opening.name or opening.id, measure=base_of(opening.measure)[0],
        length_mm=measure_opening(project, opening).length_mm, allowed=opening.allowed_stretch,
        edges=whole_ring(project, opening), place=place, is_top=is_top,
    )  # fmt: skip


def _unmarked(project: Project) -> Iterator[_Ring]:
    """Open rings that a closing runs out into, and that lie whole about the trunk."""
    if not project.closings:
        return
    marked = {
        (ref.edge, ref.mirrored)
        for opening in project.openings.values()
        for ref in whole_ring(project, opening)
    }
    for sides in open_rings(project):
        ring = tuple(side.ref for side in sides)
        if marked & {(side.edge, side.mirrored) for side in sides}:
            continue
        slits = closings_into(project, ring)
        if slits and is_about_trunk(project, sides):
            yield _unmarked_ring(project, ring, slits)


def _unmarked_ring(
    project: Project, ring: tuple[Ref, ...], slits: tuple[tuple[Closing, int], ...]
) -> _Ring:
    edge = the_edge(project, ring[0].edge)
    total = sum(length_mm(the_edge(project, ref.edge).curve) for ref in ring)
    total += sum(2.0 * times * closing_length_mm(project, one) for one, times in slits)
    place, is_top = _place_of(project, "", ring)
    return _Ring(
        id=edge.id, name=f"open edge at {edge.name or edge.id}", measure="", length_mm=total,
        allowed=ALLOWED_PASSING, edges=ring, place=NECK if is_top else place, is_top=is_top,
    )  # fmt: skip


def open_rings(project: Project) -> tuple[tuple[Side, ...], ...]:
    """Every ring of the open boundary of the made-up garment."""
    return _open_rings(project.pieces, project.seams, project.owners)


@memoised
def _open_rings(
    pieces: Table[Piece], seams: Table[Seam], owners: Table[PieceId]
) -> tuple[tuple[Side, ...], ...]:
    return tuple(_rings(Project(pieces=pieces, seams=seams, owners=owners)))


def _rings(project: Project) -> Iterator[tuple[Side, ...]]:
    boundary = Boundary(project)
    boundary.join(made for made in made_seams(project) if not made.seam.laid_on)
    left = dict.fromkeys(side for side in boundary.sides() if boundary.is_open(side))
    while left:
        start = next(iter(left))
        ring = [start]
        del left[start]
        while (after := boundary.after(ring[-1])) is not None and after[0] in left:
            ring.append(after[0])
            del left[after[0]]
        yield tuple(ring)


def is_about_trunk(project: Project, sides: tuple[Side, ...]) -> bool:
    """Whether a ring goes round the middle: it is its own mirror image, or has none."""
    own = set(sides)
    singles = all(piece_of(project, side.edge).cutting == "single" for side in sides)
    return singles or all(side.twin in own for side in sides)


def _place_of(project: Project, measure: str, ring: Iterable[Ref]) -> tuple[float | None, bool]:
    """Where an opening lies on the trunk, None for a limb's; and whether it is one above."""
    if measure in LEG or measure in ARM:
        return None, False
    place = float(TRUNK.index(measure)) if measure in TRUNK else None
    if place is not None and place <= SHOULDER:
        return NECK, True
    for ref in ring:
        found = beside_levels(project, piece_of(project, ref.edge), ref.edge)
        if found is not None:
            return found
    return (HIP + 0.5 if place is None else place - 0.5), place is not None


def beside_levels(project: Project, piece: Piece, edge: str) -> tuple[float, bool] | None:
    """Place of an edge above or below the levels of its piece; None where it has none."""
    rows = [
        (float(TRUNK.index(level.measure)), line)
        for level in project.levels.values() if level.measure in TRUNK
        for line in level_lines(piece, level.id)[:1]
    ]  # fmt: skip
    if not rows:
        return None
    rows.sort(key=lambda row: row[0])
    middles = [(line.curve.start + line.curve.end) / 2.0 for _, line in rows]
    up = middles[0] - middles[-1] if len(rows) > 1 else np.array([0.0, 1.0])
    curve = the_edge(project, edge).curve
    at = float(((curve.start + curve.end) / 2.0 - (middles[0] + middles[-1]) / 2.0) @ up)
    return (rows[0][0] - 0.5, True) if at > 0.0 else (rows[-1][0] + 0.5, False)
