from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QComboBox, QTableWidget, QWidget

from tests import small
from wedgework.bench import Bench
from wedgework.bench.offers import Offer
from wedgework.edits.seams import JoinEdges
from wedgework.pattern.changes import new_project
from wedgework.window.dialogs.guess_choices import Choices, sure_words
from wedgework.window.dialogs.guessing import GuessDialog


def offer(name, a, b, sureness, others=()):
    made = (JoinEdges(name=name, a=(a,), b=(other,)) for other in others)
    return Offer(edit=JoinEdges(name=name, a=(a,), b=(b,)), sureness=sureness, why="of one length",
                 others=tuple(made))  # fmt: skip


@pytest.fixture
def project():
    return new_project(*(small.rectangle(own, 40, 100) for own in ("p", "q", "r")))


@pytest.fixture
def found():
    return (
        offer("p to q", "p.e2", "-q.e4", 0.95, others=("-r.e4",)),
        offer("q to r", "q.e2", "-r.e4", 0.6),
        offer("p to r", "p.e4", "-r.e2", 0.1),
    )


@pytest.fixture
def parent(qtbot):
    made = QWidget()
    qtbot.addWidget(made)
    return made


@pytest.fixture
def dialog(parent, project, found):
    made = GuessDialog(parent, project, found)
    made.show()
    return made


def names(edits):
    return [edit.name for edit in edits]


def test_what_is_likely_is_ticked_at_first_and_the_button_counts_it(dialog):
    assert names(dialog.edits) == ["p to q", "q to r"]
    assert dialog.keep.text() == "Join 2 seams"


def test_space_leaves_a_guess(dialog, qtbot):
    qtbot.keyClick(dialog.findChild(QTableWidget), Qt.Key.Key_Space)
    assert names(dialog.edits) == ["q to r"]
    assert dialog.keep.text() == "Join 1 seam"


def test_the_joins_are_kept_as_one_step(dialog, project):
    bench = Bench(project)
    bench.do(*dialog.edits)
    assert len(bench.history) == 1
    assert len(bench.project.seams) == 2


def test_another_way_that_is_as_good_is_a_choice(dialog):
    ways = dialog.findChild(QComboBox)
    assert ways.isVisible()
    ways.setCurrentIndex(1)
    ways.activated.emit(1)
    assert dialog.edits[0].b == ("-r.e4",)


def test_a_way_that_takes_an_edge_from_another_guess_leaves_that_one(dialog):
    dialog.findChild(QComboBox).activated.emit(1)
    assert names(dialog.edits) == ["p to q"]


def test_side_b_can_be_walked_the_other_way_round(dialog):
    dialog.findChild(QCheckBox).setChecked(True)
    assert dialog.edits[0].b == ("q.e4",)


def test_a_seam_takes_the_name_that_is_typed(dialog):
    dialog.findChild(QTableWidget).item(0, 0).setText("side seam")
    assert names(dialog.edits)[0] == "side seam"


def test_a_guess_without_other_ways_shows_no_choice(dialog):
    dialog.findChild(QTableWidget).setCurrentCell(1, 0)
    assert not dialog.findChild(QComboBox).isVisible()


def test_both_sides_are_drawn_for_every_guess(dialog):
    for row in range(3):
        dialog.findChild(QTableWidget).setCurrentCell(row, 0)
        assert not dialog.grab().isNull()


def test_of_two_guesses_for_one_edge_the_one_ticked_last_is_taken(project):
    rivals = offer("one", "p.e2", "-q.e4", 0.9), offer("other", "p.e2", "-r.e4", 0.1)
    choices = Choices(project, rivals)
    assert choices.take(1, taken=True) == [0]
    assert names(choices.edits) == ["other"]


def test_lengths_are_those_of_the_runs(project, found):
    assert Choices(project, found).lengths_mm(0) == pytest.approx((100.0, 100.0))


@pytest.mark.parametrize(("sureness", "words"), [(0.95, "nearly certain"), (0.1, "a try")])
def test_sureness_is_said_in_words(sureness, words):
    assert sure_words(sureness) == words
