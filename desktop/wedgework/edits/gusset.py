"""Gussets: a triangle or a diamond set into slits, or a triangle between two edges at a corner."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated, Final

import msgspec
import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Mm, Name, NotNegativeMm, Place, PositiveMm
from wedgework.edits.carry import carried, parts_fate
from wedgework.edits.darts import AddDart
from wedgework.edits.edges import refuse_fold_edge
from wedgework.edits.move import moved_piece
from wedgework.edits.places import Naming, place_point
from wedgework.edits.seams import id_from
from wedgework.geometry.curve import Point, is_straight, line
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import translation
from wedgework.geometry.split import split
from wedgework.geometry.tolerances import SAME_STATION_MM, STRAIGHT_MM
from wedgework.pattern.changes import with_edge_parted, with_pieces, with_seams
from wedgework.pattern.darts import darts_of
from wedgework.pattern.document import Cutting, Edge, EdgeId, Piece, Project, Ref, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import around_corner, piece_of, skin_seam_of, the_edge

CLEAR_MM: Final = 20.0
"""A gusset is laid so far beside the piece that it is set into; any clear distance would do."""


SLIT_MM: Final = 0.02
"""A slit is drawn so wide: far less than a blade cuts, and enough to tell its two sides apart."""

Sides = tuple[float, float]
"""Lengths of the two sides of a slit, in mm: to its tip, and back from it."""


class Slit(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A slit from a place on an outline to a point inside the piece."""

    edge: Annotated[Id, Meta(description="edge where the slit begins")]
    at_mm: Annotated[NotNegativeMm, Meta(description="distance along it from its start")]
    x_mm: Annotated[Mm, Meta(description="where the slit ends, across")]
    y_mm: Annotated[Mm, Meta(description="where the slit ends, up")]

    @property
    def place(self) -> Place:
        """Where it begins."""
        return Place(self.edge, self.at_mm)


class AddGusset(Edit, frozen=True, kw_only=True):
    """Set a gusset into slits: a triangle into one, a diamond into two whose mouths meet."""

    slits: Annotated[
        tuple[Slit, ...], Meta(min_length=1, max_length=2, description="one slit, or two")
    ]
    width_mm: Annotated[PositiveMm, Meta(description="width of the gusset at the mouths")]
    name: Annotated[Name, Meta(description="what the gusset is called")] = "gusset"

    def change(self, project: Project) -> Project:
        """EditRefused where a slit leaves its piece, or is too short for so wide a gusset."""
        naming = Naming(project)
        own = naming.fresh(id_from(self.name, "gusset"))
        pieces = [piece_of(project, slit.edge) for slit in self.slits]
        legs: list[tuple[EdgeId, EdgeId]] = []
        for slit in self.slits:
            project, pair = _with_slit(project, slit)
            legs.append(pair)
        sides = [(_edge_mm(project, to), _edge_mm(project, back)) for to, back in legs]
        gusset = _shape(sides, self.width_mm, own, naming)
        gusset = replace(gusset, name=self.name, cutting=_common(pieces))
        gusset = _beside(pieces[0], gusset)
        after = _with_parted_apexes(with_pieces(project, gusset))
        return with_seams(after, *_seams(gusset, legs, naming, self.name))


def _with_parted_apexes(project: Project) -> Project:
    """The project where a dart whose apex was slit on is a seam, ending where the slit begins."""
    parted = [dart for dart in darts_of(project) if dart.apex not in project.owners]
    return with_seams(project, *(replace(dart, apex=None) for dart in parted))


def _common(pieces: Sequence[Piece]) -> Cutting:
    # A gusset beside a fold is there on both sides of it.
    return "single" if any(piece.cutting == "single" for piece in pieces) else "pair"


def _edge_mm(project: Project, own: EdgeId) -> float:
    return length_mm(the_edge(project, own).curve)


class GussetAtCorner(Edit, frozen=True, kw_only=True):
    """Set a triangle between the two edges that meet at a corner."""

    corner: Annotated[Id, Meta(description="corner that it is set into")]
    side_mm: Annotated[PositiveMm, Meta(description="how far it reaches along both edges")]
    width_mm: Annotated[PositiveMm, Meta(description="width of the gusset where it ends")]
    name: Annotated[Name, Meta(description="what the gusset is called")] = "gusset"

    def change(self, project: Project) -> Project:
        """EditRefused where an edge is too short, folded or joined already."""
        piece = piece_of(project, self.corner)
        before, after = around_corner(piece, self.corner)
        for edge in (before, after):
            _refuse_taken(project, piece, edge, self.side_mm)
        naming = Naming(project)
        own = naming.fresh(id_from(self.name, "gusset"))
        low = length_mm(before.curve) - self.side_mm
        project, first = _parted(project, before, low, naming, takes_last=True)
        project, second = _parted(project, after, self.side_mm, naming, takes_last=False)
        for edge in (the_edge(project, first), the_edge(project, second)):
            if not is_straight(edge.curve, STRAIGHT_MM):
                raise EditRefused(
                    f"“{edge.name or edge.id}” is curved where the gusset would lie; cut a slit "
                    "for it instead.",
                    culprit=edge.id,
                )
        gusset = _shape([(self.side_mm, self.side_mm)], self.width_mm, own, naming)
        gusset = _beside(piece, replace(gusset, name=self.name, cutting=_common([piece])))
        done = with_pieces(project, gusset)
        return with_seams(done, *_seams(gusset, [(first, second)], naming, self.name))


