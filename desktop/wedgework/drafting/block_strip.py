"""The strip in the crotch of a suit block: it bridges front and back, and is part of the loop."""

from __future__ import annotations

from typing import Final

from wedgework.drafting.block_shape import Frame
from wedgework.drafting.draft import Side, ring_of_sides
from wedgework.geometry.curve import line
from wedgework.pattern.document import Line, LineKind, Piece, Ref, Seam
from wedgework.pattern.errors import DraftRefused

MOST_SHARE: Final = 0.8
"""A strip takes so much of the torso loop below the hips at most; common practice, no source."""


def strip_half_mm(frame: Frame) -> float:
    """How much of the torso loop of each half is the strip's; 0 without one.

    DraftRefused where the strip is too long, or the suit has legs.
    """
    length_mm = frame.numbers.crotch_strip_mm
    if length_mm and frame.numbers.legs != "none":
        raise DraftRefused(
            "A strip in the crotch belongs to a suit without legs: set a gusset in where there "
            "are legs."
        )
    sizes = frame.sizes
    shorter_mm = min(sizes.loop["waist_to_crotch_front_mm"], sizes.loop["waist_to_crotch_back_mm"])
    most_mm = 2.0 * MOST_SHARE * (shorter_mm + sizes.hip_height_mm)
    if length_mm > most_mm:
        raise DraftRefused(
            f"A strip of {length_mm:.0f} mm in the crotch would reach up to the hips: make it "
            f"shorter than {most_mm:.0f} mm."
        )
    return length_mm / 2.0


def strip_piece(frame: Frame, left_mm: float, low_mm: float) -> Piece:
    """Half the strip, on the fold along its middle; its front end is above."""
    wide, long = frame.numbers.crotch_width_mm / 2.0, frame.numbers.crotch_strip_mm
    right_mm, high_mm = left_mm + wide, low_mm + long
    corners = [(left_mm, low_mm), (right_mm, low_mm), (right_mm, high_mm), (left_mm, high_mm)]
    sides = [
        Side(role=role, curve=line(start, end), finish="fold" if role == "centre" else "open")
        for role, start, end in zip(
            ("back", "leg", "front", "centre"), corners, corners[1:] + corners[:1], strict=True
        )
    ]
    loop: LineKind = "torso loop"
    middle = line(corners[0], corners[3])
    return Piece(
        id="strip",
        name="Crotch strip",
        edges=ring_of_sides("strip", sides),
        lines=(Line(id="strip.torso_loop", kind=loop, curve=middle, name=loop),),
        cutting="fold",
        fold_edge="strip.centre",
    )


def strip_seams() -> tuple[Seam, Seam]:
    """The strip on the front, and on the back."""
    front, back = (
        Seam(
            id=f"crotch_{half}", name=f"crotch {half}", a=(Ref(f"{half}.crotch"),),
            b=(Ref(f"strip.{half}", backward=True),),
        )
        for half in ("front", "back")
    )  # fmt: skip
    return front, back
