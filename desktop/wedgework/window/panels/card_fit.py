"""The card's pages of what fits the body: levels, openings and closings."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Final

from wedgework.checks.levels import intake_at, shaped_word
from wedgework.pattern.body import MEASURES
from wedgework.pattern.closings import (
    closing_length_mm,
    closing_row,
    short_of_worn_mm,
    teeth_mm,
    times_made,
)
from wedgework.pattern.document import Closing, Level, Opening, Project
from wedgework.pattern.levels import level_fit
from wedgework.pattern.openings import edge_fit, measure_opening
from wedgework.pattern.rows import punch_row, rows_by_id
from wedgework.pattern.wanted import whole_intake
from wedgework.window.panels.card_rows import (
    CardPage,
    CardRow,
    EditData,
    link,
    name_row,
    read,
    typed,
)
from wedgework.window.things import called

CLOSINGS: Final = (("snaps", "snaps"), ("zip", "zip"), ("lacing", "lacing"),
                   ("left_open", "nothing: left open"))  # fmt: skip


def fit_rows(project: Project, level: Level) -> Iterator[CardRow]:
    """What a level should measure, by how much it misses, and what each seam across it takes."""
    fit = level_fit(project, level)
    if fit is None:
        return
    yield read("cut", "cut girth", "length", fit.cut_mm, "The body's girth less the reduction")
    yield read("difference", "difference", "signed", fit.difference_mm,
               "How much wider the garment is than that")  # fmt: skip
    yield read("stretch", "worn stretch", "note", percent(fit.stretch),
               "By which share of its width the sheet stretches here when worn")  # fmt: skip
    yield from _intake_rows(project, level)


def _intake_rows(project: Project, level: Level) -> Iterator[CardRow]:
    """Intake of the whole level, wanted and drawn, and what each seam that crosses it has drawn."""
    whole = whole_intake(project, level)
    if whole is None or whole.fullest == level.id:
        return
    fullest = project.levels[whole.fullest]
    word = f"{whole.wanted_mm:.1f} / {whole.drawn_mm:.1f}{shaped_word(whole)}"
    yield read("intake", "intake", "note", word, "Wanted by the body / drawn, in all, from "
               f"“{fullest.name or fullest.id}”, the fullest level, to here")  # fmt: skip
    for seam, row in intake_at(project, level):
        times = " twice" if times_made(project, seam) == 2 else ""
        tip = f"Measured on its own two edges; an equal share would be {row.wanted_mm:.1f}{times}"
        yield CardRow(key=f"intake {seam.id}", words=f"{seam.name or seam.id} takes", kind="note",
                      value=f"{row.drawn_mm:.1f}{times}", leads_to=seam.id, tip=tip)  # fmt: skip


def percent(share: float) -> str:
    """A share as a person reads it, with its sign."""
    return f"{100 * share:+.1f} %".replace("-", "−")


def opening_page(project: Project, opening: Opening) -> CardPage:
    """How far it stretches for what passes, and how its edge lies round a limb."""

    def changed(key: str, part: float = 1.0) -> Callable[[Any], list[EditData]]:
        return lambda value: [
            {"edit": "set_opening", "opening": opening.id,
             key: value if isinstance(value, str) else round(value * part, 6)}
        ]  # fmt: skip

    measure = measure_opening(project, opening)
    names = tuple((name, name.removesuffix("_mm").replace("_", " ")) for name in MEASURES)
    rows = [
        name_row(opening.id, opening.name),
        CardRow(key="measure", words="what passes", kind="choice", value=opening.measure,
                choices=names, edit=changed("measure")),
        read("opens", "opens to", "length", measure.length_mm,
             "Its ring, and twice each closing that runs out into it"),
        typed("allowed", "allowed %", "count", round(100 * opening.allowed_stretch),
              changed("allowed_stretch", 0.01), tip="By how much of its length it may stretch"),
        typed("rise", "rise", "length", opening.rise_mm, changed("rise_mm"),
              tip="How much higher it lies outside than inside on a limb, on the body"),
    ]  # fmt: skip
    if measure.stretch is not None:
        rows.insert(3, read("needed", "needs", "note", percent(measure.stretch)))
    rows += _edge_rows(project, opening)
    rows += [link(f"edge {ref.edge}", "edge", called(project, ref.edge), ref.edge)
             for ref in opening.edges]  # fmt: skip
    return CardPage(heading=opening.name or opening.id, kind="opening", rows=tuple(rows),
                    deeds=("fit_body", "fit_chosen"))  # fmt: skip


def _edge_rows(project: Project, opening: Opening) -> Iterator[CardRow]:
    edge = edge_fit(project, opening)
    if edge is None:
        return
    yield read("path", "way on the body", "length", edge.path_mm)
    yield read("cut", "cut edge", "length", edge.wanted_mm, "That way less the reduction of edges")
    yield read("over", "edge longer by", "signed", edge.over_mm)
    lies = "gapes" if edge.over_mm > 0 else "cuts in"
    yield read("lies", "it", "note", "lies well" if edge.lies_well else lies)


def closing_page(project: Project, closing: Closing) -> CardPage:
    """What closes it and how far it overlaps, each to be typed; what its fastening takes."""

    def changed(key: str) -> Callable[[Any], list[EditData]]:
        return lambda value: [{"edit": "set_closing", "closing": closing.id, key: value}]

    seam = project.seams[closing.seam]
    own_row = closing_row(closing)
    holes = rows_by_id(project.holes).get(own_row, ())
    rows = [
        CardRow(key="kind", words="closed with", kind="choice", value=closing.kind,
                choices=CLOSINGS, edit=changed("kind")),
        read("length", "length", "length", closing_length_mm(project, closing)),
        typed("overlap", "overlap", "length", closing.overlap_mm, changed("overlap_mm"),
              tip="How far its sides lie on each other; 0: they meet"),
        typed("flap", "flap", "length", closing.flap_mm, changed("flap_mm"),
              tip="Width of a strip behind it; 0 for none"),
    ]  # fmt: skip
    if holes:
        pitch_mm = punch_row(project, own_row).pitch_mm or closing.pitch_mm
        rows.append(
            typed(
                "pitch",
                "pitch",
                "length",
                pitch_mm,
                changed("pitch_mm"),
                tip="As the holes stand; another one punches them anew",
            )
        )
        rows.append(link("row", "holes", str(len(holes)), holes[0].id))
    if closing.kind == "zip":
        rows += _zip_rows(project, closing)
    rows.append(link("seam", "seam", seam.name or seam.id, seam.id))
    return CardPage(heading=seam.name or seam.id, kind="closing", rows=tuple(rows),
                    deeds=("fit_body", "fit_chosen"))  # fmt: skip


def _zip_rows(project: Project, closing: Closing) -> Iterator[CardRow]:
    yield read("teeth", "teeth", "length", teeth_mm(project, closing),
               "Length of the zip's teeth: the opening is 4 mm longer")  # fmt: skip
    yield typed(
        "longer", "make longer by", "length", short_of_worn_mm(project, closing),
        lambda value: [{"edit": "lengthen_closing", "closing": closing.id, "by_mm": value}],
        tip="A zip does not stretch: its edges are cut as long as they are when worn",
    )  # fmt: skip
