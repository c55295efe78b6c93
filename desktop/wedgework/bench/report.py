"""Everything that can be said of a project in numbers, as plain data: degrees and mm.

This is what `info --json` answers, and what its tables for people are made from.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any, TypeAlias

from wedgework.bench.fitting import closing_report, level_report
from wedgework.bench.recipes import recipe_report
from wedgework.geometry.curve import Curve, Point
from wedgework.geometry.extent import bounds_of_all, ring_area_mm2
from wedgework.geometry.length import length_mm
from wedgework.pattern.angles import angle_between_edges, edge_turning
from wedgework.pattern.darts import darts_of, measure_dart
from wedgework.pattern.document import (
    Anchor,
    Cutout,
    Edge,
    Hole,
    Notch,
    Picture,
    Piece,
    Pin,
    Project,
    Ring,
    Seam,
    Sheet,
    Spot,
)
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.filling import fill_measures
from wedgework.pattern.lookup import hold_of, holes_by_edge, notches_by_edge, seams_of
from wedgework.pattern.pictures import size_of
from wedgework.pattern.pins import pin_value
from wedgework.pattern.rows import inset_on_mm
from wedgework.pattern.seams import measure_seam

Plain: TypeAlias = dict[str, Any]
"""What JSON calls an object; its floats are finite."""


def report(project: Project) -> Plain:
    """The whole project. EditRefused where a seam names an edge that is not there."""
    seams = (seam for seam in project.seams.values() if not seam.is_dart)
    fill_measures(project, project.seams.values(), project.pieces.values())
    return {
        "name": project.name,
        "pieces": [piece_report(project, piece) for piece in project.pieces.values()],
        "seams": [seam_report(project, seam) for seam in seams],
        "darts": [dart_report(project, dart) for dart in darts_of(project)],
        "sheets": [sheet_report(sheet) for sheet in project.sheets.values()],
        "levels": [level_report(project, level) for level in project.levels.values()],
        "closings": [closing_report(project, one) for one in project.closings.values()],
        "pins": [pin_report(project, pin) for pin in project.pins.values()],
        "body": dict(project.body),
        "pictures": [picture_report(picture) for picture in project.pictures.values()],
        "problems": list(project.problems),
    }


def piece_report(project: Project, piece: Piece) -> Plain:
    """One piece: the edges of its outline in order, counter-clockwise, and all that is on it."""
    return {
        "id": piece.id,
        "name": piece.name,
        "cutting": piece.cutting,
        "area_mm2": piece_area_mm2(piece),
        "perimeter_mm": math.fsum(length_mm(edge.curve) for edge in piece.edges),
        "bounds_mm": bounds_of_all(_curves(piece.edges)).tolist(),
        "sheet": piece.sheet,
        "quantity": piece.quantity,
        "edges": ring_report(project, piece.edges),
        "corners": corners_report(piece.edges),
        "lines": [
            {
                "id": line.id,
                "name": line.name,
                "kind": line.kind,
                "length_mm": length_mm(line.curve),
                "level": line.level,
            }
            for line in piece.lines
        ],
        "cutouts": [_cutout_report(project, cutout) for cutout in piece.cutouts],
        "notches": [row for edge in piece.all_edges() for row in _notches_on(project, edge)],
        "holes": [row for edge in piece.all_edges() for row in _holes_on(project, edge)],
        "labels": [label.text for label in piece.labels],
        "recipe": recipe_report(project, piece),
    }


def piece_area_mm2(piece: Piece) -> float:
    """Area of the piece as drawn, without its cut-outs."""
    rings = (piece.edges, *(cutout.edges for cutout in piece.cutouts))
    return math.fsum(ring_area_mm2(_curves(ring)) for ring in rings)


def _cutout_report(project: Project, cutout: Cutout) -> Plain:
    return {
        "id": cutout.id,
        "area_mm2": abs(ring_area_mm2(_curves(cutout.edges))),
        "edges": ring_report(project, cutout.edges),
    }


def _curves(ring: Ring) -> list[Curve]:
    return [edge.curve for edge in ring]


def ring_report(project: Project, ring: Ring) -> list[Plain]:
    """Edges of an outline or a cut-out, in order."""
    following = (*ring[1:], ring[0])
    return [
        {
            "id": edge.id,
            "name": edge.name,
            "length_mm": length_mm(edge.curve),
            "turning_deg": math.degrees(edge_turning(edge)),
            "finish": finish_of(project, edge),
            "allowance_mm": float(edge.allowance_mm),
            "start_mm": _plain_point(edge.curve.start),
            "end_mm": _plain_point(edge.curve.end),
            "start_corner": edge.corner,
            "end_corner": after.corner,
        }
        for edge, after in zip(ring, following, strict=True)
    ]


def finish_of(project: Project, edge: Edge) -> str:
    """What becomes of an edge; one that lies in a seam is `joined` of itself."""
    return "joined" if seams_of(project, edge.id) else edge.finish


def corners_report(ring: Ring) -> list[Plain]:
    """Corners of an outline in order, with their angles inside the piece."""
    return [
        {
            "id": edge.corner,
            "at_mm": _plain_point(edge.curve.start),
            "angle_deg": math.degrees(angle_between_edges(before, edge)),
        }
        for before, edge in zip((ring[-1], *ring[:-1]), ring, strict=True)
    ]


def _notches_on(project: Project, edge: Edge) -> Iterable[Plain]:
    for notch in notches_by_edge(project.notches).get(edge.id, ()):
        for spot in _spots_on(edge, notch):
            yield {"id": notch.id, "edge": edge.id, "at_mm": float(spot.at_mm)}


def _holes_on(project: Project, edge: Edge) -> Iterable[Plain]:
    for hole in holes_by_edge(project.holes).get(edge.id, ()):
        for spot in _spots_on(edge, hole):
            yield {
                "id": hole.id,
                "edge": edge.id,
                "at_mm": float(spot.at_mm),
                "inset_mm": float(inset_on_mm(project, hole, edge.id)),
                "diameter_mm": float(hole.diameter_mm),
            }


def _spots_on(edge: Edge, mark: Notch | Hole) -> list[Spot]:
    """Where a mark lies on an edge; its own mate at the same place is the mirror image's."""
    spots = (spot for spot in (mark.at, mark.mate) if spot is not None and spot.edge == edge.id)
    return list(dict.fromkeys(spots))


