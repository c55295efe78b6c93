"""The card's pages of seams, darts, notches and holes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Any, Final

from wedgework.pattern.closings import closing_of
from wedgework.pattern.cutlines import binding_strip_mm
from wedgework.pattern.darts import DartMeasure, measure_dart
from wedgework.pattern.document import EdgeId, Hole, Notch, Project, Run, Seam
from wedgework.pattern.lookup import edge_in, hold_of, piece_of
from wedgework.pattern.room import cap_height_mm, cone_height_mm
from wedgework.pattern.rows import PunchRow, punch_row, rows_by_id
from wedgework.pattern.seams import SeamMeasure, measure_seam, notches_of
from wedgework.window.panels.card_pieces import corner_place
from wedgework.window.panels.card_rows import (
    HOLDS,
    JOINS,
    NOTCHES,
    SIDES,
    CardPage,
    CardRow,
    CardWishes,
    EditData,
    Kind,
    link,
    name_row,
    read,
    typed,
)
from wedgework.window.things import called

USUAL_MM: Final = 0.4
"""Thickness of a sheet that is not said: the usual one of rubber; common practice, no source."""

THROUGH: Final = (("both", "both layers"), ("each", "each side"))
SEAM_DEEDS: Final = (
    "true_both",
    "shape",
    "true_a",
    "true_b",
    "hold",
    "let_go",
    "fit_chosen",
    "unjoin",
)


def seam_page(project: Project, seam: Seam, wishes: CardWishes) -> CardPage:
    """Lengths and their difference, shaping and the room it makes, how it is joined, its edges."""
    if seam.is_dart:
        return _dart_page(project, seam, wishes)
    measure = measure_seam(project, seam)
    rows = [
        name_row(seam.id, seam.name),
        *_closing(project, seam),
        *_lengths(seam, measure),
        *_shaping(measure, wishes),
        *_joining(project, seam),
        _hold_row(project, seam),
        read("notches", "notches", "count", len(notches_of(project, seam))),
        *_rows(project, seam),
        *_edges(project, seam),
    ]
    return CardPage(heading=seam.name or seam.id, kind="seam", rows=tuple(rows), deeds=SEAM_DEEDS)


def _setting(seam: Seam, key: str) -> Callable[[Any], list[EditData]]:
    return lambda value: [{"edit": "set_seam", "seam": seam.id, key: value}]


def _lengths(seam: Seam, measure: SeamMeasure) -> Iterator[CardRow]:
    yield read("a", "side A", "length", measure.a.length_mm)
    yield read("b", "side B", "length", measure.b.length_mm)
    yield from _differences(seam, measure)


def _differences(seam: Seam, measure: SeamMeasure) -> Iterator[CardRow]:
    yield read("difference", "difference", "signed", measure.difference_mm,
               "How much longer A is than it is meant to be beside B")  # fmt: skip
    yield typed("wanted", "wanted", "signed", seam.wanted_mm, _setting(seam, "wanted_mm"),
                tip="How much longer A is meant to be than B: ease")  # fmt: skip
    yield typed("allowed", "allowed", "length", seam.allowed_mm, _setting(seam, "allowed_mm"),
                tip="How far from that still agrees")  # fmt: skip


def _shaping(measure: SeamMeasure, wishes: CardWishes) -> Iterator[CardRow]:
    yield read("shaping", "shaping", "angle", math.degrees(measure.shaping_rad),
               "Dome less hollow: what the whole seam turns")  # fmt: skip
    yield read("dome", "dome", "angle", math.degrees(measure.dome_rad), "Where it rounds")
    yield read("hollow", "hollow", "angle", math.degrees(measure.hollow_rad), "Where it flares")
    yield from _room(measure.dome_rad, wishes)


def _room(shaping_rad: float, wishes: CardWishes) -> Iterator[CardRow]:
    """How high the dome stands over a span: spread out as a cap, gathered as a cone."""
    span = wishes.span_mm
    heights = (cap_height_mm(shaping_rad, span), cone_height_mm(shaping_rad, span))
    yield read("room", "room", "range", heights,
               "Height of the dome: spread over the span, and all at one point")  # fmt: skip
    yield CardRow(key="span", words="within", kind="length", value=span, sets="span",
                  tip="How far round the dome's top room is told")  # fmt: skip


def _joining(project: Project, seam: Seam) -> Iterator[CardRow]:
    """How it is made, with the widths that its join asks for, and the allowances of its edges."""
    yield CardRow(key="join", words="join", kind="choice", value=seam.join, choices=JOINS,
                  edit=_setting(seam, "join"))  # fmt: skip
    match seam.join:
        case "lapped":
            yield typed("lap", "lap", "length", seam.lap_mm, _setting(seam, "lap_mm"))
            yield CardRow(key="over", words="on top", kind="choice", value=seam.over,
                          choices=SIDES, edit=_setting(seam, "over"))  # fmt: skip
        case "butted" if closing_of(project, seam.id) is None:
            yield typed("tape", "tape", "length", seam.tape_mm, _setting(seam, "tape_mm"),
                        tip="Width of the tape behind both edges")  # fmt: skip
        case "bound":
            yield typed("binding", "binding", "length", seam.binding_mm,
                        _setting(seam, "binding_mm"),
                        tip="How deep it covers both sides")  # fmt: skip
            yield read("strip", "strip", "length", _strip_mm(project, seam),
                       "Width of the strip, folded over both sheets")  # fmt: skip
    for side, run in (("A", seam.a), ("B", seam.b)):
        yield _allowance(project, side, run)


def _strip_mm(project: Project, seam: Seam) -> float:
    """Width of a binding's strip about both sheets, it of the sheet of side A itself."""
    thick = [_thickness_mm(project, run[0].edge) for run in (seam.a, seam.b)]
    return binding_strip_mm(seam.binding_mm, stack_mm=sum(thick), thickness_mm=thick[0])


