"""Join edges in a seam, set what a seam is, and take it apart."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Annotated, Any

from msgspec import UNSET, Meta, UnsetType

from wedgework.edits.base import Edit, Id, Mm, Name, NotNegativeMm, PositiveMm
from wedgework.edits.places import Naming
from wedgework.pattern.changes import with_seams
from wedgework.pattern.document import (
    EdgeId,
    Hole,
    Join,
    Notch,
    Piece,
    Project,
    Ref,
    Run,
    Seam,
    Side,
    Spot,
    parse_ref,
)
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.instances import flipped, has_mirror
from wedgework.pattern.lookup import Mark, edge_in, holes_by_edge, piece_of, seams_of, the_seam
from wedgework.pattern.rows import alone_on, middle_of_lap_mm, seam_of_hole
from wedgework.pattern.table import Table

RefText = Annotated[
    str, Meta(min_length=1, description="an edge; `-` where against its direction, then `~` mirror")
]


class JoinEdges(Edit, frozen=True, kw_only=True, tag="join"):
    """Join one run of edges to another in a seam: lapped, lap 8, over side `a` at first."""

    name: Annotated[Name, Meta(description="what the seam is called")]
    a: Annotated[tuple[RefText, ...], Meta(min_length=1, description="run A, as it is walked")]
    b: Annotated[
        tuple[RefText, ...], Meta(min_length=1, description="run B, walked from the same end")
    ]
    wanted_mm: Annotated[Mm, Meta(description="how much longer A is meant to be than B")] = 0.0
    allowed_mm: Annotated[NotNegativeMm, Meta(description="how far from that still agrees")] = 0.5
    laid_on: Annotated[
        bool, Meta(description="no seam of the skin: a facing, a tube, a hung skirt")
    ] = False

    def change(self, project: Project) -> Project:
        """EditRefused for a ref that is not there, that is taken, or lies on the wrong side."""
        seam = Seam(
            id=Naming(project).fresh(id_from(self.name, "seam")),
            name=self.name,
            a=tuple(parse_ref(text) for text in self.a),
            b=tuple(parse_ref(text) for text in self.b),
            wanted_mm=self.wanted_mm,
            allowed_mm=self.allowed_mm,
            laid_on=self.laid_on,
        )
        for run in (seam.a, seam.b):
            _refuse_bad_run(project, run, laid_on=self.laid_on)
        _refuse_said_twice(seam)
        if not seam.laid_on:
            _refuse_taken(project, seam)
        return with_seams(project, seam)


def id_from(name: str, otherwise: str) -> str:
    """An id made of a name: no blanks, no leading `-` or `~`; `otherwise` where nothing is left."""
    return re.sub(r"\s+", "_", name.strip()).lstrip("-~") or otherwise


def _refuse_bad_run(project: Project, run: Run, *, laid_on: bool) -> None:
    sides = set()
    for ref in run:
        piece = piece_of(project, ref.edge)
        if edge_in(piece, ref.edge) is not None:
            sides.add(ref.on_left)
        elif not laid_on or not any(line.id == ref.edge for line in piece.lines):
            raise EditRefused(_no_edge_words(piece, ref), culprit=ref.edge)
        _refuse_bad_ref(piece, ref)
    if len(sides) > 1:
        raise EditRefused(
            f"The run {' '.join(map(str, run))} has its pieces on both sides: turn one of its "
            "edges round (put “-” before it, or take it away).",
            culprit=run[0].edge,
        )


def _no_edge_words(piece: Piece, ref: Ref) -> str:
    if any(line.id == ref.edge for line in piece.lines):
        return f"“{ref.edge}” is an internal line; only what is laid on is joined to a line."
    return f"“{ref.edge}” is no edge."


def _refuse_bad_ref(piece: Piece, ref: Ref) -> None:
    if ref.mirrored and piece.cutting == "single":
        raise EditRefused(
            f"Piece “{piece.name or piece.id}” is cut once and has no mirror image, so there is "
            f"no “{ref}”.",
            culprit=ref.edge,
        )
    if piece.fold_edge == ref.edge:
        raise EditRefused(
            f"“{ref.edge}” is the fold of piece “{piece.name or piece.id}”; it is not joined.",
            culprit=ref.edge,
        )


def _refuse_said_twice(seam: Seam) -> None:
    seen: set[tuple[EdgeId, bool]] = set()
    for ref in (*seam.a, *seam.b):
        if (ref.edge, ref.mirrored) in seen:
            raise EditRefused(f"“{ref.edge}” stands twice in one seam.", culprit=ref.edge)
        seen.add((ref.edge, ref.mirrored))


def _refuse_taken(project: Project, seam: Seam) -> None:
    wanted = set(_made_sides(project, seam))
    others = {
        other.id: other for ref in (*seam.a, *seam.b) for other in seams_of(project, ref.edge)
    }
    for other in others.values():
        if other.laid_on:
            continue
        for edge, _ in wanted.intersection(_made_sides(project, other)):
            raise EditRefused(
                f"“{edge}” is joined already, in seam “{other.name or other.id}”: an edge has one "
                "seam of the skin.",
                culprit=edge,
            )


def _made_sides(project: Project, seam: Seam) -> Iterator[tuple[EdgeId, bool]]:
    """(edge, mirrored) that a seam takes, with its mirror image where it stands for that too."""
    refs = (*seam.a, *seam.b)
    both = (*refs, *flipped(refs)) if has_mirror(project, seam) else refs
    yield from ((ref.edge, ref.mirrored) for ref in both)


class SetSeam(Edit, frozen=True, kw_only=True):
    """Set what a seam is: its intended difference, what is allowed, how it is made."""

    seam: Annotated[Id, Meta(description="seam or dart")]
    wanted_mm: Annotated[
        Mm | UnsetType, Meta(description="how much longer A is meant to be than B")
    ] = UNSET
    allowed_mm: Annotated[
        NotNegativeMm | UnsetType, Meta(description="how far from that still agrees")
    ] = UNSET
    join: Annotated[Join | UnsetType, Meta(description="how it is made")] = UNSET
    lap_mm: Annotated[NotNegativeMm | UnsetType, Meta(description="overlap of a lapped seam")] = (
        UNSET
    )
    over: Annotated[Side | UnsetType, Meta(description="side that lies on top")] = UNSET
    tape_mm: Annotated[
        PositiveMm | UnsetType, Meta(description="width of the tape behind a butted seam")
    ] = UNSET
    binding_mm: Annotated[
        PositiveMm | UnsetType, Meta(description="depth that the strip of a bound seam covers")
    ] = UNSET

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such seam.

        Holes in the middle of the lap stay in its middle.
        """
        seam = the_seam(project, self.seam)
        names = ("wanted_mm", "allowed_mm", "join", "lap_mm", "over", "tape_mm", "binding_mm")
        said: dict[str, Any] = {name: getattr(self, name) for name in names}
        changed = {
            name: value
            for name, value in said.items()
            if value is not UNSET and value != getattr(seam, name)
        }
        if not changed:
            return project
        new = replace(seam, **changed)
        return with_seams(_with_middle_holes(project, seam, new), new)


