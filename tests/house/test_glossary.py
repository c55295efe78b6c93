"""Every word that a maker meets has a row in the glossary."""

from __future__ import annotations

import pytest

from wedgework.edits import EDITS
from wedgework.glossary import glossary, meaning_of, words_of

STEPS = ["Measure", "Draft", "Shape", "Join", "Mark", "Lay", "Cut"]
COMMANDS = [
    "new",
    "info",
    "check",
    "edit",
    "edits",
    "draft",
    "drafts",
    "form",
    "lay",
    "order",
    "export",
]
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
    assert [entry.word for entry in words_of("step")] == STEPS


@pytest.mark.parametrize(
    ("kind", "words"),
    [("command", COMMANDS), ("draft", DRAFTS), ("finding", FINDINGS), ("word", WORDS)],
)
def test_every_word_of_the_contract_has_a_row(kind, words):
    assert set(words) - {entry.word for entry in words_of(kind)} == set()


def test_every_edit_has_a_row():
    assert {row.name for row in EDITS} - {entry.word for entry in words_of("edit")} == set()


@pytest.mark.parametrize("entry", glossary().values(), ids=lambda entry: entry.word)
def test_a_row_has_a_meaning_and_a_source(entry):
    assert entry.meaning.endswith(".")
    assert entry.source.strip() == entry.source != ""


def test_a_word_without_a_row_is_a_fault_of_ours():
    with pytest.raises(KeyError):
        meaning_of("word", "gizmo")


def test_a_meaning_is_found_by_kind_and_word():
    assert meaning_of("word", "tail").startswith("The surplus length")
