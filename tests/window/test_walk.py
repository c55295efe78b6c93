"""The maker's way through a real window, by mouse and keys at places of the screen alone.

A demo is opened, a corner dragged, its seam trued, the chest seam shaped, and the pieces exported.
Nothing here asks the bench; the exported file, measured by libraries of others, decides.
"""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from tests.window import hand
from tests.window.drawn import edge_between, length_mm, seam_lines, width_mm

# Places of the demo in mm, y up, as its drawing has them.
CHEST_TOP, CHEST_FOOT = (226.889, -35.996), (214.053, -653.288)
FRONT_TOP, FRONT_FOOT = (156.9, -36.0), (144.1, -653.3)
WAIST = (193.9, -375.0)
INTAKE_MM = 24.0


def exported(qtbot, path):
    """The seam lines of the file that an export writes."""
    return seam_lines(hand.export(qtbot, path).read_text(encoding="utf-8"))


def chest_edges(pieces):
    """Both sides of the chest seam, and by how much the file is shifted against the table."""
    collar = [point for one in pieces["collar"] for point in (one.start, one.end)]
    dx, dy = 30 - min(p.x for p in collar), 759 - min(p.y for p in collar)

    def in_file(place):
        return place[0] - dx, -place[1] - dy

    side = edge_between(pieces["front.1"], in_file(CHEST_TOP), in_file(CHEST_FOOT))
    front = edge_between(pieces["front.2"], in_file(FRONT_TOP), in_file(FRONT_FOOT))
    return side, front, dy


def widths(pieces, y_mm):
    """Width of both pieces together at a height of the table."""
    *_, dy = chest_edges(pieces)
    return sum(width_mm(pieces[own], -y_mm - dy) for own in ("front.1", "front.2"))


@pytest.fixture
def at_demo(window, qtbot):
    """The window with the flat suit, opened from the first page."""
    hand.click(hand.button_place(window, "Kingfisher flat"))
    qtbot.waitUntil(window.table.isVisible)
    QTest.qWait(200)
    return window


def test_a_maker_drags_trues_shapes_and_exports(at_demo, qtbot, tmp_path):
    window = at_demo
    before = exported(qtbot, tmp_path / "before.svg")

    foot = hand.on_table(window, *CHEST_FOOT)
    hand.drag(foot, foot + QPoint(0, 12))
    qtbot.waitUntil(lambda: "not ready" in window.strip.state.text())
    dragged = exported(qtbot, tmp_path / "dragged.svg")
    side, front, _ = chest_edges(dragged)
    assert length_mm(side) - length_mm(front) > 10

    hand.click(hand.on_table(window, *WAIST))
    hand.key(Qt.Key.Key_T)
    qtbot.waitUntil(lambda: "not ready" not in window.strip.state.text())
    side, front, _ = chest_edges(exported(qtbot, tmp_path / "trued.svg"))
    assert length_mm(side) == pytest.approx(length_mm(front), abs=0.02)

    hand.key(Qt.Key.Key_I)
    press = hand.on_table(window, *WAIST)
    hand.drag(press, press + QPoint(9, 0))
    hand.type_text(f"{INTAKE_MM:g}")
    hand.key(Qt.Key.Key_Return)
    QTest.qWait(150)
    after = exported(qtbot, tmp_path / "after.svg")
    side, front, _ = chest_edges(after)
    assert length_mm(side) == pytest.approx(length_mm(front), abs=0.02)
    assert widths(before, WAIST[1]) - widths(after, WAIST[1]) == pytest.approx(INTAKE_MM, abs=1.5)


def test_what_was_done_can_be_undone_by_its_key(at_demo, qtbot, tmp_path):
    window = at_demo
    before = exported(qtbot, tmp_path / "before.svg")
    foot = hand.on_table(window, *CHEST_FOOT)
    hand.drag(foot, foot + QPoint(8, 12))
    hand.key(Qt.Key.Key_Z, held=Qt.KeyboardModifier.ControlModifier)
    after = exported(qtbot, tmp_path / "after.svg")
    assert {own: list(map(str, path)) for own, path in after.items()} == {
        own: list(map(str, path)) for own, path in before.items()
    }


def test_escape_in_a_drag_leaves_everything_as_it_was(at_demo, qtbot, tmp_path):
    window = at_demo
    before = exported(qtbot, tmp_path / "before.svg")
    foot = hand.on_table(window, *CHEST_FOOT)
    hand.drag(foot, foot + QPoint(8, 12), on_the_way=lambda: hand.key(Qt.Key.Key_Escape))
    after = exported(qtbot, tmp_path / "after.svg")
    assert str(after["front.1"]) == str(before["front.1"])
