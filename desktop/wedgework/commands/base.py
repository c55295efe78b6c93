"""What all commands share: usage faults in one line, answers on stdout, files by their suffix."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any, Final, NoReturn

from wedgework.commands.pipes import write_answer
from wedgework.files.atomic import write_atomically
from wedgework.files.wedge import refuse_newer_target, write_wedge
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused, WedgeworkError

DONE: Final = 0
STOPS_CUTTING: Final = 1


class UsageFault(WedgeworkError):
    """What was typed is no command that can be done."""


class Parser(argparse.ArgumentParser):
    """argparse that says what is wrong in one line, and where to read more."""

    def error(self, message: str) -> NoReturn:
        """Raise UsageFault instead of printing the whole usage."""
        message = message[:1].upper() + message[1:]
        raise UsageFault(f"{message}. See: {self.prog} --help")


def add_file(parser: argparse.ArgumentParser) -> None:
    """The argument FILE."""
    parser.add_argument("file", metavar="FILE", type=Path, help="project (.wedge), or a drawing")


def add_json(parser: argparse.ArgumentParser) -> None:
    """The option --json."""
    parser.add_argument("--json", action="store_true", help="answer with one JSON value")


def say(text: str) -> None:
    """Write lines of an answer to stdout."""
    write_answer(f"{text}\n")


def say_json(value: Any) -> None:  # noqa: ANN401 - any JSON value
    """Write the answer as one JSON value; in plain ASCII, so that every terminal takes it."""
    write_answer(json.dumps(value, allow_nan=False) + "\n")


def wedge_target(path: Path) -> Path:
    """`path`, if a project may be saved there; FileRefused by its suffix or a newer version."""
    if path.suffix.lower() != ".wedge":
        raise FileRefused(f"“{path}” is no name for a project: it ends in .wedge.")
    refuse_newer_target(path)
    return path


def save_project(project: Project, path: Path) -> None:
    """Save to `path`, entirely or not at all."""
    write_atomically(path, write_wedge(project))