def _with_middle_holes(project: Project, old: Seam, new: Seam) -> Project:
    """The project with holes that lay in the middle of the old lap in that of the new one."""
    before_mm, after_mm = middle_of_lap_mm(old), middle_of_lap_mm(new)
    if before_mm == after_mm or new.join != "lapped":
        return project
    by_edge = holes_by_edge(project.holes)
    on_seam = {hole.id: hole for ref in (*old.a, *old.b) for hole in by_edge.get(ref.edge, ())}
    rows = {
        key: replace(hole, inset_mm=after_mm)
        for key, hole in on_seam.items()
        if hole.through and hole.inset_mm == before_mm and seam_of_hole(project, hole) is old
    }
    return replace(project, holes=project.holes.with_rows(rows)) if rows else project


class Unjoin(Edit, frozen=True, kw_only=True):
    """Take a seam apart; its pieces and marks stay, each side with its own."""

    seam: Annotated[Id, Meta(description="seam or dart that ends")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such seam."""
        seam = the_seam(project, self.seam)
        return without_seam(project, seam)


def without_seam(project: Project, seam: Seam) -> Project:
    """The project without a seam; marks that stood on both of its sides become one on each."""
    edges = {ref.edge for ref in seam.a}, {ref.edge for ref in seam.b}
    naming = Naming(project)
    after = with_seams(project, removed=[seam.id])
    notches = _parted(project, project.notches, edges, naming)
    holes = _parted(project, project.holes, edges, naming)
    return replace(after, notches=notches, holes=holes)


def _parted(
    project: Project, table: Table[Mark], sides: tuple[set[EdgeId], set[EdgeId]], naming: Naming
) -> Table[Mark]:
    rows: dict[str, Mark] = {}
    for mark in table.values():
        if mark.mate is None or not _stands_on_both(mark, sides):
            continue
        rows[mark.id] = _alone(project, mark, mark.at)
        name = naming.fresh(f"{mark.id}.b")
        rows[name] = replace(_alone(project, mark, mark.mate), id=name, at=mark.mate)
    return table.with_rows(rows) if rows else table


def _alone(project: Project, mark: Mark, spot: Spot) -> Mark:
    if isinstance(mark, Hole):
        return alone_on(project, mark, spot.edge)
    return replace(mark, mate=None)


def _stands_on_both(mark: Notch | Hole, sides: tuple[set[EdgeId], set[EdgeId]]) -> bool:
    a, b = sides
    if mark.mate is None:
        return False
    one, other = mark.at.edge, mark.mate.edge
    return (one in a and other in b) or (one in b and other in a)
