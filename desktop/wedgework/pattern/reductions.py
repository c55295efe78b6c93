"""Reductions: by which share a sheet is cut smaller than the body, by direction and place.

A reduction is not a stretch: cut 8 % smaller, a sheet is stretched by 8.7 % when it is worn
(`pattern/stretch.py`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from wedgework.pattern.document import Project

Reduced: TypeAlias = Literal["girth", "length", "limb", "neck", "edge"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Usual:
    """How much a direction or a place is usually reduced in thin rubber sheet, as shares.

    Common practice, no source: a start that a maker may change, never a limit.
    """

    meaning: str
    share: float
    low: float
    high: float


USUAL: Final[dict[Reduced, Usual]] = {
    "girth": Usual(meaning="girths of the trunk", share=0.08, low=0.05, high=0.12),
    "length": Usual(meaning="lengths of the trunk: bending needs them", share=0.04, low=0.0,
        high=0.05),
    "limb": Usual(meaning="girths of arms and legs", share=0.08, low=0.05, high=0.10),
    "neck": Usual(meaning="neckline and standing neck", share=0.04, low=0.0, high=0.05),
    "edge": Usual(meaning="leg openings and armholes, by their path", share=0.10, low=0.08,
        high=0.12),
}  # fmt: skip
"""Cloth-backed sheet, vinyl and leather take none, or ease; thicker sheet takes less."""

MOST: Final = 0.5
"""No sheet is cut smaller than half of the body."""


def reduction_of(project: Project, where: Reduced) -> float:
    """The share by which the sheet is cut smaller there: the project's own, else the usual one."""
    return project.reductions.get(where, USUAL[where].share)


def reductions_said(project: Project) -> dict[str, float]:
    """The reductions that the maker has set, by the names that drafts take: `girth_reduction`."""
    return {f"{name}_reduction": share for name, share in project.reductions.items()}
