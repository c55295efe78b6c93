"""A second way of a maker through the real window: a dart that ends in a seam, and a hem of three.

A file of three panels is opened; by mouse and keys alone the dart of the front is swung into its
side seam, that seam is shaped, the hem is drawn through over all three, and holes are punched
along the other seam. What was exported, read by libraries of others, decides.
"""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from dataclasses import dataclass

import numpy as np
import pypdf
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from tests import small
from tests.window import drawn, hand
from wedgework.checks import check
from wedgework.files.svg_in import read_svg
from wedgework.files.wedge import write_wedge
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Project

DART_HALF_MM, DART_DEEP_MM = 7.0, 120.0
DART_DEG = 2 * math.degrees(math.atan(DART_HALF_MM / DART_DEEP_MM))
APEX, MOUTH = (65.0, 180.0), (130.0, 180.0)
STATION_MM, INTAKE_MM = 100.0, 16.0
HEM_POINT = (215.0, 5.0)
FIRST_MM, PITCH_MM, INSET_MM = 40.0, 35.0, 4.0
POINT_MM = 25.4 / 72


def three_panels() -> Project:
    """A front with a dart in its upper edge, a side, a back; their hem has peaks and dents."""
    x, y = APEX
    front = small.piece_of_points(
        "front", (0, 12), (130, 0), (130, 300), (x + DART_HALF_MM, y + DART_DEEP_MM), APEX,
        (x - DART_HALF_MM, y + DART_DEEP_MM), (0, 300),
    )  # fmt: skip
    side = small.piece_of_points("side", (170, 0), (260, 18), (260, 300), (170, 300))
    back = small.piece_of_points("back", (300, 18), (420, 18), (420, 300), (300, 300))
    seams = [
        small.seam("pike", "front.e4", "-front.e5", apex="front.c5"),
        small.seam("flank", "front.e2", "-side.e4"),
        small.seam("aft", "side.e2", "-back.e4"),
    ]
    return new_project(front, side, back, seams=seams)


@dataclass(frozen=True)
class Sheet:
    """An exported drawing; places are told as on the table, which the front's upper left gives."""

    text: str

    @property
    def pieces(self):
        return drawn.seam_lines(self.text)

    @property
    def shift(self):
        corners = [edge[0].start for edge in drawn.edges_of(self.pieces["front"])]
        corner = min(corners, key=lambda one: one.x + one.y)
        return corner.x, corner.y + 300.0

    def place(self, at):
        """A place of the table in the file, whose y runs down."""
        dx, dy = self.shift
        return at[0] + dx, dy - at[1]

    def edge(self, piece, start, end):
        return drawn.edge_between(self.pieces[piece], self.place(start), self.place(end))

    def holes(self, piece):
        """Centres of the punched holes of a piece, (n, 2) mm in the file, from the hem upwards."""
        group = next(one for one in ET.fromstring(self.text).iter(f"{drawn.SVG}g")  # noqa: S314
                     if one.get("id") == piece)  # fmt: skip
        rings = [one for one in group.iter(f"{drawn.SVG}circle") if one.get("class") == "mark"]
        found = [(float(one.get("cx")), float(one.get("cy"))) for one in rings]
        return np.array(sorted(found, key=lambda at: -at[1]))


def tip(edge, near):
    """The end of an edge nearest to a place, and the way into the edge from there."""
    ends = [(edge[0].start, edge[0].point(1e-5)), (edge[-1].end, edge[-1].point(1 - 1e-5))]
    at, inside = min(ends, key=lambda one: math.dist(one[0], near))
    return complex(*at), complex(inside.x - at.x, inside.y - at.y)


def corner_deg(one, other, near):
    """The angle between two edges of a piece where they meet near a place."""
    (at, way), (also, back) = tip(one, near), tip(other, near)
    assert abs(at - also) < 1e-3
    return abs(math.degrees(np.angle(way / back)))


