"""Arcs of circles and ellipses as cubics within an error that the caller names.

Points are complex numbers, x + iy, as path data is read in them.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from typing import Final

_QUARTER_ERROR: Final = 2.8e-4
"""Of the radius: how far the usual cubic of a quarter circle lies off it at most. It falls with
the sixth power of the angle. Source: Goldapp, CAGD 8 (1991), here measured again by the tests."""


def cubics_needed(radius: float, sweep_rad: float, error: float) -> int:
    """Cubics, each of 90 degrees at most, that keep an arc within `error` (unit of `radius`).

    A whole round has a joint at each of its four extremes.
    """
    finer: float = max((_QUARTER_ERROR * radius / error) ** (1 / 6), 1.0)
    if abs(sweep_rad) == math.tau:
        return 4 * math.ceil(round(finer, 9))
    return max(math.ceil(round(abs(sweep_rad) / (math.pi / 2) * finer, 9)), 1)


def swept_cubics(
    centre: complex, axes: tuple[complex, complex], start_rad: float, sweep_rad: float, error: float
) -> Iterator[tuple[complex, complex, complex]]:
    """Handle, handle, end of each cubic of an arc about `centre`.

    The arc is centre + cos(t) axes[0] + sin(t) axes[1], t from `start_rad` on.
    """
    count = cubics_needed(max(map(abs, axes)), sweep_rad, error)
    step = sweep_rad / count
    handle = 4 / 3 * math.tan(step / 4)

    def place(t: float) -> tuple[complex, complex]:
        cos, sin = math.cos(t), math.sin(t)
        return centre + cos * axes[0] + sin * axes[1], cos * axes[1] - sin * axes[0]

    point, along = place(start_rad)
    for index in range(1, count + 1):
        end, end_along = place(start_rad + index * step)
        yield point + handle * along, end - handle * end_along, end
        point, along = end, end_along


def arc_cubics(  # noqa: PLR0913 - the numbers of SVG's arc
    start: complex,
    end: complex,
    radii: tuple[float, float],
    turn_deg: float,
    *,
    large: bool,
    sweep: bool,
    error: float,
) -> Iterator[tuple[complex, complex, complex]]:
    """Handle, handle, end of each cubic of an arc given by its ends, which are kept bit for bit.

    Radii too small to reach are made just large enough. Source: SVG 2, appendix B.2.
    """
    rx, ry = abs(radii[0]), abs(radii[1])
    turn = cmath.rect(1.0, math.radians(turn_deg))
    half = (start - end) / 2 / turn
    across, down = half.real / rx, half.imag / ry
    reach = across * across + down * down
    if not math.isfinite(reach):
        # An ellipse as thin as this is a line.
        yield start + (end - start) / 3, end - (end - start) / 3, end
        return
    if reach > 1.0:
        rx, ry = rx * math.sqrt(reach), ry * math.sqrt(reach)
        reach = 1.0
    size = math.sqrt(max(1.0 / reach - 1.0, 0.0)) * (-1 if large == sweep else 1)
    middle = complex(size * rx * half.imag / ry, -size * ry * half.real / rx)
    first = _angle(half - middle, rx, ry)
    swept = (_angle(-half - middle, rx, ry) - first) % math.tau
    if not sweep:
        swept -= math.tau
    centre = middle * turn + (start + end) / 2
    cubics = list(swept_cubics(centre, (rx * turn, ry * 1j * turn), first, swept, error))
    cubics[-1] = (*cubics[-1][:2], end)
    yield from cubics


def _angle(point: complex, rx: float, ry: float) -> float:
    return math.atan2(point.imag / ry, point.real / rx)
