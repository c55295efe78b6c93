"""The first page of a pattern on paper: what it is, how to print it, a test square, a page map."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from wedgework.drawing.recorder import Stroked
from wedgework.files.pdf_pen import POINTS_PER_MM, fonts
from wedgework.files.sketches import Sketch
from wedgework.files.tiles import MARGIN_MM, OVERLAP_MM, Cell, Tiles
from wedgework.geometry.flatten import flattened

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

SQUARE_MM: Final = 50.0
TITLE_MM: Final = 7.0
TEXT_MM: Final = 3.6
SMALL_MM: Final = 2.8
LEADING_RATIO: Final = 1.45
GAP_MM: Final = 7.0
LINES: Final = (
    "Full line: cut. Dashes: seam line. Dashes and dots: drawn, not cut. Short strokes: notches. "
    "Circles: holes."
)
CHECK: Final = (
    "Measure the square both ways before you cut. If a side is not 50 mm, the printer has scaled "
    "the page: switch off “fit to page” and print again."
)
MAP_ERROR_MM: Final = 2.0
"""The map is small: chords this near to the true line look the same on it."""

MM: Final = POINTS_PER_MM


def draw_title(canvas: Canvas, title: str, at_mm: tuple[float, float], width_mm: float) -> float:
    """Write a title of at most two lines just below `at_mm`; mm used up."""
    return _write(canvas, title, at_mm, width_mm, (fonts()[1], TITLE_MM, 2))


def draw_text(canvas: Canvas, words: str, at_mm: tuple[float, float], width_mm: float) -> float:
    """Write words just below `at_mm`, never below the page's margin; mm used up."""
    room = int((at_mm[1] - MARGIN_MM) / (LEADING_RATIO * TEXT_MM))
    return _write(canvas, words, at_mm, width_mm, (fonts()[0], TEXT_MM, max(room, 0)))


def _write(
    canvas: Canvas,
    words: str,
    at_mm: tuple[float, float],
    width_mm: float,
    face: tuple[str, float, int],
) -> float:
    """Write lines no wider than `width_mm` in a face: font, size in mm, most lines."""
    from reportlab.lib.utils import simpleSplit  # noqa: PLC0415 - loaded by who writes a PDF alone

    font, size_mm, most = face
    canvas.setFillGray(0.0)
    canvas.setFont(font, size_mm * MM)
    lines = simpleSplit(words, font, size_mm * MM, width_mm * MM)
    if len(lines) > most:
        lines = [*lines[: most - 1], f"{lines[most - 1]} …"] if most else []
    for number, line in enumerate(lines, start=1):
        canvas.drawString(at_mm[0] * MM, (at_mm[1] - number * LEADING_RATIO * size_mm) * MM, line)
    return len(lines) * LEADING_RATIO * size_mm


def draw_square(canvas: Canvas, left_mm: float, bottom_mm: float) -> None:
    """The test square, its lower left corner there, with its size along both sides."""
    canvas.setLineWidth(0.25 * MM)
    canvas.setStrokeGray(0.0)
    canvas.setDash([])
    canvas.rect(left_mm * MM, bottom_mm * MM, SQUARE_MM * MM, SQUARE_MM * MM)
    canvas.setFillGray(0.0)
    canvas.setFont(fonts()[0], TEXT_MM * MM)
    middle_x, middle_y = left_mm + SQUARE_MM / 2, bottom_mm + SQUARE_MM / 2
    canvas.drawCentredString(middle_x * MM, (bottom_mm + 1.8) * MM, "50 mm")
    canvas.saveState()
    canvas.translate((left_mm + 4.2) * MM, middle_y * MM)
    canvas.rotate(90)
    canvas.drawCentredString(0, 0, "50 mm")
    canvas.restoreState()
    canvas.setFont(fonts()[0], SMALL_MM * MM)
    canvas.drawCentredString(middle_x * MM, middle_y * MM, "test square")


