"""What the card shows of a thing: its numbers, and the edit that each typed value makes.

Plain data, so that it can be tested without a window; the card turns each row into a field.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Container, Iterator
from dataclasses import dataclass, field
from typing import Any, Literal, TypeAlias

import numpy as np

from wedgework.bench.report import piece_area_mm2
from wedgework.geometry.curve import is_straight
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import STRAIGHT_MM
from wedgework.pattern.angles import corner_angle, edge_turning
from wedgework.pattern.darts import measure_dart
from wedgework.pattern.document import Edge, Hole, Level, Line, Notch, Piece, Project, Seam, Sheet
from wedgework.pattern.levels import body_girth_mm, flat_girth_mm
from wedgework.pattern.lookup import around_corner, edge_in, end_corner, seams_of
from wedgework.pattern.seams import measure_seam

EditData: TypeAlias = dict[str, Any]
Kind: TypeAlias = Literal["length", "signed", "angle", "area", "count", "words", "choice", "note"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CardRow:
    """One number or word. `edit` makes edits of a typed value; without it the row is only read.

    `choices` are values with their words. `leads_to` is the id of a thing that the row names.
    """

    key: str
    words: str
    kind: Kind
    value: Any
    edit: Callable[[Any], list[EditData]] | None = None
    choices: tuple[tuple[str, str], ...] = ()
    leads_to: str | None = None
    tip: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPage:
    """A heading, what kind of thing it is, its rows, and deeds of the window that suit it."""

    heading: str
    kind: str
    rows: tuple[CardRow, ...]
    deeds: tuple[str, ...] = field(default=())


CUTTINGS = (("single", "single"), ("pair", "pair"), ("fold", "on the fold"))
FINISHES = (("open", "open"), ("hem", "hem"), ("fold", "fold"))
JOINS = (("lapped", "lapped"), ("butted", "butted"), ("superimposed", "superimposed"),
         ("bound", "bound"))  # fmt: skip
SIDES = (("a", "side A"), ("b", "side B"))


def page_of(project: Project, ids: tuple[str, ...]) -> CardPage:
    """The page of what is chosen; of the whole project where nothing is."""
    there = [own for own in ids if _known(project, own)]
    if len(there) > 1:
        return _many(project, there)
    return _one(project, there[0]) if there else _whole(project)


def _known(project: Project, own: str) -> bool:
    tables = (project.pieces, project.owners, project.seams, project.notches, project.holes)
    return any(own in table for table in (*tables, project.levels, project.sheets))


def _one(project: Project, own: str) -> CardPage:
    pages: tuple[tuple[Any, Callable[[Project, Any], CardPage]], ...] = (
        (project.pieces, _piece),
        (project.seams, _seam),
        (project.notches, _mark),
        (project.holes, _mark),
        (project.levels, _level),
        (project.sheets, _sheet),
    )
    for table, page in pages:
        if own in table:
            return page(project, table[own])
    return _inside(project, own)


def _inside(project: Project, own: str) -> CardPage:
    piece = project.pieces[project.owners[own]]
    edge = edge_in(piece, own)
    if edge is not None:
        return _edge(project, piece, edge)
    if any(one.corner == own for one in piece.all_edges()):
        return _corner(piece, own)
    line = next((one for one in piece.lines if one.id == own), None)
    if line is not None:
        return _line(project, line)
    return CardPage(heading=own, kind=f"in {piece.name or piece.id}", rows=())


def _name(own: str, name: str) -> CardRow:
    return CardRow(
        key="name",
        words="name",
        kind="words",
        value=name,
        edit=lambda value: [{"edit": "rename", "id": own, "name": value}],
    )


def _read(key: str, words: str, kind: Kind, value: Any, tip: str = "") -> CardRow:  # noqa: ANN401
    return CardRow(key=key, words=words, kind=kind, value=value, tip=tip)


def _piece(project: Project, piece: Piece) -> CardPage:
    box = bounds_of_all([edge.curve for edge in piece.edges])
    around = math.fsum(length_mm(edge.curve) for edge in piece.edges)
    rows = [
        _name(piece.id, piece.name),
        CardRow(
            key="cutting",
            words="cut",
            kind="choice",
            value=piece.cutting,
            choices=CUTTINGS,
            edit=lambda value: [{"edit": "set_cutting", "piece": piece.id, "cutting": value}],
        ),
        *_placing(piece, box),
        _read("width", "width", "length", float(box[2] - box[0])),
        _read("height", "height", "length", float(box[3] - box[1])),
        _read("around", "around", "length", around, "Length of the whole outline"),
        _read("area", "area", "area", piece_area_mm2(piece)),
    ]
    rows += _sheet_rows(project, piece)
    return CardPage(heading=piece.name or piece.id, kind="piece", rows=tuple(rows),
                    deeds=("rename", "fit_chosen", "delete"))  # fmt: skip


def _placing(piece: Piece, box: np.ndarray) -> Iterator[CardRow]:
    for axis, words in ((0, "left at"), (1, "foot at")):

        def moved(value: float, axis: int = axis) -> list[EditData]:
            by = [0.0, 0.0]
            by[axis] = value - float(box[axis])
            return [{"edit": "move_piece", "piece": piece.id, "by_mm": by}]

        yield CardRow(key=words, words=words, kind="length", value=float(box[axis]), edit=moved)
    yield CardRow(
        key="turn",
        words="turn by",
        kind="angle",
        value=0.0,
        edit=lambda value: [{"edit": "turn_piece", "piece": piece.id, "turn_deg": value}],
        tip="Counter-clockwise, about the middle of its box",
    )


def _sheet_rows(project: Project, piece: Piece) -> Iterator[CardRow]:
    if not project.sheets:
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
    yield CardRow(
        key="quantity",
        words="quantity",
        kind="count",
        value=piece.quantity,
        edit=lambda value: cut_from(piece.sheet or names[0][0], value),
    )


def _edge(project: Project, piece: Piece, edge: Edge) -> CardPage:
    seams = seams_of(project, edge.id)
    rows = [
        _name(edge.id, edge.name),
        _edge_length(piece, edge),
        _read("turning", "turning", "angle", math.degrees(edge_turning(edge)),
              "How far its direction turns from one end to the other"),
        CardRow(
            key="allowance",
            words="allowance",
            kind="length",
            value=float(edge.allowance_mm),
            edit=lambda value: [{"edit": "set_allowance", "edges": [edge.id], "mm": value}],
        ),
    ]  # fmt: skip
    if not seams:
        rows.append(_finish(edge))
    rows += [
        CardRow(key=f"seam {one.id}", words="in seam", kind="note", value=one.name or one.id,
                leads_to=one.id)
        for one in seams
    ]  # fmt: skip
    rows.append(CardRow(key="piece", words="of piece", kind="note", value=piece.name or piece.id,
                        leads_to=piece.id))  # fmt: skip
    heading = edge.name or edge.id
    return CardPage(heading=heading, kind="edge", rows=tuple(rows), deeds=("rename",))


def _finish(edge: Edge) -> CardRow:
    return CardRow(
        key="finish",
        words="finish",
        kind="choice",
        value=edge.finish,
        choices=FINISHES,
        edit=lambda value: [{"edit": "set_finish", "edges": [edge.id], "finish": value}],
    )


def _edge_length(piece: Piece, edge: Edge) -> CardRow:
    """The length of a straight edge can be typed: its end moves along it. A curve is bent."""
    whole = length_mm(edge.curve)
    if not is_straight(edge.curve, STRAIGHT_MM):
        return _read("length", "length", "length", whole, "Bend the edge or move its corners")
    along = (edge.curve.end - edge.curve.start) / whole

    def stretched(value: float) -> list[EditData]:
        by = (along * (value - whole)).tolist()
        return [{"edit": "move_corner", "corner": end_corner(piece, edge.id), "by_mm": by}]

    return CardRow(key="length", words="length", kind="length", value=whole, edit=stretched,
                   tip="Its end moves along it")  # fmt: skip


def _corner(piece: Piece, own: str) -> CardPage:
    before, after = around_corner(piece, own)
    at = after.curve.start

    def moved(axis: int) -> Callable[[float], list[EditData]]:
        def edit(value: float) -> list[EditData]:
            by = [0.0, 0.0]
            by[axis] = value - float(at[axis])
            return [{"edit": "move_corner", "corner": own, "by_mm": by}]

        return edit

    rows = (
        CardRow(key="x", words="x", kind="length", value=float(at[0]), edit=moved(0)),
        CardRow(key="y", words="y", kind="length", value=float(at[1]), edit=moved(1)),
        _read("angle", "angle", "angle", math.degrees(corner_angle(piece, own)),
              "Inside the piece"),
        CardRow(key="before", words="after edge", kind="note", value=before.name or before.id,
                leads_to=before.id),
        CardRow(key="after", words="before edge", kind="note", value=after.name or after.id,
                leads_to=after.id),
    )  # fmt: skip
    return CardPage(heading=own, kind=f"corner of {piece.name or piece.id}", rows=rows)


def _line(project: Project, line: Line) -> CardPage:
    rows = [_read("length", "length", "length", length_mm(line.curve))]
    level = project.levels.get(line.level or "")
    if level is not None:
        rows.append(CardRow(key="level", words="level", kind="note", value=level.name or level.id,
                            leads_to=level.id))  # fmt: skip
    return CardPage(heading=line.name or line.id, kind=f"{line.kind} line", rows=tuple(rows),
                    deeds=("delete",))  # fmt: skip


def _seam(project: Project, seam: Seam) -> CardPage:
    if seam.is_dart:
        return _dart(project, seam)
    measure = measure_seam(project, seam)

    def setting(key: str) -> Callable[[Any], list[EditData]]:
        return lambda value: [{"edit": "set_seam", "seam": seam.id, key: value}]

    rows = [
        _name(seam.id, seam.name),
        _read("a", "side A", "length", measure.a.length_mm),
        _read("b", "side B", "length", measure.b.length_mm),
        _read("difference", "difference", "signed", measure.difference_mm),
        CardRow(key="wanted", words="wanted", kind="signed", value=seam.wanted_mm,
                edit=setting("wanted_mm"), tip="The difference that is meant: ease"),
        CardRow(key="allowed", words="allowed", kind="length", value=seam.allowed_mm,
                edit=setting("allowed_mm")),
        *_turned(measure.shaping_rad, measure.dome_rad, measure.hollow_rad),
        CardRow(key="join", words="join", kind="choice", value=seam.join, choices=JOINS,
                edit=setting("join")),
    ]  # fmt: skip
    if seam.join == "lapped":
        rows += [
            CardRow(key="lap", words="lap", kind="length", value=seam.lap_mm,
                    edit=setting("lap_mm")),
            CardRow(key="over", words="over side", kind="choice", value=seam.over, choices=SIDES,
                    edit=setting("over")),
        ]  # fmt: skip
    return CardPage(heading=seam.name or seam.id, kind="seam", rows=tuple(rows),
                    deeds=("true_both", "true_a", "true_b", "shape", "unjoin"))  # fmt: skip


def _turned(shaping: float, dome: float, hollow: float) -> Iterator[CardRow]:
    yield _read("shaping", "shaping", "angle", math.degrees(shaping))
    yield _read("dome", "dome", "angle", math.degrees(dome))
    yield _read("hollow", "hollow", "angle", math.degrees(hollow))


def _dart(project: Project, dart: Seam) -> CardPage:
    measure = measure_dart(project, dart)
    rows = (
        _name(dart.id, dart.name),
        _read("intake", "intake", "length", measure.intake_mm, "Width of the mouth"),
        _read("angle", "angle", "angle", math.degrees(measure.angle_rad)),
        _read("a", "leg A", "length", measure.leg_a_mm),
        _read("b", "leg B", "length", measure.leg_b_mm),
        CardRow(
            key="divide",
            words="divide into",
            kind="count",
            value=1,
            edit=lambda value: [{"edit": "divide_dart", "dart": dart.id, "into": value}],
        ),
    )
    return CardPage(heading=dart.name or dart.id, kind="dart", rows=rows,
                    deeds=("true_both", "delete"))  # fmt: skip


def _mark(_project: Project, mark: Notch | Hole) -> CardPage:
    rows = [
        CardRow(
            key="at",
            words="along edge",
            kind="length",
            value=float(mark.at.at_mm),
            edit=lambda value: [{"edit": "move_mark", "mark": mark.id, "at_mm": value}],
        ),
        CardRow(key="edge", words="on edge", kind="note", value=mark.at.edge,
                leads_to=mark.at.edge),
    ]  # fmt: skip
    if mark.mate is not None:
        rows.append(_read("mate", "mate along", "length", float(mark.mate.at_mm)))
        rows.append(CardRow(key="mate edge", words="on edge", kind="note", value=mark.mate.edge,
                            leads_to=mark.mate.edge))  # fmt: skip
    rows += list(_hole(mark)) if isinstance(mark, Hole) else []
    kind = "hole" if isinstance(mark, Hole) else "notch"
    return CardPage(heading=mark.id, kind=kind, rows=tuple(rows), deeds=("delete",))


def _hole(hole: Hole) -> Iterator[CardRow]:
    for key, words in (("inset_mm", "inset"), ("diameter_mm", "diameter")):

        def changed(value: float, key: str = key) -> list[EditData]:
            sizes = {"inset_mm": hole.inset_mm, "diameter_mm": hole.diameter_mm} | {key: value}
            return [{"edit": "set_holes", "holes": [hole.id], **sizes}]

        yield CardRow(key=key, words=words, kind="length", value=getattr(hole, key), edit=changed)


def _level(project: Project, level: Level) -> CardPage:
    girth = flat_girth_mm(project, level.id)
    body = body_girth_mm(project, level)
    rows = [_name(level.id, level.name), _read("flat", "flat girth", "length", girth)]
    if body is not None and level.measure is not None:
        measure = level.measure
        rows.append(
            CardRow(
                key="body",
                words="body girth",
                kind="length",
                value=body,
                edit=lambda value: [{"edit": "set_body", "measures": {measure: value}}],
            )
        )
        rows.append(_read("difference", "difference", "signed", girth - body))
    return CardPage(heading=level.name or level.id, kind="level", rows=tuple(rows),
                    deeds=("rename", "delete"))  # fmt: skip


def _sheet(_project: Project, sheet: Sheet) -> CardPage:
    rows = [
        _name(sheet.id, sheet.name),
        _read("width", "width", "length", sheet.width_mm),
        _read("thickness", "thickness", "length", sheet.thickness_mm),
        _read("spacing", "spacing", "length", sheet.spacing_mm),
        _read("margin", "margin", "length", sheet.margin_mm),
    ]
    return CardPage(heading=sheet.name or sheet.id, kind="sheet", rows=tuple(rows),
                    deeds=("rename",))  # fmt: skip


def _many(project: Project, ids: list[str]) -> CardPage:
    edges = [own for own in ids if own in project.owners and _is_edge(project, own)]
    rows: list[CardRow] = [
        CardRow(key=own, words=_kind_word(project, own), kind="note", value=_called(project, own),
                leads_to=own)
        for own in ids[:12]
    ]  # fmt: skip
    if edges:
        whole = math.fsum(length_mm(_edge_of(project, own).curve) for own in edges)
        rows.append(_read("length", "together", "length", whole))
        rows.append(
            CardRow(
                key="allowance",
                words="allowance",
                kind="length",
                value=float(_edge_of(project, edges[0]).allowance_mm),
                edit=lambda value: [{"edit": "set_allowance", "edges": edges, "mm": value}],
            )
        )
    deeds = ("join_chosen",) if len(edges) > 1 else ()
    return CardPage(heading=f"{len(ids)} things", kind="chosen", rows=tuple(rows), deeds=deeds)


def _is_edge(project: Project, own: str) -> bool:
    return edge_in(project.pieces[project.owners[own]], own) is not None


def _edge_of(project: Project, own: str) -> Edge:
    edge = edge_in(project.pieces[project.owners[own]], own)
    assert edge is not None  # noqa: S101 - asked for by who has looked
    return edge


def _kind_word(project: Project, own: str) -> str:
    words: dict[str, Container[str]] = {
        "piece": project.pieces, "seam": project.seams, "notch": project.notches,
        "hole": project.holes, "level": project.levels, "sheet": project.sheets,
    }  # fmt: skip
    found = next((word for word, table in words.items() if own in table), None)
    return found or ("edge" if _is_edge(project, own) else "corner")


def _called(project: Project, own: str) -> str:
    for table in (project.pieces, project.seams, project.levels, project.sheets):
        if own in table:
            return table[own].name or own
    if own in project.owners and _is_edge(project, own):
        return _edge_of(project, own).name or own
    return own


def _whole(project: Project) -> CardPage:
    darts = sum(seam.is_dart for seam in project.seams.values())
    rows = [
        _read("pieces", "pieces", "count", len(project.pieces)),
        _read("seams", "seams", "count", len(project.seams) - darts),
        _read("darts", "darts", "count", darts),
    ]
    rows += [
        CardRow(key=own, words=level.name or own, kind="length",
                value=flat_girth_mm(project, own), leads_to=own, tip="Flat girth at this level")
        for own, level in project.levels.items()
    ]  # fmt: skip
    return CardPage(heading=project.name or "Untitled", kind="project", rows=tuple(rows),
                    deeds=("notes", "problems"))  # fmt: skip
