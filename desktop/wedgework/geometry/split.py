"""Cut a curve exactly (de Casteljau): the parts together are the curve, point for point."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from wedgework.geometry.curve import Curve, Floats
from wedgework.geometry.length import cut_cubics, length_mm, parameters_at
from wedgework.geometry.tolerances import STATION_MM


def split(curve: Curve, *at_mm: float) -> tuple[Curve, ...]:
    """The parts of `curve` between its ends and the rising stations `at_mm`.

    Neighbouring parts share their end point bit for bit. Raises ValueError unless the stations
    rise and lie inside the curve.
    """
    bounds = [0.0, *at_mm, length_mm(curve)]
    if not all(b - a > STATION_MM for a, b in pairwise(bounds)):
        raise ValueError("cuts must rise and lie inside the curve")
    return split_at_parameters(curve, parameters_at(curve, at_mm))


def split_at_parameters(curve: Curve, parameters: ArrayLike) -> tuple[Curve, ...]:
    """The parts of `curve` between rising parameters, each inside 0 to n."""
    parts = []
    rest: Floats = curve.segments
    done = 0.0  # parameter where `rest` starts
    for parameter in np.asarray(parameters, dtype=np.float64):
        head, rest = _cut(rest, done, float(parameter))
        parts.append(Curve(head))
        done = float(parameter)
    return (*parts, Curve(rest))


def _cut(rest: Floats, start: float, parameter: float) -> tuple[Floats, Floats]:
    first = int(start)
    index = min(int(parameter) - first, len(rest) - 1)
    t = parameter - first - index
    if index == 0:
        # The first cubic is itself what an earlier cut left over: its own 0 is at `start`.
        t = (parameter - start) / (1.0 - (start - first))
    if t <= 0.0:
        return rest[:index], rest[index:]
    if t >= 1.0:
        return rest[: index + 1], rest[index + 1 :]
    head, tail = cut_cubics(rest[index : index + 1], np.array([t]))
    return np.concatenate([rest[:index], head]), np.concatenate([tail, rest[index + 1 :]])


def part(curve: Curve, from_mm: float, to_mm: float) -> Curve:
    """The stretch of `curve` between two stations, `from_mm` below `to_mm`."""
    whole = length_mm(curve)
    cuts = [at for at in (from_mm, to_mm) if STATION_MM < at < whole - STATION_MM]
    parts = split(curve, *cuts)
    return parts[1] if from_mm > STATION_MM else parts[0]
