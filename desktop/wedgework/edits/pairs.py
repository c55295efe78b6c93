"""Two mirror pieces made one pair that is kept in agreement, and a pair made two again."""

from __future__ import annotations

import cmath
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, NotNegativeMm
from wedgework.edits.places import Naming
from wedgework.edits.twins import (
    copied_piece,
    mirror_seams,
    seams_on,
    twin_names,
    with_twin_marks,
)
from wedgework.geometry.curve import Curve, Floats, reversed_curve
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.motion import reflection
from wedgework.pattern.changes import with_pieces, with_seams
from wedgework.pattern.document import (
    Edge,
    EdgeId,
    Hole,
    Piece,
    Project,
    Ref,
    Run,
    Seam,
    Spot,
)
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.instances import flipped, has_mirror, reversed_run
from wedgework.pattern.lookup import Mark, the_piece
from wedgework.pattern.rows import alone_on
from wedgework.pattern.table import Table

SAMPLES: Final = 9
"""Points of each edge that are compared: its ends and seven between."""

BESIDE_MM: Final = 40.0
"""So far beside the piece its other half is laid; any clear distance would do."""


class SplitPair(Edit, frozen=True, kw_only=True):
    """Make two pieces of a pair, so that the left and the right side can differ."""

    piece: Annotated[Id, Meta(description="piece that is cut as a pair")]

    def change(self, project: Project) -> Project:
        """EditRefused where the piece is not cut as a pair."""
        piece = the_piece(project, self.piece)
        if piece.cutting != "pair":
            raise EditRefused(
                f"Piece “{piece.name or piece.id}” is not cut as a pair.", culprit=piece.id
            )
        naming = Naming(project)
        names = twin_names(piece, naming, "m")
        middle = _middle_mm(project, piece)
        twin = replace(
            copied_piece(piece, reflection((middle, 0.0), (middle, 1.0)), names),
            id=naming.fresh(f"{piece.id}.m"),
            name=f"{piece.name or piece.id} mirrored",
            cutting="single",
        )
        seams = list(mirror_seams(project, piece, names, stood_for_both=True))
        after = with_pieces(project, replace(piece, cutting="single"), twin)
        return with_twin_marks(with_seams(after, *seams), piece, names, "m", mirrored=True)


def _middle_mm(project: Project, piece: Piece) -> float:
    """Where the mirror stands: close beside the piece, and further off where others lie there.

    Its image then lies right of them all.
    """
    boxes = {
        one.id: bounds_of_all([edge.curve for edge in one.edges]) for one in project.pieces.values()
    }
    left, low, right, high = boxes.pop(piece.id)
    reach = right + BESIDE_MM + (right - left)
    if any(
        right < box[2] and box[0] < reach and low < box[3] and box[1] < high
        for box in boxes.values()
    ):
        right += max(float(max(box[2] for box in boxes.values()) - right), 0.0) / 2
    return float(right) + BESIDE_MM / 2


class PairUp(Edit, frozen=True, kw_only=True):
    """Make a pair of two pieces that are mirror images, so that they stay in agreement."""

    piece: Annotated[Id, Meta(description="piece that stays and is cut as a pair")]
    other: Annotated[Id, Meta(description="its mirror image, which goes")]
    within_mm: Annotated[
        NotNegativeMm, Meta(description="how far their outlines may lie apart")
    ] = 0.5

    def change(self, project: Project) -> Project:
        """EditRefused where they are no mirror images, or seams or darts tell them apart."""
        piece, other = the_piece(project, self.piece), the_piece(project, self.other)
        _refuse_no_pair(piece, other)
        images = _images(piece, other, self.within_mm)
        _refuse_hung_lines(project, other)
        paired = replace(piece, cutting="pair")
        after = with_pieces(_with_seams_aimed(project, other, images), paired, removed=[other.id])
        after = _with_marks_met(after, images, self.within_mm)
        return _without_said_twice(after, paired, other)


def _refuse_no_pair(piece: Piece, other: Piece) -> None:
    for one in (piece, other):
        if one.cutting != "single":
            raise EditRefused(
                f"Piece “{one.name or one.id}” is not cut once; two single pieces make a pair.",
                culprit=one.id,
            )
    names = f"“{piece.name or piece.id}” and “{other.name or other.id}”"
    if piece is other:
        raise EditRefused("A piece is no pair with itself.", culprit=piece.id)
    if (piece.sheet, piece.quantity) != (other.sheet, other.quantity):
        raise EditRefused(
            f"{names} are cut from other sheets or not equally often.", culprit=other.id
        )
    if len(piece.cutouts) != len(other.cutouts):
        raise EditRefused(f"{names} have not the same cut-outs.", culprit=other.id)


