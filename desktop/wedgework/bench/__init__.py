"""What is open now, and what a maker's hand does to it. No Qt."""

from __future__ import annotations

from wedgework.bench.bench import Bench
from wedgework.bench.changes import Change
from wedgework.bench.gestures import Cancel, Enter, Move, Press, Release, Typed
from wedgework.bench.hand import Hand
from wedgework.bench.history import Done
from wedgework.bench.keeping import ChangedOutside, unsaved_journals
from wedgework.bench.locking import InUse
from wedgework.bench.recovery import NotSaved, Recovered, recover
from wedgework.bench.snapping import Snapping
from wedgework.bench.steps import STEPS, StepName
from wedgework.bench.tools import TOOLS, Tool, tool_named

__all__ = ["STEPS", "TOOLS", "Bench", "Cancel", "Change", "ChangedOutside", "Done", "Enter", "Hand",
    "InUse", "Move", "NotSaved", "Press", "Recovered", "Release", "Snapping", "StepName", "Tool",
    "Typed", "recover", "tool_named", "unsaved_journals"]  # fmt: skip