def seam_report(project: Project, seam: Seam) -> Plain:
    """One seam, measured."""
    measure = measure_seam(project, seam)
    return {
        "id": seam.id,
        "name": seam.name,
        "a": [str(ref) for ref in seam.a],
        "b": [str(ref) for ref in seam.b],
        "length_a_mm": measure.a.length_mm,
        "length_b_mm": measure.b.length_mm,
        "wanted_mm": float(seam.wanted_mm),
        "difference_mm": measure.difference_mm,
        "allowed_mm": float(seam.allowed_mm),
        "shaping_deg": math.degrees(measure.shaping_rad),
        "dome_deg": math.degrees(measure.dome_rad),
        "hollow_deg": math.degrees(measure.hollow_rad),
        "join": seam.join,
        "lap_mm": float(seam.lap_mm),
        "over": seam.over,
        "laid_on": seam.laid_on,
        "state": measure.state,
        "hold": hold.kind if (hold := hold_of(project, seam.id)) else None,
    }


def dart_report(project: Project, dart: Seam) -> Plain:
    """One dart, measured."""
    measure = measure_dart(project, dart)
    return {
        "id": dart.id,
        "name": dart.name,
        "piece": measure.piece.id,
        "apex_mm": _plain_point(measure.apex_mm),
        "angle_deg": math.degrees(measure.angle_rad),
        "intake_mm": measure.intake_mm,
        "leg_a_mm": measure.leg_a_mm,
        "leg_b_mm": measure.leg_b_mm,
        "tip_mm": None if measure.tip_mm is None else _plain_point(measure.tip_mm),
        "tip_angle_deg": math.degrees(measure.tip_angle_rad),
    }


def sheet_report(sheet: Sheet) -> Plain:
    """One material."""
    return {
        "id": sheet.id,
        "name": sheet.name,
        "width_mm": float(sheet.width_mm),
        "length_mm": None if sheet.length_mm is None else float(sheet.length_mm),
        "thickness_mm": float(sheet.thickness_mm),
        "material": sheet.material,
        "colour": sheet.colour,
    }


def picture_report(picture: Picture) -> Plain:
    """One photograph under the table: where it lies, never its bytes."""
    size = size_of(picture)
    return {
        "id": picture.id,
        "name": picture.name,
        "size_px": [size.width_px, size.height_px],
        "placing": list(picture.placing),
        "strength_ratio": picture.strength_ratio,
        "shown": picture.shown,
    }


def pin_report(project: Project, pin: Pin) -> Plain:
    """One pinned measurement: what it is now and what it should be, an angle in degrees."""
    unit = "deg" if pin.kind == "angle" else "mm"
    shown = {"value": _pinned(project, pin), "wanted": pin.wanted, "allowed": pin.allowed}
    if unit == "deg":
        shown = {key: None if one is None else math.degrees(one) for key, one in shown.items()}
    anchors = [_anchor(one) for one in pin.anchors]
    told = {f"{key}_{unit}": one for key, one in shown.items()}
    return {"id": pin.id, "name": pin.name, "kind": pin.kind, "anchors": anchors, **told}


def _anchor(one: Anchor) -> Plain | list[float] | str:
    if isinstance(one, Spot):
        return {"edge": one.edge, "at_mm": float(one.at_mm)}
    return list(one) if isinstance(one, tuple) else one


def _pinned(project: Project, pin: Pin) -> float | None:
    """What a pin measures; None where it cannot be measured any more."""
    try:
        return pin_value(project, pin)
    except EditRefused:
        return None


def _plain_point(point: Point) -> list[float]:
    x, y = point.tolist()
    return [x, y]
