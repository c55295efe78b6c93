"""Commands whose names are fixed and whose work a later version does: refused in a sentence."""

from __future__ import annotations

import argparse
from typing import NoReturn

from wedgework.commands.base import UsageFault


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Take anything: the refusal is the same."""
    parser.add_argument("rest", nargs=argparse.REMAINDER, help=argparse.SUPPRESS)
    parser.set_defaults(command=parser.prog.split()[-1])


def run(arguments: argparse.Namespace) -> NoReturn:
    """Refuse."""
    raise UsageFault(
        f"“{arguments.command}” is not there yet: this version makes, measures, edits, checks and "
        "exports pieces."
    )