def _refuse_taken(project: Project, piece: Piece, edge: Edge, side_mm: float) -> None:
    refuse_fold_edge(piece, edge.id, "joined to a gusset")
    seam = skin_seam_of(project, edge.id)
    if seam is not None:
        raise EditRefused(
            f"“{edge.name or edge.id}” is joined already, in seam “{seam.name or seam.id}”.",
            culprit=seam.id,
        )
    if side_mm > length_mm(edge.curve) + SAME_STATION_MM:
        raise EditRefused(
            f"“{edge.name or edge.id}” is {length_mm(edge.curve):.1f} mm long, shorter than the "
            "gusset's side.",
            culprit=edge.id,
        )


def _parted(
    project: Project, edge: Edge, at_mm: float, naming: Naming, *, takes_last: bool
) -> tuple[Project, EdgeId]:
    """The project with an edge split at a station, and the part that the gusset takes."""
    if min(at_mm, length_mm(edge.curve) - at_mm) <= SAME_STATION_MM:
        return project, edge.id
    head, tail = split(edge.curve, at_mm)
    first = replace(edge, id=naming.fresh(f"{edge.id}.1"), curve=head)
    second = replace(
        edge, id=naming.fresh(f"{edge.id}.2"), corner=naming.fresh(f"{edge.id}.c"), curve=tail
    )
    piece = piece_of(project, edge.id)
    after = with_pieces(project, with_edge_parted(piece, edge.id, [first, second]))
    fate = parts_fate([(first, 0.0), (second, at_mm)])
    return carried(after, {edge.id: fate}), (second if takes_last else first).id


# The slit


def _with_slit(project: Project, slit: Slit) -> tuple[Project, tuple[EdgeId, EdgeId]]:
    """The project with a slit in a piece, and its two sides: to the tip, and back from it.

    It is cut as a dart that nobody sees: with no width at all its tip could be a spike as well.
    """
    piece = piece_of(project, slit.edge)
    refuse_fold_edge(piece, slit.edge, "slit")
    place_point(piece, slit.place)  # refuses a place beyond the end of the edge
    # From a corner on the mouth lies beside it; a hair of room lets its end be the corner itself.
    beside_mm = (SLIT_MM + SAME_STATION_MM) / 2
    at_mm = min(max(slit.at_mm, beside_mm), _edge_mm(project, slit.edge) - beside_mm)
    cut = AddDart(
        piece=piece.id,
        at=Place(slit.edge, at_mm),
        apex_mm=(slit.x_mm, slit.y_mm),
        intake_mm=SLIT_MM,
    )
    after = cut.change(project)
    (dart,) = (seam for own, seam in after.seams.items() if own not in project.seams)
    return with_seams(after, removed=[dart.id]), (dart.a[0].edge, dart.b[0].edge)


# The gusset


def _shape(sides: Sequence[Sides], width_mm: float, own: str, naming: Naming) -> Piece:
    """A triangle, or a diamond of two, on a base as wide as is said.

    Counter-clockwise from the left mouth; of a diamond the second slit's sides come first.
    """
    half = width_mm / 2
    points = [np.array([-half, 0.0]), np.array([half, 0.0]), _tip(sides[0], width_mm)]
    if len(sides) > 1:
        points.insert(1, -_tip(sides[1], width_mm))
    edges = tuple(
        Edge(
            id=naming.fresh(f"{own}.e{number}"),
            corner=naming.fresh(f"{own}.c{number}"),
            name="",
            curve=line(points[number - 1], points[number % len(points)]),
        )
        for number in range(1, len(points) + 1)
    )
    return Piece(id=own, name=own, edges=edges)


def _tip(sides: Sides, width_mm: float) -> Point:
    """Above the middle of the base, where two sides of these lengths meet; EditRefused if none do.

    The first side comes from the left end of the base.
    """
    left, right = sides
    across = (left * left - right * right) / (2 * width_mm)
    up = left * left - (across + width_mm / 2) ** 2
    if up <= 0:
        raise EditRefused(
            f"Sides of {min(sides):.1f} mm are too short for a gusset {width_mm:.1f} mm wide."
        )
    return np.array([across, math.sqrt(up)])


def _beside(piece: Piece, gusset: Piece) -> Piece:
    _, low, right, _ = bounds_of_all([edge.curve for edge in piece.edges]).tolist()
    box = bounds_of_all([edge.curve for edge in gusset.edges]).tolist()
    return moved_piece(gusset, translation((right + CLEAR_MM - box[0], low - box[1])))


def _seams(
    gusset: Piece, legs: Sequence[tuple[EdgeId, EdgeId]], naming: Naming, name: str
) -> list[Seam]:
    """Two seams a slit, from its mouth to its tip and from its tip to its mouth.

    The outline goes up to the tip of a slit with the piece on its left, so the gusset's side that
    comes down from the tip lies there.
    """
    ups = [gusset.edges[-2], gusset.edges[0]]
    downs = [gusset.edges[-1], gusset.edges[1]]
    rows = [
        (f"{number}{letter}", leg, edge)
        for number, (pair, up, down) in enumerate(zip(legs, ups, downs, strict=False), start=1)
        for letter, leg, edge in (("a", pair[0], down), ("b", pair[1], up))
    ]
    return [
        Seam(
            id=naming.fresh(f"{gusset.id}.s{own}"),
            name=f"{name} {own}",
            a=(Ref(leg),),
            b=(Ref(edge.id, backward=True),),
        )
        for own, leg, edge in rows
    ]
