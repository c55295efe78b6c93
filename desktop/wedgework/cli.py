"""The command line: `wedgework WORD ...`, or `wedgework [FILE]` for the window.

Only the standard library is imported here; a command's module comes when its command runs. So
Ctrl-C ends the program cleanly at any moment, and `--help` is quick.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

FAULT: Final = 2
INTERRUPTED: Final = 130
"""128 + 2: what shells expect of a program that Ctrl-C (signal 2) ended."""

MOST_LINES: Final = 3
"""A fault is told in so many lines at most."""

SHOW_TRACEBACK: Final = "WEDGEWORK_TRACEBACK"
"""Set this in the environment to see where in the program a fault of its own happened."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; the answer is the exit code.

    0 done, 1 `check` found what stops cutting, 2 input, usage or disk at fault, 130 Ctrl-C.
    """
    words = list(sys.argv[1:] if argv is None else argv)
    _take_any_sign()
    interrupts = _count_interrupts()
    try:
        return _run(words)
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:  # the last door: a sentence, never a traceback
        # A compiled module that Ctrl-C meets while it is being imported makes another error of it.
        return INTERRUPTED if interrupts else _told(error)


def _count_interrupts() -> list[int]:
    """Ctrl-C as ever, but noted in the list that is answered; outside the main thread nothing."""
    seen: list[int] = []

    def interrupt(number: int, _frame: object) -> None:
        seen.append(number)
        raise KeyboardInterrupt

    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGINT, interrupt)
    return seen


def _run(words: list[str]) -> int:
    from wedgework.commands.pipes import flush_answer  # noqa: PLC0415 - see the docstring
    from wedgework.commands.running import run  # noqa: PLC0415

    code = run(words)
    flush_answer()
    return code


def _take_any_sign() -> None:
    """A terminal that cannot show a sign gets a question mark in its place, not an error.

    Where stdout is closed (`>&-`), what is said goes nowhere.
    """
    if sys.stdout is None:
        sys.stdout = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115 - to the end
    for stream in (sys.stdout, sys.stderr):
        reconfigure: Callable[..., None] | None = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


def _told(error: Exception) -> int:
    sentence = getattr(error, "sentence", None)
    if sentence is None:
        sentence = _sentence_of(error)
        if os.environ.get(SHOW_TRACEBACK):
            traceback.print_exc()
    if sys.stderr is not None:
        sys.stderr.write(f"wedgework: {_shown(sentence)}\n")
    if isinstance(error, OSError):
        from wedgework.commands.pipes import silence_stdout  # noqa: PLC0415

        # What stdout still holds could not be written a moment ago, and shall not try again.
        silence_stdout()
    return FAULT


def _shown(sentence: str) -> str:
    """At most three lines, and no sign in a file's name that would steer the terminal."""
    lines = sentence.strip().splitlines()[:MOST_LINES]
    return "\n".join(
        "".join(sign if sign.isprintable() else "?" for sign in line) for line in lines
    )


def _sentence_of(error: Exception) -> str:
    if isinstance(error, OSError):
        return f"The answer cannot be written: {(error.strerror or str(error)).lower()}."
    what = " ".join(f"{type(error).__name__}: {error}".split())
    return (
        f"This is a fault in Wedgework itself, not in what you did ({what}). Nothing was changed.\n"
        f"Set {SHOW_TRACEBACK}=1 to see where it happened."
    )
