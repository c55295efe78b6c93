"""The commands: one table, one module each, imported only when its command runs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """A command's name, the line that help says of it, and the module that does it.

    The module has `add_arguments(parser)` and `run(arguments) -> exit code`.
    """

    name: str
    says: str
    module: str

    @property
    def path(self) -> str:
        """Full name of the module."""
        return f"wedgework.commands.{self.module}"


COMMANDS: Final[tuple[Command, ...]] = (
    Command(name="new", says="make a project from a drawing", module="new"),
    Command(name="info", says="pieces, edges, seams, darts and their numbers", module="info"),
    Command(name="check", says="findings, and whether it is ready to cut", module="check"),
    Command(name="fit", says="levels, openings and the way in against the body", module="fit"),
    Command(name="edit", says="apply a list of edits and save the result", module="edit"),
    Command(name="edits", says="every edit: arguments, units, meaning", module="edits"),
    Command(name="export", says="write the pieces for a cutter, paper or a list", module="export"),
    Command(name="guess", says="offer the seams that lengths and shapes suggest", module="guess"),
    Command(name="propose", says="intake for a seam, from the body's girths", module="propose"),
    Command(name="body", says="measures of the body: read, write, and what is likely",
        module="body"),
    Command(name="draft", says="make pieces from numbers", module="draft"),
    Command(name="drafts", says="every kind of draft: numbers, units, meaning", module="drafts"),
    Command(name="form", says="the joined shape in space", module="to_come"),
    Command(name="lay", says="arrange the pieces on sheets", module="to_come"),
    Command(name="order", says="the making order", module="to_come"),
)  # fmt: skip

BY_NAME: Final = {command.name: command for command in COMMANDS}
