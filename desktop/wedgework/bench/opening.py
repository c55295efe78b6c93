"""Read whatever holds pieces: a project, or a drawing that pieces are taken from."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from wedgework.files import ReadOptions, read_file_bytes
from wedgework.files.atomic import read_whole
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused


def read_project(path: Path, options: ReadOptions | None = None) -> Project:
    """The project in a file, told by its suffix; what was repaired stands in its `problems`.

    A drawing takes its file's name where it has none. FileRefused, naming the file, where it
    cannot be read; its subclass UnitUnknown where `options` must say what one unit of it is.
    """
    data = read_whole(path)
    try:
        project, problems = read_file_bytes(path, data, options)
    except FileRefused as error:
        if path.name in error.sentence:
            raise
        raise type(error)(f"“{path.name}”: {error.sentence}", culprit=error.culprit) from None
    if path.suffix.lower() == ".wedge":
        return project
    told = project.problems or tuple(map(str, problems))
    return replace(project, name=project.name or path.stem, problems=told)