def away_mm(edge, place):
    """How far a place lies from an edge, by its points."""
    points = [one.point(k / 400) for one in edge for k in range(401)]
    return min(math.dist(point, place) for point in points)


@pytest.fixture
def walked(window, qtbot, tmp_path):
    """The window after the whole way, with what was exported on it and the place pressed."""
    file = tmp_path / "heron.wedge"
    file.write_bytes(write_wedge(three_panels()))
    hand.open_file(qtbot, window, file)
    sheets = []

    def keep():
        name = tmp_path / f"{len(sheets)}.svg"
        sheets.append(Sheet(hand.export(qtbot, name).read_text(encoding="utf-8")))

    keep()
    swing(window)
    keep()
    shape(window)
    keep()
    point = draw_hem(window)
    keep()
    punch(window)
    keep()
    pdf = hand.export(qtbot, tmp_path / "heron.pdf")
    return window, sheets, point, pdf


def swing(window):
    hand.key(Qt.Key.Key_U, held=Qt.KeyboardModifier.ShiftModifier)
    leg = hand.on_table(window, APEX[0] + DART_HALF_MM / 2, APEX[1] + DART_DEEP_MM / 2)
    hand.drag(leg, hand.on_table(window, *MOUTH))


def shape(window):
    hand.key(Qt.Key.Key_I)
    press = hand.on_table(window, MOUTH[0], STATION_MM)
    hand.drag(press, press + QPoint(-9, 0))
    hand.type_text(f"{INTAKE_MM:g}")
    hand.key(Qt.Key.Key_Return)


def draw_hem(window):
    """Press the side's hem, a point for it to pass, and Enter; the point that was pressed, mm."""
    hand.key(Qt.Key.Key_C)
    hand.click(hand.on_table(window, 200.0, 6.0))
    press = hand.on_table(window, *HEM_POINT)
    hand.click(press)
    hand.key(Qt.Key.Key_Return)
    at_px = window.table.mapFromGlobal(press)
    return window.table.view.to_mm(at_px.x(), at_px.y())


def punch(window):
    hand.key(Qt.Key.Key_Q)
    start = hand.on_table(window, 260.0, 18.0 + FIRST_MM)
    way = start, start - QPoint(0, 30)
    hand.drag(*way, on_the_way=lambda: hand.type_text(f"{PITCH_MM:g};{INSET_MM:g}"))
    QTest.qWait(100)


def test_a_maker_swings_shapes_draws_a_hem_punches_and_exports(walked):
    window, sheets, point, pdf = walked
    before, swung, shaped, hemmed, punched = sheets
    assert_dart_opens_in_the_seam(before, swung)
    assert_seam_is_drawn_in(swung, shaped)
    assert_hem_runs_through(shaped, hemmed, point)
    assert_holes_meet(punched)
    assert "not ready" not in window.strip.state.text()
    project, _ = read_svg(punched.text.encode(), corner_rad=math.radians(drawn.CORNER_DEG))
    assert [one for one in check(project) if one.stops] == []
    assert_same_in_pdf(punched, pdf)


def assert_dart_opens_in_the_seam(before, swung):
    assert drawn.length_mm(before.edge("front", (0, 300), (58, 300))) == pytest.approx(58.0)
    legs = [swung.edge("front", APEX, end) for end in (MOUTH, (130.0, 188.0))]
    assert corner_deg(*legs, swung.place(APEX)) == pytest.approx(DART_DEG, abs=0.01)
    assert drawn.length_mm(legs[0]) == pytest.approx(drawn.length_mm(legs[1]), abs=1e-3)
    assert drawn.length_mm(legs[0]) == pytest.approx(MOUTH[0] - APEX[0], abs=0.5)
    # The upper edge is one again: no corner is left at the old mouth.
    whole = drawn.length_mm(swung.edge("front", (0, 300), (115.6, 306.7)))
    assert whole == pytest.approx(130.0 - 2 * DART_HALF_MM, abs=1e-3)


