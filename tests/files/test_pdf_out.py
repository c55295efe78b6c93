"""PDF out, measured in its own content streams by a library that did not write it."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pypdf
import pytest
from pypdf.generic import ContentStream

from tests import small
from tests.files.full import full_project
from wedgework.files.pdf_out import write_pdf
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused
from wedgework.units import NotUnderstood

POINT_MM = 25.4 / 72


def reader(project, paper="A4"):
    return pypdf.PdfReader(io.BytesIO(write_pdf(project, paper)))


def operations(page):
    """(operator, numbers) of a page's own stream."""
    stream = ContentStream(page.get_contents(), page.pdf)
    return [(name.decode(), [float(n) for n in rest]) for rest, name in stream.operations if name in
            (b"m", b"l", b"c", b"re", b"w", b"cm", b"q", b"Q", b"h", b"S")]  # fmt: skip


def rectangles(page):
    return [np.array(numbers) * POINT_MM for name, numbers in operations(page) if name == "re"]


def outlines(page):
    """(n, 2) mm corners of each closed line of a page."""
    found, line = [], []
    for name, numbers in operations(page):
        if name == "m":
            line = [numbers]
        elif name in "lc":
            line.append(numbers[-2:])
        elif name == "h":
            found.append(np.array(line) * POINT_MM)
    return found


def sides(page):
    return [np.ptp(line, axis=0) for line in outlines(page)]


def words(page):
    return " ".join(page.extract_text().split())


@pytest.mark.parametrize(
    ("paper", "points"),
    [
        ("A4", (595.2756, 841.8898)),
        ("A3", (841.8898, 1190.5512)),
        ("Letter", (612.0, 792.0)),
        ("300x500", (850.3937, 1417.3228)),
    ],
)
def test_every_page_is_the_paper_asked_for(paper, points):
    # Pages in points: ISO 216 and ANSI/ASME Y14.1 by the unit of ISO 32000-1.
    for page in reader(small.square(400), paper).pages:
        size = (float(page.mediabox.width), float(page.mediabox.height))
        assert size == pytest.approx(points, abs=1e-3)


@pytest.mark.parametrize("paper", ["A4", "Letter", "100x100", "roll:300"])
def test_the_test_square_is_50_mm_both_ways_whatever_the_paper(paper):
    page = reader(small.square(60), paper).pages[0]
    squares = [one for one in rectangles(page) if np.allclose(one[2:], 50.0, atol=1e-4)]
    assert len(squares) == 1
    x, y = squares[0][:2]
    width, height = (float(side) * POINT_MM for side in page.mediabox.upper_right)
    assert 10 <= x <= width - 60
    assert 10 <= y <= height - 60


def test_a_piece_is_drawn_at_true_size():
    page = reader(small.square(100)).pages[1]
    assert any(side == pytest.approx([100.0, 100.0], abs=1e-4) for side in sides(page))


def test_a_piece_over_several_pages_is_one_and_the_same_line_on_each():
    pages = reader(small.square(250)).pages[1:]
    assert len(pages) == 2
    for page in pages:
        assert any(side == pytest.approx([250.0, 250.0], abs=1e-3) for side in sides(page))


def test_two_pages_laid_mark_on_mark_carry_the_outline_on():
    left, right = (reader(small.square(250)).pages[n] for n in (1, 2))
    shift = circles(left)[0] - circles(right)[0]
    assert circles(left) == pytest.approx(circles(right) + shift, abs=1e-3)
    assert outlines(left)[-1] == pytest.approx(outlines(right)[-1] + shift, abs=1e-3)


def circles(page):
    """Centres, (k, 2) mm, of the round page marks: upright crosses of one size."""
    lines, start = [], None
    for name, numbers in operations(page):
        if name == "m":
            start = np.array(numbers)
        elif name == "l" and np.isclose(np.hypot(*(numbers - start)), 8.0 / POINT_MM, atol=1e-3):
            lines.append((start + numbers) / 2 * POINT_MM)
    return np.array(lines)


def test_lines_stay_curves():
    page = reader(small.disc(60)).pages[1]
    assert sum(name == "c" for name, _ in operations(page)) >= 4


def test_nothing_in_the_file_scales_the_drawing():
    scales = [n[:4] for page in reader(full_project()).pages
              for name, n in operations(page) if name == "cm"]  # fmt: skip
    for a, b, c, d in scales:
        assert a * d - b * c == pytest.approx(1.0, abs=1e-4)


