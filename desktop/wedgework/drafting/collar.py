"""Collars traced from the joined neckline.

The back is laid to the front at the shoulder, neck points together; overlapping the shoulders by o
at a shoulder of length S takes a turn of 2 asin(o / (2 S)) out of the collar at each, and makes its
outer edge shorter by the width times that turn. Source of half an inch for a collar that lies flat:
Rosenfeld, Practical Designer for Women's and Misses' Underwear, 1918, lesson 432.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Final, TypeAlias

from msgspec import Meta

from wedgework.drafting.collar_facing import facing_seams, laid_below
from wedgework.drafting.collar_line import DrawnLine, drawn_line, drawn_sides
from wedgework.drafting.collar_shape import Shape, outer_sides
from wedgework.drafting.collar_turn import Neckline, Rise, Turn, standing_seam, turn_of, turn_steps
from wedgework.drafting.draft import Draft, Number, Side
from wedgework.drafting.fold_ends import mitred
from wedgework.drafting.line_ends import LineEnds, line_ends
from wedgework.drafting.lines import GarmentLine, bent_by, garment_line
from wedgework.drafting.numbers import NotNegativeMm, Numbers, PositiveMm
from wedgework.drafting.sources import Refs
from wedgework.drafting.strips import (
    Fold,
    Strip,
    joint_notches,
    strip_piece,
    strip_seam,
)
from wedgework.geometry.curve import Curve, line
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Cutting, Project
from wedgework.pattern.errors import DraftRefused, DraftUnsaid

FACING: Final = "collar_facing"

Lean: TypeAlias = Annotated[float, Meta(ge=-60, le=90, extra_json_schema={"unit": "deg"})]
"""How far a standing collar leans out, in degrees; further in than that it would close."""


class CollarNumbers(Numbers, frozen=True, kw_only=True):
    """A collar traced from a neckline over one or several pieces: flat, rolled or standing."""

    neckline: Refs
    width_mm: Annotated[
        PositiveMm | None,
        Meta(description="from the neck edge to the outer edge; measured where that is drawn"),
    ] = None
    stand_mm: Annotated[
        NotNegativeMm | None, Meta(description="how high it stands before it falls; 0 lies flat")
    ] = None
    overlap_mm: Annotated[
        NotNegativeMm | None, Meta(description="by how much front and back overlap at the shoulder")
    ] = None
    lean_deg: Annotated[
        Lean | None,
        Meta(description="of one that stands unfolded: 0 upright, 90 flat, below 0 to the neck"),
    ] = None
    outer_line: Annotated[
        Refs | None, Meta(description="lines drawn on the garment that are its outer edge")
    ] = None
    wider_at_fold_mm: Annotated[
        NotNegativeMm, Meta(description="how much wider it is where it is cut on the fold")
    ] = 0.0
    wider_at_end_mm: Annotated[
        NotNegativeMm, Meta(description="how much wider it is where it ends")
    ] = 0.0
    shape: Annotated[
        Shape, Meta(description="how it gets wider there: to a point, rounded, or as a square flap")
    ] = "pointed"
    facing_smaller_mm: Annotated[
        NotNegativeMm | None,
        Meta(description="a facing under it, so much smaller outside; 1 to 2 usual; none if empty"),
    ] = None


@dataclass(frozen=True, eq=False, kw_only=True)
class _Plan:
    """What a collar and its facing are drafted from."""

    numbers: CollarNumbers
    along: GarmentLine
    neck: Curve
    cutting: Cutting
    fold: Fold
    width_mm: float
    drawn: DrawnLine | None

    def strip(self, name: str, smaller_mm: float) -> Strip:
        """The collar, or what is smaller by so much at its outer edge."""
        strip = Strip(name=name, joined=self.neck, outer=self._outer(smaller_mm), inside=True)
        # Its free ends lie beside the closing, even where the neckline itself goes all round.
        ends = LineEnds(cutting=self.cutting, fold=self.fold, is_ring=False)
        return strip if self.drawn is not None else mitred(strip, self.along, ends)

    def _outer(self, smaller_mm: float) -> tuple[Side, ...]:
        if self.drawn is not None:
            return tuple(drawn_sides(self.drawn, self.along, self.neck, smaller_mm, self.fold))
        width_mm = self.width_mm - smaller_mm
        if width_mm <= 0.0:
            raise DraftRefused("The facing would stay back by more than the collar is wide.")
        wider = _wider(self.numbers, self.fold)
        return tuple(outer_sides(self.neck, width_mm, wider, self.numbers.shape))


def _wider(numbers: CollarNumbers, fold: Fold) -> tuple[float, float]:
    """How much wider the collar is at the first and at the last end of its neckline."""
    at_fold, at_end = numbers.wider_at_fold_mm, numbers.wider_at_end_mm
    if fold is None:
        return at_end, at_end
    return (at_fold, at_end) if fold == "first" else (at_end, at_fold)


def draft_collar(numbers: CollarNumbers, project: Project) -> Draft:
    """The collar, its seam with the neckline, and a notch where the pieces of it meet.

    DraftRefused where more than one of stand, overlap and lean is given, or the collar is wider
    than the shoulder allows.
    """
    along = garment_line(project, numbers.neckline)
    ends = line_ends(project, along)
    cutting, fold = ends.cutting, ends.fold
    drawn = None if numbers.outer_line is None else drawn_line(project, numbers.outer_line, along)
    width_mm = _width_mm(numbers, drawn)
    neckline = Neckline(along=along, share=1.0 if cutting == "single" else 0.5)
    rise = Rise(stand_mm=numbers.stand_mm, overlap_mm=numbers.overlap_mm, lean_deg=numbers.lean_deg)
    turn = turn_of(neckline, rise, width_mm)
    _refuse_wide(turn.lying_mm, neckline.shoulder_mm)
    plan = _Plan(
        numbers=numbers, along=along, neck=_neck_edge(neckline, rise, turn), cutting=cutting,
        fold=fold, width_mm=width_mm, drawn=drawn,
    )  # fmt: skip
    strip = plan.strip("collar", 0.0)
    pieces, seams = [strip_piece(strip, cutting, fold)], [strip_seam(strip, along)]
    if numbers.lean_deg is not None:
        seams = [standing_seam(seams[0], neckline, turn)]
    if numbers.facing_smaller_mm is not None:
        under = strip_piece(plan.strip(FACING, numbers.facing_smaller_mm), cutting, fold)
        pieces.append(laid_below(under, pieces[0]))
        seams += facing_seams(pieces[0], under)
    return Draft(
        pieces=tuple(pieces),
        seams=tuple(seams),
        along=along.refs,
        notches=joint_notches(strip, along),
        numbers=_told(plan, neckline, turn, strip),
        steps=tuple(turn_steps(neckline, rise, turn, width_mm)),
    )


def _neck_edge(neckline: Neckline, rise: Rise, turn: Turn) -> Curve:
    """The neckline with the turn taken out; of a standing collar an even arc, the net of a cone."""
    curve = neckline.along.curve
    if rise.lean_deg is None:
        return bent_by(curve, turn.turn_rad)
    straight = line((0.0, 0.0), (neckline.along.length_mm, 0.0))
    return bent_by(straight, turn.turn_rad - neckline.turning_rad)


def _width_mm(numbers: CollarNumbers, drawn: DrawnLine | None) -> float:
    if drawn is None and numbers.width_mm is None:
        raise DraftUnsaid("Give the width of the collar, or the lines of its outer edge.")
    if drawn is not None and (numbers.wider_at_fold_mm or numbers.wider_at_end_mm):
        raise DraftRefused("Its outer edge is drawn already: it gets no wider at fold or end.")
    if drawn is not None and numbers.width_mm is not None:
        raise DraftRefused("Its outer edge is drawn already: leave the width empty.")
    return numbers.width_mm or (0.0 if drawn is None else drawn.width_mm)


def _refuse_wide(lying_mm: float, shoulder_mm: float | None) -> None:
    if shoulder_mm is not None and lying_mm > shoulder_mm:
        raise DraftRefused(
            f"A collar that lies {lying_mm:.0f} mm wide is wider than the shoulder of "
            f"{shoulder_mm:.0f} mm allows: make it narrower, or let it stand higher."
        )


def _told(plan: _Plan, neckline: Neckline, turn: Turn, strip: Strip) -> dict[str, Number]:
    told: dict[str, Number] = {
        "neck_edge_mm": length_mm(plan.neck),
        "outer_edge_mm": sum(length_mm(one.curve) for one in strip.outer),
        "turn_deg": math.degrees(turn.turn_rad),
        "stand_mm": turn.stand_mm,
        "neckline_turning_deg": math.degrees(neckline.turning_rad),
        "shoulder_mm": neckline.shoulder_mm,
        "width_mm": plan.width_mm,
    }
    # One that stands unfolded is cut as a part of a ring: no shoulder is overlapped for it.
    is_folded = plan.numbers.lean_deg is None
    return told | {"overlap_mm": turn.overlap_mm} if is_folded else told
