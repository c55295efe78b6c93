"""The made-up garment: which pieces there are in it, and which seams are made.

Seams are said once; this is the one place that says how often each is made. A `pair` piece stands
twice, left and right; a `fold` piece once, unfolded, which here is its drawn half and the mirror
image of it, grown together along the fold edge. Girths, Gauss-Bonnet, the making order, the lay
and the cut list read nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass

from wedgework.pattern.document import Piece, Project, Ref, Run, Seam
from wedgework.pattern.lookup import piece_of


@dataclass(frozen=True, slots=True)
class Half:
    """A piece as drawn, or its mirror image; a `fold` piece is both of them in one instance."""

    piece: str
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class MadeSeam:
    """A seam as it is made: as said, or its mirror image with every `~` swapped."""

    seam: Seam
    mirrored: bool = False

    @property
    def a(self) -> Run:
        """Run A of this side of the garment."""
        return flipped(self.seam.a) if self.mirrored else self.seam.a

    @property
    def b(self) -> Run:
        """Run B of this side of the garment."""
        return flipped(self.seam.b) if self.mirrored else self.seam.b


def halves_of(piece: Piece) -> tuple[Half, ...]:
    """The piece as drawn and, unless it is a single, its mirror image."""
    drawn = Half(piece.id)
    return (drawn,) if piece.cutting == "single" else (drawn, Half(piece.id, mirrored=True))


def instance_count(piece: Piece) -> int:
    """How often the piece stands in the garment: 2 for a pair, else 1; quantity not counted."""
    return 2 if piece.cutting == "pair" else 1


def flipped(run: Run) -> Run:
    """The run on the other side of the garment."""
    return tuple(Ref(ref.edge, ref.backward, not ref.mirrored) for ref in run)


def reversed_run(run: Run) -> Run:
    """The same run walked from its other end."""
    return tuple(Ref(ref.edge, not ref.backward, ref.mirrored) for ref in reversed(run))


def has_mirror(project: Project, seam: Seam) -> bool:
    """Whether the seam stands for its mirror image too: all its pieces have one."""
    edges = {ref.edge for ref in (*seam.a, *seam.b)}
    return all(piece_of(project, edge).cutting != "single" for edge in edges)


def is_own_mirror(seam: Seam) -> bool:
    """Whether the mirror image of the seam is the seam itself."""
    a, b = flipped(seam.a), flipped(seam.b)
    sides = {seam.a, seam.b}
    return sides in ({a, b}, {reversed_run(a), reversed_run(b)})


def made_seams(project: Project) -> tuple[MadeSeam, ...]:
    """Every seam and dart as often as it is made, in the order of the table, right after left."""
    made: list[MadeSeam] = []
    for seam in project.seams.values():
        made.append(MadeSeam(seam))
        if has_mirror(project, seam) and not is_own_mirror(seam):
            made.append(MadeSeam(seam, mirrored=True))
    return tuple(made)
