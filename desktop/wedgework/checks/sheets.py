"""Whether a piece fits on its sheet, and whether sheets that meet bear one another."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from shapely import MultiPoint

from wedgework.checks.finding import Finding, Rule, called
from wedgework.geometry.curve import Curve, Floats, Points
from wedgework.geometry.flatten import flattened_ring
from wedgework.geometry.motion import reflection
from wedgework.geometry.offset import MITRE_LIMIT
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.cutlines import CutRing, cut_outline, outset_mm
from wedgework.pattern.document import Piece, Project, Run, Seam, Sheet
from wedgework.pattern.lookup import edge_in, piece_of

CHORDS_MM: Final = 0.02
"""Chords of a cut line are this near to it when its breadth is measured."""

ALL_TURNS: Final = np.radians(np.arange(180.0))
"""Turns that are tried on a sheet that ends, besides those of the outline's own sides."""


def piece_too_large(rule: Rule, project: Project, piece: Piece) -> tuple[Finding, ...]:
    """A piece that its sheet has no room for in any turn that is allowed."""
    sheet = None if piece.sheet is None else project.sheets.get(piece.sheet)
    if sheet is None:
        return ()
    # Most pieces are far smaller than their sheet: no cut line is needed to know that.
    if _fits(sheet, _boxes(_rough_hull(project, piece), _turns(piece, np.empty((0, 2))))):
        return ()
    hull = _hull(project, piece)
    boxes = _boxes(hull, _turns(piece, hull))
    if _fits(sheet, boxes):
        return ()
    least = boxes[boxes[:, 1].argmin()]
    return (_too_large(rule, piece, sheet, least),)


def _fits(sheet: Sheet, boxes: Floats) -> bool:
    """Whether one of the boxes, (k, 2) mm along and across, lies on the sheet within its margin."""
    room = sheet.width_mm - 2 * sheet.margin_mm
    length = math.inf if sheet.length_mm is None else sheet.length_mm - 2 * sheet.margin_mm
    # Turned by an angle that is not round, a piece that fits just so is a rounding too large.
    fits = (boxes[:, 1] <= room + SAME_STATION_MM) & (boxes[:, 0] <= length + SAME_STATION_MM)
    return bool(fits.any())


def _too_large(rule: Rule, piece: Piece, sheet: Sheet, least: Floats) -> Finding:
    whole = "" if sheet.length_mm is None else f" and {sheet.length_mm:.6g} mm long"
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"Piece {called(piece)} needs {least[1]:.1f} by {least[0]:.1f} mm with its laps; sheet "
            f"“{sheet.name or sheet.id}” is {sheet.width_mm:.6g} mm wide{whole}, with a margin of "
            f"{sheet.margin_mm:g} mm."
        ),
        where=(piece.id, sheet.id),
        at_mm=piece.edges[0].curve.start,
        measured=float(least[1]),
        wanted=sheet.width_mm - 2 * sheet.margin_mm,
    )


def _rough_hull(project: Project, piece: Piece) -> Points:
    """Points that hold the whole cut line between them, and somewhat more."""
    reach_mm = MITRE_LIMIT * max(outset_mm(project, edge) for edge in piece.edges)
    controls = np.concatenate([edge.curve.segments.reshape(-1, 2) for edge in piece.edges])
    corners = reach_mm * np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    return _unfolded(piece, (controls[:, None] + corners).reshape(-1, 2))


def _hull(project: Project, piece: Piece) -> Points:
    rings = cut_outline(project, piece)
    points = _unfolded(piece, np.concatenate([_points(ring) for ring in rings]))
    hull = MultiPoint(points).convex_hull.exterior.coords
    return np.array(hull)[:, :2]


def _unfolded(piece: Piece, points: Points) -> Points:
    """The points, with their mirror image about the fold where the piece is cut on one."""
    if piece.fold_edge is not None:
        fold = edge_in(piece, piece.fold_edge)
        if fold is not None:
            mirror = reflection(fold.curve.start, fold.curve.end)
            return np.concatenate([points, mirror.points(points)])
    return points


def _points(ring: CutRing) -> Points:
    curves: list[Curve] = [stretch.curve for stretch in ring]
    return flattened_ring(curves, CHORDS_MM)


def _turns(piece: Piece, hull: Points) -> Floats:
    """Turns to try, in rad: a convex outline is narrowest with one of its sides along the sheet."""
    if piece.turns_rad is not None:
        return np.array(piece.turns_rad)
    sides = np.diff(hull, axis=0)
    return np.concatenate([-np.arctan2(sides[:, 1], sides[:, 0]), ALL_TURNS])


def _boxes(points: Points, turns_rad: Floats) -> Floats:
    """Length along the sheet and breadth across it, (k, 2) mm, of points turned by each turn."""
    cos, sin = np.cos(turns_rad), np.sin(turns_rad)
    along = points @ np.stack([cos, -sin])
    across = points @ np.stack([sin, cos])
    return np.column_stack([np.ptp(along, axis=0), np.ptp(across, axis=0)])


def sheet_stains(rule: Rule, project: Project, seam: Seam) -> tuple[Finding, ...]:
    """A seam that joins a sheet to one that it stains."""
    for one in _sheets(project, seam.a):
        for other in _sheets(project, seam.b):
            for stains, stained in ((one, other), (other, one)):
                if stained.colour and stained.colour in stains.stains:
                    return (_staining(rule, seam, stains, stained),)
    return ()


def _sheets(project: Project, run: Run) -> list[Sheet]:
    names = (piece_of(project, ref.edge).sheet for ref in run)
    found = (project.sheets.get(name) for name in dict.fromkeys(names) if name is not None)
    return [sheet for sheet in found if sheet is not None]


def _staining(rule: Rule, seam: Seam, stains: Sheet, stained: Sheet) -> Finding:
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"In seam {called(seam)} “{stains.name or stains.id}” would stain "
            f"“{stained.name or stained.id}”: test a lapped scrap for weeks."
        ),
        where=(seam.id, stains.id, stained.id),
    )
