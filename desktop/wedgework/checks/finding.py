"""What a check says: a finding, how grave it is, and mends as plain data.

Mends name edits but are no edits: this room does not know that one. The bench decodes them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final, Literal, TypeAlias

from wedgework.geometry.curve import Curve, Point
from wedgework.pattern.document import Piece, Project, Seam
from wedgework.pattern.wording import with_minus

Grave: TypeAlias = Literal["stops_cutting", "look_again", "good_to_know"]
Step: TypeAlias = Literal["Measure", "Draft", "Shape", "Join", "Mark", "Lay", "Cut"]

GRAVES: Final[tuple[Grave, ...]] = ("stops_cutting", "look_again", "good_to_know")
"""The gravest first."""

EditData: TypeAlias = dict[str, Any]
"""An edit as JSON says it: `{"edit": "true_seam", "seam": "s", "change": "a"}`."""


@dataclass(frozen=True, eq=False, slots=True)
class Mend:
    """Edits that would put a finding right, done as one step; `label` says what they do."""

    label: str
    edits: tuple[EditData, ...]

    def __post_init__(self) -> None:
        """Numbers in words have a true minus sign; those in the edits are plain."""
        object.__setattr__(self, "label", with_minus(self.label))


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class Finding:
    """Something that a maker should know before cutting.

    `where` are ids, the seam or piece first; `at_mm` is a point, (2,) mm, in its piece. `measured`
    and `wanted` are in mm, degrees or per cent, as the message says, None where there is no number.
    `curves` is the stretch at fault, in its pieces, where a point does not tell it.
    """

    code: str
    grave: Grave
    message: str
    where: tuple[str, ...]
    at_mm: Point | None = None
    measured: float | None = None
    wanted: float | None = None
    accepted: bool = False
    mends: tuple[Mend, ...] = ()
    curves: tuple[Curve, ...] = ()

    def __post_init__(self) -> None:
        """Numbers in the message have a true minus sign."""
        object.__setattr__(self, "message", with_minus(self.message))

    @property
    def excess(self) -> float:
        """By how much what was measured is over what was wanted; 0 where there is no number."""
        return 0.0 if self.measured is None else self.measured - (self.wanted or 0.0)

    @property
    def badness(self) -> float:
        """How far what was measured is from what was wanted; 0 where there is no number."""
        return abs(self.excess)

    @property
    def stops(self) -> bool:
        """Whether nothing should be cut before this is mended or accepted."""
        return self.grave == "stops_cutting" and not self.accepted


@dataclass(frozen=True, kw_only=True)
class Rule:
    """One row of the table of checks; it looks at each seam, at each piece, or at all."""

    code: str
    grave: Grave
    step: Step


@dataclass(frozen=True, kw_only=True)
class SeamRule(Rule):
    """A rule that looks at one seam or dart."""

    find: Callable[[Rule, Project, Seam], tuple[Finding, ...]]


@dataclass(frozen=True, kw_only=True)
class PieceRule(Rule):
    """A rule that looks at one piece."""

    find: Callable[[Rule, Project, Piece], tuple[Finding, ...]]


@dataclass(frozen=True, kw_only=True)
class ProjectRule(Rule):
    """A rule that looks at the project as a whole; it is asked after every edit, so it is cheap."""

    find: Callable[[Rule, Project], tuple[Finding, ...]]


def called(thing: Piece | Seam) -> str:
    """What to call a piece or a seam in a message."""
    return f"“{thing.name or thing.id}”"
