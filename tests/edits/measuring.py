"""Areas and lengths of small projects, as the tests of edits compare them."""

from __future__ import annotations

import math

from wedgework.geometry.curve import Curve
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.length import length_mm
from wedgework.pattern.darts import darts_of, measure_dart
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.lookup import the_edge


def curve(project: Project, edge: str) -> Curve:
    return the_edge(project, edge).curve


def edge_mm(project: Project, edge: str) -> float:
    return length_mm(curve(project, edge))


def area_mm2(*pieces: Piece) -> float:
    return sum(ring_area_mm2([edge.curve for edge in piece.edges]) for piece in pieces)


def total_area_mm2(project: Project) -> float:
    return area_mm2(*project.pieces.values())


def perimeter_mm(piece: Piece) -> float:
    return sum(length_mm(edge.curve) for edge in piece.edges)


def edge_ids(piece: Piece) -> list[str]:
    return [edge.id for edge in piece.edges]


def angles_deg(project: Project) -> list[float]:
    return [math.degrees(measure_dart(project, dart).angle_rad) for dart in darts_of(project)]
