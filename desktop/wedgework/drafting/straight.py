"""Straight strips along a line of the garment: cuffs and bindings, which no line is traced for."""

from __future__ import annotations

from dataclasses import dataclass, replace

from wedgework.drafting.line_ends import LineEnds
from wedgework.drafting.lines import GarmentLine
from wedgework.drafting.strips import rectangle
from wedgework.geometry.curve import line
from wedgework.pattern.document import Line, LineKind, Piece, Ref, Seam


@dataclass(frozen=True, eq=False, kw_only=True)
class StraightStrip:
    """A strip as long as a line, and a little longer at its free end; it lies along x.

    It is walked against x: the line's first end is its right one, `last`.
    """

    name: str
    along: GarmentLine
    ends: LineEnds
    width_mm: float
    longer_mm: float = 0.0

    @property
    def length_mm(self) -> float:
        """Length as it is drawn: half of what is added where the other half is the mirror image."""
        return self.along.length_mm + self._longer_mm

    @property
    def _longer_mm(self) -> float:
        return self.longer_mm / 2.0 if self.ends.cutting == "fold" else self.longer_mm

    @property
    def _fold(self) -> str | None:
        """Its own edge that lies on the fold."""
        own = {"first": "last", "last": "first", None: None}[self.ends.fold]
        return None if own is None else f"{self.name}.{own}"

    def piece(self, *lines: Line) -> Piece:
        """The strip, cut as its line is."""
        plain = rectangle(self.name, self.length_mm, self.width_mm)
        edges = tuple(
            replace(one, finish="fold") if one.id == self._fold else one for one in plain.edges
        )
        return replace(
            plain, edges=edges, cutting=self.ends.cutting, fold_edge=self._fold, lines=lines
        )

    def line_at(self, role: str, height_mm: float, kind: LineKind, *, whole: bool) -> Line:
        """A line along it so high; over the garment's line alone where it is not the whole."""
        start = 0.0 if whole or self.ends.fold != "first" else self._longer_mm
        end = self.length_mm if whole else start + self.along.length_mm
        curve = line((start, height_mm), (end, height_mm))
        return Line(id=f"{self.name}.{role}", kind=kind, curve=curve, name=role)

    def seam(self, role: str, *, laid_on: bool) -> Seam:
        """The seam of one of its edges or lines with the garment."""
        return Seam(
            id=f"{self.name}.seam",
            name=f"{self.name} to garment",
            a=self.along.refs,
            b=(Ref(f"{self.name}.{role}", backward=True),),
            join="superimposed" if laid_on else "lapped",
            laid_on=laid_on,
        )

    def ring(self, lap_mm: float) -> Seam:
        """The seam of its ends, which closes it into a ring."""
        return ring_seam(self.name, "first" if self._fold == f"{self.name}.last" else "last",
                         is_folded=self.ends.fold is not None, lap_mm=lap_mm)  # fmt: skip


def ring_seam(name: str, free: str, *, is_folded: bool, lap_mm: float = 8.0) -> Seam:
    """The seam of both ends of a strip, or of its free end with its own mirror image."""
    other = "first" if free == "last" else "last"
    joined = (
        Ref(f"{name}.{free}", mirrored=True) if is_folded else Ref(f"{name}.{other}", backward=True)
    )
    return Seam(
        id=f"{name}.ring", name=f"{name} ring", a=(Ref(f"{name}.{free}"),), b=(joined,),
        lap_mm=lap_mm,
    )  # fmt: skip
