from __future__ import annotations

from io import BytesIO

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QComboBox, QFileDialog, QRadioButton, QWidget

from wedgework.bench import read_project
from wedgework.checks import Finding
from wedgework.files import FORMATS
from wedgework.files.pdf_out import write_pdf
from wedgework.resources import demo_path
from wedgework.window.dialogs.exporting import ExportDialog
from wedgework.window.dialogs.pages import Paginator

STOPS = Finding(code="seam_length", grave="stops_cutting", message="Side A is longer.", where=())


@pytest.fixture
def project():
    return read_project(demo_path("kingfisher_flat.wedge"))


@pytest.fixture
def parent(qtbot):
    made = QWidget()
    qtbot.addWidget(made)
    return made


@pytest.fixture
def dialog(parent, project):
    made = ExportDialog(parent, project, (STOPS,))
    made.show()
    return made


def choose(dialog, suffix, paper="A4"):
    button = next(b for b in dialog.findChildren(QRadioButton) if f"({suffix})" in b.text())
    button.setChecked(True)
    dialog.findChild(QComboBox).setCurrentText(paper)


def answer(monkeypatch, path):
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))


def test_every_format_that_can_be_written_is_offered(dialog):
    words = " ".join(button.text() for button in dialog.findChildren(QRadioButton))
    written = [one.suffix for one in FORMATS if one.write and one.suffix != ".wedge"]
    assert [suffix for suffix in written if f"({suffix})" not in words] == []


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter", "420x594"])
def test_the_pages_counted_are_those_that_are_written_after_the_map(project, paper):
    told = Paginator(project).pages(paper).count
    assert told == len(pypdf.PdfReader(BytesIO(write_pdf(project, paper))).pages) - 1


def test_paper_is_asked_for_only_where_there_are_pages(dialog):
    papers = dialog.findChild(QComboBox)
    assert not papers.isVisible()
    choose(dialog, ".pdf")
    assert papers.isVisible()


def test_a_size_of_ones_own_takes_units(dialog, qtbot):
    choose(dialog, ".pdf", "Own size")
    dialog._width.selectAll()
    qtbot.keyClicks(dialog._width, "24 in")
    qtbot.keyClick(dialog._width, Qt.Key.Key_Tab)
    assert dialog.paper == "609.6x914"


def test_paper_that_is_too_small_is_refused_with_a_sentence(dialog):
    choose(dialog, ".pdf", "Roll")
    dialog._roll.show_value(40.0)
    dialog._follow()
    assert not dialog.keep.isEnabled()


def test_a_finding_that_stops_cutting_is_told_and_forbids_nothing(dialog, monkeypatch, tmp_path):
    answer(monkeypatch, tmp_path / "suit.svg")
    assert dialog.keep.isEnabled()
    dialog.keep.click()
    assert dialog.written == tmp_path / "suit.svg"
    assert dialog.written.read_bytes().startswith(b"<?xml")


def test_a_name_without_a_suffix_gets_that_of_the_format(dialog, monkeypatch, tmp_path):
    answer(monkeypatch, tmp_path / "suit")
    choose(dialog, ".csv")
    dialog.keep.click()
    assert dialog.written == tmp_path / "suit.csv"


def test_a_file_that_cannot_be_written_keeps_the_dialog_open(dialog, monkeypatch, tmp_path):
    answer(monkeypatch, tmp_path / "no such folder" / "suit.svg")
    dialog.keep.click()
    assert dialog.written is None
    assert dialog.isVisible()


def test_escape_writes_nothing(dialog, qtbot):
    qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    assert dialog.written is None
    assert not dialog.isVisible()


def test_words_on_the_pieces_can_be_left_out(dialog, monkeypatch, tmp_path):
    answer(monkeypatch, tmp_path / "out.svg")
    choose(dialog, ".svg")
    dialog.findChild(QCheckBox).setChecked(False)
    dialog.accept()
    assert "this side up" not in (tmp_path / "out.svg").read_text()
