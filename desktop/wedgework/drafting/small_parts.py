"""Cuffs and gussets."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Annotated

from msgspec import Meta

from wedgework.drafting.draft import Draft, Number, Side, ring_of_sides
from wedgework.drafting.lines import garment_line
from wedgework.drafting.numbers import NotNegativeMm, Numbers, PositiveMm
from wedgework.drafting.sources import Refs
from wedgework.drafting.strips import rectangle
from wedgework.geometry.curve import line
from wedgework.pattern.document import Line, Piece, Project, Ref, Seam
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
    piece = rectangle("cuff", along.length_mm, wide)
    if numbers.turned_back:
        fold = line((0.0, numbers.width_mm), (along.length_mm, numbers.width_mm))
        piece = replace(piece, lines=(Line(id="cuff.fold", kind="fold", curve=fold, name="fold"),))
    if any(stretch.piece.cutting == "pair" for stretch in along.run.stretches):
        piece = replace(piece, cutting="pair")
    seam = Seam(id="cuff.seam", name="cuff to garment", a=along.refs,
        b=(Ref("cuff.long", backward=True),))  # fmt: skip
    ring = Seam(id="cuff.ring", name="cuff ring", a=(Ref("cuff.last"),),
        b=(Ref("cuff.first", backward=True),), lap_mm=numbers.lap_mm)  # fmt: skip
    told: dict[str, Number] = {"length_mm": along.length_mm, "strip_width_mm": wide,
        "width_mm": numbers.width_mm}  # fmt: skip
    return Draft(pieces=(piece,), seams=(seam, ring), numbers=told)


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
    told: dict[str, Number] = {"side_mm": numbers.length_mm, "width_mm": numbers.width_mm,
        "length_mm": 2.0 * tall, "angle_deg": angle}  # fmt: skip
    return Draft(pieces=(piece,), numbers=told)
