"""Move one end of a curve: what is straight stays so, else the handle there goes along."""

from __future__ import annotations

from wedgework.geometry.curve import Curve, Point, is_straight, with_ends
from wedgework.geometry.tolerances import STRAIGHT_MM


def start_moved(curve: Curve, to: Point) -> Curve:
    """The curve with its start at `to`: still straight, or with its first handle gone along."""
    if is_straight(curve, STRAIGHT_MM):
        return _straight_between(curve, to, curve.end)
    segments = curve.segments.copy()
    segments[0, 1] += to - segments[0, 0]
    segments[0, 0] = to
    return Curve(segments)


def end_moved(curve: Curve, to: Point) -> Curve:
    """The curve with its end at `to`: still straight, or with its last handle gone along."""
    if is_straight(curve, STRAIGHT_MM):
        return _straight_between(curve, curve.start, to)
    segments = curve.segments.copy()
    segments[-1, 2] += to - segments[-1, 3]
    segments[-1, 3] = to
    return Curve(segments)


def _straight_between(curve: Curve, start: Point, end: Point) -> Curve:
    """A straight curve with other ends, every control point at the same fraction as before."""
    chord = curve.end - curve.start
    share = ((curve.segments - curve.start) @ chord) / (chord @ chord)
    return with_ends(Curve(start + share[..., None] * (end - start)), start, end)
