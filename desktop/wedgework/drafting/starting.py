"""What a kind's numbers are to start from in a project: its body, its reductions, its sheet."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from wedgework.drafting.hanging import waist_under_mm
from wedgework.pattern.body import for_both
from wedgework.pattern.document import Project
from wedgework.pattern.reductions import reductions_said

TENTHS = 10.0


class First(NamedTuple):
    """A number to start from, and where it is from."""

    value: float
    said: str


def first_numbers(project: Project) -> dict[str, First]:
    """Numbers by name, whatever kind takes them; one that is not known is left out.

    A skirt goes over the body and the suit, so its waist starts a little wider than the body's.
    """
    numbers = {name: First(mm, "of the body") for name, mm in for_both(project.body).items()}
    numbers |= {name: First(share, "") for name, share in reductions_said(project).items()}
    under_mm = waist_under_mm(project)
    if under_mm is not None:
        numbers["waist_mm"] = First(math.ceil(under_mm * TENTHS) / TENTHS, "over suit")
    return numbers | dict(_of_sheet(project))


def _of_sheet(project: Project) -> Iterator[tuple[str, First]]:
    """What all sheets have in common."""
    sheets = project.sheets.values()
    if len({one.thickness_mm for one in sheets}) == 1:
        yield "thickness_mm", First(next(iter(sheets)).thickness_mm, "of the sheet")
    if len({one.width_mm for one in sheets}) == 1:
        yield "sheet_width_mm", First(next(iter(sheets)).width_mm, "of the sheet")
