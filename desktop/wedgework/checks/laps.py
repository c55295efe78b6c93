"""Whether the lap of a shaped seam can lie on the other sheet without puckering or tearing."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from wedgework.checks.finding import Finding, Mend, Rule, called
from wedgework.checks.lengths import point_near
from wedgework.geometry.curve import Floats
from wedgework.pattern.document import Project, Seam
from wedgework.pattern.seams import SeamMeasure, measure_seam

SURPLUS: Final = 0.03
"""Share by which the free edge of a lap may be too long (a dome): more puckers; common practice,
no source."""

SHORTAGE: Final = 0.06
"""Share by which it may be too short (a hollow): more does not hold; common practice, no source."""

REACH_MM: Final = 30.0
"""Bending is taken over this much of the walk: a kink is made by hand over some centimetres, and
what is less is taken up by the sheet; common practice, no source."""

LEAST_LAP_MM: Final = 4.0
"""A narrower lap does not hold; common practice, no source."""


def lap_too_curved(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """A lapped seam of the skin so shaped that its lap gets too long or too short at its edge."""
    if seam.join != "lapped" or seam.laid_on or seam.lap_mm <= 0.0:
        return ()
    found = measure_seam(project, seam)
    if seam.lap_mm * float(np.ptp(found.shaping[:, 1])) <= SURPLUS * _reach_mm(found):
        return ()
    at, bends = _bends(found)
    shares = seam.lap_mm * bends
    over = np.where(shares > 0, shares / SURPLUS, -shares / SHORTAGE)
    worst = int(over.argmax())
    if over[worst] <= 1.0:
        return ()
    share = float(shares[worst])
    limit = SURPLUS if share > 0 else -SHORTAGE
    what = "longer than" if share > 0 else "shorter than"
    finding = Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"The lap of {seam.lap_mm:g} mm on seam {called(seam)} is {abs(share) * 100:.1f} % "
            f"{what} the sheet that it lies on, at {at[worst]:.0f} mm; {abs(limit) * 100:.0f} % is "
            f"what it takes."
        ),
        where=(seam.id,),
        at_mm=point_near(found.a, float(at[worst])),
        measured=share * 100.0,
        wanted=limit * 100.0,
        mends=tuple(_narrower(seam, share / limit)),
    )
    return (finding,)


def _reach_mm(found: SeamMeasure) -> float:
    return min(REACH_MM, found.a.length_mm)


def _bends(found: SeamMeasure) -> tuple[Floats, Floats]:
    """Stations, (k,) mm, and the mean kA + kB, (k,) 1/mm, over REACH_MM about each."""
    whole, reach = found.a.length_mm, _reach_mm(found)
    starts = np.linspace(0.0, whole - reach, max(2, math.ceil((whole - reach) / 2.0) + 1))
    turned = np.interp(np.stack([starts, starts + reach]), found.shaping[:, 0], found.shaping[:, 1])
    return starts + reach / 2, (turned[1] - turned[0]) / reach


def _narrower(seam: Seam, times: float) -> Iterator[Mend]:
    lap_mm = math.floor(2.0 * seam.lap_mm / times) / 2.0
    if lap_mm >= LEAST_LAP_MM:
        edit = {"edit": "set_seam", "seam": seam.id, "lap_mm": lap_mm}
        yield Mend(f"Make the lap {lap_mm:g} mm wide", (edit,))
    butted = {"edit": "set_seam", "seam": seam.id, "join": "butted"}
    yield Mend("Butt the edges and tape them inside", (butted,))
