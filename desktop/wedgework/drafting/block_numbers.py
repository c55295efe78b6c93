"""What a one-piece suit block is drafted from, and the cut sizes that follow from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Final, Literal, TypeAlias

from msgspec import Meta

from wedgework.drafting.numbers import (
    NotNegativeMm,
    Numbers,
    PositiveMm,
    Reduction,
    said,
)
from wedgework.drafting.shape_body import GIRTHS, LOOP_PARTS, SHAPE_BODY, not_together
from wedgework.pattern.body import measure_words
from wedgework.pattern.errors import DraftRefused

Closing: TypeAlias = Literal["back", "front", "side", "none"]
Neckline: TypeAlias = Literal["base", "round", "v"]
Legs: TypeAlias = Literal["none", "mid_thigh", "ankle"]
Sleeves: TypeAlias = Literal["none", "short", "long"]

BY_BUST: Final = (
    *(f"{one}_girth_mm" for one in GIRTHS if one != "under_bust"),
    "neck_base_girth_mm",
    "thigh_girth_mm",
    "shoulder_length_mm",
    "back_waist_length_mm",
    "torso_loop_mm",
    "bust_point_distance_mm",
)
LIMBS: Final = (
    "upper_arm_girth_mm", "wrist_girth_mm", "arm_length_mm", "knee_girth_mm", "ankle_girth_mm",
    "inside_leg_mm", "neck_girth_mm",
)  # fmt: skip
"""Measures that are scaled by bust girth where they were not taken."""

SUM_MM: Final = 1.0
"""Parts of a girth or of the torso loop may miss the whole by so much: both were read off a tape
to half a millimetre at best."""

NECK_RISE_MM: Final = 15.0
"""The foot of the neck at the shoulder lies at least so much above the nape; common practice, no
source."""


class BodyBlockNumbers(Numbers, frozen=True, kw_only=True):
    """A one-piece suit: front and back, from the girths, lengths and torso loop of a body."""

    bust_girth_mm: PositiveMm
    under_bust_girth_mm: PositiveMm | None = None
    waist_girth_mm: PositiveMm | None = None
    hip_girth_mm: PositiveMm | None = None
    neck_base_girth_mm: PositiveMm | None = None
    shoulder_length_mm: PositiveMm | None = None
    back_waist_length_mm: PositiveMm | None = None
    torso_loop_mm: PositiveMm | None = None
    thigh_girth_mm: PositiveMm | None = None
    bust_front_mm: PositiveMm | None = None
    under_bust_front_mm: PositiveMm | None = None
    waist_front_mm: PositiveMm | None = None
    hip_front_mm: PositiveMm | None = None
    bust_back_mm: PositiveMm | None = None
    under_bust_back_mm: PositiveMm | None = None
    waist_back_mm: PositiveMm | None = None
    hip_back_mm: PositiveMm | None = None
    shoulder_to_waist_front_mm: PositiveMm | None = None
    waist_to_crotch_front_mm: PositiveMm | None = None
    waist_to_crotch_back_mm: PositiveMm | None = None
    shoulder_to_waist_back_mm: PositiveMm | None = None
    bust_point_distance_mm: PositiveMm | None = None
    bust_height_mm: Annotated[
        PositiveMm | None, Meta(description="from the waist up to the bust level")
    ] = None
    under_bust_height_mm: Annotated[
        PositiveMm | None, Meta(description="from the waist up to the level under the bust")
    ] = None
    waist_to_hip_mm: PositiveMm | None = None
    armscye_girth_mm: Annotated[
        PositiveMm | None, Meta(description="round the arm; without it the armhole comes as drawn")
    ] = None
    girth_reduction: Reduction = 0.08
    length_reduction: Reduction = 0.04
    neck_reduction: Reduction = 0.04
    edge_reduction: Annotated[
        Reduction, Meta(description="of leg openings and armholes, by their path on the body")
    ] = 0.10
    side_share: Annotated[
        float,
        Meta(ge=0, le=1, description="share of the intake that the side seam takes; the rest is "
            "left for seams through the bust point"),
    ] = 1.0  # fmt: skip
    crotch_width_mm: Annotated[
        PositiveMm, Meta(description="width of the sheet between the legs")
    ] = 60.0
    crotch_strip_mm: Annotated[
        NotNegativeMm,
        Meta(description="length of a strip between front and back in the crotch, as it is cut; "
            "0: they meet there"),
    ] = 0.0  # fmt: skip
    leg_rise_mm: Annotated[
        PositiveMm | None,
        Meta(description="how much higher the leg opening is at the side than at the crotch"),
    ] = None
    shoulder_slope_deg: Annotated[
        float,
        Meta(ge=0, le=45, description="slope of the shoulder", extra_json_schema={"unit": "deg"}),
    ] = 20.0
    neckline: Annotated[Neckline, Meta(description="how the front of the neck is cut out")] = "base"
    neck_wider_mm: Annotated[
        NotNegativeMm, Meta(description="how far along the shoulder the neckline moves out")
    ] = 0.0
    neck_lower_mm: Annotated[
        NotNegativeMm, Meta(description="how much lower the neckline lies at the front")
    ] = 0.0
    back_lower_mm: Annotated[
        NotNegativeMm, Meta(description="how much lower the neckline lies at the back")
    ] = 0.0
    legs: Annotated[Legs, Meta(description="how far the legs reach")] = "none"
    sleeves: Annotated[Sleeves, Meta(description="how far the sleeves reach")] = "none"
    high_neck_mm: Annotated[
        NotNegativeMm, Meta(description="height of a neck that stands on the neckline; 0 for none")
    ] = 0.0
    upper_arm_girth_mm: PositiveMm | None = None
    wrist_girth_mm: PositiveMm | None = None
    arm_length_mm: PositiveMm | None = None
    knee_girth_mm: PositiveMm | None = None
    ankle_girth_mm: PositiveMm | None = None
    inside_leg_mm: PositiveMm | None = None
    neck_girth_mm: PositiveMm | None = None
    closing: Annotated[
        Closing,
        Meta(description="where the suit closes: along its centre back or front, or at a side"),
    ] = "back"


@dataclass(frozen=True, kw_only=True)
class CutSizes:
    """Sizes on the sheet, in mm.

    `front` and `back` are half widths by level, heights are from the waist, `loop` the parts of the
    torso loop. `filled_in` names measures that were not taken.
    """

    body: Mapping[str, float]
    filled_in: tuple[str, ...]
    cut: Mapping[str, float]
    front: Mapping[str, float]
    back: Mapping[str, float]
    bust_height_mm: float
    under_bust_height_mm: float
    hip_height_mm: float
    loop: Mapping[str, float]
    shoulder_mm: float
    nape_height_mm: float
    neck_mm: float
    bust_point_mm: float

    @property
    def taken(self) -> dict[str, float]:
        """What was measured, without what was filled in."""
        return {name: mm for name, mm in self.body.items() if name not in self.filled_in}


def cut_sizes(numbers: BodyBlockNumbers) -> CutSizes:
    """What to cut, from what was measured: cut = body * (1 - reduction), by direction.

    Raises DraftRefused where the measures contradict each other.
    """
    body, filled_in = whole_body(numbers)
    girth, length = 1.0 - numbers.girth_reduction, 1.0 - numbers.length_reduction
    loop = {name: body[name] * length for name in LOOP_PARTS}
    return CutSizes(
        body=body,
        filled_in=filled_in,
        cut={name: body[f"{name}_girth_mm"] * girth for name in GIRTHS},
        front={name: body[f"{name}_front_mm"] / 2.0 * girth for name in GIRTHS},
        back={name: body[f"{name}_back_mm"] / 2.0 * girth for name in GIRTHS},
        bust_height_mm=body["bust_height_mm"] * length,
        under_bust_height_mm=body["under_bust_height_mm"] * length,
        hip_height_mm=-body["waist_to_hip_mm"] * length,
        loop=loop,
        shoulder_mm=body["shoulder_length_mm"] * length,
        nape_height_mm=body["back_waist_length_mm"] * length,
        neck_mm=body["neck_base_girth_mm"] * (1.0 - numbers.neck_reduction),
        bust_point_mm=body["bust_point_distance_mm"] / 2.0 * girth,
    )


def whole_body(numbers: BodyBlockNumbers) -> tuple[dict[str, float], tuple[str, ...]]:
    """Every measure that the block needs, and the names of those that were filled in.

    What was not measured is the invented body's, scaled by bust girth; arcs share their own girth
    out as that body's do, heights and parts of the loop follow back waist length and torso loop.
    An under-bust girth is no smaller than the waist, or than a bust that is narrower still.
    """
    taking = _Taking({k: float(v) for k, v in said(numbers).items() if k.endswith("_mm")})
    scale = numbers.bust_girth_mm / SHAPE_BODY["bust_girth_mm"]
    for name in (*BY_BUST, *LIMBS):
        taking.take(name, SHAPE_BODY[name] * scale)
    # No narrower than the waist, as the scaled one is where chest and waist are alike.
    least_mm = min(taking.body["waist_girth_mm"], taking.body["bust_girth_mm"])
    own_mm = max(SHAPE_BODY["under_bust_girth_mm"] * scale, least_mm)
    taking.take("under_bust_girth_mm", own_mm)
    by_back = taking.body["back_waist_length_mm"] / SHAPE_BODY["back_waist_length_mm"]
    for name in ("bust_height_mm", "under_bust_height_mm"):
        taking.take(name, SHAPE_BODY[name] * by_back)
    _take_loop(taking)
    most_mm = 0.64 * taking.body["waist_to_crotch_front_mm"]
    taking.take("waist_to_hip_mm", min(SHAPE_BODY["waist_to_hip_mm"] * scale, most_mm))
    for girth in GIRTHS:
        _take_arcs(taking, girth)
    _refuse_heights(taking)
    return taking.body, tuple(taking.filled_in)


class _Taking:
    """Measures taken one after the other, and which of them had to be filled in."""

    def __init__(self, given: Mapping[str, float]) -> None:
        self.given = given
        self.body: dict[str, float] = {}
        self.filled_in: list[str] = []

    def take(self, name: str, otherwise: float) -> None:
        """Take what was measured, or else what is offered, and note that."""
        if name not in self.given:
            self.filled_in.append(name)
        self.body[name] = self.given.get(name, otherwise)


def _take_loop(taking: _Taking) -> None:
    """Parts of the torso loop: those that were taken, and the rest shared out among the others."""
    body, given = taking.body, taking.given
    whole_mm = body["torso_loop_mm"]
    known = {name: given[name] for name in LOOP_PARTS if name in given}
    open_parts = [name for name in LOOP_PARTS if name not in known]
    rest_mm = whole_mm - sum(known.values())
    if (not open_parts and abs(rest_mm) > SUM_MM) or (open_parts and rest_mm <= 0):
        raise DraftRefused(
            f"The parts of the torso loop add up to {sum(known.values()):.1f} mm, and the loop is "
            f"{whole_mm:.1f} mm: measure again."
        )
    shares = {name: SHAPE_BODY[name] for name in open_parts}
    back = "shoulder_to_waist_back_mm"
    total = sum(shares.values())
    if back in shares and total > 0:
        least_mm = body["back_waist_length_mm"] + NECK_RISE_MM
        own_mm = max(rest_mm * shares[back] / total, least_mm)
        if len(shares) > 1:
            known[back] = min(own_mm, 0.7 * rest_mm)
            rest_mm -= known[back]
            total -= shares.pop(back)
    known |= {name: rest_mm * share / total for name, share in shares.items()}
    taking.filled_in.extend(open_parts)
    body.update({name: known[name] for name in LOOP_PARTS})


def _take_arcs(taking: _Taking, girth: str) -> None:
    """Front and back arc of a girth; they add up to it."""
    body, given = taking.body, taking.given
    front, back, whole_mm = f"{girth}_front_mm", f"{girth}_back_mm", body[f"{girth}_girth_mm"]
    ratio = SHAPE_BODY[front] / SHAPE_BODY[f"{girth}_girth_mm"]
    if front in given and back in given:
        if abs(given[front] + given[back] - whole_mm) > SUM_MM:
            raise DraftRefused(
                f"Front and back arc at the {girth.replace('_', '-')} add up to "
                f"{given[front] + given[back]:.1f} mm, and the girth is {whole_mm:.1f} mm: "
                "measure again."
            )
        front_mm = whole_mm * given[front] / (given[front] + given[back])
    elif back in given:
        front_mm = whole_mm - given[back]
    else:
        front_mm = given.get(front, whole_mm * ratio)
    taking.filled_in.extend(name for name in (front, back) if name not in given)
    if not 0.2 * whole_mm < front_mm < 0.8 * whole_mm:
        said = back if back in given and front not in given else front
        arc_mm = whole_mm - front_mm if said == back else front_mm
        raise DraftRefused(
            f"A {measure_words(said)} of {arc_mm:.0f} mm in a {measure_words(f'{girth}_girth_mm')} "
            f"of {whole_mm:.0f} mm is no arc from side to side: measure both again."
        )
    body[front], body[back] = front_mm, whole_mm - front_mm


def _refuse_heights(taking: _Taking) -> None:
    body = taking.body
    up, under, down = (
        body[name] for name in ("bust_height_mm", "under_bust_height_mm", "waist_to_hip_mm")
    )
    shoulder_mm = min(body["shoulder_to_waist_front_mm"], body["shoulder_to_waist_back_mm"])
    crotch_mm = min(body["waist_to_crotch_front_mm"], body["waist_to_crotch_back_mm"])
    if not 0 < under < up:
        why = f"An under bust height of {under:.0f} mm is not below a bust height of {up:.0f} mm"
    elif up >= 0.8 * shoulder_mm:
        why = (
            f"The bust level lies {up:.0f} mm above the waist, too near to the shoulder: the torso "
            f"loop runs only {shoulder_mm:.0f} mm from the waist up to there"
        )
    elif down >= 0.95 * crotch_mm:
        why = (
            f"The hip level lies {down:.0f} mm below the waist, as low as the crotch: the torso "
            f"loop runs only {crotch_mm:.0f} mm from the waist down to there"
        )
    else:
        return
    raise not_together(why, taking.given)
