"""Which page of the card suits what is chosen; the whole project's where nothing is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, Final

from wedgework.pattern.body import (
    ALL_NAMES,
    MEASURES,
    meaning_of_measure,
    measure_words,
)
from wedgework.pattern.document import Body, Level, Project, Sheet
from wedgework.pattern.levels import body_girth_mm, flat_girth_mm, level_lines, level_width_mm
from wedgework.pattern.lookup import edge_in
from wedgework.pattern.stretch import law_words
from wedgework.window.panels.card_fit import closing_page, fit_rows, opening_page
from wedgework.window.panels.card_photographs import photograph_page
from wedgework.window.panels.card_pieces import (
    MOST_LINKS,
    corner_page,
    edge_page,
    label_page,
    line_page,
    piece_page,
)
from wedgework.window.panels.card_pins import pin_page, pin_rows
from wedgework.window.panels.card_rows import (
    MARKINGS,
    MATERIALS,
    CardPage,
    CardRow,
    CardWishes,
    EditData,
    link,
    name_row,
    read,
    typed,
)
from wedgework.window.panels.card_seams import mark_page, seam_page
from wedgework.window.panels.card_several import several_page
from wedgework.window.things import kind_of

PAGELESS: Final = frozenset({"", "row"})
"""What is chosen in the forms of its edits alone."""


def page_of(
    project: Project, ids: Iterable[str], *, step: str = "Shape", wishes: CardWishes | None = None
) -> CardPage:
    """The page of what is chosen; of the project where nothing is, of the body in Measure."""
    there = [own for own in ids if kind_of(project, own) not in PAGELESS]
    if len(there) > 1:
        return several_page(project, there)
    if there:
        return _one(project, there[0], wishes or CardWishes())
    return _body(project) if step == "Measure" else _whole(project)


def _one(project: Project, own: str, wishes: CardWishes) -> CardPage:
    if own in project.seams:
        return seam_page(project, project.seams[own], wishes)
    pages: tuple[tuple[Any, Callable[[Project, Any], CardPage]], ...] = (
        (project.pieces, piece_page),
        (project.notches, mark_page),
        (project.holes, mark_page),
        (project.levels, _level),
        (project.sheets, _sheet),
        (project.pictures, photograph_page),
        (project.pins, pin_page),
        (project.bodies, _a_body),
        (project.openings, opening_page),
        (project.closings, closing_page),
    )
    for table, page in pages:
        if own in table:
            return page(project, table[own])
    return _inside(project, own)


def _inside(project: Project, own: str) -> CardPage:
    piece = project.pieces[project.owners[own]]
    edge = edge_in(piece, own)
    if edge is not None:
        return edge_page(project, piece, edge)
    for line in piece.lines:
        if line.id == own:
            return line_page(project, piece, line)
    for label in piece.labels:
        if label.id == own:
            return label_page(piece, label)
    return corner_page(project, piece, own)


def _level(project: Project, level: Level) -> CardPage:
    """Flat girth of the garment against that of the body, and the pieces that it crosses."""
    girth, body = flat_girth_mm(project, level.id), body_girth_mm(project, level)
    rows = [
        name_row(level.id, level.name),
        read("flat", "flat girth", "length", girth, "Widths of all pieces together"),
    ]
    if level.measure is not None:
        rows.append(measure_row(level.measure, body, "body girth"))
    rows += fit_rows(project, level)
    crossed = [piece for piece in project.pieces.values() if level_lines(piece, level.id)]
    rows += [
        CardRow(key=f"in {piece.id}", words=piece.name or piece.id, kind="length",
                value=level_width_mm(piece, level.id), leads_to=piece.id)
        for piece in crossed[: 2 * MOST_LINKS]
    ]  # fmt: skip
    return CardPage(heading=level.name or level.id, kind="level", rows=tuple(rows),
                    deeds=("fit_body", "delete"))  # fmt: skip


def measure_row(name: str, value: float | None, words: str = "") -> CardRow:
    """A measure of the body; typed as nothing it is taken out."""
    return CardRow(
        key=f"body {name}",
        words=words or measure_words(name),
        kind="length",
        value=value,
        edit=lambda now: [{"edit": "set_body", "measures": {name: now}}],
        tip=meaning_of_measure(name),
        may_be_blank=True,
    )


def _a_body(project: Project, body: Body) -> CardPage:
    """Its name; the measures of the one that is worn are those of the page of the body."""
    rows = (
        name_row(body.id, body.name),
        read("worn", "pieces are for it", "note", "yes" if project.wearer == body.id else "no"),
        read("measures", "measures", "count", len(body.measures)),
    )
    return CardPage(heading=body.name or body.id, kind="body", rows=rows)


def _body(project: Project) -> CardPage:
    """What is pinned, then every measure of the body, those that are known first."""
    known = [name for name in ALL_NAMES if name in project.body]
    others = [name for name in MEASURES if name not in project.body]
    rows = [measure_row(name, project.body.get(name)) for name in (*known, *others)]
    wearer = project.bodies.get(project.wearer)
    heading = "Body" if wearer is None else wearer.name
    kind = f"{len(known)} of {len(rows)} known"
    return CardPage(heading=heading, kind=kind, rows=(*pin_rows(project), *rows), deeds=("body",))


def _sheet(_project: Project, sheet: Sheet) -> CardPage:
    """Everything that can be said of a material; a length typed as nothing is endless."""

    def changed(key: str) -> Callable[[Any], list[EditData]]:
        return lambda value: [{"edit": "set_sheet", "sheet": sheet.id, key: value}]

    rows = (
        name_row(sheet.id, sheet.name),
        CardRow(key="material", words="material", kind="choice", value=sheet.material,
                choices=MATERIALS, edit=changed("material"),
                tip="Pull when worn: " + law_words(sheet.material)),
        typed("width", "width", "length", sheet.width_mm, changed("width_mm")),
        CardRow(key="length", words="length", kind="length", value=sheet.length_mm,
                edit=changed("length_mm"), may_be_blank=True, tip="Nothing where it is endless"),
        typed("thickness", "thickness", "length", sheet.thickness_mm, changed("thickness_mm")),
        typed("colour", "colour", "words", sheet.colour, changed("colour")),
        typed("spacing", "spacing", "length", sheet.spacing_mm, changed("spacing_mm"),
              tip="Kept free between pieces"),
        typed("margin", "margin", "length", sheet.margin_mm, changed("margin_mm"),
              tip="Kept free along its edge"),
        CardRow(key="marking", words="notches as", kind="choice", value=sheet.marking,
                choices=MARKINGS, edit=changed("marking"),
                tip="Rubber tears from slits: there they are dashes of a pen"),
        read("pull", "pull when worn", "note", law_words(sheet.material)),
    )  # fmt: skip
    return CardPage(heading=sheet.name or sheet.id, kind="sheet", rows=rows)


# The whole project


def _whole(project: Project) -> CardPage:
    darts = sum(seam.is_dart for seam in project.seams.values())
    rows = [
        read("pieces", "pieces", "count", len(project.pieces)),
        read("seams", "seams", "count", len(project.seams) - darts),
        read("darts", "darts", "count", darts),
    ]
    for own, level in project.levels.items():
        body = body_girth_mm(project, level)
        tip = "Flat girth at this level" + ("" if body is None else f"; body {body:.0f} mm")
        rows.append(
            CardRow(key=own, words=f"{level.name or own}, flat", kind="length",
                    value=flat_girth_mm(project, own), leads_to=own, tip=tip)
        )  # fmt: skip
    rows += pin_rows(project)
    rows += [link(f"sheet {own}", "sheet", sheet.name or own, own) for own, sheet in
             project.sheets.items()]  # fmt: skip
    return CardPage(heading=project.name or "Untitled", kind="project", rows=tuple(rows),
                    deeds=("notes", "problems"))  # fmt: skip
