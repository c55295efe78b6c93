"""CSV out: the cut list, a header line and a line for each piece."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

import numpy as np

from wedgework.drawing.pieces import cut_rings
from wedgework.geometry.curve import Curve
from wedgework.geometry.extent import bounds_of_all, ring_area_mm2
from wedgework.geometry.motion import moved, reflection
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.instances import instance_count
from wedgework.pattern.lookup import edge_in, holes_by_edge, notches_by_edge

COLUMNS = (
    "piece", "name", "count", "mirrored", "on_fold", "sheet", "colour",
    "width_mm", "height_mm", "area_mm2", "notches", "holes",
)  # fmt: skip


def write_csv(project: Project) -> bytes:
    """The cut list as UTF-8, commas between and points in numbers.

    `count` copies are cut in all, of which `mirrored` the other way round. Size and area are those
    of the cut outline of one copy, unfolded where it is cut `on_fold`.
    """
    text = io.StringIO(newline="")
    rows = csv.writer(text, lineterminator="\r\n")
    rows.writerow(COLUMNS)
    rows.writerows(_row(project, piece) for piece in project.pieces.values())
    return text.getvalue().encode("utf-8", errors="replace")


def _row(project: Project, piece: Piece) -> tuple[str | int, ...]:
    sheet = project.sheets.get(piece.sheet or "")
    rings = cut_rings(project, piece)
    width, height = _size(piece, [curve for ring in rings for curve in ring])
    halves = 2 if piece.cutting == "fold" else 1
    # Cut-outs run clockwise, so their area counts against the outline's.
    area = halves * sum(map(ring_area_mm2, rings))
    return (
        piece.id,
        " ".join(piece.name.split()),
        piece.quantity * instance_count(piece),
        piece.quantity if piece.cutting == "pair" else 0,
        "yes" if piece.cutting == "fold" else "no",
        sheet.name or sheet.id if sheet else "",
        sheet.colour if sheet else "",
        f"{width:.1f}",
        f"{height:.1f}",
        f"{area:.0f}",
        *_marks(project, piece),
    )


def _size(piece: Piece, outline: list[Curve]) -> tuple[float, float]:
    curves = [*outline, *_other_half(piece, outline)]
    low_high = bounds_of_all(curves)
    width, height = (low_high[2:] - low_high[:2]).tolist()
    return width, height


def _other_half(piece: Piece, outline: list[Curve]) -> Iterator[Curve]:
    fold = edge_in(piece, piece.fold_edge) if piece.fold_edge else None
    if fold is not None and (np.abs(fold.curve.end - fold.curve.start) > 0).any():
        mirror = reflection(fold.curve.start, fold.curve.end)
        yield from (moved(curve, mirror) for curve in outline)


def _marks(project: Project, piece: Piece) -> tuple[int, int]:
    """How many notches and holes lie on the edges of the piece as drawn."""
    tables = (notches_by_edge(project.notches), holes_by_edge(project.holes))
    notches, holes = (
        sum(len(table.get(edge.id, ())) for edge in piece.all_edges()) for table in tables
    )
    return notches, holes
