"""What is open now, and what a maker's hand does to it. No Qt."""

from __future__ import annotations

from wedgework.bench.bench import Bench
from wedgework.bench.changes import Change
from wedgework.bench.history import Done
from wedgework.bench.keeping import ChangedOutside, unsaved_journals
from wedgework.bench.locking import InUse
from wedgework.bench.recovery import NotSaved, Recovered, recover
from wedgework.bench.steps import STEPS, StepName

__all__ = ["STEPS", "Bench", "Change", "ChangedOutside", "Done", "InUse", "NotSaved",
    "Recovered", "StepName", "recover", "unsaved_journals"]  # fmt: skip
