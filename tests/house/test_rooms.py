"""The order of the rooms, and how little the core takes along when it starts."""

from __future__ import annotations

import importlib.util
import json
import subprocess
import sys

from tests.house.source import imported_modules, program_files, room_of
from wedgework.commands import COMMANDS

# A room may import rooms of the lines above its own. Rooms of one line do not know each other.
ORDER = (
    ("geometry",),
    ("pattern",),
    ("drafting",),
    ("edits", "checks", "forms", "nesting", "drawing"),
    ("units",),
    ("resources",),
    ("glossary",),
    ("subjects",),
    ("files",),
    ("bench",),
    ("window",),
    ("commands",),
    ("cli",),
    ("__main__",),
)
LINE = {room: line for line, rooms in enumerate(ORDER) for room in rooms}
HEAVY = {"PySide6", "scipy", "pyqtgraph", "svgelements", "ezdxf", "reportlab", "tqdm", "spyrrow"}


def breaches():
    for path in program_files():
        room = room_of(path)
        for name in imported_modules(path):
            package, _, rest = name.partition(".")
            other = rest.split(".")[0]
            # The package's own first file stands above all rooms: it may import none.
            inside = package == "wedgework" and other in LINE and other != room
            if inside and LINE[other] >= LINE.get(room, 0):
                yield f"{room} imports {other} ({path.name})"


def test_every_file_of_the_program_lies_in_a_room_of_the_list():
    assert {room_of(path) for path in program_files()} - {"__init__"} <= set(LINE)


def test_a_room_imports_only_rooms_above_it():
    assert list(breaches()) == []


def test_only_the_window_knows_qt():
    knows_qt = {
        room_of(path)
        for path in program_files()
        if any(name.split(".")[0] in {"PySide6", "pyqtgraph"} for name in imported_modules(path))
    }
    assert knows_qt <= {"window"}


def loaded_by(modules):
    look = f"import sys, json, {', '.join(modules)}; print(json.dumps(list(sys.modules)))"
    answer = subprocess.run([sys.executable, "-c", look], capture_output=True, check=True)
    return {name.split(".")[0] for name in json.loads(answer.stdout)}


def test_bench_and_command_line_start_without_qt_and_other_heavy_packages():
    assert loaded_by(["wedgework.bench", "wedgework.cli"]) & HEAVY == set()


def test_no_command_takes_along_what_it_may_not_need():
    modules = {command.path for command in COMMANDS if importlib.util.find_spec(command.path)}
    assert modules
    assert loaded_by(sorted(modules)) & HEAVY == set()
