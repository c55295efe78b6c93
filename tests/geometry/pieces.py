"""Random pieces for the offset: bent edges, slits and darts narrower than the distance."""

from itertools import pairwise

import numpy as np
from shapely import Polygon

from tests.geometry import shapes
from wedgework.geometry.crossing import self_crossings
from wedgework.geometry.curve import Curve, line
from wedgework.geometry.flatten import flattened_ring
from wedgework.geometry.split import split


def random_piece(random):
    """A counter-clockwise ring of bent edges with slits, valid as chords."""
    while True:
        ring = _bent_star(random)
        for _ in range(random.integers(0, 3)):
            ring = _with_slit(ring, random)
        if _is_valid(ring):
            return ring


def _bent_star(random):
    count = int(random.integers(3, 8))
    angles = (np.arange(count) + random.uniform(0.15, 0.85, count)) * 2 * np.pi / count
    radii = random.uniform(60, 200, count)
    corners = radii[:, None] * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    return shapes.bent_ring(corners, random.uniform(-0.25, 0.25, count))


def _with_slit(ring, random):
    """A dart or a parallel slit cut into an edge, from 0 to 12 mm wide."""
    index = int(random.integers(len(ring)))
    edge = ring[index]
    width, depth = random.uniform(0.05, 12), random.uniform(10, 60)
    whole = float(np.hypot(*(edge.end - edge.start)))
    if whole < 40:
        return ring
    at = random.uniform(0.3, 0.7) * whole
    head, _, tail = split(edge, at - width / 2, at + width / 2)
    chord = tail.start - head.end
    inwards = np.array([-chord[1], chord[0]]) / np.hypot(*chord)
    if random.random() < 0.5:
        tips = [(head.end + tail.start) / 2 + depth * inwards]
    else:
        tips = [head.end + depth * inwards, tail.start + depth * inwards]
    way = [head.end, *tips, tail.start]
    slit = [line(a, b) for a, b in pairwise(way)]
    if random.random() < 0.3:
        slit[0] = _bowed(slit[0], random)
    return [*ring[:index], head, *slit, tail, *ring[index + 1 :]]


def _bowed(leg, random):
    segment = leg.segments[0].copy()
    chord = segment[3] - segment[0]
    segment[1:3] += random.uniform(-0.05, 0.05) * np.array([-chord[1], chord[0]])
    return Curve(segment[None])


def _is_valid(ring):
    """Neither by its chords nor by its curves, which may cross by less, does it cross itself."""
    polygon = Polygon(flattened_ring(ring, 1e-3))
    return polygon.is_valid and polygon.exterior.is_ccw and not self_crossings(ring)
