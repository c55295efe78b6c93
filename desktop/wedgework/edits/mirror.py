"""Unfold a half into a whole, about a straight edge of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated

from msgspec import Meta

from wedgework.edits.base import Edit, Id
from wedgework.edits.carry import Fate, carried
from wedgework.edits.move import stitched
from wedgework.edits.places import Naming, fold_edge_of
from wedgework.edits.twins import copied_cutout, mirror_seams, twin_names, with_twin_marks
from wedgework.geometry.crossing import crosses_itself
from wedgework.geometry.curve import is_straight
from wedgework.geometry.motion import mirrored_walk, moved, reflection
from wedgework.geometry.tolerances import STRAIGHT_MM
from wedgework.pattern.changes import with_pieces, with_seams
from wedgework.pattern.document import Edge, Line, Piece, Project, Ring
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.levels import shown_lines
from wedgework.pattern.lookup import seams_of, the_piece


class MirrorPiece(Edit, frozen=True, kw_only=True):
    """Unfold a half about a straight edge into a whole; the piece keeps its id."""

    piece: Annotated[Id, Meta(description="half that is unfolded")]
    about: Annotated[
        Id | None,
        Meta(
            description="straight edge in the middle of the whole; if left out, that about which "
            "the piece is folded, or its only straight one"
        ),
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where the edge is curved or joined, or the two halves would overlap."""
        piece = the_piece(project, self.piece)
        fold = fold_edge_of(piece, self.about)
        _refuse_no_fold(project, piece, fold)
        twins = _twin_names(piece, fold, Naming(project))
        whole = _unfolded(piece, fold, twins)
        if crosses_itself([edge.curve for edge in whole.edges]):
            raise EditRefused(
                f"The two halves of piece “{piece.name or piece.id}” would overlap.",
                culprit=fold.id,
            )
        after = carried(with_pieces(project, whole), {fold.id: Fate()})
        folded = piece.cutting == "fold"
        twin_seams = mirror_seams(project, piece, twins, stood_for_both=folded)
        after = with_seams(after, *twin_seams)
        return with_twin_marks(after, piece, twins, "m", mirrored=True)


def _refuse_no_fold(project: Project, piece: Piece, fold: Edge) -> None:
    if not is_straight(fold.curve, STRAIGHT_MM):
        raise EditRefused(
            f"“{fold.id}” is curved; a half is unfolded about a straight edge.", culprit=fold.id
        )
    if piece.fold_edge not in (None, fold.id):
        raise EditRefused(
            f"Piece “{piece.name or piece.id}” is cut on the fold about “{piece.fold_edge}”.",
            culprit=fold.id,
        )
    if len(piece.edges) == 1:
        raise EditRefused("A half has more edges than its fold.", culprit=fold.id)
    for seam in seams_of(project, fold.id):
        raise EditRefused(
            f"“{fold.id}” is joined in seam “{seam.name or seam.id}”.", culprit=fold.id
        )


def _twin_names(piece: Piece, fold: Edge, naming: Naming) -> dict[str, str]:
    """The id of the mirror image of everything in the piece that gets one."""
    corners = fold.corner, _after(piece.edges, fold).corner
    return twin_names(piece, naming, "m", {fold.id, *corners, *(one.id for one in piece.labels)})


def _after(ring: Ring, edge: Edge) -> Edge:
    return ring[(ring.index(edge) + 1) % len(ring)]


def _unfolded(piece: Piece, fold: Edge, twins: Mapping[str, str]) -> Piece:
    motion = reflection(fold.curve.start, fold.curve.end)
    at = piece.edges.index(fold)
    half = piece.edges[at + 1 :] + piece.edges[:at]
    # The far end of the whole is where the fold started: its corner is that of the fold.
    corners = [edge.corner for edge in half[1:]] + [fold.corner]
    mirrored = [
        replace(
            edge,
            id=twins[edge.id],
            corner=twins.get(corner, corner),
            curve=mirrored_walk(edge.curve, motion),
        )
        for edge, corner in zip(half, corners, strict=True)
    ]
    ring = stitched([*half, *reversed(mirrored)])
    drawn = [_within_half(piece, line) for line in piece.lines]
    lines = [replace(line, id=twins[line.id], curve=moved(line.curve, motion)) for line in drawn]
    cutouts = [copied_cutout(cutout, motion, twins) for cutout in piece.cutouts]
    return replace(
        piece,
        edges=ring,
        lines=(*drawn, *lines),
        cutouts=(*piece.cutouts, *cutouts),
        cutting="single" if piece.cutting == "fold" else piece.cutting,
        fold_edge=None,
    )


def _within_half(piece: Piece, line: Line) -> Line:
    """The line; one of a level reaches just from outline to outline, so that its twin meets it."""
    shown = shown_lines(piece, line)
    if line.level is None or len(shown) != 1 or shown[0] is line.curve:
        return line
    return replace(line, curve=shown[0])
