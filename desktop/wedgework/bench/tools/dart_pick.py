"""Darts under the pointer, and places round the outline where one may swing to."""

from __future__ import annotations

from collections.abc import Collection

from wedgework.bench.gestures import PICK_PX, Mm2, Pointer, distance_mm
from wedgework.bench.tools.places import Spot
from wedgework.bench.tools.scene import Scene
from wedgework.edits import Place
from wedgework.geometry.length import length_mm
from wedgework.geometry.nearest import nearest
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.document import Piece, Seam
from wedgework.pattern.lookup import seams_of


def dart_under(scene: Scene, pointer: Pointer) -> Seam | None:
    """The dart with a mouth that has a leg under the pointer."""
    for hit in scene.under(pointer):
        if hit.kind == "edge":
            for seam in seams_of(scene.project, hit.id):
                if seam.is_dart and seam.tip is None:
                    return seam
    return None


def apex_of(scene: Scene, dart: Seam) -> Mm2:
    """Where a dart ends."""
    x, y = measure_dart(scene.project, dart).apex_mm.tolist()
    return x, y


def place_round(
    piece: Piece, pointer: Pointer, without: Collection[str], reach_px: float = PICK_PX
) -> Spot:
    """The place on the outline that is nearest to the pointer, not on the edges left out.

    Near a corner it is the corner, unless Alt is held.
    """
    edges = [edge for edge in piece.edges if edge.id not in without]
    feet = [(nearest(edge.curve, pointer.at_mm), edge) for edge in edges]
    foot, edge = min(feet, key=lambda row: row[0].distance_mm)
    x, y = foot.point.tolist()
    reach_mm = reach_px * pointer.px_mm
    for end, at_mm in ((edge.curve.start, 0.0), (edge.curve.end, length_mm(edge.curve))):
        corner = (float(end[0]), float(end[1]))
        if not pointer.alt and distance_mm(corner, (x, y)) <= reach_mm:
            return Spot(piece=piece.id, place=Place(edge.id, at_mm), at_mm=corner)
    return Spot(piece=piece.id, place=Place(edge.id, foot.station_mm), at_mm=(x, y))