def draw_cover(
    canvas: Canvas,
    title: str,
    sketches: Sequence[Sketch],
    tiles: Tiles,
    paper: tuple[float, float],
) -> None:
    """The whole first page; it is not shown yet. `paper` is its width and height in mm."""
    width = paper[0] - 2 * MARGIN_MM
    left, top = MARGIN_MM, paper[1] - MARGIN_MM
    top -= draw_title(canvas, title, (left, top), width) + 2
    draw_square(canvas, left, top - SQUARE_MM)
    texts = [*_instructions(tiles, paper), CHECK, LINES, _listed([one.name for one in sketches])]
    beside = width - SQUARE_MM - GAP_MM
    if beside >= SQUARE_MM:
        below = _draw_texts(canvas, texts, (left + SQUARE_MM + GAP_MM, top), beside)
        top = min(below, top - SQUARE_MM)
    else:
        top = _draw_texts(canvas, texts, (left, top - SQUARE_MM - 2), width)
    top -= GAP_MM
    if top - MARGIN_MM > SQUARE_MM / 2:
        _draw_map(canvas, tiles, sketches, (left, MARGIN_MM, left + width, top))


def _draw_texts(
    canvas: Canvas, texts: Sequence[str], at_mm: tuple[float, float], width_mm: float
) -> float:
    """Paragraphs below each other; where the last one ends, in mm from the page's bottom."""
    top = at_mm[1]
    for words in texts:
        top -= draw_text(canvas, words, (at_mm[0], top), width_mm) + 1.2
    return top


def _instructions(tiles: Tiles, paper: tuple[float, float]) -> tuple[str, ...]:
    count = len(tiles.cells)
    pages = "1 page" if count == 1 else f"{count} pages"
    grid = f", {tiles.columns} wide and {tiles.rows} high" if count > 1 else ""
    size = " × ".join(f"{side:g}" for side in paper)
    printing = f"{pages}{grid}, after this one. Paper {size} mm. Print at 100% (“actual size”)."
    if count == 1:
        return (printing,)
    return (
        printing,
        "Cut or fold each page along its grey lines and lay the crosses of neighbours on each "
        "other: the line says which page is next. Pages that would be empty are left out.",
    )


def _listed(pieces: Sequence[str]) -> str:
    shown = ", ".join(pieces[:24])
    more = len(pieces) - 24
    return f"Pieces: {shown}" + (f" and {more} more." if more > 0 else ".")


def _draw_map(
    canvas: Canvas,
    tiles: Tiles,
    sketches: Sequence[Sketch],
    frame: tuple[float, float, float, float],
) -> None:
    """All pages small, with their names, and the pieces on them, inside `frame`, bounds in mm."""
    left, bottom, right, top = frame
    step_x, step_y = tiles.step_mm
    whole = np.array([tiles.columns * step_x + OVERLAP_MM, tiles.rows * step_y + OVERLAP_MM])
    scale = min((right - left) / whole[0], (top - bottom) / whole[1]) * MM
    corner = np.array([left, top - whole[1] * scale / MM]) * MM
    origin = tiles.origin - np.array([0.0, whole[1]])
    canvas.saveState()
    canvas.translate(*(corner - origin * scale).tolist())
    for cell in tiles.cells:
        _draw_map_page(canvas, tiles, cell, scale)
    canvas.setLineWidth(0.2 * MM)
    canvas.setStrokeGray(0.0)
    for sketch in sketches:
        for stroke in sketch.drawing.strokes("cut"):
            _draw_map_line(canvas, stroke, scale)
    canvas.restoreState()


def _draw_map_page(canvas: Canvas, tiles: Tiles, cell: Cell, scale: float) -> None:
    x0, y0, x1, y1 = (side * scale for side in tiles.bounds(cell))
    canvas.setLineWidth(0.15 * MM)
    canvas.setStrokeGray(0.6)
    canvas.rect(x0, y0, x1 - x0, y1 - y0)
    size = min(5.0 * MM, 0.4 * (y1 - y0), 0.4 * (x1 - x0))
    canvas.setFillGray(0.6)
    canvas.setFont(fonts()[1], size)
    canvas.drawCentredString((x0 + x1) / 2, (y0 + y1) / 2 - 0.35 * size, tiles.page_name(cell))


def _draw_map_line(canvas: Canvas, stroke: Stroked, scale: float) -> None:
    points = np.concatenate([flattened(curve, MAP_ERROR_MM) for curve in stroke.curves]) * scale
    path = canvas.beginPath()
    path.moveTo(*points[0].tolist())
    for point in points[1:].tolist():
        path.lineTo(*point)
    canvas.drawPath(path, stroke=1, fill=0)
