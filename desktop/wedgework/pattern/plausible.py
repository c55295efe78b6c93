"""Whether measures of a body are likely by themselves, and agree with each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from wedgework.geometry.memo import memoised
from wedgework.pattern.body import AGREE_MM, base_of, measure_words, measured
from wedgework.pattern.body_ranges import FAR_SD, Group, Spread, spreads_of
from wedgework.pattern.table import Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """Measures that should be taken again: a sentence, and the measures that it is about.

    `measured_mm` and `wanted_mm` are what is and what it should be, or the nearest likely value.
    """

    names: tuple[str, ...]
    sentence: str
    measured_mm: float
    wanted_mm: float


SUMS: Final[tuple[tuple[str, tuple[str, ...], str], ...]] = (
    *((f"{one}_girth_mm", (f"{one}_front_mm", f"{one}_back_mm"),
       f"Front and back arc at the {one.replace('_', '-')}")
      for one in ("bust", "under_bust", "waist", "hip")),
    ("torso_loop_mm", ("shoulder_to_waist_front_mm", "waist_to_crotch_front_mm",
        "waist_to_crotch_back_mm", "shoulder_to_waist_back_mm"), "The parts of the torso loop"),
    ("crotch_length_mm", ("waist_to_crotch_front_mm", "waist_to_crotch_back_mm"),
        "Both parts of the crotch length"),
)  # fmt: skip
"""What is measured whole and in parts: the parts add up to it."""

SMALLER: Final[tuple[tuple[str, str], ...]] = (
    ("neck_girth_mm", "neck_base_girth_mm"),
    ("neck_base_girth_mm", "shoulder_girth_mm"),
    ("knee_girth_mm", "thigh_girth_mm"),
    ("thigh_girth_mm", "hip_girth_mm"),
    ("ankle_girth_mm", "calf_girth_mm"),
    ("ankle_girth_mm", "foot_girth_mm"),
    ("wrist_girth_mm", "hand_girth_mm"),
    ("wrist_girth_mm", "elbow_girth_mm"),
    ("bust_girth_mm", "shoulder_girth_mm"),
    ("bust_point_distance_mm", "bust_front_mm"),
    ("under_bust_height_mm", "bust_height_mm"),
    ("bust_height_mm", "front_waist_length_mm"),
    ("scye_depth_mm", "back_waist_length_mm"),
    ("waist_to_hip_mm", "body_rise_mm"),
    ("body_rise_mm", "inside_leg_mm"),
    ("crotch_length_mm", "torso_loop_mm"),
    ("inside_leg_mm", "stature_mm"),
)
"""On every body the first of the two is the smaller one; plain from how they are taken."""


def unlikely(body: Mapping[str, float], name: str, group: Group | None = None) -> Doubt | None:
    """A measure further than FAR_SD from the mean of everyone that it is held against, if it is.

    Without a group women and men are both tried. Nothing is said where nobody published a spread.
    """
    value, rows = body[name], spreads_of(base_of(name)[0], group)
    if not rows or any(one.low_mm <= value <= one.high_mm for one in rows):
        return None
    nearest = min(rows, key=lambda one: _beyond_mm(one, value))
    wanted = min(max(value, nearest.low_mm), nearest.high_mm)
    how = "less" if value < wanted else "more"
    return Doubt(
        names=(name,),
        sentence=(
            f"{measure_words(name).capitalize()} {value:.0f} mm is {how} than almost anybody's: "
            f"{_whom(group)} measured {wanted:.0f} mm at the utmost ({FAR_SD:.0f} standard "
            "deviations). Look again; if it is right, leave it."
        ),
        measured_mm=value,
        wanted_mm=wanted,
    )


def _whom(group: Group | None) -> str:
    return {"women": "women", "men": "men"}.get(group or "", "women and men")


def _beyond_mm(one: Spread, value: float) -> float:
    return max(one.low_mm - value, value - one.high_mm)


def disagreeing(body: Mapping[str, float]) -> Iterator[Doubt]:
    """Measures that contradict each other: parts that miss their whole, small above large."""
    for whole, parts, words in SUMS:
        yield from _sum_missed(body, whole, parts, words)
    for small, large in SMALLER:
        yield from _wrong_order(body, small, large)


def _sum_missed(
    body: Mapping[str, float], whole: str, parts: tuple[str, ...], words: str
) -> Iterator[Doubt]:
    found = [body[name] for name in parts if name in body]
    whole_mm = measured(body, whole)
    if whole_mm is None or len(found) < len(parts) or abs(sum(found) - whole_mm) <= AGREE_MM:
        return
    yield Doubt(
        names=(whole, *parts),
        sentence=(
            f"{words} add up to {sum(found):.1f} mm, and the {measure_words(whole)} is "
            f"{whole_mm:.1f} mm: measure them again."
        ),
        measured_mm=sum(found),
        wanted_mm=whole_mm,
    )


def _wrong_order(body: Mapping[str, float], small: str, large: str) -> Iterator[Doubt]:
    less, more = measured(body, small), measured(body, large)
    if less is None or more is None or less <= more:
        return
    yield Doubt(
        names=(small, large),
        sentence=(
            f"{measure_words(small).capitalize()} {less:.1f} mm is more than "
            f"{measure_words(large)} {more:.1f} mm: one of the two is a slip."
        ),
        measured_mm=less,
        wanted_mm=more,
    )


def doubts_of(body: Table[float], group: Group | None = None) -> tuple[Doubt, ...]:
    """All that is unlikely of a body, and then all that disagrees."""
    return (*unlikely_of(body, group), *disagreeing_of(body))


def unlikely_of(body: Table[float], group: Group | None = None) -> tuple[Doubt, ...]:
    """Every measure of a body that is unlikely by itself."""
    found = (unlikely(body, name, group) for name in body)
    return tuple(one for one in found if one is not None)


@memoised
def disagreeing_of(body: Table[float]) -> tuple[Doubt, ...]:
    """Measures of a body that contradict each other."""
    return tuple(disagreeing(body))
