"""The facing under a collar: the same neck edge, and an outer edge that stays back a little."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from wedgework.drafting.draft import APART_MM
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import moved, translation
from wedgework.pattern.document import Piece, Ref, Run, Seam

ENDS: Final = ("neck", "first", "last")


def laid_below(piece: Piece, other: Piece) -> Piece:
    """A piece moved clear below another."""
    own, there = (bounds_of_all([edge.curve for edge in one.edges]) for one in (piece, other))
    down = translation(np.array([0.0, there[1] - APART_MM - own[3]]))
    return replace(
        piece, edges=tuple(replace(one, curve=moved(one.curve, down)) for one in piece.edges)
    )


def facing_seams(collar: Piece, facing: Piece) -> tuple[Seam, Seam]:
    """How a facing is laid on its collar: along the neck, and along the outer edge."""
    outer_a, outer_b = _outer_run(collar), _outer_run(facing)
    shorter_mm = _length_mm(collar, outer_a) - _length_mm(facing, outer_b)
    return (
        Seam(id=f"{facing.id}.seam", name="facing to collar", a=outer_a, b=outer_b,
             wanted_mm=shorter_mm, join="superimposed", laid_on=True),
        Seam(id=f"{facing.id}.neck_seam", name="facing to collar, neck",
             a=(Ref(f"{collar.id}.neck"),), b=(Ref(f"{facing.id}.neck"),), join="superimposed",
             laid_on=True),
    )  # fmt: skip


def _outer_run(piece: Piece) -> Run:
    ends = {f"{piece.id}.{role}" for role in ENDS}
    return tuple(Ref(edge.id) for edge in piece.edges if edge.id not in ends)


def _length_mm(piece: Piece, run: Run) -> float:
    own = {ref.edge for ref in run}
    return sum(length_mm(edge.curve) for edge in piece.edges if edge.id in own)
