"""Cubics with given end points and tangents, their handles chosen by least squares.

Many stretches at a time: what an offset, or a curve fitted to another, is made of.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from wedgework.geometry.curve import Curve, Floats, Point, Points
from wedgework.geometry.tolerances import (
    HERMITE_DEPTH,
    HERMITE_SINGULAR,
    HERMITE_STEPS,
    HERMITE_STRAIGHT,
    LEAST_HANDLE,
)

Places = Callable[[Floats], tuple[Points, Points]]

_COUNT = 11


def hermite_cubics(ends: Floats, tangents: Floats, samples: Floats) -> tuple[Floats, Floats]:
    """Cubics (m, 4, 2) with `ends` and unit `tangents`, both (m, 2, 2), nearest to `samples`.

    `samples`, (m, k, 2), lie in order between the ends. Also gives how far each cubic's
    samples are from it at the most, (m,) mm. Two handle lengths a cubic are found by the method
    of Gauss and Newton on the distances square to the curve: only those say how near it is.
    """
    way = np.concatenate([ends[:, :1], samples, ends[:, 1:]], axis=1)
    steps = np.hypot(*np.moveaxis(np.diff(way, axis=1), 2, 0))
    length = steps.sum(axis=1)
    along = np.cumsum(steps, axis=1)[:, :-1]
    t = np.divide(along, length[:, None], out=np.zeros_like(along), where=length[:, None] > 0)
    handles = np.stack([length, length], axis=1) / 3
    cubics = best = _handled(ends, tangents, handles)
    t, gaps = _feet(cubics, samples, t)
    least = gaps.max(axis=1)
    for _ in range(HERMITE_STEPS):
        step = _handle_steps(cubics, tangents, samples, t)
        # A handle points forward, or its tangent is lost, and is never so long as to loop.
        handles = (handles - step).clip(LEAST_HANDLE * length[:, None], length[:, None])
        cubics = _handled(ends, tangents, handles)
        t, gaps = _feet(cubics, samples, t)
        better = gaps.max(axis=1) < least
        best = np.where(better[:, None, None], cubics, best)
        least = np.where(better, gaps.max(axis=1), least)
    return best, least


def _handled(ends: Floats, tangents: Floats, handles: Floats) -> Floats:
    first, last = ends[:, 0], ends[:, 1]
    out, back = handles[:, :1] * tangents[:, 0], handles[:, 1:] * tangents[:, 1]
    return np.stack([first, first + out, last - back, last], axis=1)


def _handle_steps(cubics: Floats, tangents: Floats, samples: Floats, t: Floats) -> Floats:
    """By how much both handles, (m, 2), are too long, for samples with feet at `t`, (m, k)."""
    places, slopes, _ = _jet(cubics, t)
    speed = np.hypot(slopes[..., 0], slopes[..., 1])[..., None]
    along = np.divide(slopes, speed, out=np.zeros_like(slopes), where=speed > 0)
    normal = np.stack([-along[..., 1], along[..., 0]], axis=2)
    gap = ((places - samples) * normal).sum(axis=2)
    s = 1.0 - t
    first = 3 * s * s * t * (normal * tangents[:, :1]).sum(axis=2)
    last = -3 * s * t * t * (normal * tangents[:, 1:]).sum(axis=2)
    aa, ab, bb = ((u * v).sum(axis=1) for u, v in ((first, first), (first, last), (last, last)))
    ra, rb = (gap * first).sum(axis=1), (gap * last).sum(axis=1)
    determinant = aa * bb - ab * ab
    # On a straight line a handle's length shifts nothing sideways, and stays as it is.
    fit = (determinant > HERMITE_SINGULAR * (aa + bb) ** 2) & (aa + bb > HERMITE_STRAIGHT)
    by = np.divide(1.0, determinant, out=np.zeros_like(determinant), where=fit)
    return np.stack([(ra * bb - rb * ab) * by, (rb * aa - ra * ab) * by], axis=1)


def _feet(cubics: Floats, samples: Floats, t: Floats) -> tuple[Floats, Floats]:
    """One step of Newton's method towards each sample's foot, and the gaps there, (m, k) mm."""
    for _ in range(2):
        away, first, second = _jet(cubics, t)
        away = away - samples
        value = (away * first).sum(axis=2)
        slope = (first * first + away * second).sum(axis=2)
        step = np.divide(value, slope, out=np.zeros_like(t), where=slope > 0)
        t = (t - step).clip(0.0, 1.0)
    away = _jet(cubics, t)[0] - samples
    return t, np.hypot(away[..., 0], away[..., 1])


def _jet(cubics: Floats, t: Floats) -> tuple[Floats, Floats, Floats]:
    p0, p1, p2, p3 = (cubics[:, None, i] for i in range(4))
    u = t[..., None]
    a, b, c = p3 - 3 * (p2 - p1) - p0, 3 * (p2 - 2 * p1 + p0), 3 * (p1 - p0)
    return ((a * u + b) * u + c) * u + p0, (3 * a * u + 2 * b) * u + c, 6 * a * u + 2 * b


def fitted_places(
    places: Places, end: float, error_mm: float, tangents: tuple[Point | None, Point | None]
) -> Curve:
    """What `fit.fitted_function` says; `tangents` are unit vectors or None."""
    if not error_mm > 0.0:
        raise ValueError(f"a fit needs an error above nothing, not {error_mm}")
    open_ = np.array([[0.0, end]])
    done: list[tuple[float, Floats]] = []
    for depth in range(HERMITE_DEPTH):
        cubics, gaps = _stretches(places, open_, (0.0, end), tangents)
        near = (gaps <= error_mm) | (depth == HERMITE_DEPTH - 1)
        done += list(zip(open_[near, 0].tolist(), cubics[near], strict=True))
        low, high = open_[~near].T
        if len(low) == 0:
            break
        middle = (low + high) / 2
        open_ = np.concatenate([np.stack([low, middle], axis=1), np.stack([middle, high], axis=1)])
    done.sort(key=lambda pair: pair[0])
    segments = np.stack([cubic for _, cubic in done])
    segments[1:, 0] = segments[:-1, 3]
    return Curve(segments)


def _stretches(
    places: Places,
    spans: Floats,
    whole: tuple[float, float],
    tangents: tuple[Point | None, Point | None],
) -> tuple[Floats, Floats]:
    """The best cubic of each span of parameters, (m, 2), and its gap."""
    width = spans[:, 1:] - spans[:, :1]
    # Four places a unit of parameter, which is a cubic of the source, so that none is overlooked.
    places_inside = max(_COUNT, round(4 * float(width.max())))
    inside = spans[:, :1] + width * np.arange(1, places_inside + 1) / (places_inside + 1)
    points, directions = places(np.concatenate([spans.ravel(), inside.ravel()]))
    count = spans.size
    ends = points[:count].reshape(-1, 2, 2)
    along = directions[:count].reshape(-1, 2, 2).copy()
    for end, tangent in enumerate(tangents):
        if tangent is not None:
            along[spans[:, end] == whole[end], end] = tangent
    samples = points[count:].reshape(len(spans), places_inside, 2)
    return hermite_cubics(ends, along, samples)
