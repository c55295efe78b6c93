"""How much smaller than the body a sheet is cut, by direction and place."""

from __future__ import annotations

from typing import Final

from wedgework.pattern.document import Project

USUAL_REDUCTIONS: Final[dict[str, float]] = {
    "girth": 0.08, "length": 0.04, "limb": 0.08, "neck": 0.04, "edge": 0.10,
}  # fmt: skip
"""Shares of the body's length by which thin sheet is cut smaller; common practice, no source."""


def reduction_of(project: Project, place: str) -> float:
    """The share by which the project is cut smaller at a place, as usual where it is not said."""
    return project.reductions.get(place, USUAL_REDUCTIONS[place])
