"""The command line for tests: as a real program, and in the test's own process for speed."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from wedgework.cli import main
from wedgework.files.wedge import read_wedge, write_wedge
from wedgework.pattern.document import Project


@dataclass(frozen=True)
class Answer:
    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out)

    @property
    def is_told_as_it_should_be(self) -> bool:
        """A fault: exit code 2, one to three lines on stderr, none of them a traceback."""
        lines = self.err.strip().splitlines()
        return self.code == 2 and 1 <= len(lines) <= 3 and "Traceback" not in self.err


def program(*words: object, stdin: str | bytes | None = None, **more: Any) -> Answer:
    """Run the real program."""
    command = [sys.executable, "-m", "wedgework", *map(str, words)]
    data = stdin.encode() if isinstance(stdin, str) else stdin
    done = subprocess.run(command, input=data, capture_output=True, timeout=60, check=False, **more)
    return Answer(done.returncode, done.stdout.decode(), done.stderr.decode())


def command(capsys, *words: object) -> Answer:
    """Run a command in this process."""
    code = main([str(word) for word in words])
    told = capsys.readouterr()
    return Answer(code, told.out, told.err)


def saved(path: Path, project: Project) -> Path:
    path.write_bytes(write_wedge(project))
    return path


def loaded(path: Path) -> Project:
    return read_wedge(path.read_bytes())


def edits_file(path: Path, *edits: dict[str, Any]) -> Path:
    path.write_text(json.dumps(edits))
    return path


def names_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def may_do_anything() -> bool:
    """Whether this process is the all-powerful user, whom no file mode stops."""
    return hasattr(os, "geteuid") and os.geteuid() == 0