def flank_sides(sheet):
    """Both sides of the shaped seam: the front's below and above the dart, and the side's."""
    front = [sheet.edge("front", (130, 0), MOUTH), sheet.edge("front", (122, 188), (115, 304))]
    return front, sheet.edge("side", (170, 300), (170, 0))


def assert_seam_is_drawn_in(before, after):
    front, side = flank_sides(after)
    assert sum(map(drawn.length_mm, front)) == pytest.approx(drawn.length_mm(side), abs=0.02)
    _, y = after.place((0, STATION_MM))
    wide = [sum(drawn.width_mm(one.pieces[own], y) for own in ("front", "side"))
            for one in (before, after)]  # fmt: skip
    assert wide[0] - wide[1] == pytest.approx(INTAKE_MM, abs=0.5)


def hem(sheet, piece):
    """The hem of a piece, and its left and right ends."""
    ends = {
        "front": ((0, 12), (130, 0)),
        "side": ((170, 0), (260, 18)),
        "back": ((300, 18), (420, 18)),
    }
    return sheet.edge(piece, *ends[piece]), *map(sheet.place, ends[piece])


def hem_corners_deg(sheet):
    """At the foot of each seam: the corners of both pieces together."""
    front, side = flank_sides(sheet)
    seams = ((("front", front[0]), ("side", side)),
             (("side", sheet.edge("side", (260, 18), (260, 300))),
              ("back", sheet.edge("back", (300, 18), (300, 300)))))  # fmt: skip
    for (left, one), (right, other) in seams:
        left_hem, _, left_end = hem(sheet, left)
        right_hem, right_end, _ = hem(sheet, right)
        yield corner_deg(left_hem, one, left_end) + corner_deg(right_hem, other, right_end)


def assert_hem_runs_through(before, after, point):
    assert all(abs(both - 180.0) > 5.0 for both in hem_corners_deg(before))
    assert list(hem_corners_deg(after)) == pytest.approx([180.0, 180.0], abs=0.05)
    assert away_mm(hem(after, "side")[0], after.place(point)) < 0.2


def assert_holes_meet(sheet):
    rows = sheet.holes("side"), sheet.holes("back")
    assert len(rows[0]) == len(rows[1]) >= 6
    edges = sheet.edge("side", (260, 18), (260, 300)), sheet.edge("back", (300, 18), (300, 300))
    along = []
    for holes, edge in zip(rows, edges, strict=True):
        foot, _ = tip(edge, sheet.place((280, 0)))
        assert np.diff(holes[:, 1]) == pytest.approx(-PITCH_MM, abs=1e-3)
        # Through both layers: inside of the upper's seam line is outside of the lower's.
        assert holes[:, 0] - foot.real == pytest.approx(-INSET_MM, abs=1e-3)
        along.append(foot.imag - holes[:, 1])
    assert along[0] == pytest.approx(along[1], abs=1e-3)


def assert_same_in_pdf(sheet, pdf):
    reader = pypdf.PdfReader(pdf)
    words = " ".join(page.extract_text() for page in reader.pages)
    assert all(name in words for name in (*sheet.pieces, "flank"))
    printed = [size for page in reader.pages for size in sizes_mm(page)]
    for segments in sheet.pieces.values():
        corners = np.array([(one.start.x, one.start.y) for one in segments])
        away = np.abs(np.array(printed) - np.ptp(corners, axis=0)).max(axis=1)
        assert away.min() < 1e-2


def sizes_mm(page):
    """Width and height, by its corners, of each closed line of a page."""
    found, line = [], []
    stream = pypdf.generic.ContentStream(page.get_contents(), page.pdf)
    for numbers, name in stream.operations:
        if name == b"m":
            line = [numbers]
        elif name in {b"l", b"c"}:
            line.append(numbers[-2:])
        elif name == b"h":
            found.append(np.ptp(np.array(line, dtype=float), axis=0) * POINT_MM)
    return found
