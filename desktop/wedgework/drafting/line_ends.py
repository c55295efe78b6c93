"""Where a line of the garment ends: whether it closes in itself, or in its mirror image."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from wedgework.drafting.lines import GarmentLine
from wedgework.drafting.strips import Fold, cutting_along
from wedgework.pattern.boundary import Boundary, Side
from wedgework.pattern.document import Cutting, Project
from wedgework.pattern.instances import made_seams
from wedgework.pattern.lookup import edge_in


@dataclass(frozen=True, slots=True, kw_only=True)
class LineEnds:
    """What a strip along a line is at its ends.

    `cutting` and `fold` say how it is cut. `is_ring`: its ends are joined to each other, or, where
    it lies on the fold, its one end to its own mirror image. `closing_rad` is what the line turns
    by where it closes in itself.
    """

    cutting: Cutting
    fold: Fold
    is_ring: bool
    closing_rad: float = 0.0

    def steps(self, along_mm: float) -> Iterator[str]:
        """How a strip along so long a line is cut and closed, a line each."""
        if self.fold:
            yield f"cut on the fold: unfolded it is {2.0 * along_mm:.1f} mm long"
        if self.is_ring:
            yield "the opening is closed all round: the ends of the strip are joined"

    @classmethod
    def free(cls, cutting: Cutting) -> LineEnds:
        """Ends that are joined to nothing."""
        return cls(cutting=cutting, fold=None, is_ring=False)


def line_ends(project: Project, line: GarmentLine) -> LineEnds:
    """What a strip along the line is at its ends, on the garment as it is joined."""
    plain = LineEnds(cutting=cutting_along(line)[0], fold=cutting_along(line)[1], is_ring=False)
    if any(edge_in(one.piece, one.edge.id) is None for one in line.run.stretches):
        return plain
    boundary = Boundary(project)
    closed = {one.seam for one in project.closings.values()}
    boundary.join(
        made for made in made_seams(project) if not made.seam.laid_on and made.seam.id not in closed
    )
    sides = [Side(ref.edge, ref.mirrored) for ref in line.refs]
    if not all(map(boundary.is_open, sides)):
        return plain
    found = boundary.after(sides[-1])
    if found is not None and found[0] == sides[0]:
        closing = math.pi - found[1].angle_rad
        return LineEnds(cutting=plain.cutting, fold=None, is_ring=True, closing_rad=closing)
    if plain.cutting == "single":
        return plain
    return _on_its_mirror(boundary, sides, plain)


def _on_its_mirror(boundary: Boundary, sides: list[Side], plain: LineEnds) -> LineEnds:
    """A half line that goes on in its own mirror image at one end, or at both."""
    last, first = boundary.after(sides[-1]), boundary.after(sides[0].twin)
    at_last = last is not None and last[0] == sides[-1].twin
    at_first = first is not None and first[0] == sides[0]
    if at_last or at_first:
        fold: Fold = plain.fold or ("last" if at_last else "first")
        return LineEnds(cutting="fold", fold=fold, is_ring=at_last and at_first)
    return plain
