"""A piece a second time, as it is or as its mirror image: outline, drawings, seams and marks."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import replace
from typing import Final

from wedgework.edits.move import moved_label, stitched, stored_point
from wedgework.edits.places import Naming
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import Affine, mirrored_walk, moved
from wedgework.pattern.document import (
    Cutout,
    EdgeId,
    Hole,
    Label,
    Piece,
    Project,
    Ref,
    Ring,
    Run,
    Seam,
    Spot,
)
from wedgework.pattern.instances import flipped, has_mirror, is_own_mirror
from wedgework.pattern.lookup import Mark, seams_of
from wedgework.pattern.rows import alone_on
from wedgework.pattern.table import Table

LETTER_RATIO: Final = 0.55
"""Width of a letter over its height, about: enough to keep a mirrored label where it was."""


def twin_names(
    piece: Piece, naming: Naming, suffix: str, without: Collection[str] = ()
) -> dict[str, str]:
    """The id of the copy of everything in a piece, but for what is said to have none."""
    return {own: naming.fresh(f"{own}.{suffix}") for own in piece.own_ids() if own not in without}


def copied_piece(piece: Piece, motion: Affine, names: Mapping[str, str]) -> Piece:
    """The piece under a motion, a mirror image or not, with other ids in it; its own id stays.

    An id that `names` does not hold stays as well.
    """
    fold = piece.fold_edge
    return replace(
        piece,
        edges=copied_ring(piece.edges, motion, names),
        lines=tuple(
            replace(line, id=names.get(line.id, line.id), curve=moved(line.curve, motion))
            for line in piece.lines
        ),
        cutouts=tuple(copied_cutout(cutout, motion, names) for cutout in piece.cutouts),
        labels=tuple(
            replace(_moved_label(label, motion), id=names.get(label.id, label.id))
            for label in piece.labels
        ),
        fold_edge=None if fold is None else names.get(fold, fold),
    )


def copied_ring(ring: Ring, motion: Affine, names: Mapping[str, str]) -> Ring:
    """A closed ring under a motion; that of a mirror image is walked the other way round."""
    if motion.determinant > 0:
        rows = [
            replace(
                edge,
                id=names.get(edge.id, edge.id),
                corner=names.get(edge.corner, edge.corner),
                curve=moved(edge.curve, motion),
            )
            for edge in ring
        ]
        return stitched(rows)
    corners = [edge.corner for edge in (*ring[1:], ring[0])]
    rows = [
        replace(
            edge,
            id=names.get(edge.id, edge.id),
            corner=names.get(corner, corner),
            curve=mirrored_walk(edge.curve, motion),
        )
        for edge, corner in zip(ring, corners, strict=True)
    ]
    return stitched(rows[::-1])


def copied_cutout(cutout: Cutout, motion: Affine, names: Mapping[str, str]) -> Cutout:
    """A cut-out under a motion, with other ids."""
    own = names.get(cutout.id, cutout.id)
    return Cutout(id=own, edges=copied_ring(cutout.edges, motion, names))


def _moved_label(label: Label, motion: Affine) -> Label:
    """The label under a motion; one in a mirror image stays readable, about where it was."""
    if motion.determinant > 0:
        return moved_label(label, motion)
    width_mm = LETTER_RATIO * label.height_mm * max(map(len, label.text.splitlines() or [""]))
    along = motion.linear @ (math.cos(label.angle_rad), math.sin(label.angle_rad))
    start = motion.points(label.at_mm) + width_mm * along
    angle_rad = math.atan2(-along[1], -along[0])
    return replace(label, at_mm=stored_point(start), angle_rad=angle_rad)


# Seams


def mirror_seams(
    project: Project, piece: Piece, twins: Mapping[str, str], *, stood_for_both: bool
) -> Iterator[Seam]:
    """Seams of a piece that are said otherwise now that its mirror image is drawn, and new ones.

    A piece that `stood_for_both` was its mirror image too: `~` of it now is the twin, and a seam
    that stood for its mirror image is said twice. A seam of the piece with itself, a dart, is
    there in both.
    """
    naming = Naming(project)
    own = {edge.id for edge in piece.all_edges()} | {line.id for line in piece.lines}
    for seam in seams_on(project, piece):
        refs = (*seam.a, *seam.b)
        said = _said(seam, twins) if stood_for_both else seam
        if said is not seam:
            yield said
        inside = all(ref.edge in own and not ref.mirrored for ref in refs)
        both = stood_for_both and has_mirror(project, seam) and not is_own_mirror(seam)
        if inside or both:
            yield _mirrored(seam, twins, naming.fresh(f"{seam.id}.m"))


def inner_seams(
    project: Project, piece: Piece, names: Mapping[str, str], naming: Naming, suffix: str
) -> Iterator[Seam]:
    """Copies of the seams that join a piece, unmirrored, to nothing but itself: its darts."""
    for seam in seams_on(project, piece):
        refs = (*seam.a, *seam.b)
        if all(ref.edge in names for ref in refs):
            a, b = (
                tuple(replace(ref, edge=names[ref.edge]) for ref in run) for run in (seam.a, seam.b)
            )
            yield replace(
                seam,
                id=naming.fresh(f"{seam.id}.{suffix}"),
                a=a,
                b=b,
                apex=None if seam.apex is None else names[seam.apex],
                tip=None if seam.tip is None else names[seam.tip],
            )


def seams_on(project: Project, piece: Piece) -> tuple[Seam, ...]:
    """Seams and darts that walk an edge or a line of a piece, each once."""
    own = (*(edge.id for edge in piece.all_edges()), *(line.id for line in piece.lines))
    return tuple({seam.id: seam for one in own for seam in seams_of(project, one)}.values())


def with_refs_turned(seam: Seam, own: Collection[str]) -> Seam:
    """The seam where edges of `own` are walked against their direction instead, or along it."""
    a, b = (
        tuple(replace(ref, backward=not ref.backward) if ref.edge in own else ref for ref in run)
        for run in (seam.a, seam.b)
    )
    return replace(seam, a=a, b=b)


def _said(seam: Seam, twins: Mapping[str, str]) -> Seam:
    a, b = _on_twin(seam.a, twins), _on_twin(seam.b, twins)
    return seam if (a, b) == (seam.a, seam.b) else replace(seam, a=a, b=b)


def _mirrored(seam: Seam, twins: Mapping[str, str], own: str) -> Seam:
    a, b = (_on_twin(flipped(run), twins) for run in (seam.a, seam.b))
    return replace(
        seam,
        id=own,
        name=f"{seam.name or seam.id} mirrored",
        a=a,
        b=b,
        apex=None if seam.apex is None else twins[seam.apex],
        tip=None if seam.tip is None else twins[seam.tip],
    )


def _on_twin(run: Run, twins: Mapping[str, str]) -> Run:
    """A run where `~` of the piece is its twin, which is walked the other way round."""
    return tuple(
        Ref(twins[ref.edge], backward=not ref.backward)
        if ref.mirrored and ref.edge in twins
        else ref
        for ref in run
    )


# Marks


def with_twin_marks(
    project: Project, piece: Piece, names: Mapping[str, str], suffix: str, *, mirrored: bool
) -> Project:
    """The project with the notches and holes of a piece on its copy too.

    A mate on another piece has its mark already; said again, that piece would list it twice.
    """
    twin = _spot_mapping(piece, names, mirrored=mirrored)
    naming = Naming(project)
    notches = _twin_marks(project, project.notches, twin, naming, suffix)
    holes = _twin_marks(project, project.holes, twin, naming, suffix)
    if notches is project.notches and holes is project.holes:
        return project
    return replace(project, notches=notches, holes=holes)


def _spot_mapping(
    piece: Piece, names: Mapping[str, str], *, mirrored: bool
) -> Callable[[Spot], Spot | None]:
    lengths: Mapping[EdgeId, float] = {
        edge.id: length_mm(edge.curve) for edge in piece.all_edges() if edge.id in names
    }

    def twin(spot: Spot) -> Spot | None:
        if spot.edge not in lengths:
            return None
        at_mm = lengths[spot.edge] - spot.at_mm if mirrored else spot.at_mm
        return Spot(names[spot.edge], at_mm)

    return twin


def _twin_marks(
    project: Project,
    table: Table[Mark],
    twin: Callable[[Spot], Spot | None],
    naming: Naming,
    suffix: str,
) -> Table[Mark]:
    rows: dict[str, Mark] = {}
    for mark in table.values():
        spots = [mark.at] if mark.mate is None else [mark.at, mark.mate]
        own = [(spot, there) for spot in spots if (there := twin(spot)) is not None]
        if own:
            name = naming.fresh(f"{mark.id}.{suffix}")
            mate = own[1][1] if len(own) > 1 else None
            alone = mark if len(own) == len(spots) else _alone(project, mark, own[0][0].edge)
            rows[name] = replace(_in_row(alone, suffix), id=name, at=own[0][1], mate=mate)
    return table.with_rows(rows) if rows else table


def _alone(project: Project, mark: Mark, edge: EdgeId) -> Mark:
    return alone_on(project, mark, edge) if isinstance(mark, Hole) else replace(mark, mate=None)


def _in_row(mark: Mark, suffix: str) -> Mark:
    """The mark as one of the copy: a hole of a row stands there in a row of its own."""
    if isinstance(mark, Hole) and mark.row is not None:
        return replace(mark, row=f"{mark.row}.{suffix}")
    return mark