# Which edge is the mirror image of which


@dataclass(frozen=True, eq=False, slots=True)
class _Image:
    """An edge of the piece that stays, as the mirror image of one that goes."""

    edge: Edge

    def spot(self, spot: Spot) -> Spot:
        """Where a mark of the edge that goes lies on the one that stays."""
        whole = length_mm(self.edge.curve)
        return Spot(self.edge.id, min(max(whole - spot.at_mm, 0.0), whole))


@dataclass(frozen=True, eq=False, slots=True)
class _Laying:
    """A mirror image laid on a drawn outline: turned about its middle and brought to another."""

    turn_rad: float
    middle: complex
    to: complex

    def gap_mm(self, image: Floats, drawn: Floats) -> float:
        """Greatest distance of matching places, complex mm, once it is laid."""
        turned = (image - self.middle) * cmath.exp(1j * self.turn_rad) + self.to
        return float(np.abs(turned - drawn).max())


def _images(piece: Piece, other: Piece, within_mm: float) -> dict[EdgeId, _Image]:
    """The image of each edge of the other piece; EditRefused where the two are none.

    Among all ways of laying one on the other the one that turns least is taken.
    """
    mirrored, drawn = _mirrored_places(piece.edges), _places(other.edges)
    if len(mirrored) != len(drawn):
        raise _no_images(piece, other, "not the same edges")
    laid = [(_laying(np.roll(mirrored, -n, axis=0), drawn), n) for n in range(len(drawn))]
    gaps = [one.gap_mm(np.roll(mirrored, -n, axis=0), drawn) for one, n in laid]
    near = [row for row, gap in zip(laid, gaps, strict=True) if gap <= within_mm]
    if not near:
        raise _no_images(piece, other, f"outlines that lie {min(gaps):.2f} mm apart")
    laying, shift = min(near, key=lambda row: abs(row[0].turn_rad))
    backwards = piece.edges[::-1]
    images = {
        edge.id: _Image(backwards[(index + shift) % len(backwards)])
        for index, edge in enumerate(other.edges)
    }
    return images | _cutout_images(piece, other, laying, within_mm)


def _no_images(piece: Piece, other: Piece, what: str) -> EditRefused:
    return EditRefused(
        f"“{piece.name or piece.id}” and “{other.name or other.id}” are no mirror images: they "
        f"have {what}.",
        culprit=other.id,
    )


def _cutout_images(
    piece: Piece, other: Piece, laying: _Laying, within_mm: float
) -> dict[EdgeId, _Image]:
    own = [edge for cutout in piece.cutouts for edge in cutout.edges]
    rows: dict[EdgeId, _Image] = {}
    for edge in (edge for cutout in other.cutouts for edge in cutout.edges):
        drawn = _places((edge,))[0]
        gaps = [laying.gap_mm(_mirrored_places((one,))[0], drawn) for one in own]
        best = min(range(len(gaps)), key=gaps.__getitem__, default=None)
        if best is None or gaps[best] > within_mm:
            raise _no_images(piece, other, "not the same cut-outs")
        rows[edge.id] = _Image(own[best])
    return rows


def _places(edges: Sequence[Edge]) -> Floats:
    """Points of edges, (n, SAMPLES) complex mm, evenly along each."""
    return _sampled([edge.curve for edge in edges])


def _mirrored_places(edges: Sequence[Edge]) -> Floats:
    """Points of the mirror image of edges in the order and the way in which it is walked."""
    return -_sampled([reversed_curve(edge.curve) for edge in edges[::-1]]).conj()


def _sampled(curves: Sequence[Curve]) -> Floats:
    points = np.array(
        [points_at(curve, np.linspace(0.0, length_mm(curve), SAMPLES)) for curve in curves]
    )
    return np.asarray(points[..., 0] + 1j * points[..., 1])


def _laying(mirrored: Floats, drawn: Floats) -> _Laying:
    """The best way of laying matching places on each other.

    Source: the best turn in the plane is the argument of the sum of products of complex numbers
    (Kendall, Shape manifolds, procrustean metrics and complex projective spaces, 1984).
    """
    middle, to = complex(mirrored.mean()), complex(drawn.mean())
    return _Laying(cmath.phase(complex(np.vdot(mirrored - middle, drawn - to))), middle, to)


# What hung on the piece that goes


def _refuse_hung_lines(project: Project, other: Piece) -> None:
    lines = {line.id for line in other.lines}
    for seam in seams_on(project, other):
        if any(ref.edge in lines for ref in (*seam.a, *seam.b)):
            raise EditRefused(
                f"Seam “{seam.name or seam.id}” hangs on a line of piece "
                f"“{other.name or other.id}”; take it off first.",
                culprit=seam.id,
            )


