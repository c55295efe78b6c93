"""How much a seam should take out at each level of the body, and how much the pieces do.

Intake is what one level has more than another, and all is told from the fullest level on. The cut
girth of a level is the body's, reduced; the flat one is the sum of the widths of all pieces there.
What a seam has drawn is measured on its own two edges; what the pieces have too much at a level is
what the seams that cross it may take out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np

from wedgework.geometry.crossing import crossings
from wedgework.geometry.curve import Curve, is_straight, line
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.memo import memoised
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.closings import closing_of, times_made
from wedgework.pattern.document import Edge, Level, Piece, Project, Seam
from wedgework.pattern.drawn import edge_intakes, seam_drawn_mm
from wedgework.pattern.ends import End, run_end
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.intake import AT_END_MM, Station
from wedgework.pattern.levels import FITS_MM, cut_girth_mm, flat_girth_mm, level_lines
from wedgework.pattern.seams import SeamMeasure, measure_seam

SHORT_MM: Final = FITS_MM
"""Wanted and drawn intake may differ by so much at a level; common practice, no source."""

LEAST_MM: Final = 1.0
"""Less intake than this is no intake: two drawings of one girth differ by more; common practice,
no source."""

ROUND_MM: Final = 60.0
"""A dome drawn smooth is spread over some 60 to 80 mm; common practice, no source."""

Share: TypeAlias = float | Mapping[str, float]
"""The part of the intake that a seam takes: at all levels alike, or at each by its id."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelIntake:
    """A level that a seam crosses, at a station of A in mm, for one making of the seam.

    `wanted_mm` is the seam's share of the intake from the fullest level to this one by the body,
    `drawn_mm` how far its two edges have moved into their pieces from there to here, and
    `excess_mm` its share of what the pieces have too much here.
    """

    level: str
    at_mm: float
    wanted_mm: float
    drawn_mm: float
    excess_mm: float

    @property
    def short_mm(self) -> float:
        """How much more intake the body wants here than is drawn."""
        return self.wanted_mm - self.drawn_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeIntake:
    """The intake of a whole level from the fullest one on, in mm: by the body, and as drawn."""

    level: str
    fullest: str
    wanted_mm: float
    drawn_mm: float
    excess_mm: float

    @property
    def short_mm(self) -> float:
        """How much more intake the body wants here than is drawn."""
        return self.wanted_mm - self.drawn_mm

    @property
    def is_short(self) -> bool:
        """Whether wanted and drawn differ by more than SHORT_MM, and the girth misses alike.

        Where this level has its girth it is the fullest one that has not.
        """
        least = min(self.short_mm, self.excess_mm)
        return least > SHORT_MM or max(self.short_mm, self.excess_mm) < -SHORT_MM


def fullest_level(project: Project, level: Level, reduction: float | None = None) -> Level | None:
    """The level of the largest cut girth among those that hang together with one.

    Levels hang together where one piece has both, so a sleeve is held against its own fullest
    level and never against the trunk's. None where no girth is known.
    """
    known = {
        own.id: cut
        for own in project.levels.values()
        if (cut := cut_girth_mm(project, own, reduction)) is not None
    }
    together = _together(project, level.id) & known.keys()
    if not together:
        return None
    return project.levels[
        max((own for own in known if own in together), key=lambda own: known[own])
    ]


def _together(project: Project, level: str) -> set[str]:
    """Ids of the levels that share pieces with one, or with one that does."""
    groups = [
        {line.level for line in piece.lines if line.level} for piece in project.pieces.values()
    ]
    found, size = {level}, 0
    while len(found) > size:
        size = len(found)
        for group in groups:
            if not found.isdisjoint(group):
                found |= group
    return found & project.levels.keys()


def whole_intake(
    project: Project, level: Level, reduction: float | None = None
) -> WholeIntake | None:
    """Wanted against drawn intake of a whole level; None where its girth is not known."""
    cut = cut_girth_mm(project, level, reduction)
    fullest = None if cut is None else fullest_level(project, level, reduction)
    most = None if fullest is None else cut_girth_mm(project, fullest, reduction)
    if cut is None or fullest is None or most is None:
        return None
    drawn_mm = flat_girth_mm(project, fullest.id) - flat_girth_mm(project, level.id)
    return WholeIntake(
        level=level.id,
        fullest=fullest.id,
        wanted_mm=most - cut,
        drawn_mm=drawn_mm,
        excess_mm=flat_girth_mm(project, level.id) - cut,
    )


class KnownLevels:
    """What is the same at a level for every seam that crosses it, each reckoned once.

    It lives as long as one look at one project: a check that asks seam by seam would otherwise
    measure all pieces at all levels again for each of them.
    """

    def __init__(self, project: Project, reduction: float | None = None) -> None:
        self.project, self._reduction = project, reduction
        self._wholes: dict[str, WholeIntake | None] = {}
        self._edges: dict[str, Mapping[str, float]] = {}

    def whole(self, level: Level) -> WholeIntake | None:
        """Wanted against drawn intake of a whole level; None where its girth is not known."""
        if level.id not in self._wholes:
            self._wholes[level.id] = whole_intake(self.project, level, self._reduction)
        return self._wholes[level.id]

    def edges(self, whole: WholeIntake) -> Mapping[str, float]:
        """What each edge has drawn at a level, in mm."""
        if whole.level not in self._edges:
            levels = self.project.levels
            self._edges[whole.level] = edge_intakes(
                self.project, levels[whole.level], levels[whole.fullest]
            )
        return self._edges[whole.level]

    def intake(self, seam: Seam, level: Level, part: float) -> LevelIntake | None:
        """A seam's part of the intake at a level; None where it does not cross it."""
        whole = self.whole(level)
        measured = None if whole is None else measure_seam(self.project, seam)
        at_mm = None if measured is None else station_at_level(measured, level)
        if whole is None or at_mm is None:
            return None
        each = part / times_made(self.project, seam)
        return LevelIntake(
            level=level.id,
            at_mm=at_mm,
            wanted_mm=whole.wanted_mm * each,
            drawn_mm=seam_drawn_mm(seam, self.edges(whole)),
            excess_mm=whole.excess_mm * each,
        )