def _thickness_mm(project: Project, edge: EdgeId) -> float:
    sheet = project.sheets.get(piece_of(project, edge).sheet or "")
    return sheet.thickness_mm if sheet else USUAL_MM


def _allowance(project: Project, side: str, run: Run) -> CardRow:
    """The allowance of one side; where its edges have several, typing sets them all."""
    found = (edge_in(piece_of(project, ref.edge), ref.edge) for ref in run)
    edges = {edge.id: edge for edge in found if edge is not None}
    widths = {edge.allowance_mm for edge in edges.values()}

    def changed(value: float | None) -> list[EditData]:
        row = {"edit": "set_allowance", "edges": list(edges), "mm": value}
        return [] if value is None or not edges else [row]

    return CardRow(
        key=f"allowance_{side.lower()}",
        words=f"allowance {side}",
        kind="length",
        value=float(widths.pop()) if len(widths) == 1 else None,
        edit=changed,
        tip="Cut outside the seam line, the lap not counted",
    )


def _closing(project: Project, seam: Seam) -> Iterator[CardRow]:
    """What it closes with, where it opens."""
    closing = closing_of(project, seam.id)
    if closing is not None:
        yield link("closing", "closes with", closing.kind.replace("_", " "), closing.id)


def _rows(project: Project, seam: Seam) -> Iterator[CardRow]:
    """The rows of holes that are punched along it."""
    rows = rows_by_id(project.holes)
    for own in rows:
        row = punch_row(project, own)
        if row.seam is seam:
            words = f"{len(row.holes)} at {row.pitch_mm:.1f}"
            yield link(f"row {own}", "row of holes", words, row.holes[0].id)


def _hold_row(project: Project, seam: Seam) -> CardRow:
    """Whether its mate follows: not at all, in length, or as the same curve."""
    hold = hold_of(project, seam.id)

    def held(kind: str) -> list[EditData]:
        if kind == "none":
            return [{"edit": "let_go", "seam": seam.id}]
        return [{"edit": "hold_seam", "seam": seam.id, "kind": kind}]

    return CardRow(key="hold", words="hold", kind="choice", value=hold.kind if hold else "none",
                   choices=HOLDS, edit=held,
                   tip="Whether the mate follows when one side is changed")  # fmt: skip


def _edges(project: Project, seam: Seam) -> Iterator[CardRow]:
    for words, run in (("edge of A", seam.a), ("edge of B", seam.b)):
        for ref in run:
            key = f"{words} {ref.edge}"
            yield link(key, words, _edge_words(project, ref.edge), ref.edge)


def _edge_words(project: Project, own: str) -> str:
    """An edge's name; without one its piece's, which says more than an id."""
    piece = project.pieces[project.owners[own]]
    edge = edge_in(piece, own)
    return (edge.name if edge else "") or piece.name or own


def _dart_page(project: Project, dart: Seam, wishes: CardWishes) -> CardPage:
    found, measure = measure_dart(project, dart), measure_seam(project, dart)
    rows = [
        name_row(dart.id, dart.name),
        *_sizes_of_dart(dart, found),
        *_differences(dart, measure),
        *_room(found.angle_rad, wishes),
    ]  # fmt: skip
    if dart.apex is not None:
        rows += corner_place(dart.apex, found.apex_mm, ("apex x", "apex y"))
    if dart.tip is not None and found.tip_mm is not None:
        rows.append(read("tip angle", "tip angle", "angle", math.degrees(found.tip_angle_rad),
                         "What it lacks at its other point"))  # fmt: skip
        rows += corner_place(dart.tip, found.tip_mm, ("tip x", "tip y"))
    rows += [] if dart.tip is not None else [
        typed("divide", "divide into", "count", 1,
              lambda value: [{"edit": "divide_dart", "dart": dart.id, "into": value}],
              tip="Several darts in place of this one"),
        _hold_row(project, dart),
    ]  # fmt: skip
    rows += _edges(project, dart)
    return CardPage(heading=dart.name or dart.id, kind="dart", rows=tuple(rows),
                    deeds=("true_both", "hold", "let_go", "fit_chosen", "delete"))  # fmt: skip


