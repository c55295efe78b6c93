"""Curves, rings and strategies that the geometry's tests share."""

import numpy as np
from hypothesis import strategies as st

from wedgework.geometry.curve import Curve, line


def coordinates():
    return st.floats(-300, 300).map(lambda value: round(value, 6))


def points():
    return st.tuples(coordinates(), coordinates()).map(np.array)


@st.composite
def curves(draw, most=3):
    """Any chain of cubics: loops, cusps, kinks and handles of no length among them."""
    corners = draw(st.lists(points(), min_size=1 + 3, max_size=1 + 3 * most))
    count = (len(corners) - 1) // 3
    return Curve([corners[3 * i : 3 * i + 4] for i in range(count)])


@st.composite
def star_corners(draw, least=3, most=9):
    """Corners of a simple counter-clockwise polygon, (n, 2) mm: rays from a centre, in order."""
    radii = draw(st.lists(st.floats(40, 200), min_size=least, max_size=most))
    jitter = draw(st.lists(st.floats(0.1, 0.9), min_size=len(radii), max_size=len(radii)))
    angles = (np.arange(len(radii)) + np.array(jitter)) * 2 * np.pi / len(radii)
    return np.array(radii)[:, None] * np.stack([np.cos(angles), np.sin(angles)], axis=1)


@st.composite
def simple_rings(draw, most=9):
    """A simple counter-clockwise ring of gently bent edges."""
    corners = draw(star_corners(least=4, most=most))
    bends = draw(st.lists(st.floats(-0.08, 0.08), min_size=len(corners), max_size=len(corners)))
    return bent_ring(corners, bends)


def bent_ring(corners, bends):
    """Edges between corners, each bent aside by a share of its chord (left positive)."""
    return [
        bent(a, b, bend) for a, b, bend in zip(corners, np.roll(corners, -1, 0), bends, strict=True)
    ]


def bent(start, end, bend):
    """One cubic whose handles stand aside of the chord by `bend` times its length."""
    start, end = np.asarray(start, float), np.asarray(end, float)
    chord = end - start
    aside = bend * np.array([-chord[1], chord[0]])
    return Curve([[start, start + chord / 3 + aside, end - chord / 3 + aside, end]])


def polygon_ring(corners):
    corners = [tuple(corner) for corner in corners]
    return [line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]


def square(side_mm=100.0):
    return polygon_ring([(0, 0), (side_mm, 0), (side_mm, side_mm), (0, side_mm)])


def circle(radius_mm=100.0, centre=(0.0, 0.0), *, clockwise=False):
    """Four cubics with the handle of Mortensen's first kind: 0.027 % too wide at the most."""
    handle = 4 / 3 * (np.sqrt(2) - 1)
    quarter = np.array([[1, 0], [1, handle], [handle, 1], [0, 1]])
    turn = np.array([[0, 1], [-1, 0]])
    segments, spokes = [], quarter
    for _ in range(4):
        segments.append(spokes)
        spokes = spokes @ turn
    segments = np.array(segments) * radius_mm + np.asarray(centre)
    segments[1:, 0] = segments[:-1, 3]
    segments[-1, 3] = segments[0, 0]
    ring = [Curve(segments[i : i + 1]) for i in range(4)]
    if clockwise:
        ring = [Curve(curve.segments[:, ::-1]) for curve in reversed(ring)]
    return ring
