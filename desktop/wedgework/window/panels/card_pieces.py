"""The card's pages of pieces and of what belongs to them: edges, corners, lines, labels."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from wedgework.bench.report import piece_area_mm2
from wedgework.geometry.curve import is_straight
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import STRAIGHT_MM
from wedgework.pattern.angles import corner_angle, edge_turning
from wedgework.pattern.document import Edge, Label, Line, Piece, Project
from wedgework.pattern.levels import level_width_mm
from wedgework.pattern.lookup import (
    around_corner,
    end_corner,
    holes_by_edge,
    notches_by_edge,
    seams_of,
)
from wedgework.window.panels.card_drafted import drafted_rows, is_drafted
from wedgework.window.panels.card_rows import (
    CUTTINGS,
    FINISHES,
    CardPage,
    CardRow,
    EditData,
    Edits,
    link,
    name_row,
    read,
    step_along,
    typed,
)
from wedgework.window.things import called, kind_of

MOST_LINKS = 8
"""More marks than this of one edge are looked for on the table."""

MOST_DRAFTED = 12
"""Numbers of a small draft stand first, being what is changed most; those of a block last."""


def piece_page(project: Project, piece: Piece) -> CardPage:
    """Name, numbers of its draft, cutting, sheet, size, widths at levels, and place."""
    box = bounds_of_all([edge.curve for edge in piece.edges])
    around = math.fsum(length_mm(edge.curve) for edge in piece.edges)
    drafted = tuple(drafted_rows(project, piece))
    is_short = len(drafted) <= MOST_DRAFTED
    rows = [
        name_row(piece.id, piece.name),
        *(drafted if is_short else ()),
        *_cutting(project, piece),
        *_sheet(project, piece),
        read("width", "width", "length", float(box[2] - box[0])),
        read("height", "height", "length", float(box[3] - box[1])),
        read("around", "around", "length", around, "Length of the whole outline"),
        read("area", "area", "area", piece_area_mm2(piece)),
        *_widths(project, piece),
        *_placing(piece, box),
        *(() if is_short else drafted),
    ]
    deeds = ("redraft", "renumber") if is_drafted(piece) else ()
    return CardPage(heading=piece.name or piece.id, kind="piece", rows=tuple(rows),
                    deeds=(*deeds, "fit_chosen", "delete"))  # fmt: skip


def _cutting(project: Project, piece: Piece) -> Iterator[CardRow]:
    yield CardRow(
        key="cutting",
        words="cut",
        kind="choice",
        value=piece.cutting,
        choices=CUTTINGS,
        edit=lambda value: [{"edit": "set_cutting", "piece": piece.id, "cutting": value}],
    )
    if piece.fold_edge is not None:
        yield link("fold edge", "fold edge", called(project, piece.fold_edge), piece.fold_edge)


def _widths(project: Project, piece: Piece) -> Iterator[CardRow]:
    """How wide the piece is at each level that crosses it, as it is drawn."""
    levels = dict.fromkeys(line.level for line in piece.lines if line.level in project.levels)
    for own in levels:
        if own is not None:
            words = f"at {called(project, own)}"
            yield read(f"at {own}", words, "length", level_width_mm(piece, own), "Width there")


def _placing(piece: Piece, box: np.ndarray) -> Iterator[CardRow]:
    for axis, words in ((0, "left at"), (1, "foot at")):

        def moved(value: float, axis: int = axis) -> list[EditData]:
            by = step_along(axis, value - float(box[axis]))
            return [{"edit": "move_piece", "piece": piece.id, "by_mm": by}]

        yield typed(words, words, "length", float(box[axis]), moved, tip="Its place on the table")
    yield typed(
        "turn",
        "turn by",
        "angle",
        0.0,
        lambda value: [{"edit": "turn_piece", "piece": piece.id, "turn_deg": value}],
        tip="Counter-clockwise, about the middle of its box",
    )


def _sheet(project: Project, piece: Piece) -> Iterator[CardRow]:
    if not project.sheets:
        yield read("quantity", "quantity", "count", piece.quantity)
        return
    names = [(own, row.name or own) for own, row in project.sheets.items()]

    def cut_from(sheet: str, quantity: int) -> list[EditData]:
        row = {"edit": "cut_from", "pieces": [piece.id], "sheet": sheet, "quantity": quantity}
        return [row] if sheet else []

    yield CardRow(
        key="sheet",
        words="sheet",
        kind="choice",
        value=piece.sheet or "",
        choices=(("", "none yet"), *names),
        edit=lambda value: cut_from(value, piece.quantity),
    )
    yield typed("quantity", "quantity", "count", piece.quantity,
                lambda value: cut_from(piece.sheet or names[0][0], value))  # fmt: skip


# Edges


def edge_page(project: Project, piece: Piece, edge: Edge) -> CardPage:
    """Name, length, turning, allowance, finish, the seams that walk it, its ends and marks."""
    seams = seams_of(project, edge.id)
    turning = math.degrees(edge_turning(edge))
    rows = [
        name_row(edge.id, edge.name),
        _length(piece, edge),
        read("turning", "turning", "angle", turning,
             "How far its direction turns from one end to the other"),
        typed("allowance", "allowance", "length", float(edge.allowance_mm),
              lambda value: [{"edit": "set_allowance", "edges": [edge.id], "mm": value}]),
        read("finish", "finish", "note", "joined") if seams else _finish(edge),
        *(link(f"seam {one.id}", "in seam", one.name or one.id, one.id) for one in seams),
        *_marks(project, edge),
        link("from", "from corner", edge.corner, edge.corner),
        link("to", "to corner", end_corner(piece, edge.id), end_corner(piece, edge.id)),
        link("piece", "of piece", piece.name or piece.id, piece.id),
    ]  # fmt: skip
    return CardPage(heading=edge.name or edge.id, kind="edge", rows=tuple(rows),
                    deeds=("fit_chosen",))  # fmt: skip


def _finish(edge: Edge) -> CardRow:
    return CardRow(
        key="finish",
        words="finish",
        kind="choice",
        value=edge.finish,
        choices=FINISHES,
        edit=lambda value: [{"edit": "set_finish", "edges": [edge.id], "finish": value}],
    )


def _length(piece: Piece, edge: Edge) -> CardRow:
    """The length of a straight edge can be typed: its end moves along it. A curve is bent."""
    whole = length_mm(edge.curve)
    if not is_straight(edge.curve, STRAIGHT_MM):
        return read("length", "length", "length", whole, "Bend the edge or move its corners")
    along = (edge.curve.end - edge.curve.start) / whole

    def stretched(value: float) -> list[EditData]:
        by = (along * (value - whole)).tolist()
        return [{"edit": "move_corner", "corner": end_corner(piece, edge.id), "by_mm": by}]

    return typed("length", "length", "length", whole, stretched, tip="Its end moves along it")


def _marks(project: Project, edge: Edge) -> Iterator[CardRow]:
    notches = notches_by_edge(project.notches).get(edge.id, ())
    holes = holes_by_edge(project.holes).get(edge.id, ())
    marks = [*(mark.id for mark in notches), *(mark.id for mark in holes)]
    for own in marks[:MOST_LINKS]:
        yield link(f"mark {own}", kind_of(project, own), own, own)


# Corners, lines, labels


def corner_page(project: Project, piece: Piece, own: str) -> CardPage:
    """Place, angle inside the piece, and both edges."""
    before, after = around_corner(piece, own)
    rows = (
        *corner_place(own, after.curve.start),
        read("angle", "angle", "angle", math.degrees(corner_angle(piece, own)),
             "Inside the piece"),
        link("before", "edge before", called(project, before.id), before.id),
        link("after", "edge after", called(project, after.id), after.id),
        link("piece", "of piece", piece.name or piece.id, piece.id),
    )  # fmt: skip
    return CardPage(heading=own, kind="corner", rows=rows, deeds=("fit_chosen",))


def corner_place(own: str, at: np.ndarray, words: tuple[str, str] = ("x", "y")) -> list[CardRow]:
    """Both coordinates of a corner, each of which moves it."""

    def moved(axis: int) -> Edits:
        return lambda value: [
            {"edit": "move_corner", "corner": own,
             "by_mm": step_along(axis, value - float(at[axis]))}
        ]  # fmt: skip

    tip = "Right and up from the zero of the rulers"
    return [
        typed(word, word, "length", float(at[axis]), moved(axis), tip=tip)
        for axis, word in enumerate(words)
    ]


def line_page(project: Project, piece: Piece, line: Line) -> CardPage:
    """Name, length and turn, and the level that it draws; what is straight and no level is set."""
    rows = [name_row(line.id, line.name), *_line_measures(line)]
    if line.level in project.levels and line.level is not None:
        rows.append(link("level", "level", called(project, line.level), line.level))
    rows.append(link("piece", "of piece", piece.name or piece.id, piece.id))
    return CardPage(heading=line.name or line.id, kind=f"{line.kind} line", rows=tuple(rows),
                    deeds=("delete",))  # fmt: skip


def _line_measures(line: Line) -> Iterator[CardRow]:
    whole = length_mm(line.curve)
    if line.level is not None or not is_straight(line.curve, STRAIGHT_MM):
        yield read("length", "length", "length", whole)
        return

    def changed(key: str) -> Edits:
        return lambda value: [{"edit": "set_line", "line": line.id, key: value}]

    x, y = (line.curve.end - line.curve.start).tolist()
    yield typed("length", "length", "length", whole, changed("length_mm"), tip="About its middle")
    yield typed("turn", "turned", "angle", math.degrees(math.atan2(y, x)), changed("angle_deg"),
                tip="From level, counter-clockwise")  # fmt: skip


def label_page(piece: Piece, label: Label) -> CardPage:
    """What it says, where it stands, how high its letters are."""

    def moved(axis: int) -> Edits:
        return lambda value: [
            {"edit": "move_label", "label": label.id,
             "by_mm": step_along(axis, value - float(label.at_mm[axis]))}
        ]  # fmt: skip

    def changed(key: str) -> Edits:
        return lambda value: [{"edit": "set_label", "label": label.id, key: value}]

    rows = (
        name_row(label.id, label.text),
        typed("x", "x", "length", float(label.at_mm[0]), moved(0)),
        typed("y", "y", "length", float(label.at_mm[1]), moved(1)),
        typed("height", "letters", "length", label.height_mm, changed("height_mm"),
              tip="Height of its letters"),
        typed("turn", "turned", "angle", math.degrees(label.angle_rad), changed("angle_deg"),
              tip="From level, counter-clockwise"),
        link("piece", "of piece", piece.name or piece.id, piece.id),
    )  # fmt: skip
    return CardPage(heading=label.text or label.id, kind="label", rows=rows, deeds=("delete",))