def _sizes_of_dart(dart: Seam, found: DartMeasure) -> Iterator[CardRow]:
    """Angle, intake and legs: typed where the dart has a mouth, which one with two points lacks."""
    sizes: tuple[tuple[str, str, Kind, float, str, str], ...] = (
        ("angle", "angle", "angle", math.degrees(found.angle_rad), "angle_deg",
         "What it lacks at its apex: the shaping that it puts in"),
        ("intake", "intake", "length", found.intake_mm, "intake_mm",
         "Width of the mouth, straight across; its apex stays"),
        ("a", "leg A", "length", found.leg_a_mm, "leg_a_mm", LEG),
        ("b", "leg B", "length", found.leg_b_mm, "leg_b_mm", LEG),
    )  # fmt: skip
    for key, words, kind, value, argument, tip in sizes:
        if dart.tip is not None:
            yield read(key, words, kind, value, tip.partition(";")[0])
        else:
            yield typed(key, words, kind, value, _sizing(dart, argument), tip=tip)


LEG: Final = "Along the leg; its apex goes along the middle line, its mouth stays"


def _sizing(dart: Seam, argument: str) -> Callable[[Any], list[EditData]]:
    return lambda value: [{"edit": "set_dart", "dart": dart.id, argument: value}]


def mark_page(project: Project, mark: Notch | Hole) -> CardPage:
    """Where it stands, where its mate does, and how it is made."""
    if isinstance(mark, Hole) and mark.row is not None:
        return _row_page(project, mark, punch_row(project, mark.row))
    rows = [*_standing(project, mark)]
    rows += [_dashes(mark)] if isinstance(mark, Notch) else _sizes(mark)
    kind = "notch" if isinstance(mark, Notch) else "hole"
    return CardPage(heading=mark.id, kind=kind, rows=tuple(rows), deeds=("delete",))


def _standing(project: Project, mark: Notch | Hole) -> Iterator[CardRow]:
    yield typed("at", "along edge", "length", float(mark.at.at_mm),
                lambda value: [{"edit": "move_mark", "mark": mark.id, "at_mm": value}],
                tip="From the start of its edge")  # fmt: skip
    yield link("edge", "on edge", called(project, mark.at.edge), mark.at.edge)
    if mark.mate is not None:
        mate = mark.mate.edge
        yield read("mate", "mate along", "length", float(mark.mate.at_mm))
        yield link("mate edge", "mate on", called(project, mate), mate)


def _row_page(project: Project, hole: Hole, row: PunchRow) -> CardPage:
    """A row of holes as one: number, pitch, where it begins and ends, inset, diameter."""

    def changed(key: str) -> Callable[[Any], list[EditData]]:
        return lambda value: [{"edit": "set_row", "row": row.id, key: value}]

    rows = [
        typed("number", "holes", "count", len(row.holes), changed("number"),
              tip="How many, spread evenly"),
        typed("pitch", "pitch", "length", row.pitch_mm, changed("pitch_mm"),
              tip="From hole to hole along the seam line"),
        typed("first", "first at", "length", row.first_mm, changed("first_mm"),
              tip="From the start of side A, or of the edge"),
        typed("last", "last before end", "length", row.last_mm, changed("last_mm"),
              tip="From the last hole to the end"),
        typed("inset", "inset", "length", hole.inset_mm, changed("inset_mm"),
              tip="Inside the seam line, on the side that lies over"),
        typed("diameter", "diameter", "length", hole.diameter_mm, changed("diameter_mm")),
        typed("shift", "move by", "signed", 0.0,
              lambda value: [{"edit": "move_row", "row": row.id, "by_mm": value}],
              tip="Both sides, along side A"),
    ]  # fmt: skip
    if row.seam is not None:
        rows.append(CardRow(key="through", words="through", kind="choice", choices=THROUGH,
                            value="both" if hole.through else "each",
                            edit=lambda value: changed("through")(value == "both")))  # fmt: skip
        rows.append(link("seam", "on seam", row.seam.name or row.seam.id, row.seam.id))
    else:
        rows.append(link("edge", "on edge", called(project, row.edge), row.edge))
    heading = row.id if row.seam is None else row.seam.name or row.seam.id
    return CardPage(heading=heading, kind="row of holes", rows=tuple(rows), deeds=("delete",))


def _dashes(notch: Notch) -> CardRow:
    def changed(value: str) -> list[EditData]:
        return [{"edit": "set_notches", "notches": [notch.id], "double": value == "double"}]

    return CardRow(key="double", words="drawn as", kind="choice", choices=NOTCHES, edit=changed,
                   value="double" if notch.double else "single")  # fmt: skip


def _sizes(hole: Hole) -> Iterator[CardRow]:
    for key, words in (("inset_mm", "inset"), ("diameter_mm", "diameter")):

        def changed(value: float, key: str = key) -> list[EditData]:
            return [{"edit": "set_holes", "holes": [hole.id], key: value}]

        yield typed(key, words, "length", getattr(hole, key), changed)
