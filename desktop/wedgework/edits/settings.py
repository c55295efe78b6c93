"""Settings of pieces and edges: how a piece is cut, allowances, finishes."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from msgspec import Meta

from wedgework.edits.base import Edit, Id, NotNegativeMm
from wedgework.edits.places import fold_edge_of
from wedgework.geometry.curve import is_straight
from wedgework.geometry.tolerances import STRAIGHT_MM
from wedgework.pattern.changes import with_edges_replaced, with_pieces
from wedgework.pattern.document import Cutting, Edge, Finish, Piece, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import piece_of, seams_of, skin_seam_of, the_edge, the_piece

Edges = Annotated[
    tuple[Id, ...], Meta(min_length=1, description="edges, of one piece or of several")
]


class SetCutting(Edit, frozen=True, kw_only=True):
    """Say how a piece is cut: once, as a pair with its mirror image, or on the fold."""

    piece: Annotated[Id, Meta(description="piece")]
    cutting: Annotated[Cutting, Meta(description="single, pair, or fold (drawn half, cut whole)")]
    about: Annotated[
        Id | None,
        Meta(
            description="straight edge that it is folded about; if left out, the only edge of "
            "finish `fold`, else the only straight one"
        ),
    ] = None

    def change(self, project: Project) -> Project:
        """EditRefused where it is not clear about which edge, or seams need a mirror image."""
        piece = the_piece(project, self.piece)
        if self.cutting != "fold" and self.about is not None:
            raise EditRefused(
                "Only a piece cut on the fold is folded about an edge.", culprit=self.about
            )
        if self.cutting == "single":
            _refuse_needed_mirror(project, piece)
        fold = self._fold_edge(project, piece).id if self.cutting == "fold" else None
        if (piece.cutting, piece.fold_edge) == (self.cutting, fold):
            return project
        bare = replace(piece, cutting=self.cutting, fold_edge=fold)
        return with_pieces(project, _with_fold_finish(bare, piece.fold_edge))

    def _fold_edge(self, project: Project, piece: Piece) -> Edge:
        fold = fold_edge_of(piece, self.about)
        if not is_straight(fold.curve, STRAIGHT_MM):
            raise EditRefused(f"A piece is folded about a straight edge; “{fold.id}” is curved.",
                culprit=fold.id)  # fmt: skip
        seam = skin_seam_of(project, fold.id)
        if seam is not None:
            raise EditRefused(
                f"“{fold.id}” is joined in seam “{seam.name or seam.id}” and cannot be a fold.",
                culprit=fold.id,
            )
        return fold


def _with_fold_finish(piece: Piece, old_fold: str | None) -> Piece:
    """Finishes that say what the cutting says: `fold` on the fold edge and there alone."""
    changed = {}
    for edge in piece.edges:
        if edge.id == piece.fold_edge and edge.finish != "fold":
            changed[edge.id] = replace(edge, finish="fold")
        elif edge.id == old_fold and edge.id != piece.fold_edge:
            changed[edge.id] = replace(edge, finish="open")
    return with_edges_replaced(piece, changed) if changed else piece


def _refuse_needed_mirror(project: Project, piece: Piece) -> None:
    for edge in piece.all_edges():
        for seam in seams_of(project, edge.id):
            if any(ref.edge == edge.id and ref.mirrored for ref in (*seam.a, *seam.b)):
                raise EditRefused(
                    f"Seam “{seam.name or seam.id}” joins the mirror image of piece "
                    f"“{piece.name or piece.id}”, so it cannot be cut once.",
                    culprit=seam.id,
                )


class SetAllowance(Edit, frozen=True, kw_only=True):
    """Set the allowance of edges: how far the cut line lies outside the seam line."""

    edges: Edges
    mm: Annotated[NotNegativeMm, Meta(description="width of the allowance")]

    def change(self, project: Project) -> Project:
        """EditRefused where one of the edges is not there."""
        return _with_all_edges(project, self.edges, allowance_mm=self.mm)


class SetFinish(Edit, frozen=True, kw_only=True):
    """Set what becomes of edges that no seam takes: hem, fold or open."""

    edges: Edges
    finish: Annotated[Finish, Meta(description="hem, fold or open")]

    def change(self, project: Project) -> Project:
        """EditRefused where one is not there, or is the fold that its piece is cut on."""
        for edge in self.edges:
            piece = piece_of(project, edge)
            if piece.fold_edge == edge and self.finish != "fold":
                raise EditRefused(
                    f"Piece “{piece.name or piece.id}” is cut on the fold about “{edge}”.",
                    culprit=edge,
                )
        return _with_all_edges(project, self.edges, finish=self.finish)


def _with_all_edges(project: Project, edges: tuple[str, ...], **values: object) -> Project:
    by_piece: dict[str, dict[str, Edge]] = {}
    for own in edges:
        edge = the_edge(project, own)
        if any(getattr(edge, name) != value for name, value in values.items()):
            changed = by_piece.setdefault(piece_of(project, own).id, {})
            changed[own] = replace(edge, **values)  # type: ignore[arg-type]
    rows = [with_edges_replaced(project.pieces[key], changed) for key, changed in by_piece.items()]
    return with_pieces(project, *rows) if rows else project
