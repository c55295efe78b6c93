"""The double-pointed dart inside a piece: a slit with two points, widest somewhere between.

A suit without a waist seam needs it: it takes the waist in and lets bust and hip be. Its legs are
a cut-out; its tips round the sheet, and where it is widest the sheet is hollow by as much.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, PointMm, PositiveMm
from wedgework.edits.carry import carried
from wedgework.edits.darts import new_dart
from wedgework.edits.inside import in_order, parted
from wedgework.edits.places import Naming
from wedgework.edits.ways import refuse_way_out, strictly_inside
from wedgework.geometry.curve import Curve, Point, joined, polyline, reversed_curve
from wedgework.geometry.regions import contains_point
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.changes import with_pieces, with_seams
from wedgework.pattern.document import Cutout, Edge, Piece, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_piece


class AddDoubleDart(Edit, frozen=True, kw_only=True):
    """Take a slit with two points out of the middle of a piece: a double-pointed dart."""

    piece: Annotated[Id, Meta(description="piece that gets the dart")]
    tip_mm: Annotated[PointMm, Meta(description="the point where its legs begin")]
    apex_mm: Annotated[PointMm, Meta(description="the point where they end")]
    intake_mm: Annotated[PositiveMm, Meta(description="its width where it is widest")]
    widest_mm: Annotated[
        PositiveMm | None,
        Meta(description="how far from the tip it is widest; half way if left out"),
    ] = None
    smooth: Annotated[bool, Meta(description="whether its legs are curved")] = False

    def change(self, project: Project) -> Project:
        """EditRefused where it would not lie inside the piece."""
        piece = the_piece(project, self.piece)
        tip, apex = np.array(self.tip_mm), np.array(self.apex_mm)
        whole_mm = float(np.hypot(*(apex - tip)))
        widest_mm = whole_mm / 2 if self.widest_mm is None else self.widest_mm
        if not SAME_STATION_MM < widest_mm < whole_mm - SAME_STATION_MM:
            raise EditRefused(
                f"The dart is {whole_mm:.1f} mm long and has to be widest between its points.",
                culprit=piece.id,
            )
        along = (apex - tip) / whole_mm
        across = np.array([-along[1], along[0]]) * self.intake_mm / 2
        middle = tip + widest_mm * along
        draw = _curved_leg if self.smooth else _straight_leg
        left, right = (draw(tip, middle + side, apex) for side in (across, -across))
        _refuse_outside(piece, (left, right))
        return _with_slit(project, piece, left, reversed_curve(right))


def _straight_leg(tip: Point, widest: Point, apex: Point) -> Curve:
    return polyline([tip, widest, apex])


def _curved_leg(tip: Point, widest: Point, apex: Point) -> Curve:
    """A leg that leaves both points straight and passes its widest place along the dart."""
    return joined(_half_leg(tip, widest, apex), reversed_curve(_half_leg(apex, widest, tip)))


def _half_leg(tip: Point, widest: Point, beyond: Point) -> Curve:
    along = (beyond - tip) / np.hypot(*(beyond - tip))
    third = (widest - tip) / 3
    handle = widest - along * float(third @ along)
    return Curve(np.array([[tip, tip + third, handle, widest]]))


def _refuse_outside(piece: Piece, legs: tuple[Curve, Curve]) -> None:
    for point in (legs[0].start, legs[0].end):
        if not strictly_inside(piece, point):
            raise EditRefused("Both points of the dart lie inside its piece.", culprit=piece.id)
    for leg in legs:
        refuse_way_out(piece, leg, "A leg of the dart")


def _with_slit(project: Project, piece: Piece, left: Curve, right: Curve) -> Project:
    """The project with a cut-out between two legs, walked clockwise: the piece is on their left."""
    naming = Naming(project)
    bare = new_dart(piece, naming)
    tip, apex = naming.fresh(f"{bare.id}.tip"), naming.fresh(f"{bare.id}.apex")
    legs = (
        Edge(id=bare.a[0].edge, name="", curve=left, corner=tip),
        Edge(id=bare.b[0].edge, name="", curve=right, corner=apex),
    )
    ring = [left, right]
    drawings, fates = parted(
        piece, ring, lambda point: None if contains_point(ring, point) else 0, naming
    )
    drawings[0].labels += drawings[1].labels
    changed = in_order(piece, [drawings[0]])
    slit = Cutout(id=naming.fresh(f"{bare.id}.slit"), edges=legs)
    changed = replace(changed, cutouts=(*changed.cutouts, slit))
    after = carried(with_pieces(project, changed), fates)
    return with_seams(after, replace(bare, apex=apex, tip=tip))