def _with_seams_aimed(project: Project, other: Piece, images: Mapping[EdgeId, _Image]) -> Project:
    """The project with `~` of the piece that stays wherever the other one was joined."""

    def aimed(run: Run) -> Run:
        return tuple(
            Ref(images[ref.edge].edge.id, backward=not ref.backward, mirrored=True)
            if ref.edge in images
            else ref
            for ref in run
        )

    openings = {
        one.id: replace(one, edges=aimed(one.edges))
        for one in project.openings.values()
        if any(ref.edge in images for ref in one.edges)
    }
    seams = [replace(seam, a=aimed(seam.a), b=aimed(seam.b)) for seam in seams_on(project, other)]
    after = replace(project, openings=project.openings.with_rows(openings)) if openings else project
    return with_seams(after, *seams)


def _without_said_twice(project: Project, paired: Piece, other: Piece) -> Project:
    """The project without seams that are the mirror image of another one, which stands for both.

    EditRefused where a dart of the piece that went is none of the one that stays.
    """
    gone: dict[str, Seam] = {}
    seams = seams_on(project, paired)
    for seam in seams:
        if seam.id in gone or not has_mirror(project, seam):
            continue
        gone |= {
            twin.id: twin
            for twin in seams
            if twin is not seam and twin.is_dart == seam.is_dart and _is_image(twin, seam)
        }
    for seam in seams:
        lost = seam.apex is not None and seam.apex not in project.owners
        if lost and seam.id not in gone:
            raise EditRefused(
                f"Dart “{seam.name or seam.id}” of piece “{other.name or other.id}” is no dart in "
                f"piece “{paired.name or paired.id}”.",
                culprit=seam.id,
            )
    return with_seams(project, removed=list(gone)) if gone else project


def _is_image(twin: Seam, seam: Seam) -> bool:
    a, b = flipped(seam.a), flipped(seam.b)
    sides = {twin.a, twin.b}
    return sides in ({a, b}, {reversed_run(a), reversed_run(b)})


def _with_marks_met(project: Project, images: Mapping[EdgeId, _Image], within_mm: float) -> Project:
    """The project with marks of the piece that went on the one that stays, each once."""
    pins = {
        pin.id: replace(
            pin,
            anchors=tuple(
                images[one.edge].spot(one) if isinstance(one, Spot) and one.edge in images else one
                for one in pin.anchors
            ),
        )
        for pin in project.pins.values()
        if any(isinstance(one, Spot) and one.edge in images for one in pin.anchors)
    }
    return replace(
        project,
        notches=_met(project, project.notches, images, within_mm),
        holes=_met(project, project.holes, images, within_mm),
        pins=project.pins.with_rows(pins) if pins else project.pins,
    )


def _met(
    project: Project,
    table: Table[Mark],
    images: Mapping[EdgeId, _Image],
    within_mm: float,
) -> Table[Mark]:
    standing = [
        spot
        for mark in table.values()
        for spot in (mark.at, mark.mate)
        if spot is not None and spot.edge not in images
    ]

    def is_there(spot: Spot) -> bool:
        return any(
            one.edge == spot.edge and abs(one.at_mm - spot.at_mm) <= within_mm for one in standing
        )

    rows: dict[str, Mark] = {}
    gone: list[str] = []
    for mark in table.values():
        spots = [mark.at] if mark.mate is None else [mark.at, mark.mate]
        if not any(spot.edge in images for spot in spots):
            continue
        kept = [_carried(spot, images, is_there) for spot in spots]
        left = [(old, new) for old, new in zip(spots, kept, strict=True) if new is not None]
        if not left:
            gone.append(mark.id)
        elif len(left) == len(spots):
            rows[mark.id] = replace(mark, at=left[0][1], mate=left[1][1] if left[1:] else None)
        else:
            rows[mark.id] = replace(_alone(project, mark, left[0][0]), at=left[0][1], mate=None)
    return table.with_rows(rows, gone) if rows or gone else table


def _carried(
    spot: Spot, images: Mapping[EdgeId, _Image], is_there: Callable[[Spot], bool]
) -> Spot | None:
    """Where a mark's spot is now; None where the piece that stays has a mark there already."""
    if spot.edge not in images:
        return spot
    image = images[spot.edge].spot(spot)
    return None if is_there(image) else image


def _alone(project: Project, mark: Mark, spot: Spot) -> Mark:
    if isinstance(mark, Hole) and spot.edge in project.owners:
        return alone_on(project, mark, spot.edge)
    return replace(mark, mate=None)
