"""What a rubber sheet does when it is worn: how far it stretches, how thin it gets, how it pulls.

r is the reduction, a share of the body: cut = body * (1 - r). L is the stretch ratio, worn length
over cut length: L = 1 / (1 - r). The stretch in per cent is 100 * (L - 1) = 100 * r / (1 - r).
Rubber keeps its volume (Poisson ratio near 0.5), so what it gains along it loses across.

The law of tension is the neo-Hookean one of textbooks (Treloar, The Physics of Rubber Elasticity,
1975): nearly right for little stretch, too stiff beyond some 40 %. Shown for comparison only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from wedgework.pattern.document import Material
from wedgework.pattern.errors import EditRefused

Across: TypeAlias = Literal["free", "held", "both"]
"""What the other direction does: it shrinks as it will, is held at its length, or is stretched as
much as this one."""

SHEAR_MPA: Final = 0.39
"""Shear modulus of vulcanised natural rubber. Source: Treloar 1975, as his data of 1944 bear out
within 3 % at 12 % stretch."""

TOO_STIFF_FROM: Final = 0.40
"""From this stretch on the law overstates the pull by 7 % and more. Source: Treloar, Trans. Faraday
Soc. 40, 59 (1944)."""

PASCAL_PER_MMHG: Final = 133.322
GRAVITY: Final = 9.80665
"""m/s2, standard gravity: a pull is told as a weight that hangs on the sheet."""

_POWER: Final[dict[Across, int]] = {"free": -2, "held": -3, "both": -5}

PULLS: Final[tuple[tuple[float, str], ...]] = (
    (10.0, "lies on the body"),
    (30.0, "holds lightly"),
    (70.0, "snug"),
    (120.0, "firm"),
    (math.inf, "very firm: hard to put on"),
)
"""Up to how many N/m a sheet feels so; common practice, no source."""


def ratio_of_reduction(reduction: float) -> float:
    """Stretch ratio L of a sheet cut by this share smaller; EditRefused at 1 and above."""
    if not reduction < 1.0:
        raise EditRefused("A sheet that is cut smaller by all of the body is none.")
    return 1.0 / (1.0 - reduction)


def reduction_of_ratio(ratio: float) -> float:
    """Share by which a sheet of this stretch ratio was cut smaller; EditRefused at 0 and below."""
    if not ratio > 0.0:
        raise EditRefused("A stretch ratio is above 0.")
    return 1.0 - 1.0 / ratio


def stretch_percent(reduction: float) -> float:
    """By how many per cent of its own length a reduced sheet is stretched when it is worn."""
    return 100.0 * (ratio_of_reduction(reduction) - 1.0)


def reduction_of_percent(percent: float) -> float:
    """Share by which to cut smaller, so that the sheet is stretched by so many per cent."""
    return reduction_of_ratio(1.0 + percent / 100.0)


def worn_thickness_mm(thickness_mm: float, along: float, across: float = 1.0) -> float:
    """Thickness of a sheet stretched by both ratios: the volume stays."""
    return thickness_mm / (along * across)


def free_length_factor(ratio: float) -> float:
    """What is left of the length of a sheet whose length is free, girths stretched by `ratio`."""
    return float(ratio**-0.5)


def nominal_stress_mpa(
    ratio: float, across: Across = "held", shear_mpa: float = SHEAR_MPA
) -> float:
    """Pull for each area of the sheet as it was cut, neo-Hookean: G (L - L**-2, -3 or -5)."""
    return float(shear_mpa * (ratio - ratio ** _POWER[across]))


def pull_n_per_m(ratio: float, thickness_mm: float, across: Across = "held") -> float:
    """Pull for each metre of cut width: MPa times mm are N/mm."""
    return nominal_stress_mpa(ratio, across) * thickness_mm * 1000.0


def pressure_pa(pull: float, girth_mm: float) -> float:
    """Pressure on a round body of this girth from a pull in N/m, by Laplace: p = T / R."""
    return pull / (girth_mm / 1000.0 / (2.0 * math.pi))


def grams_per_cm(pull: float) -> float:
    """A pull in N/m as a weight that hangs on each centimetre of the sheet's width."""
    return pull / GRAVITY * 1000.0 / 100.0


def pull_words(pull: float) -> str:
    """How a pull in N/m feels, in a maker's words."""
    return next(words for most, words in PULLS if pull <= most)


RUBBER_LAW: Final = "as rubber, by its textbook law"
"""The law by which a sheet's pull is told where it is known."""

NO_LAW: Final[dict[Material, str]] = {
    "neoprene": "not known of neoprene: try a strip of it",
    "vinyl": "not known of vinyl: cut it without reduction, or with ease",
    "leather": "not known of leather: cut it without reduction, or with ease",
    "stretch_cloth": "not known of cloth, which differs by knit and direction: try a strip of it",
}
"""Why nothing is told of other sheets, and how makers cut them; common practice, no source."""


def law_words(material: Material) -> str:
    """By which law the pull of a material is told, or why it is not."""
    return NO_LAW.get(material, RUBBER_LAW)


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """A sheet as it is worn, its other direction held: what a maker is told of a reduction.

    `shrinks` is the share of its length that the sheet loses where its length is not held.
    """

    stretch_percent: float
    thickness_mm: float
    shrinks: float
    pull_n_per_m: float
    words: str

    @property
    def is_beyond_law(self) -> bool:
        """Whether the stretch is so large that the law of tension is too stiff."""
        return self.stretch_percent > 100.0 * TOO_STIFF_FROM


def worn(reduction: float, thickness_mm: float) -> Worn:
    """What a sheet of this thickness does, cut smaller by this share and worn."""
    ratio = ratio_of_reduction(reduction)
    pull = pull_n_per_m(ratio, thickness_mm)
    return Worn(
        stretch_percent=stretch_percent(reduction),
        thickness_mm=worn_thickness_mm(thickness_mm, ratio),
        shrinks=1.0 - free_length_factor(ratio),
        pull_n_per_m=pull,
        words=pull_words(pull),
    )


def worn_in(material: Material, reduction: float, thickness_mm: float) -> Worn | None:
    """What a sheet of this material does; None where no law of it is known."""
    return None if material in NO_LAW else worn(reduction, thickness_mm)
