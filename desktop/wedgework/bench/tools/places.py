"""Places on outlines, as the tools that cut into a piece take them."""

from __future__ import annotations

from dataclasses import dataclass

from wedgework.bench.gestures import PICK_PX, Mm2, Pointer, distance_mm
from wedgework.bench.tools.scene import Scene
from wedgework.edits import Place
from wedgework.geometry.length import length_mm
from wedgework.pattern.lookup import the_edge


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place on an edge of a piece, and where it lies, in mm."""

    piece: str
    place: Place
    at_mm: Mm2


def spot_under(scene: Scene, pointer: Pointer, piece: str | None = None) -> Spot | None:
    """The place on an edge under the pointer, of one piece if it is named.

    Near a corner it is the corner itself: nobody means to cut a millimetre beside it.
    """
    hit = scene.edge_under(pointer, piece)
    if hit is None:
        return None
    edge = the_edge(scene.project, hit.id)
    reach = PICK_PX * pointer.px_mm
    for end, at_mm in (("start", 0.0), ("end", length_mm(edge.curve))):
        x, y = getattr(edge.curve, end).tolist()
        if not pointer.alt and distance_mm((x, y), hit.at_mm) <= reach:
            return Spot(piece=hit.piece, place=Place(hit.id, at_mm), at_mm=(x, y))
    return Spot(piece=hit.piece, place=Place(hit.id, hit.station_mm), at_mm=hit.at_mm)
