"""The list of findings: what it shows, where its keys lead, and what it offers."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton

from wedgework.checks import Finding, Mend
from wedgework.window.palette import LIGHT
from wedgework.window.panels.findings import Findings
from wedgework.window.preferences import Wishes

MEND = Mend("True side A", ({"edit": "true_seam", "seam": "s", "change": "a"},))


def finding(message="It is 3 mm too long.", grave="stops_cutting", **more):
    return Finding(code="seam_length", grave=grave, message=message, where=("s",), **more)


@pytest.fixture
def findings(qtbot):
    made = Findings(Wishes(), LIGHT)
    qtbot.addWidget(made)
    made.resize(300, 400)
    made.show()
    return made


def texts(findings):
    return [label.text() for label in findings.widget().findChildren(QLabel) if label.text()]


def test_an_empty_list_says_that_nothing_stops_cutting_and_has_one_button(findings, qtbot):
    assert texts(findings) == ["Nothing stops cutting."]
    with qtbot.waitSignal(findings.cut_asked):
        findings.widget().findChild(QPushButton).click()


def test_each_finding_tells_how_grave_it_is_and_where(findings):
    findings.show_findings([finding()], call={"s": "side seam"}.__getitem__)
    assert {"stops cutting", "side seam"} <= set(texts(findings))


def test_places_of_one_name_are_told_once(findings):
    one = replace(finding(), where=("neck", "front.neck", "back.neck"))
    findings.show_findings([one], call=lambda _own: "neck")
    assert texts(findings).count("neck") == 1
    assert not [text for text in texts(findings) if "neck, neck" in text]


def test_numbers_stay_with_their_units(findings):
    findings.show_findings([finding()])
    assert "It is 3\N{NO-BREAK SPACE}mm too long." in texts(findings)


def test_enter_leads_to_the_place(findings, qtbot):
    one = finding()
    findings.show_findings([one])
    with qtbot.waitSignal(findings.led_to) as told:
        qtbot.keyClick(findings.boxes[0], Qt.Key.Key_Return)
    assert told.args == [one]


def test_a_press_leads_to_the_place(findings, qtbot):
    findings.show_findings([finding()])
    with qtbot.waitSignal(findings.led_to):
        qtbot.mouseClick(findings.boxes[0], Qt.MouseButton.LeftButton)


def test_m_does_the_first_mend(findings, qtbot):
    findings.show_findings([finding(mends=(MEND,))])
    with qtbot.waitSignal(findings.mended) as told:
        qtbot.keyClick(findings.boxes[0], Qt.Key.Key_M)
    assert told.args == [MEND]


def test_enter_on_a_mends_button_presses_it(findings, qtbot):
    findings.show_findings([finding(mends=(MEND,))])
    button = next(one for one in findings.widget().findChildren(QPushButton)
                  if one.text() == MEND.label)  # fmt: skip
    button.setFocus()
    with qtbot.waitSignal(findings.mended) as told:
        qtbot.keyClick(button, Qt.Key.Key_Return)
    assert told.args == [MEND]


def test_each_mend_has_a_button(findings, qtbot):
    findings.show_findings([finding(mends=(MEND,))])
    with qtbot.waitSignal(findings.mended):
        findings.boxes[0].findChild(QPushButton, "mend").click()


def test_down_and_up_go_from_one_to_the_next(findings, qtbot):
    findings.show_findings([finding(), finding("Another.")])
    findings.activateWindow()
    findings.setFocus()
    qtbot.keyClick(findings.boxes[0], Qt.Key.Key_Down)
    assert findings.focusWidget() is findings.boxes[1]
    qtbot.keyClick(findings.boxes[1], Qt.Key.Key_Up)
    assert findings.focusWidget() is findings.boxes[0]


def test_what_is_good_to_know_asks_for_no_acceptance(findings):
    findings.show_findings([finding(grave="good_to_know")])
    assert findings.boxes[0].findChild(QPushButton, "accept") is None


def test_accepted_ones_lie_folded_at_the_end(findings):
    done, left = finding("Accepted.", accepted=True), finding()
    findings.show_findings([done, left])
    assert [box.finding for box in findings.boxes] == [left]
    findings.widget().findChild(QPushButton, "accepted_ones").click()
    assert [box.finding for box in findings.boxes] == [left, done]


def test_findings_that_stay_keep_their_boxes(findings):
    stays = finding()
    findings.show_findings([finding("Goes."), stays])
    before = findings.boxes[1]
    findings.show_findings([stays])
    assert findings.boxes[0] is before


def test_the_keys_stay_in_the_list_when_what_had_them_is_mended(findings):
    gone, stays = finding("Goes."), finding()
    findings.show_findings([gone, stays])
    findings.boxes[0].setFocus()
    findings.show_findings([stays])
    assert findings.focusWidget() is findings.boxes[0]
