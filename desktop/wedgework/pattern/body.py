"""Measurements of a body that the program knows, by name, and what each one is.

Words after ISO 8559-1 (trunk circumference is our torso loop); source of the list: ISO 8559:1989
as printed in Gupta and Zakaria (eds), Anthropometry, Apparel Sizing and Design, table 4.1.

What differs between left and right is written down under two names more: `thigh_girth_left_mm` and
`thigh_girth_right_mm`. `measured` answers for a side, or for both.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final, Literal, TypeAlias

from wedgework.pattern.errors import EditRefused
from wedgework.pattern.plain import did_you_mean

Side: TypeAlias = Literal["left", "right"]

MEASURES: Final[dict[str, str]] = {
    "head_girth_mm": "round the head, over the brow",
    "neck_girth_mm": "round the neck at the larynx",
    "neck_base_girth_mm": "round the foot of the neck",
    "shoulder_girth_mm": "round both shoulders and arms",
    "bust_girth_mm": "round the bust at its fullest",
    "under_bust_girth_mm": "round the ribs under the bust",
    "waist_girth_mm": "round the natural waist",
    "hip_girth_mm": "round the hips at their fullest",
    "thigh_girth_mm": "round the thigh at its fullest",
    "leg_opening_girth_mm": "round the leg along the line of the leg opening",
    "knee_girth_mm": "round the knee",
    "calf_girth_mm": "round the calf at its fullest",
    "ankle_girth_mm": "round the ankle",
    "foot_girth_mm": "round heel and instep",
    "upper_arm_girth_mm": "round the upper arm at its fullest",
    "elbow_girth_mm": "round the bent elbow",
    "wrist_girth_mm": "round the wrist",
    "hand_girth_mm": "round the hand with the thumb laid in",
    "armscye_girth_mm": "round the arm where it meets the shoulder",
    "bust_front_mm": "front arc of the bust girth, side to side",
    "bust_back_mm": "back arc of the bust girth, side to side",
    "under_bust_front_mm": "front arc of the under-bust girth, side to side",
    "under_bust_back_mm": "back arc of the under-bust girth, side to side",
    "waist_front_mm": "front arc of the waist girth, side to side",
    "waist_back_mm": "back arc of the waist girth, side to side",
    "hip_front_mm": "front arc of the hip girth, side to side",
    "hip_back_mm": "back arc of the hip girth, side to side",
    "bust_point_distance_mm": "from one bust point to the other",
    "neck_to_bust_point_mm": "from the foot of the neck at its side to the bust point",
    "shoulder_length_mm": "from the foot of the neck to the shoulder's end",
    "scye_depth_mm": "from the nape down to the level of the armpits",
    "back_waist_length_mm": "from the nape down to the waist",
    "front_waist_length_mm": "from the foot of the neck over the bust point to the waist",
    "waist_to_hip_mm": "from the waist down to the hip level, at the side",
    "body_rise_mm": "from the waist down to the seat, sitting",
    "shoulder_to_waist_front_mm": "from mid-shoulder over the bust point to the waist",
    "waist_to_crotch_front_mm": "from the waist in front down to the crotch",
    "waist_to_crotch_back_mm": "from the crotch up to the waist at the back",
    "shoulder_to_waist_back_mm": "from the waist at the back up to mid-shoulder",
    "crotch_length_mm": "from the waist in front through the crotch to the waist at the back",
    "bust_height_mm": "from the waist up to the bust level",
    "under_bust_height_mm": "from the waist up to the level under the bust",
    "torso_loop_mm": "from the shoulder over the bust, through the crotch, up the back",
    "inside_leg_mm": "from the crotch down to the floor",
    "arm_length_mm": "from the shoulder's end over the bent elbow to the wrist",
    "stature_mm": "height, standing",
}

SIDED: Final = (
    "armscye_girth_mm", "upper_arm_girth_mm", "elbow_girth_mm", "wrist_girth_mm", "hand_girth_mm",
    "thigh_girth_mm", "leg_opening_girth_mm", "knee_girth_mm", "calf_girth_mm", "ankle_girth_mm",
    "foot_girth_mm", "shoulder_length_mm", "neck_to_bust_point_mm", "arm_length_mm",
    "inside_leg_mm", "torso_loop_mm",
)  # fmt: skip
"""Measures that are taken left and right; they are written down apart where they differ."""

SIDES: Final[tuple[Side, ...]] = ("left", "right")

AGREE_MM: Final = 5.0
"""Two readings of one girth may differ by so much; common practice, no source (TRADE 1)."""


def of_side(name: str, side: Side) -> str:
    """The name of a measure on one side: `thigh_girth_left_mm`."""
    return f"{name.removesuffix('_mm')}_{side}_mm"


ALL_NAMES: Final = (*MEASURES, *(of_side(name, side) for name in SIDED for side in SIDES))
"""Every name that a measure can be written down under."""

_BASES: Final[dict[str, tuple[str, Side | None]]] = {
    **{name: (name, None) for name in MEASURES},
    **{of_side(name, side): (name, side) for name in SIDED for side in SIDES},
}


def base_of(name: str) -> tuple[str, Side | None]:
    """The measure that a name says, and its side, None for both; KeyError where it says none."""
    return _BASES[name]


def meaning_of_measure(name: str) -> str:
    """Where a measure is taken, with its side; KeyError where there is none of this name."""
    base, side = base_of(name)
    return MEASURES[base] if side is None else f"{MEASURES[base]}, {side}"


def measure_words(name: str) -> str:
    """A measure's name as words: `bust girth`, `thigh girth left`."""
    return name.removesuffix("_mm").replace("_", " ")


