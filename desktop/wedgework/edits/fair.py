"""Fair an edge: smooth its bend where it wavers."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from wedgework.edits.base import Edit, Id, PositiveMm
from wedgework.edits.carry import reshaped_fate
from wedgework.edits.redrawn import with_edges_redrawn
from wedgework.geometry.curve import Curve, is_straight
from wedgework.geometry.fair import arched, bulged, fair_near, with_length
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import STRAIGHT_MM
from wedgework.geometry.turning import end_tangent, start_tangent
from wedgework.pattern.document import Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import piece_of, the_edge

Keep: TypeAlias = Literal["ends", "length", "both"]
"""What stays besides the corners: the directions at both ends, the length, or both."""


class FairEdge(Edit, frozen=True, kw_only=True):
    """Smooth the waves of an edge's bend that are shorter than a length; its corners stay."""

    edge: Annotated[Id, Meta(description="edge that is smoothed")]
    over_mm: Annotated[PositiveMm, Meta(description="waves shorter than this are smoothed")]
    keep: Annotated[
        Keep, Meta(description="what stays: its directions at both ends, its length, or both")
    ] = "ends"

    def change(self, project: Project) -> Project:
        """EditRefused for a fold, and where the smooth edge cannot be as long as it was."""
        edge = the_edge(project, self.edge)
        if piece_of(project, edge.id).fold_edge == edge.id:
            raise EditRefused("A fold is straight already.", culprit=edge.id)
        if is_straight(edge.curve, STRAIGHT_MM):
            return project
        try:
            curve = fair(edge.curve, self.over_mm, self.keep)
        except ValueError:
            raise EditRefused(
                f"“{edge.name or edge.id}” cannot be smoothed so far and keep its length as well.",
                culprit=edge.id,
            ) from None
        new = replace(edge, curve=curve)
        return with_edges_redrawn(project, {edge.id: new}, {edge.id: reshaped_fate(edge, new)})


def fair(curve: Curve, over_mm: float, keep: Keep) -> Curve:
    """The curve smoothed, its ends bit for bit; its length to STATION_MM where that is kept.

    What smoothing takes off the length is given back to its bulge. Raises ValueError where it
    would have to be shorter than the way between its ends.
    """
    tangents = start_tangent(curve), end_tangent(curve)
    if keep == "length":
        return bulged(fair_near(curve, over_mm), length_mm(curve))
    smooth = fair_near(curve, over_mm, tangents)
    if keep == "ends":
        return smooth
    return with_length(smooth, arched(smooth, power=2), length_mm(curve))
