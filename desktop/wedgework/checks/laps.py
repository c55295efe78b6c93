"""Whether the lap of a shaped seam can lie on the other sheet without puckering or tearing."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wedgework.checks.finding import Finding, Mend, Rule, called
from wedgework.checks.lengths import point_near
from wedgework.geometry.curve import Curve, Floats
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Project, Seam
from wedgework.pattern.lap_limits import LEAST_LAP_MM, SHORTAGE, SURPLUS
from wedgework.pattern.runs import WalkedRun
from wedgework.pattern.seams import SeamMeasure, measure_seam

REACH_MM: Final = 30.0
"""Bending is taken over this much of the walk: a kink is made by hand over some centimetres, and
what is less is taken up by the sheet; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bend:
    """Where a lap bends too tightly: the worst place, its bend, and the stretch about it.

    `bend` is kA + kB there in 1/mm; its sign says dome (the lap's free edge is too long) or hollow.
    """

    at_mm: float
    from_mm: float
    to_mm: float
    bend: float
    turned_rad: float

    @property
    def radius_mm(self) -> float:
        """Of one curved edge against a straight one that bends as tightly."""
        return 1.0 / abs(self.bend)

    @property
    def allowed(self) -> float:
        """Share of its length that the free edge of a lap may be too long, or too short below 0."""
        return SURPLUS if self.bend > 0 else -SHORTAGE


def least_radius_mm(lap_mm: float, allowed: float) -> float:
    """The tightest bend of one edge against a straight one that a lap takes: (kA + kB) w <= e."""
    return lap_mm / abs(allowed)


def surplus_mm(lap_mm: float, turned_rad: float) -> float:
    """How much longer the free edge of a lap gets on a stretch that turns so far: w x turning."""
    return lap_mm * turned_rad


def lap_too_curved(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """A lapped seam of the skin so shaped that its lap gets too long or too short at its edge."""
    if seam.join != "lapped" or seam.laid_on or seam.lap_mm <= 0.0:
        return ()
    found = measure_seam(project, seam)
    if seam.lap_mm * float(np.ptp(found.shaping[:, 1])) <= SURPLUS * _reach_mm(found):
        return ()
    bend = _worst(found, seam.lap_mm)
    if bend is None:
        return ()
    finding = Finding(
        code=rule.code,
        grave=rule.grave,
        message=_words(seam, bend),
        where=(seam.id,),
        at_mm=point_near(found.a, bend.at_mm),
        measured=seam.lap_mm * bend.bend * 100.0,
        wanted=bend.allowed * 100.0,
        mends=tuple(_mends(seam, bend)),
        curves=_curves_along(found.a, bend.from_mm, bend.to_mm),
    )
    return (finding,)


def _words(seam: Seam, bend: Bend) -> str:
    off_mm = surplus_mm(seam.lap_mm, bend.turned_rad)
    what = "longer" if off_mm > 0 else "shorter"
    least_mm = least_radius_mm(seam.lap_mm, bend.allowed)
    fitting_mm = _fitting_mm(seam, bend)
    would = f"One of {fitting_mm:g} mm would lie."
    if fitting_mm < LEAST_LAP_MM:
        would = f"Not even one of {LEAST_LAP_MM:g} mm would lie."
    return (
        f"The lap of {seam.lap_mm:g} mm on seam {called(seam)} bends as tightly as a radius of "
        f"{bend.radius_mm:.0f} mm at {bend.at_mm:.0f} mm; such a lap wants {least_mm:.0f}. From "
        f"{bend.from_mm:.0f} to {bend.to_mm:.0f} mm its free edge is {abs(off_mm):.2f} mm {what} "
        f"than the sheet that it lies on: {abs(seam.lap_mm * bend.bend) * 100:.1f} % at the worst, "
        f"and {abs(bend.allowed) * 100:.0f} % is what it takes. {would}"
    )


def _reach_mm(found: SeamMeasure) -> float:
    return min(REACH_MM, found.a.length_mm)


def _worst(found: SeamMeasure, lap_mm: float) -> Bend | None:
    """The place where a lap is most too long or too short, None where it lies everywhere."""
    starts, bends = _bends(found)
    over = np.where(bends > 0, bends / SURPLUS, -bends / SHORTAGE) * lap_mm
    worst = int(over.argmax())
    if over[worst] <= 1.0:
        return None
    faulty = (over > 1.0) & (np.sign(bends) == np.sign(bends[worst]))
    low, high = _span(starts, _reach_mm(found), _stretch_about(faulty, worst), worst)
    return Bend(
        at_mm=float(starts[worst]) + _reach_mm(found) / 2,
        from_mm=low,
        to_mm=high,
        bend=float(bends[worst]),
        turned_rad=found.shaping_between(low, high),
    )


def _span(
    starts: Floats, reach: float, stretch: tuple[int, int], worst: int
) -> tuple[float, float]:
    """From the middle of the first window at fault to that of the last, or to an end of the seam.

    Of one window alone all of it.
    """
    first, last = stretch
    low = float(starts[first]) + (reach / 2 if first > 0 else 0.0)
    high = float(starts[last]) + (reach / 2 if last < len(starts) - 1 else reach)
    if high - low < reach:
        return float(starts[worst]), float(starts[worst]) + reach
    return low, high


def _stretch_about(flags: NDArray[np.bool_], index: int) -> tuple[int, int]:
    """First and last of the flags that are set without a gap about an index."""
    off = np.flatnonzero(~flags)
    before, after = off[off < index], off[off > index]
    first = int(before[-1]) + 1 if len(before) else 0
    return first, int(after[0]) - 1 if len(after) else len(flags) - 1


def _bends(found: SeamMeasure) -> tuple[Floats, Floats]:
    """Stations, (k,) mm, and the mean kA + kB, (k,) 1/mm, over REACH_MM from each on."""
    whole, reach = found.a.length_mm, _reach_mm(found)
    starts = np.linspace(0.0, whole - reach, max(2, math.ceil((whole - reach) / 2.0) + 1))
    turned = np.interp(np.stack([starts, starts + reach]), found.shaping[:, 0], found.shaping[:, 1])
    return starts, (turned[1] - turned[0]) / reach


def _curves_along(run: WalkedRun, from_mm: float, to_mm: float) -> tuple[Curve, ...]:
    """The stretch of a run between two stations, in its pieces."""
    found = []
    for one in run.stretches:
        low, high = max(from_mm, one.from_mm), min(to_mm, one.to_mm)
        if high - low > SAME_STATION_MM:
            ends = sorted((one.own_mm(low), one.own_mm(high)))
            found.append(part(one.edge.curve, *ends))
    return tuple(found)


def _fitting_mm(seam: Seam, bend: Bend) -> float:
    """The widest lap, in half mm, that lies at the worst place."""
    times = seam.lap_mm * bend.bend / bend.allowed
    return math.floor(2.0 * seam.lap_mm / times) / 2.0


def _mends(seam: Seam, bend: Bend) -> Iterator[Mend]:
    lap_mm = _fitting_mm(seam, bend)
    if lap_mm >= LEAST_LAP_MM:
        edit = {"edit": "set_seam", "seam": seam.id, "lap_mm": lap_mm}
        yield Mend(f"Make the lap {lap_mm:g} mm wide", (edit,))
    butted = {"edit": "set_seam", "seam": seam.id, "join": "butted"}
    yield Mend(f"Butt the edges and tape them inside, {seam.tape_mm:g} mm wide", (butted,))
