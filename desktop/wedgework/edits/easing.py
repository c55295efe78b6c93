"""Make sides of a seam longer or shorter between their corners: along an edge, or between notches.

The corners stay where they are. Along a whole edge the bulge is scaled, so that a fair edge stays
fair; between two notches only the stretch there changes, and runs on smoothly at both of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from wedgework.edits.carry import Fate, Stretch
from wedgework.edits.lengthening import over_mm
from wedgework.edits.redrawn import with_edges_redrawn
from wedgework.geometry.curve import Curve, joined, line
from wedgework.geometry.fair import arched, bulged, in_parts, with_length
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import SAME_STATION_MM, STATION_MM
from wedgework.pattern.document import Edge, Project, Seam, Side
from wedgework.pattern.ends import run_of
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.runs import WalkedRun, walked

STRETCH_PARTS = 4
"""So many cubics let a stretch bend between its ends and leave them in its old directions."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class _Span:
    """A stretch of an edge that changes, from and to in mm from the edge's own start."""

    edge: Edge
    from_mm: float
    to_mm: float

    @property
    def length_mm(self) -> float:
        return self.to_mm - self.from_mm

    @property
    def straight_mm(self) -> float:
        """How far its ends are apart: it can be no shorter."""
        ends = points_at(self.edge.curve, [self.from_mm, self.to_mm])
        return float(np.hypot(*(ends[1] - ends[0])))


def with_sides_eased(
    project: Project, seam: Seam, sides: tuple[Side, ...], between: tuple[str, ...] = ()
) -> Project:
    """The project with a difference of 0 in one seam, made up evenly along these sides.

    `between` are two notches: only what lies between them changes. EditRefused where a side would
    have to be shorter than the way between its corners, or a notch is not on it.
    """
    over = over_mm(project, seam)
    edges, fates = {}, {}
    for side in sides:
        by_mm = over / len(sides) * (-1.0 if side == "a" else 1.0)
        for new, fate in _eased(project, seam, side, by_mm, between):
            edges[new.id], fates[new.id] = new, fate
    return with_edges_redrawn(project, edges, fates)


def _eased(
    project: Project, seam: Seam, side: Side, by_mm: float, between: tuple[str, ...]
) -> Iterator[tuple[Edge, Fate]]:
    run = walked(project, run_of(seam, side))
    low, high = _stations(project, run, seam, between) if between else (0.0, run.length_mm)
    spans = list(_spans(run, low, high))
    own = {span.edge.id: span for span in spans}
    if any(abs(own[one.edge.id].from_mm - one.from_mm) > SAME_STATION_MM for one in spans):
        raise EditRefused(
            "An edge that the seam walks twice cannot change at two places.", culprit=seam.id
        )
    wanted = dict(zip((one.edge.id for one in spans), _shared_out(spans, by_mm), strict=True))
    for span in own.values():
        if abs(wanted[span.edge.id] - span.length_mm) > STATION_MM:
            yield _redrawn(span, wanted[span.edge.id], smoothly=bool(between))


def _shared_out(spans: Sequence[_Span], by_mm: float) -> list[float]:
    """A length for each stretch: shared by length; what one cannot give, the others give as well.

    A stretch that would have to be shorter than the way between its ends is made straight.
    """
    lengths = np.array([span.length_mm for span in spans])
    least = np.array([span.straight_mm for span in spans])
    whole_mm = lengths.sum() + by_mm
    wanted, is_free = lengths * whole_mm / lengths.sum(), np.full(len(spans), fill_value=True)
    if whole_mm < least.sum() - STATION_MM:
        return list(wanted)
    # Each round makes one stretch straight at least.
    while np.any(short := is_free & (wanted < least)):
        is_free &= ~short
        wanted[~is_free] = least[~is_free]
        share = (whole_mm - least[~is_free].sum()) / max(lengths[is_free].sum(), STATION_MM)
        wanted[is_free] = lengths[is_free] * share
    return list(wanted)


def _stations(
    project: Project, run: WalkedRun, seam: Seam, between: tuple[str, ...]
) -> tuple[float, float]:
    if len(between) != 2:
        raise EditRefused("Name two notches: the ease goes between them.", culprit=seam.id)
    found = sorted(_station(project, run, name) for name in between)
    if found[1] - found[0] <= SAME_STATION_MM:
        raise EditRefused("Between one notch and itself there is nothing to change.")
    return found[0], found[1]


def _station(project: Project, run: WalkedRun, name: str) -> float:
    notch = project.notches.get(name)
    for spot in (notch.at, notch.mate) if notch else ():
        station = run.station_of(spot) if spot else None
        if station is not None:
            return station
    raise EditRefused(f"“{name}” is no notch on the side that changes.", culprit=name)


def _spans(run: WalkedRun, low: float, high: float) -> Iterator[_Span]:
    for one in run.stretches:
        ends = sorted((one.own_mm(low), one.own_mm(high)))
        if ends[1] - ends[0] > SAME_STATION_MM:
            yield _Span(edge=one.edge, from_mm=ends[0], to_mm=ends[1])


def _redrawn(span: _Span, wanted_mm: float, *, smoothly: bool) -> tuple[Edge, Fate]:
    curve, whole = span.edge.curve, length_mm(span.edge.curve)
    bounds = [at for at in (span.from_mm, span.to_mm) if 0.0 < at < whole]
    cut = part(curve, span.from_mm, span.to_mm) if bounds else curve
    straight = float(np.hypot(*(cut.end - cut.start)))
    try:
        eased = _eased_curve(cut, wanted_mm, straight, smoothly=smoothly)
    except ValueError:
        raise EditRefused(
            f"“{span.edge.name or span.edge.id}” would have to be {wanted_mm:.2f} mm long there, "
            f"and its ends are {straight:.2f} mm apart: take the difference off at an end.",
            culprit=span.edge.id,
        ) from None
    rows = [eased]
    if span.from_mm > SAME_STATION_MM:
        rows.insert(0, part(curve, 0.0, span.from_mm))
    if span.to_mm < whole - SAME_STATION_MM:
        rows.append(part(curve, span.to_mm, whole))
    new = replace(span.edge, curve=joined(*rows))
    return new, _fate(span, new, whole, length_mm(eased))


def _eased_curve(cut: Curve, wanted_mm: float, straight_mm: float, *, smoothly: bool) -> Curve:
    if smoothly:
        return _smoothly_long(cut, wanted_mm)
    if abs(wanted_mm - straight_mm) <= STATION_MM:
        return line(cut.start, cut.end)
    return bulged(cut, wanted_mm)


def _smoothly_long(curve: Curve, wanted_mm: float) -> Curve:
    parts = in_parts(curve, STRETCH_PARTS)
    return with_length(parts, arched(parts, power=2), wanted_mm)


def _fate(span: _Span, new: Edge, whole_mm: float, eased_mm: float) -> Fate:
    """What lies before and behind the stretch stays on the sheet; inside it keeps its fraction."""
    low, high = span.from_mm, span.to_mm
    old = [(0.0, low), (low, high), (high, whole_mm)]
    after = low + eased_mm
    now = [(0.0, low), (low, after), (after, length_mm(new.curve))]
    stretches = tuple(
        Stretch(from_mm=a, to_mm=b, edge=new.id, new_from_mm=c, new_to_mm=d)
        for (a, b), (c, d) in zip(old, now, strict=True)
        if b - a > SAME_STATION_MM
    )
    return Fate(walk=(new.id,), stretches=stretches)
