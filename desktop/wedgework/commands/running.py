"""From the words that were typed to the command that does it."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches
from importlib import import_module
from pathlib import Path
from typing import Final

from wedgework import __version__
from wedgework.commands import BY_NAME, COMMANDS, Command
from wedgework.commands.base import DONE, Parser, UsageFault, say
from wedgework.pattern.errors import WedgeworkError


class CannotOpen(WedgeworkError):
    """The window lacks something of the system's."""


_HELP: Final = frozenset({"-h", "--help", "help"})


def run(words: Sequence[str]) -> int:
    """Do what was typed; the answer is the exit code. WedgeworkError where it cannot be done."""
    first = words[0] if words else ""
    if first in _HELP:
        return _help(words[1:])
    if first == "--version":
        say(f"Wedgework {__version__}")
        return DONE
    if first in BY_NAME:
        return _command(BY_NAME[first], words[1:])
    return _window(words)


def _command(command: Command, words: Sequence[str]) -> int:
    module = import_module(command.path)
    parser = Parser(
        prog=f"wedgework {command.name}", description=_sentence(command.says), allow_abbrev=False
    )
    module.add_arguments(parser)
    try:
        arguments = parser.parse_args(words)
    except SystemExit as end:  # argparse has shown the help
        return int(end.code or 0)
    return int(module.run(arguments))


def _sentence(says: str) -> str:
    return says[:1].upper() + says[1:] + "."


def _help(words: Sequence[str]) -> int:
    if words and words[0] in BY_NAME:
        return _command(BY_NAME[words[0]], ["--help"])
    width = max(len(command.name) for command in COMMANDS)
    say("wedgework [FILE]            open the window")
    say("wedgework COMMAND --help    what a command takes\n")
    for command in COMMANDS:
        say(f"  {command.name:{width}}  {command.says}")
    say("\nLengths are mm, angles degrees. Exit codes: 0 done; 1 check found what stops cutting;")
    say("2 input, usage or disk at fault; 130 stopped by Ctrl-C.")
    return DONE


def _window(words: Sequence[str]) -> int:
    if any(word.startswith("-") for word in words) or len(words) > 1:
        raise UsageFault(f"“{words[0]}” is no command. See: wedgework --help")
    path = Path(words[0]) if words else None
    if path is not None and not path.exists():
        near = get_close_matches(words[0], list(BY_NAME), n=1)
        hint = f" Did you mean “{near[0]}”?" if near else " See: wedgework --help"
        raise UsageFault(f"There is no command and no file “{words[0]}”.{hint}")
    try:
        window = import_module("wedgework.window.app")
    except ImportError as error:
        # Qt itself is there (it is a dependency): what it lacks is a library of the system.
        raise CannotOpen(
            f"The window cannot open: {error}.\nA Debian system gets what it needs by: "
            "python3 desktop/start.py needs"
        ) from error
    return int(window.run(path))
