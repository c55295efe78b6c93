"""What an exported SVG holds, read with libraries that this project did not write."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from itertools import pairwise

from shapely import LineString, Polygon
from svgelements import CubicBezier, Line, Path

SVG = "{http://www.w3.org/2000/svg}"
CORNER_DEG = 15.0
CHORDS = 40


def seam_lines(svg):
    """The seam line of each piece, by the piece's id, in mm with y up."""
    found = {}
    for group in ET.fromstring(svg).iter(f"{SVG}g"):  # noqa: S314 - our own file
        for path in group.findall(f"{SVG}path"):
            if "seam" in path.get("class", "").split():
                found[group.get("id")] = [
                    one for one in Path(path.get("d")) if isinstance(one, CubicBezier | Line)
                ]
    return found


def edges_of(segments):
    """A closed path, cut where it turns by a corner: lists of segments."""
    starts = [i for i in range(len(segments)) if _turn(segments[i - 1], segments[i]) > CORNER_DEG]
    rounds = [*starts, starts[0] + len(segments)]
    return [[segments[i % len(segments)] for i in range(a, b)] for a, b in pairwise(rounds)]


def _turn(before, after):
    one, other = _heading(before, 1.0), _heading(after, 0.0)
    return abs((math.degrees(other - one) + 180) % 360 - 180)


def _heading(segment, end):
    near = segment.point(abs(end - 1e-4))
    tip = segment.point(end)
    sign = 1 if end else -1
    return math.atan2(sign * (tip.y - near.y), sign * (tip.x - near.x))


def length_mm(edge):
    """Length of an edge by svgelements."""
    return sum(one.length(error=1e-9) for one in edge)


def edge_between(segments, start, end):
    """The edge whose ends lie nearest to two places, in either direction."""

    def miss(edge):
        a, b = edge[0].start, edge[-1].end
        ways = ((a, b), (b, a))
        return min(math.dist(one, start) + math.dist(other, end) for one, other in ways)

    return min(edges_of(segments), key=miss)


def width_mm(segments, y):
    """How wide the outline is at a height, by shapely."""
    points = [one.point(k / CHORDS) for one in segments for k in range(CHORDS)]
    outline = Polygon([(point.x, point.y) for point in points])
    left, _, right, _ = outline.bounds
    return outline.intersection(LineString([(left - 1, y), (right + 1, y)])).length
