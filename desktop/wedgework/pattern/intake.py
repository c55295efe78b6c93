"""How wide a slice is along a seam: stations with widths, and the smooth line through them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from wedgework.geometry.curve import Floats
from wedgework.geometry.piecewise import Piecewise, of_spline
from wedgework.geometry.spline import natural_spline
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.errors import EditRefused

AT_END_MM: Final = 0.01
"""A station this near to an end is at it: lengths are shown to a hundredth, and typed as shown."""


@dataclass(frozen=True, slots=True)
class Station:
    """A width in mm that is taken out (negative: put in) at `at_mm` along side A of a seam."""

    at_mm: float
    width_mm: float


def width_along(stations: Sequence[Station], whole_mm: float, round_mm: float = 0.0) -> Piecewise:
    """Width of the slice over a seam of `whole_mm`, from 0 to its end.

    The natural cubic spline through the stations, two a straight slice; nothing outside of them.
    A tip inside the seam is rounded over `round_mm`. Raises EditRefused where the stations make
    no slice.
    """
    at, widths = _sorted(stations, whole_mm)
    spline = of_spline(natural_spline(at, widths))
    rows = list(spline.rows)
    if at[0] > 0.0:
        rows = _tip(spline, at[0], round_mm, rows)
    if at[-1] < whole_mm:
        turned = Piecewise(np.array(rows)).backwards(whole_mm)
        tip = _tip(turned, whole_mm - at[-1], round_mm, list(turned.rows))
        rows = list(Piecewise(np.array(tip)).backwards(whole_mm).rows)
    return Piecewise(np.array(rows))


def _sorted(stations: Sequence[Station], whole_mm: float) -> tuple[Floats, Floats]:
    """Places and widths in rising order, both (n,); those at the very ends put exactly there."""
    if len(stations) < 2:
        raise EditRefused("A slice needs at least two stations: where it begins and where it ends.")
    rows = sorted((station.at_mm, station.width_mm) for station in stations)
    at, widths = (np.array(column) for column in zip(*rows, strict=True))
    if at[0] < -AT_END_MM or at[-1] > whole_mm + AT_END_MM:
        raise EditRefused(f"Stations lie between 0 and {whole_mm:.2f} mm, the ends of the seam.")
    at[np.abs(at) <= AT_END_MM] = 0.0
    at[np.abs(at - whole_mm) <= AT_END_MM] = whole_mm
    if any(after - before <= SAME_STATION_MM for before, after in pairwise(at)):
        raise EditRefused("Two stations stand at one place; a slice has one width there.")
    for place, width in ((at[0], widths[0]), (at[-1], widths[-1])):
        if 0.0 < place < whole_mm and width != 0.0:
            raise EditRefused(
                f"At {place:.1f} mm, inside the seam, the slice must run to nothing: set its "
                f"width there to 0, or set a station at the seam's end."
            )
    return at, widths


def _tip(spline: Piecewise, at: float, round_mm: float, rows: list[Floats]) -> list[Floats]:
    """Rows from 0 on: nothing up to the tip, the tip, rounded or sharp, and the rest."""
    if round_mm <= 0.0:
        return [np.array([0.0, at, 0.0, 0.0, 0.0, 0.0]), *rows]
    before, after = at - round_mm / 2, at + round_mm / 2
    if before < 0.0 or after > spline.breaks[-1]:
        raise EditRefused(
            f"A tip at {at:.1f} mm cannot be rounded over {round_mm:.1f} mm: that reaches beyond "
            "the slice or the seam."
        )
    end = float(spline.breaks[-1])
    rest = (
        spline.between(after, end).rows + np.array([after, after, 0, 0, 0, 0])
        if after < end
        else []
    )
    value, slope = spline.at([after])
    start = [np.array([0.0, before, 0, 0, 0, 0])] if before > 0.0 else []
    return [*start, np.array([before, after, 0.0, 0.0, value[0], slope[0]]), *rest]
