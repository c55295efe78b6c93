"""Answers to a reader who may go at any time (`| head`): nothing is wrong then."""

from __future__ import annotations

import contextlib
import os
import sys


def write_answer(text: str) -> None:
    """Write to stdout; where the reader has gone, write no more."""
    try:
        sys.stdout.write(text)
    except BrokenPipeError:
        silence_stdout()


def flush_answer() -> None:
    """Send on what was written; where the reader has gone, forget it."""
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        silence_stdout()


def silence_stdout() -> None:
    """Let stdout lead nowhere: Python flushes it once more when it ends, and must find a place."""
    with contextlib.suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