def test_a_viewer_is_told_to_print_at_actual_size():
    root = reader(small.square()).trailer["/Root"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_only_pages_that_carry_something_are_there():
    far = small.rectangle("q", 50, 50, x=1000)
    pages = reader(new_project(small.rectangle("p", 50, 50), far)).pages
    assert len(pages) == 1 + 2


def test_pages_say_their_place_the_project_the_pieces_and_the_next_page():
    project = replace(small.square(250), name="Heron")
    cover, first, second = (words(page) for page in reader(project).pages)
    assert "Heron" in cover
    assert "2 pages, 2 wide and 1 high" in cover
    assert "A1 · page 1 of 2 · Heron · p" in first
    assert "to B1" in first
    assert "to A1" in second


def test_the_page_map_names_every_page():
    cover = words(reader(small.square(500)).pages[0])
    assert all(name in cover for name in ("A1", "B1", "C1", "A2", "B2", "C2"))


def test_the_font_is_embedded():
    page = reader(small.square()).pages[1]
    used = words(page)
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    names = {font["/BaseFont"] for font in fonts if "/FontDescriptor" in font}
    assert used
    assert any("IBMPlexSans" in name for name in names)


def test_a_long_title_leaves_the_test_square_on_the_page():
    page = reader(replace(small.square(), name="river pageant " * 40), "100x100").pages[0]
    (square,) = (one for one in rectangles(page) if np.allclose(one[2:], 50.0, atol=1e-4))
    assert square[1] >= 10


def test_letters_of_other_scripts_come_through():
    piece = replace(small.rectangle("p", 100, 100), name="Přední díl μ")
    assert "Přední díl μ" in words(reader(new_project(piece)).pages[1])


def test_the_same_project_gives_the_same_bytes():
    assert write_pdf(full_project()) == write_pdf(full_project())


def test_a_roll_is_one_page_as_wide_as_the_roll():
    (page,) = reader(small.ring_of_panels(6), "roll:600").pages
    assert float(page.mediabox.width) == pytest.approx(600 / POINT_MM, abs=1e-2)
    assert sum(side == pytest.approx([60, 100], abs=1e-3) for side in sides(page)) >= 6


def test_a_piece_too_wide_for_the_roll_is_turned():
    (page,) = reader(small.new_project(small.rectangle("p", 500, 200)), "roll:300").pages
    assert any(side == pytest.approx([200, 500], abs=1e-3) for side in sides(page))


def test_pieces_on_a_roll_never_overlap():
    pieces = [small.rectangle(f"p{n}", 90 + n, 40 + 7 * n, x=n * 300) for n in range(9)]
    (page,) = reader(new_project(*pieces), "roll:400").pages
    boxes = {(*line.min(axis=0), *line.max(axis=0)) for line in outlines(page)}
    found = sorted(boxes)
    assert len(found) == 9
    for i, a in enumerate(found):
        for b in found[:i]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_what_is_too_wide_for_the_roll_both_ways_is_refused_by_name():
    with pytest.raises(FileRefused, match="“p” is 400 mm wide"):
        write_pdf(small.square(400), "roll:300")


@pytest.mark.parametrize(
    ("paper", "why"),
    [("60x300", "too small"), ("300x19000", "at most 5080 mm"), ("roll:60", "too small")],
)
def test_paper_that_cannot_be_is_refused(paper, why):
    with pytest.raises(FileRefused, match=why):
        write_pdf(small.square(10), paper)


def test_pieces_far_apart_are_refused_before_they_make_thousands_of_pages():
    far = replace(small.rectangle("q", 50, 50, x=200_000, y=200_000))
    with pytest.raises(FileRefused, match="nearer"):
        write_pdf(new_project(small.rectangle("p", 50, 50), far))


def test_no_paper_and_no_pieces_are_refused():
    with pytest.raises(NotUnderstood, match="Paper"):
        write_pdf(small.square(), "B9")
    with pytest.raises(FileRefused, match="no pieces"):
        write_pdf(Project())


def test_an_outline_that_crosses_itself_is_printed_all_the_same():
    bow_tie = small.piece_of_points("p", (0, 0), (100, 100), (100, 0), (0, 100))
    assert len(reader(new_project(bow_tie)).pages) == 2
