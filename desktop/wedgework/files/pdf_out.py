"""PDF out: pieces at true size, on pages to be glued together or on one page of a roll.

The same project gives the same bytes. A viewer is told not to scale when it prints.
"""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING, Final

import numpy as np
from shapely import box

from wedgework.files.pdf_cover import (
    SMALL_MM,
    SQUARE_MM,
    TITLE_MM,
    draw_cover,
    draw_square,
    draw_text,
    draw_title,
)
from wedgework.files.pdf_pen import POINTS_PER_MM, PdfPen, fonts
from wedgework.files.roll import placed_on_roll
from wedgework.files.sketches import Sketch, bounds_of_sketches, sketches_of
from wedgework.files.tiles import MARGIN_MM, MOST_PAGES, Cell, Join, Tiles, tiles_over
from wedgework.geometry.curve import Floats
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused
from wedgework.units import Roll, paper_mm

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

LEAST_PAPER_MM: Final = 100.0
"""Paper must hold the test square and the words beside it."""

LONGEST_PAGE_MM: Final = 14_400 / POINTS_PER_MM
"""The longest side of a page, 5.08 m. Source: ISO 32000-1, annex C.2 (from memory)."""

MARK_MM: Final = 4.0
"""Arm of a page mark; it stays within the strip that both pages show."""

NEIGHBOUR_RATIO: Final = 0.12
"""Where along a join the name of the next page stands, clear of the marks at quarters."""

MM: Final = POINTS_PER_MM


def write_pdf(project: Project, paper: str = "A4", *, words: bool = True) -> bytes:
    """The pieces of a project as PDF on paper as `units.paper_mm` reads it: `A4`, `roll:900`.

    FileRefused where there are no pieces, the paper is too small or too large, or there would be
    too many pages; NotUnderstood where the text names no paper.
    """
    size = paper_mm(paper)
    if not project.pieces:
        raise FileRefused("There are no pieces to draw yet.")
    sketches = sketches_of(project, words=words)
    title = " ".join(project.name.split()) or "Pattern"
    if isinstance(size, Roll):
        return _roll(title, sketches, size.width_mm)
    return _pages(title, sketches, size)


def _pages(title: str, sketches: list[Sketch], paper: tuple[float, float]) -> bytes:
    _refuse_paper(*paper)
    tiles = _tiles(sketches, paper)
    file, canvas = _new_file(title, paper)
    draw_cover(canvas, title, sketches, tiles, paper)
    _end_page(canvas, "Page map")
    for number, cell in enumerate(tiles.cells, start=1):
        page = box(*tiles.bounds(cell))
        here = [one for one in sketches if any(page.intersects(shape) for shape in one.shapes)]
        _draw_tile(canvas, tiles, cell, here)
        names = ", ".join(one.name for one in here)
        count = f"page {number} of {len(tiles.cells)}"
        _draw_foot(canvas, f"{tiles.page_name(cell)}  ·  {count}  ·  {title}  ·  {names}", paper[0])
        _end_page(canvas, tiles.page_name(cell))
    canvas.save()
    return file.getvalue()


def _refuse_paper(width_mm: float, height_mm: float) -> None:
    if min(width_mm, height_mm) < LEAST_PAPER_MM:
        raise FileRefused(
            f"Paper of {width_mm:g} × {height_mm:g} mm is too small for a pattern: "
            f"it is at least {LEAST_PAPER_MM:.0f} mm wide and high."
        )
    if max(width_mm, height_mm) > LONGEST_PAGE_MM:
        raise FileRefused(
            f"A page of a PDF is at most {LONGEST_PAGE_MM:.0f} mm long, and this would be "
            f"{max(width_mm, height_mm):.0f} mm."
        )


def _tiles(sketches: list[Sketch], paper: tuple[float, float]) -> Tiles:
    shapes = [shape for one in sketches for shape in one.shapes]
    try:
        return tiles_over(bounds_of_sketches(sketches), paper, shapes)
    except ValueError:
        raise FileRefused(
            f"The pieces lie over more than {MOST_PAGES} pages: take larger paper, or move them "
            "nearer to each other."
        ) from None


def _new_file(title: str, page_mm: tuple[float, float]) -> tuple[BytesIO, Canvas]:
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415 - 0.1 s that only a PDF needs

    file = BytesIO()
    size = (page_mm[0] * MM, page_mm[1] * MM)
    canvas = Canvas(file, pagesize=size, invariant=1, pageCompression=1)
    canvas.setTitle(title)
    canvas.setCreator("Wedgework")
    canvas.setViewerPreference("PrintScaling", "None")
    return file, canvas


def _end_page(canvas: Canvas, name: str) -> None:
    canvas.bookmarkPage(name)
    canvas.addOutlineEntry(name, name)
    canvas.showPage()


