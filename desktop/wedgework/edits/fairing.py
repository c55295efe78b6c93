"""Edges that were opened or closed along a slash, drawn as one smooth edge again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

import numpy as np

from wedgework.edits.carry import Fate
from wedgework.edits.surgery import Outline
from wedgework.geometry.curve import Curve, Floats, joined
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import rotation
from wedgework.geometry.turning import angle_between, end_tangent, start_tangent
from wedgework.pattern.document import Edge, Piece

FLOWS_RAD: Final = math.radians(15.0)
"""A joint that turns by less is a place on a curve that goes on."""
STEPS_RAD: Final = math.radians(45.0)
"""A joint that turns by more is a step to the side, which its short part alone has to take."""


def faired(piece: Piece, outline: Outline) -> Outline:
    """The outline where each edge that came apart is one smooth edge again, with its own id.

    It passes through the ends of every gap; the fold of the piece is left alone.
    """
    for edge in piece.edges:
        fate = outline.fates.get(edge.id)
        if fate is not None and len(fate.walk) > 1 and edge.id != piece.fold_edge:
            outline = _one_again(edge, fate, outline)
    return outline


def _one_again(edge: Edge, fate: Fate, outline: Outline) -> Outline:
    by_id = {one.id: one for one in outline.edges}
    parts = [by_id[own] for own in fate.walk]
    smooth = smoothly_joined([part.curve for part in parts])
    one = replace(edge, corner=parts[0].corner, curve=joined(*smooth))
    drawn = [replace(part, curve=curve) for part, curve in zip(parts, smooth, strict=True)]
    edges = tuple(one if own is parts[0] else own for own in outline.edges if own not in parts[1:])
    fates = outline.fates | {edge.id: fate_in_one(fate, drawn, one, parts)}
    return Outline(edges=edges, fates=fates)


def smoothly_joined(curves: Sequence[Curve]) -> list[Curve]:
    """Curves that follow each other, with one tangent at each joint; their ends stay.

    At a joint the turn is shared by the cubics beside it, as `_share_before` says.
    """
    segments = [curve.segments.copy() for curve in curves]
    for before, after in pairwise(segments):
        turn = angle_between(end_tangent(Curve(before)), start_tangent(Curve(after)))
        sizes = [float(np.hypot(*(cubic[3] - cubic[0]))) for cubic in (before[-1], after[0])]
        share = _share_before(turn, *sizes)
        before[-1, 2] = _turned(before[-1, 2], turn * share, before[-1, 3])
        after[0, 1] = _turned(after[0, 1], turn * (share - 1.0), after[0, 0])
    return [Curve(rows) for rows in segments]


def _share_before(turn_rad: float, before_mm: float, after_mm: float) -> float:
    """The share of a joint's turn that the cubic before it takes, from the chords beside it.

    Where the curve goes on the shares are as the chords, so that chords of a circle give that
    circle's tangents. Where it steps aside they are the other way round: a long edge would swell
    far beyond a short step if it took nearly all of the turn.
    """
    along = before_mm / (before_mm + after_mm)
    aside = float(np.interp(abs(turn_rad), (FLOWS_RAD, STEPS_RAD), (0.0, 1.0)))
    return along + aside * (1.0 - 2.0 * along)


def _turned(handle: Floats, turn_rad: float, about: Floats) -> Floats:
    return rotation(turn_rad, about).points(handle)


def fate_in_one(
    fate: Fate, parts: Sequence[Edge], one: Edge, before: Sequence[Edge] | None = None
) -> Fate:
    """The fate of an edge whose parts, in its own direction, were made one again.

    `before` are the parts as the fate knows them, where they were given other curves since.
    """
    lengths = [length_mm(part.curve) for part in parts]
    starts = dict(zip([part.id for part in parts], [0.0, *np.cumsum(lengths)], strict=False))
    scales = {
        part.id: length / length_mm(old.curve)
        for part, old, length in zip(parts, before or parts, lengths, strict=True)
    }
    stretches = [
        replace(
            stretch,
            edge=one.id,
            new_from_mm=starts[stretch.edge] + stretch.new_from_mm * scales[stretch.edge],
            new_to_mm=starts[stretch.edge] + stretch.new_to_mm * scales[stretch.edge],
        )
        for stretch in fate.stretches
    ]
    return Fate(walk=(one.id,), stretches=tuple(stretches))
