"""Measure what hangs on many edges in one pass, before seams and pieces are looked at singly.

Curves taken one by one cost calls, not arithmetic: some thousand edges together take a
twentieth of the time, and give the same numbers.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from wedgework.geometry.curve import Curve
from wedgework.geometry.extent import fill_bounds
from wedgework.geometry.length import fill_lengths
from wedgework.geometry.profile import fill_profiles
from wedgework.geometry.turning import fill_turnings
from wedgework.pattern.document import EdgeId, Piece, Project, Seam

MANY_SEAMS: Final = 8
"""Fewer are not worth looking for what is known of them already, in each frame of a drag."""


def fill_measures(project: Project, seams: Iterable[Seam], pieces: Iterable[Piece] = ()) -> None:
    """Take all that `measure_seam` reads of the edges of these seams, and of these pieces.

    Edges that a seam names and that are not there are passed over: measuring refuses them.
    """
    walked = list(seams)
    if len(walked) < MANY_SEAMS:
        return
    named = dict.fromkeys(ref.edge for seam in walked for ref in (*seam.a, *seam.b))
    fill_pieces(pieces)
    curves = _curves(project, named)
    fill_lengths(curves)
    fill_profiles(curves)


def fill_pieces(pieces: Iterable[Piece]) -> None:
    """Take turning, directions at both ends and bounds of every edge of these pieces."""
    curves = [edge.curve for piece in pieces for edge in piece.all_edges()]
    fill_turnings(curves)
    fill_bounds(curves)


def _curves(project: Project, named: Iterable[EdgeId]) -> list[Curve]:
    wanted = set(named)
    owners = dict.fromkeys(project.owners[edge] for edge in wanted if edge in project.owners)
    edges = (edge for own in owners for edge in project.pieces[own].all_edges())
    return [edge.curve for edge in edges if edge.id in wanted]
