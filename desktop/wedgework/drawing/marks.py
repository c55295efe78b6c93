"""Notches and holes, drawn: dashes of a pen on sheet that tears, slits in cloth and leather.

A slit is a crack already started and rubber tears from cracks, so there a notch is a dash that
ends before the cut edge: in the under-lap where there is one, else inside the seam line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from wedgework.drawing.pen import Ink, Pen
from wedgework.geometry.curve import Curve, Floats, Point, line
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.turning import tangents_at
from wedgework.pattern.cutlines import outset_mm
from wedgework.pattern.document import Edge, Hole, Notch, Piece, Project
from wedgework.pattern.lookup import holes_by_edge, notches_by_edge
from wedgework.pattern.rows import inset_on_mm

CLEAR_OF_CUT_MM: Final = 1.0
"""So far before the cut edge a dash ends [common practice, no source]."""

DASH_MM: Final = 5.0
"""Length of a dash inside the seam line [common practice, no source]."""

SAME_PLACE_MM: Final = 0.01
"""Two punches nearer than this are one: no punch is set more finely."""

DOUBLE_APART_MM: Final = 4.0
"""Between the two dashes of a double notch [common practice, no source]."""


def draw_marks(project: Project, piece: Piece, pen: Pen) -> None:
    """Draw every notch and hole that lies on an edge of the piece, as its sheet wants them."""
    notches, holes = notches_by_edge(project.notches), holes_by_edge(project.holes)
    sheet = project.sheets.get(piece.sheet or "")
    slits = sheet is not None and sheet.marking == "slit"
    punched: list[Point] = []
    for edge in piece.all_edges():
        margin_mm = outset_mm(project, edge)
        for notch in notches.get(edge.id, ()):
            _draw_notch(edge, notch, pen, _reach(margin_mm, slits=slits))
        for hole in holes.get(edge.id, ()):
            _draw_hole(edge, hole, pen, inset_on_mm(project, hole, edge.id), punched)


def _reach(margin_mm: float, *, slits: bool) -> tuple[float, float]:
    """Where a notch begins and ends, in mm inside the seam line (outside below nothing)."""
    if slits:
        # From the cut edge through half the allowance; without one, a snip into the seam line.
        return -margin_mm, -margin_mm / 2 if margin_mm > 0 else DASH_MM / 2
    if margin_mm >= 2 * CLEAR_OF_CUT_MM:
        return CLEAR_OF_CUT_MM - margin_mm, 0.0
    inside = max(CLEAR_OF_CUT_MM - margin_mm, 0.0)
    return inside, inside + DASH_MM


def _draw_notch(edge: Edge, notch: Notch, pen: Pen, reach: tuple[float, float]) -> None:
    for at_mm in _spots(edge, notch):
        apart_mm = (DOUBLE_APART_MM / 2,) * 2 if notch.double else (0.0,)
        stations = at_mm + np.array(apart_mm) * [(-1.0), 1.0][: len(apart_mm)]
        ink = _ink(edge, notch.id, at_mm)
        for dash in _dashes(edge.curve, stations, reach):
            pen.stroke([dash], ink)


def _dashes(curve: Curve, stations_mm: Floats, reach: tuple[float, float]) -> Iterator[Curve]:
    points, inward = _places(curve, stations_mm)
    for point, into in zip(points, inward, strict=True):
        yield line(point + reach[0] * into, point + reach[1] * into)


def _draw_hole(edge: Edge, hole: Hole, pen: Pen, inset_mm: float, punched: list[Point]) -> None:
    for at_mm in _spots(edge, hole):
        points, inward = _places(edge.curve, np.array([at_mm]))
        centre = points[0] + inset_mm * inward[0]
        # At the apex of a dart both legs have one place: it is punched once.
        if all(math.dist(centre, other) > SAME_PLACE_MM for other in punched):
            pen.circle(centre, hole.diameter_mm / 2, _hole_ink(edge, hole, at_mm))
            punched.append(centre)


def _places(curve: Curve, stations_mm: Floats) -> tuple[Floats, Floats]:
    """Points, (k, 2) mm, and unit normals into the piece, (k, 2): it lies on the left."""
    stations = np.clip(stations_mm, 0.0, length_mm(curve))
    tangents = tangents_at(curve, stations)
    return points_at(curve, stations), np.stack([-tangents[:, 1], tangents[:, 0]], axis=1)


def _spots(edge: Edge, mark: Notch | Hole) -> Iterator[float]:
    """Where a mark lies on this edge, in mm from its start: as datum, as mate, or both."""
    for spot in (mark.at, mark.mate):
        if spot is not None and spot.edge == edge.id:
            yield spot.at_mm


def _hole_ink(edge: Edge, hole: Hole, at_mm: float) -> Ink:
    row = () if hole.row is None else (("row", hole.row),)
    ink = _ink(edge, hole.id, at_mm)
    return replace(ink, said=(*ink.said, *row))


def _ink(edge: Edge, own: str, at_mm: float) -> Ink:
    return Ink("mark", said=(("mark", own), ("edge", edge.id), ("at-mm", repr(float(at_mm)))))
