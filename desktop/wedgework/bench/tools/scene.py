"""What a tool sees: the kept project, what is chosen, and what draws a point in."""

from __future__ import annotations

from dataclasses import dataclass, field

from wedgework.bench.gestures import PICK_PX, Mm2, Pointer
from wedgework.bench.picking import (
    Hit,
    corners_within,
    nearest_edge,
    piece_under,
    pieces_within,
    under,
)
from wedgework.bench.snapping import Snapped, Snapping, snapped
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.lookup import darts_by_apex, edge_in, piece_of, seams_of
from wedgework.units.scale import Unit
from wedgework.units.shown import with_unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """The kept project (never the preview), ids that are chosen, and the snapping of the view.

    Lengths are said in `unit`.
    """

    project: Project
    chosen: tuple[str, ...] = ()
    snapping: Snapping | None = field(default_factory=Snapping)
    unit: Unit = Unit.MM

    def said(self, length_mm: float, decimals: int = 1) -> str:
        """A length as a hint says it, with its unit."""
        return with_unit(length_mm, self.unit, decimals)

    def under(self, pointer: Pointer) -> tuple[Hit, ...]:
        """All that lies under the pointer, in the order in which presses take it."""
        return under(self.project, pointer.at_mm, PICK_PX * pointer.px_mm, self.chosen)

    def edge_under(self, pointer: Pointer, piece: str | None = None) -> Hit | None:
        """The edge under the pointer, of one piece if it is named."""
        return nearest_edge(self.project, pointer.at_mm, PICK_PX * pointer.px_mm, piece)

    def piece_under(self, pointer: Pointer) -> Hit | None:
        """The piece under the pointer."""
        return piece_under(self.project, pointer.at_mm)

    def pieces_within(self, one_mm: Mm2, other_mm: Mm2) -> tuple[str, ...]:
        """Ids of the pieces that lie wholly in the rectangle between two points."""
        return pieces_within(self.project, one_mm, other_mm)

    def corners_within(self, one_mm: Mm2, other_mm: Mm2) -> tuple[str, ...]:
        """Ids of the corners that lie in the rectangle between two points."""
        return corners_within(self.project, one_mm, other_mm)

    def snapped(
        self, at_mm: Mm2, pointer: Pointer, without: frozenset[str] = frozenset()
    ) -> Snapped:
        """Where a point comes to rest; Alt, or snapping put off, leaves it where it is."""
        if pointer.alt or self.snapping is None:
            return Snapped(at_mm)
        return snapped(self.project, at_mm, pointer.px_mm, self.snapping, without)

    def piece(self, own: str) -> Piece:
        """The piece that holds an edge or a corner."""
        return piece_of(self.project, own)

    def dart_ending_at(self, corner: str) -> str | None:
        """Id of the dart whose apex a corner is."""
        return darts_by_apex(self.project.seams).get(corner)

    def called(self, hit: Hit) -> str:
        """What a thing is called in the status line: `edge side of Front`, `corner c2 of Front`."""
        if hit.kind == "pin":
            pin = self.project.pins[hit.id]
            return f"pinned measure {pin.name or pin.id}"
        piece = self.project.pieces[hit.piece]
        of = piece.name or piece.id
        if hit.kind == "piece":
            return f"piece {of}"
        if hit.kind in {"edge", "handle"}:
            edge = edge_in(piece, hit.id)
            word = "a handle of edge" if hit.kind == "handle" else "edge"
            return f"{word} {(edge.name if edge else '') or hit.id} of {of}"
        return f"{hit.kind} {hit.id} of {of}"

    def seam_names(self, edge: str) -> str:
        """The seams that an edge lies in, by name; empty where it lies in none."""
        return ", ".join(seam.name or seam.id for seam in seams_of(self.project, edge))
