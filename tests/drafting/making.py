"""Drafts for tests: a kind and its numbers in, the draft or a project with it out."""

from __future__ import annotations

from wedgework.drafting import Draft, drafted
from wedgework.edits.drafted import DraftPieces
from wedgework.pattern.document import Project

BODY = {
    "bust_girth_mm": 920, "under_bust_girth_mm": 780, "waist_girth_mm": 720, "hip_girth_mm": 980,
    "neck_base_girth_mm": 370, "shoulder_length_mm": 125, "back_waist_length_mm": 405,
    "torso_loop_mm": 1560, "thigh_girth_mm": 570,
}  # fmt: skip
"""An invented body."""


def draft(kind: str, project: Project | None = None, **numbers: object) -> Draft:
    """What is drafted."""
    return drafted(project or Project(), kind, numbers)[1]


def placed(kind: str, project: Project | None = None, **numbers: object) -> Project:
    """The project with it."""
    return DraftPieces(kind=kind, numbers=numbers).apply(project or Project())


def block(**numbers: object) -> Project:
    """A suit block from the invented body."""
    return placed("body_block", **(BODY | numbers))
