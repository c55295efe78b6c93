"""Sleeves and high necks of a suit block: they equal the opening that they are set into."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from wedgework.drafting.block_numbers import BodyBlockNumbers, CutSizes
from wedgework.drafting.block_sides import fair_over
from wedgework.drafting.draft import Side, ring_of_sides
from wedgework.drafting.lines import as_long
from wedgework.drafting.solving import solved
from wedgework.geometry.curve import Curve, Floats, joined, line, reversed_curve
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Notch, Piece, Ref, Seam, Spot
from wedgework.pattern.errors import DraftRefused

SHORT_MM: Final = 120.0
"""Length of a short sleeve below the armhole on the body; common practice, no source."""


def sleeve_piece(
    numbers: BodyBlockNumbers, sizes: CutSizes, front_mm: float, back_mm: float, at_mm: Floats
) -> Piece:
    """A sleeve whose head is as long as both parts of the armhole, ease 0; its front on the left.

    DraftRefused where the arm is thicker than the armhole is long.
    """
    part, length = 1.0 - numbers.girth_reduction, 1.0 - numbers.length_reduction
    width = sizes.body["upper_arm_girth_mm"] * part
    if width >= 0.98 * (front_mm + back_mm):
        raise DraftRefused(
            f"An upper arm of {sizes.body['upper_arm_girth_mm']:.0f} mm does not go through an "
            f"armhole of {front_mm + back_mm:.0f} mm: give a larger armscye girth."
        )
    head = _head(width, front_mm, back_mm)
    reach, hem = SHORT_MM * length, 0.95 * width
    if numbers.sleeves == "long":
        reach, hem = (
            0.75 * sizes.body["arm_length_mm"] * length,
            sizes.body["wrist_girth_mm"] * part,
        )
    heights = np.array([-reach, 0.0])
    left = reversed_curve(fair_over(heights, np.array([-hem, -width]) / 2.0))
    right = reversed_curve(fair_over(heights, np.array([hem, width]) / 2.0))
    sides = [
        Side(role="hem", curve=line(left.end, right.end), finish="hem"),
        Side(role="underarm_back", curve=reversed_curve(right)),
        Side(role="head", curve=reversed_curve(head)),
        Side(role="underarm_front", curve=left),
    ]
    moved_sides = [
        Side(role=s.role, curve=Curve(s.curve.segments + at_mm), finish=s.finish) for s in sides
    ]
    return Piece(
        id="sleeve", name="Sleeve", edges=ring_of_sides("sleeve", moved_sides), cutting="pair"
    )


def _head(width: float, front_mm: float, back_mm: float) -> Curve:
    """The head from front to back underarm: level at both ends and at the top."""

    def part(start: tuple[float, float], end: tuple[float, float]) -> Curve:
        ahead = np.array([(end[0] - start[0]) * 0.5, 0.0])
        a, b = np.array(start), np.array(end)
        return Curve(np.array([[a, a + ahead, b - ahead, b]]))

    def both(top: float, height: float) -> tuple[Curve, Curve]:
        middle = (top, height)
        return part((-width / 2.0, 0.0), middle), part(middle, (width / 2.0, 0.0))

    def top_at(height: float) -> float:
        """Where the top lies so that front and back differ as the armhole's parts do."""
        found = solved(
            lambda x: length_mm(both(x, height)[0]) - length_mm(both(x, height)[1])
            - (front_mm - back_mm),
            -0.49 * width, 0.49 * width,
        )  # fmt: skip
        return 0.0 if found is None else found

    def miss(height: float) -> float:
        return sum(map(length_mm, both(top_at(height), height))) - front_mm - back_mm

    height = solved(miss, 0.0, front_mm + back_mm)
    if height is None:
        raise DraftRefused("No sleeve head is as long as this armhole.")
    return joined(*both(top_at(height), height))


def sleeve_seams() -> tuple[Seam, Seam]:
    """The sleeve set into the armhole, and closed under the arm."""
    return (
        Seam(
            id="armhole",
            name="armhole",
            a=(Ref("front.armhole"), Ref("back.armhole")),
            b=(Ref("sleeve.head", backward=True),),
        ),
        Seam(
            id="underarm",
            name="underarm",
            a=(Ref("sleeve.underarm_front"),),
            b=(Ref("sleeve.underarm_back", backward=True),),
        ),
    )


def sleeve_notch(front_mm: float, back_mm: float) -> Notch:
    """Where the sleeve's head meets the shoulder."""
    return Notch(
        id="sleeve.n1",
        at=Spot("sleeve.head", back_mm),
        mate=Spot("front.armhole", front_mm),
    )


def neck_piece(
    height_mm: float, base_mm: float, top_mm: float, at_mm: Floats, *, fold: str
) -> Piece:
    """Half a high neck: a sector whose base is half the neckline and whose top half the neck.

    It is cut on the fold at the `front` or the `back`. A straight strip where base and top are
    equal. Source: the net of a frustum, plane geometry.
    """
    angle = (base_mm - top_mm) / height_mm
    if abs(angle) > math.pi:
        raise DraftRefused(
            f"A neck {height_mm:.1f} mm high cannot narrow from {2 * base_mm:.0f} to "
            f"{2 * top_mm:.0f} mm: let it stand higher."
        )
    if abs(angle) * height_mm < 1.0:
        base, top = line((0.0, 0.0), (base_mm, 0.0)), line((0.0, height_mm), (base_mm, height_mm))
    else:
        radius = base_mm / angle
        base = as_long(_sector(radius, angle, 0.0), base_mm)
        top = as_long(_sector(radius, angle, height_mm), top_mm)
    sides = [
        Side(role="base", curve=base),
        Side(role="back", curve=line(base.end, top.end)),
        Side(role="top", curve=reversed_curve(top), finish="hem"),
        Side(role="front", curve=line(top.start, base.start)),
    ]
    placed = [
        Side(
            role=one.role,
            curve=Curve(one.curve.segments + at_mm),
            finish="fold" if one.role == fold else one.finish,
        )
        for one in sides
    ]
    return Piece(
        id="high_neck",
        name="High neck",
        edges=ring_of_sides("high_neck", placed),
        cutting="fold",
        fold_edge=f"high_neck.{fold}",
    )


def neck_seams(*, fold: str) -> tuple[Seam, Seam]:
    """The high neck on its neckline, and where it closes opposite its fold."""
    own = "high_neck.front" if fold == "back" else "high_neck.back"
    return (
        Seam(
            id="neckline",
            name="neckline",
            a=(Ref("back.neck"), Ref("front.neck")),
            b=(Ref("high_neck.base", backward=True),),
        ),
        Seam(id="neck_closing", name="neck closing", a=(Ref(own),), b=(Ref(own, mirrored=True),)),
    )


def _sector(radius: float, angle: float, height: float) -> Curve:
    """An arc from (0, height), level there, of a sector; it bends upwards for a wider base."""
    count = max(math.ceil(abs(angle) / (math.pi / 8.0)), 1)
    turns = np.linspace(0.0, angle, count + 1)
    own = radius - height
    places = np.stack([own * np.sin(turns), radius - own * np.cos(turns)], axis=1)
    ahead = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    reach = own * 4.0 / 3.0 * math.tan(angle / count / 4.0)
    ends = (
        places[:-1],
        places[:-1] + reach * ahead[:-1],
        places[1:] - reach * ahead[1:],
        places[1:],
    )
    return Curve(np.stack(ends, axis=1))
