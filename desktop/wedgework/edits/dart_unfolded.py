"""A shaped seam of a piece with its own mirror image becomes a dart: the pair is one whole piece.

Where such a seam joins flat its edge is straight, and the two halves are one sheet folded there.
"""

from __future__ import annotations

from dataclasses import replace

from wedgework.edits.mirror import MirrorPiece
from wedgework.edits.places import Naming
from wedgework.edits.settings import SetCutting
from wedgework.geometry.curve import is_straight
from wedgework.geometry.tolerances import STRAIGHT_MM
from wedgework.pattern.changes import with_seams
from wedgework.pattern.document import EdgeId, Project, Ring, Run, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import piece_of, the_edge, the_seam


def unfolded_darts(project: Project, seam: Seam, flat: Run, legs: tuple[Run, Run]) -> Project:
    """The project where a pair is one piece about the flat part of its middle seam.

    `legs` are what lies before and beyond that part, from mouth to apex; each becomes a dart, the
    first with the seam's id. EditRefused where the flat part is not one straight edge.
    """
    about = _fold(project, seam, flat)
    first, *more = [leg for leg in legs if leg]
    rows = [replace(seam, a=first, b=_image(first))]
    for leg in more:
        own = Naming(project).fresh(f"{seam.id}.2")
        rows.append(replace(seam, id=own, name=f"dart {own}", a=leg, b=_image(leg), wanted_mm=0.0))
    piece = piece_of(project, about).id
    half = with_seams(project, *rows)
    half = SetCutting(piece=piece, cutting="fold", about=about).change(half)
    whole = MirrorPiece(piece=piece, about=about).change(half)
    ring = whole.pieces[piece].edges
    return with_seams(whole, *(_dart(the_seam(whole, row.id), ring) for row in rows))


def _image(leg: Run) -> Run:
    return tuple(replace(ref, mirrored=not ref.mirrored) for ref in leg)


def _fold(project: Project, seam: Seam, flat: Run) -> EdgeId:
    called = f"“{seam.name or seam.id}”"
    if len(flat) != 1:
        raise EditRefused(
            f"The part of {called} that joins flat has to be one edge: it becomes the fold.",
            culprit=seam.id,
        )
    if not is_straight(the_edge(project, flat[0].edge).curve, STRAIGHT_MM):
        raise EditRefused(f"{called} is not straight where it should join flat.", culprit=seam.id)
    return flat[0].edge


def _dart(seam: Seam, ring: Ring) -> Seam:
    return replace(seam, apex=apex_between(ring, seam.a[-1].edge, seam.b[-1].edge))


def apex_between(ring: Ring, one: EdgeId, other: EdgeId) -> str:
    """The corner at which two legs meet in the outline."""
    for before, after in zip((ring[-1], *ring[:-1]), ring, strict=True):
        if {before.id, after.id} == {one, other}:
            return after.corner
    raise EditRefused("The legs of the dart would not meet.", culprit=one)
