"""Every word that a maker meets has a row in the glossary."""

from __future__ import annotations

import importlib
import pkgutil
import re

import pytest

from wedgework import commands
from wedgework.bench.steps import STEPS
from wedgework.bench.tools import TOOLS
from wedgework.commands.tables import Column
from wedgework.drafting import KINDS, draft_docs
from wedgework.edits import EDITS
from wedgework.files import FORMATS
from wedgework.glossary import glossary, meaning_of, words_of
from wedgework.resources import resource_path

UNIT = re.compile(r" ?(mm|px|cm²|mm²|°|%)$")
DRAFTS = ["body_block", "collar", "pleated_skirt", "flared_skirt", "tube", "band", "bow"]
FINDINGS = [
    "seam_length",
    "seam_twisted",
    "outline_crosses",
    "dart_legs",
    "darts_meet",
    "holes_apart",
    "opening_too_small",
    "piece_too_large",
    "seam_corner",
    "seam_notches",
    "lap_too_curved",
    "outline_spike",
    "sheet_stains",
    "draft_out_of_date",
    "flat_seam",
]
# Words that this project gives a meaning of its own, or that its window is built from.
WORDS = [
    "piece",
    "edge",
    "corner",
    "seam",
    "run",
    "allowance",
    "notch",
    "hole",
    "level",
    "dart",
    "apex",
    "intake",
    "mouth",
    "shaping",
    "station",
    "room",
    "true",
    "walk",
    "ease",
    "fair",
    "hold",
    "tail",
    "ledger",
    "card",
    "table",
    "finding",
    "mend",
    "reduction",
    "stretch",
    "lay",
    "yield",
]


def test_the_steps_are_those_of_the_job_in_its_order():
    assert tuple(entry.word for entry in words_of("step")) == STEPS


@pytest.mark.parametrize(
    ("kind", "words"),
    [("draft", DRAFTS), ("finding", FINDINGS), ("word", WORDS)],
)
def test_every_word_of_the_contract_has_a_row(kind, words):
    assert set(words) - {entry.word for entry in words_of(kind)} == set()


def test_every_kind_of_draft_and_each_of_its_numbers_has_a_row():
    assert {kind.name for kind in KINDS} - {entry.word for entry in words_of("draft")} == set()
    numbers = {one["name"] for row in draft_docs() for one in row["numbers"]}
    assert numbers - {entry.word for entry in words_of("number")} == set()


def test_every_edit_has_a_row():
    assert {row.name for row in EDITS} - {entry.word for entry in words_of("edit")} == set()


def test_every_command_has_a_row():
    names = {command.name for command in commands.COMMANDS}
    assert names - {entry.word for entry in words_of("command")} == set()


def test_every_tool_has_a_row_and_a_picture():
    assert {tool.name for tool in TOOLS} - {entry.word for entry in words_of("tool")} == set()
    assert all(resource_path(f"icons/{tool.icon}.svg").is_file() for tool in TOOLS)


def test_every_format_has_a_row():
    assert {one.suffix for one in FORMATS} - {entry.word for entry in words_of("format")} == set()


def headings():
    """Headings of all tables of the command line, without the unit that stands in them."""
    for found in pkgutil.iter_modules(commands.__path__, "wedgework.commands."):
        for held in vars(importlib.import_module(found.name)).values():
            columns = held if isinstance(held, tuple) else ()
            yield from (column.heading for column in columns if isinstance(column, Column))


def test_every_column_heading_has_a_row():
    said = {UNIT.sub("", heading) for heading in headings()} - {""}
    assert said - {entry.word for entry in words_of("heading")} == set()
    assert len(said) > 20


@pytest.mark.parametrize("entry", glossary().values(), ids=lambda entry: entry.word)
def test_a_row_has_a_meaning_and_a_source(entry):
    assert entry.meaning.endswith(".")
    assert entry.source.strip() == entry.source != ""


def test_a_word_without_a_row_is_a_fault_of_ours():
    with pytest.raises(KeyError):
        meaning_of("word", "gizmo")


def test_a_meaning_is_found_by_kind_and_word():
    assert meaning_of("word", "tail").startswith("The surplus length")
