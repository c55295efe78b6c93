"""Reading the project's own source for the house tests: files, syntax trees, imports."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
PACKAGE = TOP / "desktop" / "wedgework"


def program_files() -> list[Path]:
    """Every Python file of the program itself."""
    return sorted(PACKAGE.rglob("*.py"))


def all_files() -> list[Path]:
    """Every Python file of the project: program, door and tests."""
    return sorted([*(TOP / "desktop").rglob("*.py"), *(TOP / "tests").rglob("*.py")])


@cache
def tree(path: Path) -> ast.Module:
    """Syntax tree of one file."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def room_of(path: Path) -> str:
    """The room that a file of the program lies in: its folder, or its own name."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imported_modules(path: Path) -> Iterator[str]:
    """Full names that a file imports, wherever in it; `from a import b` counts as `a.b`."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.level == 0:
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def definitions(path: Path) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef]:
    """Functions and classes of a file and of its public classes, but not inside functions."""
    waiting: list[ast.AST] = [tree(path)]
    while waiting:
        for node in ast.iter_child_nodes(waiting.pop()):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
                yield node
            public_class = isinstance(node, ast.ClassDef) and not node.name.startswith("_")
            if public_class or isinstance(node, ast.If):
                waiting.append(node)
