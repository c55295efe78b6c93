"""Unfold a half into a whole, about a straight edge of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Annotated

from msgspec import Meta

from wedgework.edits.base import Edit, Id
from wedgework.edits.carry import Fate, carried
from wedgework.edits.move import stitched
from wedgework.edits.places import Naming, edge_of_piece
from wedgework.geometry.crossing import crosses_itself
from wedgework.geometry.curve import is_straight
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import Affine, mirrored_walk, moved, reflection
from wedgework.geometry.tolerances import STRAIGHT_MM
from wedgework.pattern.changes import with_pieces, with_seams
from wedgework.pattern.document import (
    Cutout,
    Edge,
    EdgeId,
    Hole,
    Line,
    Piece,
    Project,
    Ref,
    Ring,
    Run,
    Seam,
    Spot,
)
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.instances import flipped, has_mirror, is_own_mirror
from wedgework.pattern.levels import shown_lines
from wedgework.pattern.lookup import Mark, seams_of, the_piece
from wedgework.pattern.table import Table


class MirrorPiece(Edit, frozen=True, kw_only=True):
    """Unfold a half about a straight edge into a whole; the piece keeps its id."""

    piece: Annotated[Id, Meta(description="half that is unfolded")]
    about: Annotated[Id, Meta(description="straight edge in the middle of the whole")]

    def change(self, project: Project) -> Project:
        """EditRefused where the edge is curved or joined, or the two halves would overlap."""
        piece = the_piece(project, self.piece)
        fold = edge_of_piece(piece, self.about)
        _refuse_no_fold(project, piece, fold)
        twins = _twin_names(piece, fold, Naming(project))
        whole = _unfolded(piece, fold, twins)
        if crosses_itself([edge.curve for edge in whole.edges]):
            raise EditRefused(
                f"The two halves of piece “{piece.name or piece.id}” would overlap.",
                culprit=fold.id,
            )
        after = carried(with_pieces(project, whole), {fold.id: Fate()})
        after = with_seams(after, *_twin_seams(project, piece, twins))
        return _with_twin_marks(after, piece, twins)


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
    on_fold = {fold.corner, _after(piece.edges, fold).corner}
    ids = (own for own in piece.own_ids() if own != fold.id and own not in on_fold)
    labels = {label.id for label in piece.labels}
    return {own: naming.fresh(f"{own}.m") for own in ids if own not in labels}


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
    cutouts = [_mirrored_cutout(cutout, motion, twins) for cutout in piece.cutouts]
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


def _mirrored_cutout(cutout: Cutout, motion: Affine, twins: Mapping[str, str]) -> Cutout:
    edges = [
        replace(
            edge,
            id=twins[edge.id],
            corner=twins[_after(cutout.edges, edge).corner],
            curve=mirrored_walk(edge.curve, motion),
        )
        for edge in cutout.edges
    ]
    return Cutout(id=twins[cutout.id], edges=stitched(edges[::-1]))


def _twin_seams(project: Project, piece: Piece, twins: Mapping[str, str]) -> Iterator[Seam]:
    """Seams of the piece that are said otherwise now, and those that need a twin of their own.

    A piece that was folded stood for both of its halves: `~` of it now is its other half, and a
    seam that stood for its mirror image is said twice. A seam of the half with itself, a dart, is
    there in both halves.
    """
    naming = Naming(project)
    folded = piece.cutting == "fold"
    own = {edge.id for edge in piece.all_edges()} | {line.id for line in piece.lines}
    for seam in {s.id: s for one in own for s in seams_of(project, one)}.values():
        refs = (*seam.a, *seam.b)
        said = _said(seam, twins) if folded else seam
        if said is not seam:
            yield said
        inside = all(ref.edge in own and not ref.mirrored for ref in refs)
        if inside or (folded and has_mirror(project, seam) and not is_own_mirror(seam)):
            yield _twin(seam, twins, naming.fresh(f"{seam.id}.m"))


def _said(seam: Seam, twins: Mapping[str, str]) -> Seam:
    a, b = _on_whole(seam.a, twins), _on_whole(seam.b, twins)
    return seam if (a, b) == (seam.a, seam.b) else replace(seam, a=a, b=b)


def _twin(seam: Seam, twins: Mapping[str, str], own: str) -> Seam:
    apex = None if seam.apex is None else twins[seam.apex]
    a, b = (_on_whole(flipped(run), twins) for run in (seam.a, seam.b))
    name = f"{seam.name or seam.id} mirrored"
    return replace(seam, id=own, name=name, a=a, b=b, apex=apex)


def _on_whole(run: Run, twins: Mapping[str, str]) -> Run:
    """A run where `~` of the half is its other half, which is walked the other way round."""
    return tuple(
        Ref(twins[ref.edge], backward=not ref.backward)
        if ref.mirrored and ref.edge in twins
        else ref
        for ref in run
    )


def _with_twin_marks(project: Project, piece: Piece, twins: Mapping[str, str]) -> Project:
    lengths = {edge.id: length_mm(edge.curve) for edge in piece.all_edges() if edge.id in twins}
    naming = Naming(project)
    notches = _twin_marks(project.notches, twins, lengths, naming)
    holes = _twin_marks(project.holes, twins, lengths, naming)
    if notches is project.notches and holes is project.holes:
        return project
    return replace(project, notches=notches, holes=holes)


def _twin_marks(
    table: Table[Mark], twins: Mapping[str, str], lengths: Mapping[EdgeId, float], naming: Naming
) -> Table[Mark]:
    def twin(spot: Spot) -> Spot:
        return Spot(twins[spot.edge], lengths[spot.edge] - spot.at_mm)

    rows: dict[str, Mark] = {}
    for mark in table.values():
        spots = [mark.at] if mark.mate is None else [mark.at, mark.mate]
        # A mate on another piece has its mark already; said again, that piece would list it twice.
        own = [twin(spot) for spot in spots if spot.edge in lengths]
        if own:
            name = naming.fresh(f"{mark.id}.m")
            mate = own[1] if len(own) > 1 else None
            rows[name] = replace(_of_other_half(mark), id=name, at=own[0], mate=mate)
    return table.with_rows(rows) if rows else table


def _of_other_half(mark: Mark) -> Mark:
    """The mark for the other half: a hole of a row stands there in a row of its own."""
    if isinstance(mark, Hole) and mark.row is not None:
        return replace(mark, row=f"{mark.row}.m")
    return mark
