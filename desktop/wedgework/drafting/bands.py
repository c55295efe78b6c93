"""Bands, facings, straight strips and bindings: along an edge, or so long by number."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Annotated, Final

from msgspec import Meta

from wedgework.drafting.draft import Draft, Number
from wedgework.drafting.fold_ends import mitred
from wedgework.drafting.line_ends import LineEnds, line_ends
from wedgework.drafting.lines import GarmentLine, aside, garment_line, most_bent
from wedgework.drafting.numbers import NotNegativeMm, Numbers, PositiveMm
from wedgework.drafting.sources import Refs
from wedgework.drafting.straight import StraightStrip, ring_seam
from wedgework.drafting.strips import (
    Strip,
    even,
    joint_notches,
    rectangle,
    strip_piece,
    strip_seam,
)
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Project
from wedgework.pattern.errors import DraftRefused, DraftUnsaid
from wedgework.pattern.lap_limits import SHORTAGE, SURPLUS

TOLD_MM: Final = 0.05
"""A difference that is told as nothing."""


class BandNumbers(Numbers, frozen=True, kw_only=True):
    """A band that goes on from an edge (it joins flat), or a straight one of a given length."""

    along: Annotated[
        Refs | None, Meta(description="edges that it goes on from, in walking order")
    ] = None
    length_mm: Annotated[
        PositiveMm | None, Meta(description="length of a band that hangs on no edge")
    ] = None
    width_mm: Annotated[PositiveMm, Meta(description="how far it goes on")]


class FacingNumbers(Numbers, frozen=True, kw_only=True):
    """A facing along edges, the same line once more; it is drafted again when they change.

    All round a hole or a whole piece: the edit `add_facing`.
    """

    along: Refs
    width_mm: Annotated[PositiveMm, Meta(description="15 to 25 is common practice")] = 20.0
    smaller_mm: Annotated[
        NotNegativeMm, Meta(description="how much it stays back at its free edge")
    ] = 0.0


class FlapNumbers(Numbers, frozen=True, kw_only=True):
    """A flap behind a closing: it goes on from one edge and lies under the other."""

    along: Refs
    width_mm: Annotated[PositiveMm, Meta(description="beyond the edge; 30 to 50 usual")] = 40.0


class StripNumbers(Numbers, frozen=True, kw_only=True):
    """A straight strip, as a tape or a strap is: cut so many times."""

    length_mm: Annotated[PositiveMm, Meta(description="without its lap")]
    width_mm: Annotated[PositiveMm, Meta(description="of the whole strip")]
    lap_mm: Annotated[NotNegativeMm, Meta(description="added to its length")] = 0.0
    quantity: Annotated[int, Meta(ge=1, le=1000, description="how many")] = 1


class BindingNumbers(Numbers, frozen=True, kw_only=True):
    """A strip that covers an edge from both sides."""

    along: Annotated[Refs | None, Meta(description="edges that it covers, in walking order")] = None
    length_mm: Annotated[
        PositiveMm | None, Meta(description="length of a binding that hangs on no edge")
    ] = None
    depth_mm: Annotated[PositiveMm, Meta(description="how deep it covers the edge")] = 8.0
    stack_mm: Annotated[PositiveMm, Meta(description="thickness of all layers that it covers")] = (
        0.4
    )
    thickness_mm: Annotated[PositiveMm, Meta(description="thickness of its own sheet")] = 0.4
    lap_mm: Annotated[NotNegativeMm, Meta(description="added to its length")] = 0.0


def one_length(
    project: Project, along: tuple[str, ...] | None, length: float | None
) -> GarmentLine | None:
    """The line that is followed, None where a length is given; DraftRefused for both or neither."""
    if along is not None and length is not None:
        raise DraftRefused("Give either the edges that it runs along, or its length; not both.")
    if along is None and length is None:
        raise DraftUnsaid("Give either the edges that it runs along, or its length.")
    return None if along is None else garment_line(project, along)


def draft_band(numbers: BandNumbers, project: Project) -> Draft:
    """The band; along an edge with its seam."""
    line = one_length(project, numbers.along, numbers.length_mm)
    if line is None:
        length = numbers.length_mm or 0.0
        told: dict[str, Number] = {"length_mm": length, "outer_edge_mm": length,
            "width_mm": numbers.width_mm}  # fmt: skip
        return Draft(pieces=(rectangle("band", length, numbers.width_mm),), numbers=told)
    strip = Strip(name="band", joined=line.curve, outer=even(aside(line.curve, -numbers.width_mm)),
        inside=False, role="edge")  # fmt: skip
    return _along(strip, line, line_ends(project, line), numbers.width_mm)


def draft_facing(numbers: FacingNumbers, project: Project) -> Draft:
    """The facing with its seam, laid on."""
    line = garment_line(project, numbers.along)
    width = numbers.width_mm - numbers.smaller_mm
    if width <= 0.0:
        raise DraftRefused("The facing would stay back by more than it is wide.")
    outer = even(aside(line.curve, width))
    strip = Strip(name="facing", joined=line.curve, outer=outer, inside=True, role="edge")
    return _along(strip, line, line_ends(project, line), width)


def draft_flap(numbers: FlapNumbers, project: Project) -> Draft:
    """The flap, cut once, glued under one edge only: the other side has to come off it."""
    line = garment_line(project, numbers.along)
    outer = even(aside(line.curve, -numbers.width_mm))
    strip = Strip(name="flap", joined=line.curve, outer=outer, inside=False, role="edge")
    draft = _along(strip, line, LineEnds.free("single"), numbers.width_mm)
    piece, seam = draft.pieces[0], draft.seams[0]
    once = replace(piece, cutting="single", fold_edge=None)
    return replace(draft, pieces=(once,), seams=(replace(seam, laid_on=True),))


def _along(strip: Strip, line: GarmentLine, ends: LineEnds, width_mm: float) -> Draft:
    strip = mitred(strip, line, ends)
    told: dict[str, Number] = {
        "length_mm": length_mm(strip.joined),
        "outer_edge_mm": _outer_mm(strip),
        "width_mm": width_mm,
        "turning_deg": math.degrees(line.turning_rad),
    }
    seams = [strip_seam(strip, line)]
    if ends.is_ring:
        free = "last" if ends.fold == "first" else "first"
        seams.append(ring_seam(strip.name, free, is_folded=ends.fold is not None))
    return Draft(
        pieces=(strip_piece(strip, ends.cutting, ends.fold),),
        seams=tuple(seams),
        along=line.refs,
        notches=joint_notches(strip, line),
        numbers=told,
        steps=(_free_edge_words(strip, line, width_mm), *ends.steps(line.length_mm)),
    )


def _free_edge_words(strip: Strip, line: GarmentLine, width_mm: float) -> str:
    """The calculation of the free edge, and how its ends change it where they are mitred."""
    way = 1.0 if strip.inside else -1.0
    square_mm = line.length_mm - way * width_mm * line.turning_rad
    sign = "−" if strip.inside else "+"
    words = (
        f"free edge = {line.length_mm:.1f} {sign} {width_mm:.1f} × ({line.turning_rad:.4f} rad) = "
        f"{square_mm:.1f} mm"
    )
    outer_mm = _outer_mm(strip)
    if abs(outer_mm - square_mm) < TOLD_MM:
        return words
    return f"{words} between square ends, {outer_mm:.1f} mm between those that are mitred"


def _outer_mm(strip: Strip) -> float:
    return sum(length_mm(one.curve) for one in strip.outer)


def draft_strip(numbers: StripNumbers, project: Project) -> Draft:
    """A rectangle."""
    del project
    length = numbers.length_mm + numbers.lap_mm
    piece = replace(rectangle("strip", length, numbers.width_mm), quantity=numbers.quantity)
    told: dict[str, Number] = {"length_mm": length, "width_mm": numbers.width_mm,
        "quantity": numbers.quantity}  # fmt: skip
    return Draft(pieces=(piece,), numbers=told)


def draft_binding(numbers: BindingNumbers, project: Project) -> Draft:
    """A straight strip of width 2 depth + stack + pi/2 thickness: it goes round the edge."""
    line = one_length(project, numbers.along, numbers.length_mm)
    around = 2.0 * numbers.depth_mm + numbers.stack_mm + math.pi / 2.0 * numbers.thickness_mm
    words = (
        f"width = 2 × {numbers.depth_mm:.1f} + {numbers.stack_mm:.2f} + π/2 × "
        f"{numbers.thickness_mm:.2f} = {around:.2f} mm"
    )
    told: dict[str, Number] = {"strip_width_mm": around, "depth_mm": numbers.depth_mm}
    if line is None:
        length = (numbers.length_mm or 0.0) + numbers.lap_mm
        return Draft(pieces=(rectangle("binding", length, around),), steps=(words,),
            numbers=told | {"strip_length_mm": length})  # fmt: skip
    ends = line_ends(project, line)
    strip = StraightStrip(
        name="binding", along=line, ends=ends, width_mm=around, longer_mm=numbers.lap_mm
    )
    strain = 100.0 * numbers.depth_mm * most_bent(line)
    middle = strip.line_at("edge", around / 2.0, "placement", whole=False)
    return Draft(
        pieces=(strip.piece(middle),),
        seams=(strip.seam("edge", laid_on=True),),
        along=line.refs,
        numbers=told | {"strip_length_mm": strip.length_mm, "strain_percent": strain},
        steps=(words, *ends.steps(strip.length_mm), *_strain_words(strain)),
    )


def _strain_words(strain: float) -> tuple[str, ...]:
    """What a straight strip does on an edge that bends so much."""
    if strain <= 100.0 * SURPLUS:
        return ()
    return (
        f"where the edge bends most the strip’s own edges are {strain:.1f} % too long or too short "
        f"to lie: over {100.0 * SURPLUS:.0f} % they pucker, over {100.0 * SHORTAGE:.0f} % they do "
        "not hold. Cover it less deep there.",
    )
