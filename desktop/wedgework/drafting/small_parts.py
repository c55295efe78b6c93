"""Cuffs and gussets."""

from __future__ import annotations

import math
from typing import Annotated

from msgspec import Meta

from wedgework.drafting.draft import Draft, Number, Side, ring_of_sides
from wedgework.drafting.line_ends import line_ends
from wedgework.drafting.lines import garment_line
from wedgework.drafting.numbers import NotNegativeMm, Numbers, PositiveMm
from wedgework.drafting.sources import Refs
from wedgework.drafting.straight import StraightStrip
from wedgework.geometry.curve import line
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.errors import DraftRefused


class CuffNumbers(Numbers, frozen=True, kw_only=True):
    """A cuff on the end of a sleeve or leg: a straight strip, single or turned back on itself."""

    along: Refs
    width_mm: Annotated[PositiveMm, Meta(description="as it is seen")]
    lap_mm: Annotated[NotNegativeMm, Meta(description="where it closes into a ring")] = 8.0
    turned_back: Annotated[bool, Meta(description="twice as wide, folded at its end")] = False


class GussetNumbers(Numbers, frozen=True, kw_only=True):
    """A gusset: a diamond that is set into a slit to give room, in the crotch or under the arm."""

    length_mm: Annotated[PositiveMm, Meta(description="of each of the slit's sides")]
    width_mm: Annotated[PositiveMm, Meta(description="across, where it is widest")]


def draft_cuff(numbers: CuffNumbers, project: Project) -> Draft:
    """The strip, as long as the edges that it is set on, and its seam."""
    along = garment_line(project, numbers.along)
    wide = numbers.width_mm * (2.0 if numbers.turned_back else 1.0)
    strip = StraightStrip(name="cuff", along=along, ends=line_ends(project, along), width_mm=wide)
    folds = (
        [strip.line_at("fold", numbers.width_mm, "fold", whole=True)] if numbers.turned_back else []
    )
    told: dict[str, Number] = {"length_mm": along.length_mm, "strip_width_mm": wide,
        "width_mm": numbers.width_mm}  # fmt: skip
    seams = [strip.seam("long", laid_on=False)]
    if strip.ends.is_ring:
        seams.append(strip.ring(numbers.lap_mm))
    return Draft(
        pieces=(strip.piece(*folds),),
        seams=tuple(seams),
        along=along.refs,
        numbers=told,
        steps=tuple(strip.ends.steps(along.length_mm)),
    )


def draft_gusset(numbers: GussetNumbers, project: Project) -> Draft:
    """The diamond; DraftRefused where it is wider than its sides reach."""
    del project
    half = numbers.width_mm / 2.0
    if half >= numbers.length_mm:
        raise DraftRefused(
            f"Sides of {numbers.length_mm:.0f} mm do not reach across {numbers.width_mm:.0f} mm."
        )
    tall = math.sqrt(numbers.length_mm**2 - half**2)
    corners = [(0.0, -tall), (half, 0.0), (0.0, tall), (-half, 0.0)]
    roles = ("lower_right", "upper_right", "upper_left", "lower_left")
    sides = [
        Side(role=role, curve=line(corners[at], corners[(at + 1) % 4]))
        for at, role in enumerate(roles)
    ]
    piece = Piece(id="gusset", name="Gusset", edges=ring_of_sides("gusset", sides))
    angle = 2.0 * math.degrees(math.asin(half / numbers.length_mm))
    told: dict[str, Number] = {"length_mm": numbers.length_mm, "width_mm": numbers.width_mm,
        "height_mm": 2.0 * tall, "angle_deg": angle}  # fmt: skip
    return Draft(pieces=(piece,), numbers=told)
