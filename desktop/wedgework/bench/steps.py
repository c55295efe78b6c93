"""The steps of the job, in its order."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias, get_args

StepName: TypeAlias = Literal["Measure", "Draft", "Shape", "Join", "Mark", "Lay", "Cut"]

STEPS: Final[tuple[StepName, ...]] = get_args(StepName)