def drawn_intake(
    project: Project,
    seam: Seam,
    *,
    reduction: float | None = None,
    share: Share = 1.0,
    known: KnownLevels | None = None,
) -> tuple[LevelIntake, ...]:
    """Wanted against drawn intake at each level of known girth that the seam crosses, along A.

    `reduction` is the part by which girths are cut smaller than the body, the project's own if
    left out; `share` the part of the intake that this seam takes, the rest being that of others:
    one for all levels, or one each by its id, none where it is not named. `known` are the levels
    of the same project and reduction, where other seams are asked as well.
    """
    known = known or KnownLevels(project, reduction)
    rows = []
    for level in project.levels.values():
        part = share if isinstance(share, float | int) else share.get(level.id, 0.0)
        row = known.intake(seam, level, part)
        if row is not None:
            rows.append(row)
    return tuple(sorted(rows, key=lambda row: row.at_mm))


def seams_at_level(project: Project, level: Level) -> tuple[Seam, ...]:
    """Seams of the skin that cross a level and are glued: they may take intake there."""
    found = []
    for seam in project.seams.values():
        if seam.is_dart or seam.laid_on or closing_of(project, seam.id) is not None:
            continue
        if station_at_level(measure_seam(project, seam), level) is not None:
            found.append(seam)
    return tuple(found)


def proposed_intake(
    project: Project,
    seam: Seam,
    *,
    reduction: float | None = None,
    share: Share = 1.0,
    known: KnownLevels | None = None,
) -> tuple[Station, ...]:
    """Stations that take out what the pieces have too much at each level that the seam crosses.

    Beyond its outer levels the slice goes on as wide to the end of the seam where both edges that
    go on there are open, and runs to nothing where another seam needs their length. Raises
    EditRefused where the seam crosses no level of a known girth.
    """
    rows = drawn_intake(project, seam, reduction=reduction, share=share, known=known)
    if not rows:
        raise EditRefused(
            f"Seam “{seam.name or seam.id}” crosses no level whose girth on the body is known: "
            "add levels and write down the body first.",
            culprit=seam.id,
        )
    measured = measure_seam(project, seam)
    stations = [Station(row.at_mm, _rounded(row.excess_mm)) for row in rows]
    if not any(one.width_mm for one in stations):
        return (Station(0.0, 0.0), Station(measured.a.length_mm, 0.0))
    first = _at_end(project, measured, "first", 0.0, stations[0])
    last = _at_end(project, measured, "last", measured.a.length_mm, stations[-1])
    return (*first, *stations, *last)


def round_of_tips_mm(stations: tuple[Station, ...], whole_mm: float) -> float:
    """Length over which the tips of a proposed slice are rounded: a sharp one peaks and tears.

    As much as ROUND_MM where the stations beside a tip leave room for it; 0 without a tip.
    """
    rooms = [
        min(abs(beside.at_mm - tip.at_mm), tip.at_mm, whole_mm - tip.at_mm)
        for tip, beside in (stations[:2], stations[:-3:-1])
        if AT_END_MM < tip.at_mm < whole_mm - AT_END_MM
    ]
    return min([ROUND_MM / 2, *rooms]) * 2 if rooms else 0.0


def _rounded(width_mm: float) -> float:
    """A width to a thousandth of a mm, and nothing where it is too little to be meant.

    A trace of width at the fullest level would pull the whole spline beyond it to the other side.
    """
    return 0.0 if abs(width_mm) < LEAST_MM else round(width_mm, 3)


def _at_end(
    project: Project, measured: SeamMeasure, end: End, end_mm: float, nearest: Station
) -> tuple[Station, ...]:
    """The station at an end of the seam that follows from the one nearest to it, if any."""
    if abs(nearest.at_mm - end_mm) <= AT_END_MM or nearest.width_mm == 0.0:
        return ()
    both_open = all(run_end(run, end).is_open(project) for run in (measured.a, measured.b))
    return (Station(end_mm, nearest.width_mm if both_open else 0.0),)


def station_at_level(measured: SeamMeasure, level: Level) -> float | None:
    """Station of A where a level crosses the seam, in mm; read from B where A does not say."""
    for stretch in measured.a.stretches:
        if (at := _crossed_at(stretch.edge, stretch.piece, level)) is not None:
            return stretch.station_mm(at)
    for stretch in measured.b.stretches:
        if (at := _crossed_at(stretch.edge, stretch.piece, level)) is not None:
            return measured.a_of(stretch.station_mm(at))
    return None


@memoised
def _crossed_at(edge: Edge, piece: Piece, level: Level) -> float | None:
    """Distance along an edge where a level of its piece meets it, in mm."""
    for drawn in level_lines(piece, level.id):
        found = crossings(edge.curve, _through(piece, drawn.curve))
        if len(found):
            return float(found[0, 0])
    return None


def _through(piece: Piece, drawn: Curve) -> Curve:
    """A level's line as long as the piece: its outline may have moved since it was drawn."""
    if not is_straight(drawn, SAME_STATION_MM):
        return drawn
    low, high = bounds_of_all([edge.curve for edge in piece.edges]).reshape(2, 2)
    along = (drawn.end - drawn.start) / np.hypot(*(drawn.end - drawn.start))
    reach = float(np.hypot(*(high - low))) * along
    return line(drawn.start - reach, drawn.end + reach)
