"""An invented body that lends its proportions, and which measure goes least with the others."""

from __future__ import annotations

import math
import statistics
from collections.abc import Mapping
from typing import Final

from wedgework.pattern.body import measure_words
from wedgework.pattern.errors import DraftRefused

SHAPE_BODY: Final[Mapping[str, float]] = {
    "bust_girth_mm": 920.0, "under_bust_girth_mm": 780.0, "waist_girth_mm": 720.0,
    "hip_girth_mm": 980.0, "neck_base_girth_mm": 370.0, "thigh_girth_mm": 570.0,
    "shoulder_length_mm": 125.0, "back_waist_length_mm": 405.0, "torso_loop_mm": 1560.0,
    "upper_arm_girth_mm": 285.0, "wrist_girth_mm": 165.0, "arm_length_mm": 590.0,
    "knee_girth_mm": 375.0, "ankle_girth_mm": 235.0, "inside_leg_mm": 780.0,
    "neck_girth_mm": 330.0, "bust_point_distance_mm": 190.0, "waist_to_hip_mm": 200.0,
    "bust_height_mm": 174.0,
    "under_bust_height_mm": 105.0,
    "bust_front_mm": 500.0, "under_bust_front_mm": 400.0, "waist_front_mm": 370.0,
    "hip_front_mm": 460.0, "shoulder_to_waist_front_mm": 420.0, "waist_to_crotch_front_mm": 320.0,
    "waist_to_crotch_back_mm": 380.0, "shoulder_to_waist_back_mm": 440.0,
}  # fmt: skip
"""An invented body: it lends its proportions where a measure was not taken."""

GIRTHS: Final = ("bust", "under_bust", "waist", "hip")
LOOP_PARTS: Final = ("shoulder_to_waist_front_mm", "waist_to_crotch_front_mm",
    "waist_to_crotch_back_mm", "shoulder_to_waist_back_mm")  # fmt: skip

ODD_RATIO: Final = 1.15
"""A measure that is larger or smaller than the others let expect by so much is looked at first."""


def not_together(why: str, taken: Mapping[str, float]) -> DraftRefused:
    """The refusal of measures that no piece goes with, and which of them to look at first.

    `taken` are measures of the body by name, in mm; others than the invented body has are left out.
    """
    odd = _odd_one({name: mm for name, mm in taken.items() if name in SHAPE_BODY})
    if odd is None:
        return DraftRefused(f"{why}. Measure again.")
    name, usual_mm = odd
    return DraftRefused(
        f"{why}. Look first at the {measure_words(name)} of {taken[name]:.0f} mm: with the other "
        f"measures some {usual_mm:.0f} mm would be usual."
    )


def _odd_one(taken: Mapping[str, float]) -> tuple[str, float] | None:
    """The measure that is farthest from the invented body's, scaled to the others, and its own."""
    ratios = {name: mm / SHAPE_BODY[name] for name, mm in taken.items()}
    if len(ratios) < 2:
        return None
    middle = statistics.median_low(ratios.values()), statistics.median_high(ratios.values())
    scale = min(middle, key=lambda one: abs(math.log(one)))
    name = max(ratios, key=lambda one: abs(math.log(ratios[one] / scale)))
    if abs(math.log(ratios[name] / scale)) < math.log(ODD_RATIO):
        return None
    return name, SHAPE_BODY[name] * scale