def refuse_unknown(name: str) -> None:
    """EditRefused, with the nearest name, where there is no measure of this name."""
    if name in _BASES:
        return
    base, side = _without_side(name)
    if side is not None and base in MEASURES:
        raise EditRefused(f"“{measure_words(base)}” has no left and right.", culprit=name)
    hint = did_you_mean(name, list(ALL_NAMES))
    raise EditRefused(f"There is no measure “{name}”.{hint}", culprit=name)


def _without_side(name: str) -> tuple[str, Side | None]:
    for side in SIDES:
        if name.endswith(f"_{side}_mm"):
            return f"{name.removesuffix(f'_{side}_mm')}_mm", side
    return name, None


def measured(body: Mapping[str, float], name: str, side: Side | None = None) -> float | None:
    """A measure in mm, None where it was not taken.

    Of a side: what was taken there, else what was taken without a side, else the other side's. Of
    no side: the larger one of both, so that what is made for two limbs goes on either.
    """
    base, own = base_of(name)
    side = own or side
    if side is not None:
        names = [of_side(base, side), base, of_side(base, _OTHER[side])]
        return next((body[one] for one in names if one in body), None)
    both = (measured(body, base, one) for one in SIDES)
    return max((one for one in both if one is not None), default=None)


_OTHER: Final[dict[Side, Side]] = {"left": "right", "right": "left"}


def for_both(body: Mapping[str, float]) -> dict[str, float]:
    """Every measure that is known, under its plain name, as `measured` answers for no side."""
    return dict(_for_both(body))


def _for_both(body: Mapping[str, float]) -> Iterator[tuple[str, float]]:
    for name in MEASURES:
        value = measured(body, name)
        if value is not None:
            yield name, value


def settled_mm(readings: Sequence[float]) -> float | None:
    """What to write down of readings of one measure, in mm; None where one more is needed.

    Two that agree within AGREE_MM: the middle between them. Otherwise a third is taken, and the
    middle one of the three is kept, so that a slip falls out.
    """
    if len(readings) < 2 or (len(readings) == 2 and abs(readings[0] - readings[1]) > AGREE_MM):
        return None
    ordered = sorted(readings)
    low, high = ordered[(len(ordered) - 1) // 2], ordered[len(ordered) // 2]
    return (low + high) / 2
