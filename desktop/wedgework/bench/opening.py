"""Read whatever holds pieces: a project, or a drawing at true size."""

from __future__ import annotations

from pathlib import Path

from wedgework.files.atomic import read_whole
from wedgework.files.wedge import read_wedge
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused


def read_project(path: Path) -> Project:
    """The project in a file, told by its suffix; FileRefused, naming the file, where it is none."""
    try:
        return read_wedge(read_whole(path))
    except FileRefused as error:
        if str(path) in error.sentence:
            raise
        raise FileRefused(f"“{path}”: {error.sentence}", culprit=error.culprit) from None
