"""What is open now, and what a maker's hand does to it. No Qt.

Names are brought in when they are first asked for: a command that only reads a project would
otherwise spend a third of its start on tools that it never takes.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from wedgework.bench.bench import Bench
    from wedgework.bench.changes import Change
    from wedgework.bench.gestures import (
        Back,
        Cancel,
        Enter,
        Move,
        Nudge,
        Press,
        Release,
        Swap,
        Typed,
    )
    from wedgework.bench.hand import Hand
    from wedgework.bench.history import Done
    from wedgework.bench.keeping import ChangedOutside, unsaved_journals
    from wedgework.bench.locking import InUse
    from wedgework.bench.opening import read_project
    from wedgework.bench.recovery import NotSaved, Recovered, recover
    from wedgework.bench.snapping import Snapping
    from wedgework.bench.steps import STEPS, StepName
    from wedgework.bench.tools import TOOLS, Tool, tool_named
    from wedgework.bench.watch import Left, Watch

__all__ = ["STEPS", "TOOLS", "Back", "Bench", "Cancel", "Change", "ChangedOutside", "Done",
    "Enter", "Hand", "InUse", "Left", "Move", "NotSaved", "Nudge", "Press", "Recovered",
    "Release", "Snapping", "StepName", "Swap", "Tool", "Typed", "Watch", "read_project", "recover",
    "tool_named",
    "unsaved_journals"]  # fmt: skip

_HOMES: Final = {
    "bench": ("Bench",),
    "changes": ("Change",),
    "gestures": ("Back", "Cancel", "Enter", "Move", "Nudge", "Press", "Release", "Swap", "Typed"),
    "hand": ("Hand",),
    "history": ("Done",),
    "keeping": ("ChangedOutside", "unsaved_journals"),
    "locking": ("InUse",),
    "opening": ("read_project",),
    "recovery": ("NotSaved", "Recovered", "recover"),
    "snapping": ("Snapping",),
    "steps": ("STEPS", "StepName"),
    "tools": ("TOOLS", "Tool", "tool_named"),
    "watch": ("Left", "Watch"),
}
_HOME_OF: Final = {name: home for home, names in _HOMES.items() for name in names}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - PEP 562
    home = _HOME_OF.get(name)
    if home is None:
        raise AttributeError(f"module {__name__} has no attribute {name}")
    return getattr(import_module(f"{__name__}.{home}"), name)
