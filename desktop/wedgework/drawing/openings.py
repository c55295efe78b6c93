"""Where the body gets in, drawn: short strokes along the edges of an opening, inside the piece."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from wedgework.geometry.curve import Curve, line
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.turning import tangents_at
from wedgework.pattern.document import Edge, Piece, Project

GAP_MM: Final = 2.0
STROKE_MM: Final = 6.0
PITCH_MM: Final = 12.0
"""Strokes stand clear of the edge, so that they are no notches."""


def opening_marks(project: Project, piece: Piece) -> Iterator[Curve]:
    """Strokes, in mm, square to each edge of a piece that an opening passes."""
    passed = {ref.edge for opening in project.openings.values() for ref in opening.edges}
    for edge in piece.all_edges():
        if edge.id in passed:
            yield from _strokes(edge)


def opening_names(project: Project, piece: Piece) -> Iterator[tuple[Edge, str]]:
    """The name of each opening on a piece, with the longest of its edges there."""
    edges = {edge.id: edge for edge in piece.all_edges()}
    for opening in project.openings.values():
        own = [edges[ref.edge] for ref in opening.edges if ref.edge in edges]
        if own:
            longest = max(own, key=lambda edge: length_mm(edge.curve))
            yield longest, opening.name or opening.id


def _strokes(edge: Edge) -> Iterator[Curve]:
    whole_mm = length_mm(edge.curve)
    count = max(1, round(whole_mm / PITCH_MM))
    stations = (np.arange(count) + 0.5) / count * whole_mm
    feet, along = points_at(edge.curve, stations), tangents_at(edge.curve, stations)
    inward = np.stack([-along[:, 1], along[:, 0]], axis=1)
    for foot, way in zip(feet, inward, strict=True):
        yield line(foot + GAP_MM * way, foot + (GAP_MM + STROKE_MM) * way)
