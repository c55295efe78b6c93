"""What an offset outline is made of: stretches of edges moved aside, and the joints at corners.

Each is a curve with a distance, so that its points are known exactly; chords of all of them tell
which stretches remain once loops are removed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from wedgework.geometry.curve import Curve, Floats, Point, Points, line, polyline
from wedgework.geometry.flatten import chord_starts
from wedgework.geometry.length import derivatives, points_at_parameters
from wedgework.geometry.tolerances import CHORD_ROUNDS, JOINT_RAD, LEAST_JACOBIAN, SAME_POINT_MM
from wedgework.geometry.turning import tangents_at_parameters


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Source:
    """A smooth curve moved to its left by `left_mm`; `edge` is the number of its edge.

    A joint, which belongs to no edge but stands at the end of one, has `joint` set.
    """

    curve: Curve
    left_mm: float
    edge: int
    joint: bool = False

    @property
    def end(self) -> float:
        """Greatest parameter."""
        return float(len(self.curve))

    def places(self, parameters: Floats) -> tuple[Points, Points]:
        """Points, (k, 2) mm, and unit directions, (k, 2), at parameters, (k,).

        Past the centre of a bend the moved curve runs backwards, and so does its direction.
        """
        points, tangents, forward = self._moved(parameters)
        return points, tangents * np.where(forward < 0.0, -1.0, 1.0)[:, None]

    def jet(self, parameter: float) -> tuple[Point, Point]:
        """The point, (2,) mm, at one parameter, and its derivative there, (2,)."""
        at = np.array([parameter])
        points, tangents, forward = self._moved(at)
        index = min(int(parameter), len(self.curve) - 1)
        speed = np.hypot(*derivatives(self.curve.segments[index][None], at - index)[0])
        return points[0], tangents[0] * (float(speed) * float(forward[0]))

    def _moved(self, parameters: Floats) -> tuple[Points, Points, Floats]:
        tangents = tangents_at_parameters(self.curve, parameters)
        points = points_at_parameters(self.curve, parameters)
        if self.left_mm == 0.0:
            return points, tangents, np.ones(len(points))
        normals = np.stack([-tangents[:, 1], tangents[:, 0]], axis=1)
        forward = 1.0 - self.left_mm * _curvatures(self.curve, parameters)
        return points + self.left_mm * normals, tangents, forward

    def chords(self, error_mm: float) -> Chords:
        """Chords of the curve and of the moved curve, both within about `error_mm`.

        Steps are halved until a chord of either, times the angle it turns by, is small enough.
        """
        _, at = chord_starts(self.curve.segments, error_mm)
        at = np.append(at, self.end)
        for _ in range(CHORD_ROUNDS):
            moved, tangents, forward = self._moved(at)
            step = np.hypot(*np.diff(moved, axis=0).T)
            cross = tangents[:-1, 0] * tangents[1:, 1] - tangents[:-1, 1] * tangents[1:, 0]
            turn = np.abs(np.arctan2(cross, (tangents[:-1] * tangents[1:]).sum(axis=1)))
            coarse = step * turn > 8 * error_mm
            if not coarse.any():
                break
            at = np.sort(np.concatenate([at, ((at[:-1] + at[1:]) / 2)[coarse]]))
        moved, _, forward = self._moved(at)
        return Chords(at, points_at_parameters(self.curve, at), moved, forward)


@dataclass(frozen=True, eq=False, slots=True)
class Chords:
    """Parameters (k,), points of a curve and of the moved one (k, 2), and the latter's speed.

    `forward`, (k,), is that speed as a share of the curve's own: below nothing it runs back.
    """

    at: Floats
    own: Points
    moved: Points
    forward: Floats

    def strips(self) -> list[Points]:
        """Polygons, (m, 2) each, that the curve sweeps on its way aside.

        Past the centre of a bend the way folds over: there each chord sweeps a rectangle.
        """
        if (self.forward > LEAST_JACOBIAN).all():
            return [np.concatenate([self.own, self.moved[::-1]])]
        own, moved = self.own, self.moved
        width = float(np.hypot(*(moved[0] - own[0])))
        side = math.copysign(width, self._side())
        quads = []
        for i in range(len(own) - 1):
            ends = np.stack([own[i], own[i + 1], moved[i + 1], moved[i]])
            if min(self.forward[i], self.forward[i + 1]) <= LEAST_JACOBIAN:
                chord = own[i + 1] - own[i]
                length = float(np.hypot(*chord))
                aside = side / length * np.array([-chord[1], chord[0]]) if length else chord
                ends[2:] = own[i + 1] + aside, own[i] + aside
            quads.append(ends)
        return quads

    def _side(self) -> float:
        """Positive where the curve was moved to its left."""
        steps = np.diff(self.own, axis=0)
        aside = (self.moved - self.own)[:-1]
        return float((steps[:, 0] * aside[:, 1] - steps[:, 1] * aside[:, 0]).sum())


def _curvatures(curve: Curve, parameters: Floats) -> Floats:
    """Signed curvature, (k,) 1/mm, left positive; nothing where the speed is nothing."""
    index = np.minimum(parameters.astype(np.int64), len(curve) - 1)
    t = parameters - index
    cubics = curve.segments[index]
    first = derivatives(cubics, t)
    bend = np.diff(cubics, 2, axis=1)
    second = 6 * ((1 - t)[:, None] * bend[:, 0] + t[:, None] * bend[:, 1])
    cross = first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]
    cube = np.hypot(first[:, 0], first[:, 1]) ** 3
    return np.asarray(np.divide(cross, cube, out=np.zeros_like(cross), where=cube > 0))


def arc(centre: Point, start: Point, turn_rad: float, end: Point, facing: Point) -> Curve:
    """The arc from `start`, which lies towards `facing`, to `end` about `centre`.

    Radii that differ change evenly with the angle. Cubics of 15 degrees or less are within 1e-8
    of the radius of a circle.
    """
    count = max(1, math.ceil(abs(turn_rad) / (math.pi / 12)))
    radii = np.linspace(math.dist(start, centre), math.dist(end, centre), count + 1)
    angles = math.atan2(facing[1], facing[0]) + np.linspace(0.0, turn_rad, count + 1)
    out = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    along = np.stack([-out[:, 1], out[:, 0]], axis=1)
    handle = 4 / 3 * math.tan(turn_rad / count / 4)
    nodes = centre + radii[:, None] * out
    nodes[0], nodes[-1] = start, end
    ways = handle * (radii[:, None] * along + (radii[-1] - radii[0]) / turn_rad * out)
    first, last = nodes[:-1], nodes[1:]
    return Curve(np.stack([first, first + ways[:-1], last - ways[1:], last], axis=1))


def mitre_point(first: tuple[Point, Point], second: tuple[Point, Point]) -> Point | None:
    """Where the lines through a point along a direction meet; None if they are parallel."""
    (p, u), (q, v) = first, second
    cross = float(u[0] * v[1] - u[1] * v[0])
    if abs(cross) <= JOINT_RAD:
        return None
    gap = q - p
    along = float(gap[0] * v[1] - gap[1] * v[0]) / cross
    return np.asarray(p + along * u)


def straight(*points: Point) -> Curve:
    """Straight lines through points, (2,) each."""
    return line(points[0], points[1]) if len(points) == 2 else polyline(np.array(points))


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Corner:
    """A corner of an outline that is moved: the ways over its gap, and the steps beside it.

    `ways` run on from the stretch before to the stretch after, about `centre`, and fill a gap;
    `steps` are the straight sides of what the two stretches sweep, there and back.
    """

    centre: Point
    ways: tuple[Source, ...]
    steps: tuple[Source, ...]


def steps_at(
    before: Source, after: Source, places: tuple[Point, Point, Point]
) -> tuple[Source, ...]:
    """The straight ways between a corner and the ends of the moved stretches on both its sides.

    `places` are the moved end, the corner, the moved start, (2,) each.
    """
    moved_end, corner, moved_start = places
    found: list[tuple[int, Curve]] = []
    if before.left_mm == after.left_mm:
        return ()
    for edge, place in ((before.edge, moved_end), (after.edge, moved_start)):
        if math.dist(place, corner) > SAME_POINT_MM:
            found += [(edge, line(corner, place)), (edge, line(place, corner))]
    return tuple(Source(curve=way, left_mm=0.0, edge=edge, joint=True) for edge, way in found)