def _draw_tile(canvas: Canvas, tiles: Tiles, cell: Cell, here: list[Sketch]) -> None:
    corner = tiles.corner(cell)
    window = np.concatenate([corner, corner + np.array(tiles.window_mm)])
    pen = PdfPen(canvas, window, (MARGIN_MM, MARGIN_MM))
    canvas.saveState()
    _clip(canvas, (MARGIN_MM, MARGIN_MM), tiles.window_mm)
    for join in tiles.joins(cell):
        _draw_join(canvas, pen, tiles, join)
    for sketch in here:
        sketch.drawing.replay(pen)
    canvas.restoreState()


def _clip(canvas: Canvas, at_mm: tuple[float, float], size_mm: tuple[float, float]) -> None:
    path = canvas.beginPath()
    path.rect(at_mm[0] * MM, at_mm[1] * MM, size_mm[0] * MM, size_mm[1] * MM)
    canvas.clipPath(path, stroke=0, fill=0)


def _draw_join(canvas: Canvas, pen: PdfPen, tiles: Tiles, join: Join) -> None:
    """The grey line to cut or fold along, its page marks, and the name of the page beyond."""
    canvas.setStrokeGray(0.55)
    canvas.setLineWidth(0.15 * MM)
    canvas.setDash([])
    canvas.line(*pen.points(join.start), *pen.points(join.end))
    canvas.setStrokeGray(0.0)
    for place in join.marks():
        (x, y), arm = pen.points(place), MARK_MM * MM
        canvas.lines([(x - arm, y, x + arm, y), (x, y - arm, x, y + arm)])
        canvas.circle(x, y, arm / 2)
    _draw_neighbour(canvas, pen, tiles, join)


def _draw_neighbour(canvas: Canvas, pen: PdfPen, tiles: Tiles, join: Join) -> None:
    """The name of the page beyond a join, on this side of it and read along it."""
    # Near the start of the join: the names of pieces tend to stand in the middle.
    x, y = pen.points(join.start + NEIGHBOUR_RATIO * (join.end - join.start))
    canvas.saveState()
    canvas.translate(x, y)
    canvas.rotate(join.reading_deg)
    canvas.setFillGray(0.35)
    canvas.setFont(fonts()[0], SMALL_MM * MM)
    canvas.drawCentredString(0, join.baseline_mm(SMALL_MM) * MM, f"to {tiles.page_name(join.to)}")
    canvas.restoreState()


def _draw_foot(canvas: Canvas, words: str, width_mm: float) -> None:
    from reportlab.lib.utils import simpleSplit  # noqa: PLC0415 - as in `_new_file`

    size, room = SMALL_MM * MM, (width_mm - 2 * MARGIN_MM) * MM
    lines = simpleSplit(words, fonts()[0], size, room)
    canvas.setFillGray(0.0)
    canvas.setFont(fonts()[0], size)
    first = lines[0] + (" …" if len(lines) > 1 else "")
    canvas.drawString(MARGIN_MM * MM, (MARGIN_MM - 1.6 * SMALL_MM) * MM, first)


def _roll(title: str, sketches: list[Sketch], width_mm: float) -> bytes:
    _refuse_paper(width_mm, LEAST_PAPER_MM)
    inner_mm = width_mm - 2 * MARGIN_MM
    placed = placed_on_roll(sketches, inner_mm)
    bounds = bounds_of_sketches(placed)
    head_mm = SQUARE_MM + 4 * TITLE_MM
    length_mm = head_mm + float(bounds[3] - bounds[1]) + 2 * MARGIN_MM
    _refuse_paper(width_mm, length_mm)
    file, canvas = _new_file(title, (width_mm, length_mm))
    _draw_head(canvas, title, (MARGIN_MM, length_mm - MARGIN_MM), inner_mm)
    window = np.array([0.0, float(bounds[1]), inner_mm, float(bounds[3])])
    _draw_all(canvas, placed, window)
    _end_page(canvas, title)
    canvas.save()
    return file.getvalue()


def _draw_all(canvas: Canvas, placed: list[Sketch], window: Floats) -> None:
    pen = PdfPen(canvas, window, (MARGIN_MM, MARGIN_MM))
    for sketch in placed:
        sketch.drawing.replay(pen)


def _draw_head(canvas: Canvas, title: str, at_mm: tuple[float, float], width_mm: float) -> None:
    """Title, test square and how to print, from the top of a roll down."""
    left, top = at_mm
    top -= draw_title(canvas, title, (left, top), width_mm) + 2
    draw_square(canvas, left, top - SQUARE_MM)
    beside = width_mm - SQUARE_MM - 8
    if beside > SQUARE_MM:
        words = "True size: print at 100% (“actual size”) and measure the square both ways."
        draw_text(canvas, words, (left + SQUARE_MM + 8, top), beside)
