"""The pieces of a suit block: outline, levels, torso loop and grain of each half."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from wedgework.drafting.block_legs import LegHalf, centre_line, loop_to_crotch
from wedgework.drafting.block_shape import (
    Frame,
    Half,
    armhole,
    crotch_edge,
    leg_edge,
    loop_line,
    worn_neck,
)
from wedgework.drafting.draft import APART_MM, Side, ring_of_sides
from wedgework.drafting.shape_body import GIRTHS
from wedgework.geometry.curve import Curve, joined, line, reversed_curve
from wedgework.geometry.motion import Affine, mirrored_walk, moved
from wedgework.pattern.document import Edge, Line, LineKind, Piece

LEVEL_NAMES: Final = {"bust": "bust", "under_bust": "under bust", "waist": "waist", "hip": "hip"}


@dataclass(frozen=True, kw_only=True)
class Block:
    """Both halves, and how full the curves of their openings are."""

    frame: Frame
    front: Half
    back: Half
    arm: float = 0.55
    leg: float = 0.5
    legs: tuple[LegHalf, LegHalf] | None = None

    def half(self, name: str) -> Half:
        """The half of a name, `front` or `back`."""
        return self.front if name == "front" else self.back

    def leg_of(self, name: str) -> LegHalf | None:
        """The half of a leg that belongs to it, None for a suit without legs."""
        return None if self.legs is None else self.legs[name != "front"]


def block_piece(block: Block, name: str) -> Piece:
    """The piece `front` or `back`: a pair where the suit closes along its centre, else on the fold.

    The front lies with its centre line on the left, the back beside it with its own on the right.
    """
    is_pair = block.leg_of(name) is not None or block.frame.numbers.closing == name
    centre = f"{name}.centre"
    ring = ring_of_sides(name, _sides(block, name))
    piece = Piece(
        id=name,
        name=name.capitalize(),
        edges=ring if is_pair else tuple(_folded(edge, centre) for edge in ring),
        lines=tuple(_lines(block, name)),
        cutting="pair" if is_pair else "fold",
        fold_edge=None if is_pair else centre,
    )
    return piece if name == "front" else _turned_over(piece, _beside(block))


def levels_of(block: Block) -> tuple[str, ...]:
    """Levels that go round the whole body: a leg opening above the hips leaves no level there."""
    hip_mm = block.frame.sizes.hip_height_mm
    below_hip = all(half.side.start[1] < hip_mm for half in (block.front, block.back))
    return GIRTHS if below_hip else GIRTHS[:-1]


def _folded(edge: Edge, centre: str) -> Edge:
    return replace(edge, finish="fold") if edge.id == centre else edge


def _sides(block: Block, name: str) -> list[Side]:
    """The outline of a half, counter-clockwise from its crotch, centre line on the left."""
    frame, half = block.frame, block.half(name)
    neck = reversed_curve(worn_neck(frame, half, is_front=name == "front"))
    arm = armhole(frame, half, block.arm)
    upper = [
        Side(role="armhole", curve=arm),
        Side(role="shoulder", curve=line(arm.end, neck.start)),
        Side(role="neck", curve=neck),
    ]
    leg = block.leg_of(name)
    if leg is not None:
        return [
            Side(role="inseam", curve=leg.inseam),
            Side(role="hem", curve=leg.hem, finish="hem"),
            Side(role="side", curve=half.side),
            *upper,
            Side(role="centre", curve=centre_line(neck.end, leg)),
        ]
    crotch = crotch_edge(frame, half)
    return [
        Side(role="crotch", curve=crotch),
        Side(role="leg", curve=leg_edge(frame, half, block.leg)),
        Side(role="side", curve=half.side),
        *upper,
        Side(role="centre", curve=line(neck.end, crotch.start)),
    ]


def _lines(block: Block, name: str) -> Iterator[Line]:
    half, sizes = block.half(name), block.frame.sizes
    heights = (sizes.bust_height_mm, sizes.under_bust_height_mm, 0.0, sizes.hip_height_mm)
    for level, height_mm in zip(GIRTHS, heights, strict=True):
        if level not in levels_of(block):
            continue
        across = line((0.0, height_mm), (half.width[level], height_mm))
        yield Line(
            id=f"{name}.{level}", kind="level", curve=across, name=LEVEL_NAMES[level], level=level
        )
    loop: LineKind = "torso loop"
    yield Line(id=f"{name}.torso_loop", kind=loop, curve=_loop(block, name), name=loop)
    x = 0.6 * half.width["waist"]
    low_mm = max(sizes.hip_height_mm / 2.0, 0.6 * float(half.side.start[1]))
    grain = line((x, low_mm), (x, sizes.bust_height_mm / 2.0))
    yield Line(id=f"{name}.grain", kind="grain", curve=grain, name="grain")


def _loop(block: Block, name: str) -> Curve:
    """The torso loop on a half, ending in the crotch."""
    half, leg = block.half(name), block.leg_of(name)
    whole = loop_line(block.frame, half)
    if leg is None:
        return whole
    upper = Curve(whole.segments[:-1])
    return joined(upper, loop_to_crotch(float(upper.end[0]), half.loop_down_mm, leg))


def _beside(block: Block) -> Affine:
    """Turned over, and moved clear of the front."""
    fullest = [max(half.width.values()) for half in (block.front, block.back)]
    linear = np.array([[-1.0, 0.0], [0.0, 1.0]])
    return Affine(linear, np.array([sum(fullest) + APART_MM, 0.0]))


def _turned_over(piece: Piece, motion: Affine) -> Piece:
    """The mirror image of a piece, its outline counter-clockwise again; edges keep their ids."""
    corners = [edge.corner for edge in piece.edges]
    ends = [*corners[1:], corners[0]]
    edges = tuple(
        replace(edge, curve=mirrored_walk(edge.curve, motion), corner=end)
        for edge, end in zip(reversed(piece.edges), reversed(ends), strict=True)
    )
    lines = tuple(replace(one, curve=moved(one.curve, motion)) for one in piece.lines)
    return replace(piece, edges=edges, lines=lines)
