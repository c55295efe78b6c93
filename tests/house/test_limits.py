"""Sizes, docstrings and epsilons: what the house asks of every file."""

from __future__ import annotations

import ast
from statistics import median, quantiles

import pytest

from tests.house.source import PACKAGE, TOP, all_files, definitions, program_files, tree

LONGEST_FILE = 500
CORE = ("geometry", "pattern", "drafting", "edits", "checks", "forms", "nesting", "drawing")


def function_lengths(path):
    for node in definitions(path):
        if not isinstance(node, ast.ClassDef):
            body = node.body[1:] if ast.get_docstring(node) else node.body
            yield body[-1].end_lineno - body[0].lineno + 1 if body else 0


def test_no_file_is_longer_than_it_can_be_read_at_one_sitting():
    lengths = {str(p.relative_to(TOP)): len(p.read_bytes().splitlines()) for p in all_files()}
    assert {name: n for name, n in lengths.items() if n > LONGEST_FILE} == {}


def test_functions_are_short():
    lengths = [length for path in program_files() for length in function_lengths(path)]
    assert median(lengths) <= 8
    assert quantiles(lengths, n=10)[-1] <= 25


@pytest.mark.parametrize("path", [*program_files(), TOP / "desktop" / "start.py"], ids=str)
def test_all_that_is_public_says_what_it_is(path):
    silent = [
        node.name
        for node in definitions(path)
        if not node.name.startswith("_") and not ast.get_docstring(node)
    ]
    assert ast.get_docstring(tree(path))
    assert silent == []


def test_epsilons_stand_in_the_table_of_tolerances_and_nowhere_else():
    # 1e-300 and its like keep a division from nothing; they decide no question of nearness.
    found = [
        f"{path.relative_to(PACKAGE)}:{node.lineno} {node.value}"
        for room in CORE
        for path in sorted((PACKAGE / room).rglob("*.py"))
        if path.name != "tolerances.py"
        for node in ast.walk(tree(path))
        if isinstance(node, ast.Constant) and isinstance(node.value, float)
        if 1e-100 < abs(node.value) < 1e-3
    ]
    assert found == []
