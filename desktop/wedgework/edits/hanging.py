"""What hangs on drafted pieces while they are made anew: seams, marks, holds, pins and openings."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Protocol, TypeVar

from wedgework.geometry.length import length_mm
from wedgework.pattern.changes import has_id, with_pieces
from wedgework.pattern.document import (
    Hold,
    Hole,
    Notch,
    Opening,
    Piece,
    Pin,
    Project,
    Recipe,
    Ref,
    Seam,
    Spot,
)
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.table import Table


class _Named(Protocol):
    @property
    def id(self) -> str: ...


Row = TypeVar("Row", bound=_Named)
OWN_JOIN = ".join"
"""How ids of seams end by which a draft joins its own strips or panels."""

Mark = TypeVar("Mark", Notch, Hole)


@dataclass(frozen=True, eq=False, kw_only=True)
class Kept:
    """What hung on drafted pieces when they were taken out, and how long their edges were."""

    seams: tuple[Seam, ...]
    notches: tuple[Notch, ...]
    holes: tuple[Hole, ...]
    holds: tuple[Hold, ...]
    pins: tuple[Pin, ...]
    openings: tuple[Opening, ...]
    lengths_mm: Mapping[str, float]


def drafted_together(project: Project, recipe: Recipe) -> tuple[Piece, ...]:
    """The pieces of one draft, and what they have been cut into."""
    return tuple(
        piece
        for piece in project.pieces.values()
        if piece.recipe is not None and piece.recipe.group == recipe.group
    )


def taken_out(project: Project, recipe: Recipe) -> tuple[Project, Kept]:
    """The project without the pieces of a draft and all that hangs on them, and that."""
    pieces = drafted_together(project, recipe)
    kept = _hanging_on(project, pieces)
    bare = with_pieces(project, removed=[piece.id for piece in pieces])
    levels = _levels_of(pieces) - _levels_of(bare.pieces.values())
    return replace(
        bare,
        seams=_without(bare.seams, kept.seams),
        notches=_without(bare.notches, kept.notches),
        holes=_without(bare.holes, kept.holes),
        holds=_without(bare.holds, kept.holds),
        pins=_without(bare.pins, kept.pins),
        openings=_without(bare.openings, kept.openings),
        levels=bare.levels.with_rows({}, sorted(levels & {*bare.levels})),
    ), kept


def _hanging_on(project: Project, pieces: Iterable[Piece]) -> Kept:
    edges = [edge for piece in pieces for edge in piece.all_edges()]
    own = {one for piece in pieces for one in piece.own_ids()}
    seams = [one for one in project.seams.values() if _walks(own, (*one.a, *one.b))]
    held = {seam.id for seam in seams}
    return Kept(
        seams=tuple(seams),
        notches=tuple(one for one in project.notches.values() if _lies_on(one, own)),
        holes=tuple(one for one in project.holes.values() if _lies_on(one, own)),
        holds=tuple(one for one in project.holds.values() if one.seam in held),
        pins=tuple(one for one in project.pins.values() if own & {*_anchored(one)}),
        openings=tuple(one for one in project.openings.values() if _walks(own, one.edges)),
        lengths_mm={edge.id: length_mm(edge.curve) for edge in edges},
    )


def _levels_of(pieces: Iterable[Piece]) -> set[str]:
    return {line.level for piece in pieces for line in piece.lines if line.level is not None}


def _walks(edges: Container[str], refs: Iterable[Ref]) -> bool:
    return any(ref.edge in edges for ref in refs)


def _lies_on(mark: Notch | Hole, edges: Container[str]) -> bool:
    return any(spot is not None and spot.edge in edges for spot in (mark.at, mark.mate))


def _anchored(pin: Pin) -> list[str]:
    return [
        one.edge if isinstance(one, Spot) else one
        for one in pin.anchors
        if not isinstance(one, tuple)
    ]


def _without(table: Table[Row], rows: Iterable[Row]) -> Table[Row]:
    gone = [row.id for row in rows]
    return table.with_rows({}, gone) if gone else table


def with_kept(project: Project, kept: Kept) -> Project:
    """The project with what hung on the pieces put back, so far as its edges are there."""
    seams = [one for one in kept.seams if _has(project, [r.edge for r in (*one.a, *one.b)])]
    project = replace(project, seams=_with(project.seams, seams))
    pins = [one for one in kept.pins if _has(project, _anchored(one))]
    openings = [one for one in kept.openings if _has(project, [ref.edge for ref in one.edges])]
    return replace(
        project,
        notches=_with(
            project.notches, _placed(project, _not_in(project.notches, kept.notches), kept)
        ),
        holes=_with(project.holes, _placed(project, _not_in(project.holes, kept.holes), kept)),
        holds=_with(project.holds, [one for one in kept.holds if one.seam in project.seams]),
        pins=_with(project.pins, pins),
        openings=_with(project.openings, openings),
    )


def lost_in(project: Project, kept: Kept) -> tuple[str, ...]:
    """A sentence for each seam and mark that hung on the pieces and is no longer there."""
    marks: tuple[Notch | Hole, ...] = (*kept.notches, *kept.holes)
    seams = (one for one in kept.seams if one.id not in project.seams and not _is_own(one, kept))
    gone = (one for one in marks if one.id not in project.notches and one.id not in project.holes)
    return (
        *(f"Seam “{seam.name or seam.id}” has lost an edge." for seam in seams),
        *(f"Mark {mark.id} has lost its edge." for mark in gone),
    )


def _is_own(seam: Seam, kept: Kept) -> bool:
    """Whether a draft made the seam itself, between its own pieces: then it makes what it needs."""
    edges = [ref.edge for ref in (*seam.a, *seam.b)]
    return seam.id.endswith(OWN_JOIN) and all(edge in kept.lengths_mm for edge in edges)


def _not_in(table: Table[Row], rows: Iterable[Row]) -> list[Row]:
    """Rows that a draft has not just made anew."""
    return [row for row in rows if row.id not in table]


def _with(table: Table[Row], rows: Iterable[Row]) -> Table[Row]:
    new = {row.id: row for row in rows}
    return table.with_rows(new) if new else table


def _has(project: Project, own: Iterable[str]) -> bool:
    return all(has_id(project, one) for one in own)


def _placed(project: Project, marks: Iterable[Mark], kept: Kept) -> list[Mark]:
    """Marks whose edges are there, each at the same fraction of its edge."""

    def there(spot: Spot) -> Spot:
        was_mm = kept.lengths_mm.get(spot.edge)
        if not was_mm:
            return spot
        now_mm = length_mm(the_edge(project, spot.edge).curve)
        return Spot(spot.edge, spot.at_mm / was_mm * now_mm)

    lying = (m for m in marks if _has(project, [s.edge for s in (m.at, m.mate) if s is not None]))
    return [replace(m, at=there(m.at), mate=m.mate and there(m.mate)) for m in lying]
