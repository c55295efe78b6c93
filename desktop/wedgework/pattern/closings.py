"""Closings: how much a seam that opens lets in, and what its fastening takes.

Common practice for close-fitting garments, as each constant says; a slit of length s in a ring
opens it by 2 s, which is plain geometry.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from wedgework.pattern.document import Closing, ClosingKind, CornerId, Project, Ref, Seam
from wedgework.pattern.ends import ENDS, End, run_end
from wedgework.pattern.instances import MadeSeam, has_mirror, is_own_mirror
from wedgework.pattern.lookup import end_corner, piece_of, the_edge
from wedgework.pattern.reductions import reduction_of
from wedgework.pattern.runs import walked

ZIP_SPARE_MM: Final = 4.0
"""An opening is cut 3 to 5 mm longer than the teeth of its zip; common practice, no source."""

AT_WORN_MM: Final = 1.0
"""A zip this near to worn length is at it: glue and tape give no more; common practice, no
source."""

USUAL_OVERLAP_MM: Final[dict[ClosingKind, float]] = {
    "snaps": 22.0, "zip": 0.0, "lacing": 0.0, "left_open": 0.0,
}  # fmt: skip
"""Snaps need 20 to 25 mm of both sides on each other; common practice, no source."""

FLAP: Final = "flap"
"""The kind that the flap behind a closing is drafted as."""

Corner = tuple[CornerId, bool]
"""A corner of a piece as drawn, or of its mirror image."""


def closing_of(project: Project, seam: str) -> Closing | None:
    """What a seam closes with, None where it is glued."""
    return next((one for one in project.closings.values() if one.seam == seam), None)


def closing_row(closing: Closing) -> str:
    """Id of the row of holes that is punched for its snaps or eyelets."""
    return f"{closing.id}.row"


def closing_length_mm(project: Project, closing: Closing) -> float:
    """Length of the seam line that opens."""
    return walked(project, project.seams[closing.seam].a).length_mm


def flaps_of(project: Project, closing: Closing) -> tuple[str, ...]:
    """Pieces that were drafted as the flap behind a closing and hang on one of its edges."""
    seam = project.seams[closing.seam]
    own = {ref.edge for ref in (*seam.a, *seam.b)}
    hung = [one for one in project.seams.values() if one.laid_on]
    return tuple(
        piece.id
        for one in hung
        if any(ref.edge in own for ref in one.a)
        and (piece := piece_of(project, one.b[0].edge)).recipe is not None
        and piece.recipe.kind == FLAP
    )


def times_made(project: Project, seam: Seam) -> int:
    """How often a seam is made in the garment."""
    return 2 if has_mirror(project, seam) and not is_own_mirror(seam) else 1


def short_of_worn_mm(project: Project, closing: Closing) -> float:
    """By how much the edges of a zip are shorter than worn: it does not stretch.

    The seam is cut by the length reduction r smaller, so worn it is L / (1 - r); what was added
    already counts at its own length.
    """
    if closing.kind != "zip":
        return 0.0
    r = reduction_of(project, "length")
    drawn_mm = closing_length_mm(project, closing) - closing.lengthened_mm
    return max(drawn_mm * r / (1.0 - r) - closing.lengthened_mm, 0.0)


def teeth_mm(project: Project, closing: Closing) -> float:
    """Length of the teeth of the zip that the opening takes at worn length."""
    worn_mm = closing_length_mm(project, closing) + short_of_worn_mm(project, closing)
    return max(worn_mm - ZIP_SPARE_MM, 0.0)


def closings_into(project: Project, ring: Iterable[Ref]) -> tuple[tuple[Closing, int], ...]:
    """Closings that run out into a ring of edges, each as often as it does so.

    One that goes on from the end of another that does is counted with it.
    """
    corners = {corner for ref in ring for corner in _corners(project, ref)}
    left = [(closing, made) for closing in project.closings.values()
            for made in _made(project, project.seams[closing.seam])]  # fmt: skip
    found: dict[str, int] = {}
    while reached := [one for one in left if not corners.isdisjoint(_ends(project, one[1]))]:
        for closing, made in reached:
            found[closing.id] = found.get(closing.id, 0) + 1
            corners |= set(_ends(project, made))
        left = [one for one in left if one not in reached]
    return tuple((project.closings[own], times) for own, times in found.items())


def free_end(project: Project, seam: Seam) -> End | None:
    """The end of a seam where the edges beyond are free on both sides, the last before the first.

    None where it runs out at neither.
    """
    runs = walked(project, seam.a), walked(project, seam.b)
    free = (end for end in ENDS if all(run_end(run, end).is_open(project) for run in runs))
    return next(free, None)


def adjoining_closings(project: Project, seam: Seam) -> Iterator[tuple[End, Closing]]:
    """Closings that end where a seam does, each with that end of the seam."""
    own = list(_ends(project, MadeSeam(seam)))
    for closing in project.closings.values():
        there = set(_ends(project, MadeSeam(project.seams[closing.seam])))
        for end, corners in (("first", own[::2]), ("last", own[1::2])):
            if there.issuperset(corners):
                yield ("first" if end == "first" else "last"), closing


def _made(project: Project, seam: Seam) -> Iterator[MadeSeam]:
    yield MadeSeam(seam)
    if times_made(project, seam) == 2:
        yield MadeSeam(seam, mirrored=True)


def _ends(project: Project, made: MadeSeam) -> Iterator[Corner]:
    """Corners at both ends of a seam, on both of its sides."""
    for run in (made.a, made.b):
        stretches = walked(project, run).stretches
        yield stretches[0].first_corner, run[0].mirrored
        yield stretches[-1].last_corner, run[-1].mirrored


def _corners(project: Project, ref: Ref) -> Iterator[Corner]:
    yield the_edge(project, ref.edge).corner, ref.mirrored
    yield end_corner(piece_of(project, ref.edge), ref.edge), ref.mirrored
