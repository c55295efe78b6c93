"""The card's rows of a drafted piece: what it was made from, and what became of that since."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from wedgework.bench.recipes import Remembered, Source, remembered
from wedgework.drafting import kind_named
from wedgework.glossary import meaning_of
from wedgework.pattern.arguments import arguments_of
from wedgework.pattern.document import Piece, Project, parse_ref
from wedgework.window.form_words import number_tip, number_words
from wedgework.window.panels.card_rows import CardRow, EditData, Kind, read
from wedgework.window.things import called

KINDS_BY_UNIT: Final[dict[str | None, Kind]] = {"mm": "length", "deg": "angle"}
YES, NO = "yes", "no"
MOST_EDITS: Final = 12
"""More edits than this are counted, and named in the tip as far as it goes."""


def is_drafted(piece: Piece) -> bool:
    """Whether a piece was drafted, and can be drafted again."""
    return piece.recipe is not None


def drafted_rows(project: Project, piece: Piece) -> Iterator[CardRow]:
    """Kind, numbers, sources with then and now, hand edits, what was refused; none if not drafted.

    A number that is changed drafts the piece again.
    """
    found = remembered(project, piece)
    if found is None:
        return
    words = found.kind.replace("_", " ")
    yield read("drafted", "drafted as", "note", words, meaning_of("draft", found.kind))
    yield from _numbers(piece, found)
    for source in found.sources:
        yield _source(project, source)
    yield from _since(found)


def _numbers(piece: Piece, found: Remembered) -> Iterator[CardRow]:
    """Numbers that are needed, mostly changed, or that the maker gave; others are in the form."""
    kind = kind_named(found.kind)
    for docs in arguments_of(kind.numbers):
        name, default = docs["name"], docs.get("default")
        value = found.numbers.get(name, default)
        is_first = docs["needed"] or name in kind.first
        if "list" not in docs["type"] and (is_first or value != default):
            yield _number(piece, docs, value)


def _number(piece: Piece, docs: dict[str, Any], value: object) -> CardRow:
    name, is_switch = docs["name"], docs["type"].startswith("true")

    def again(now: object) -> list[EditData]:
        said = now == YES if is_switch else now
        return [{"edit": "draft_again", "piece": piece.id, "numbers": {name: said}}]

    kind, choices = _kind_of(docs)
    return CardRow(
        key=f"number {name}",
        words=number_words(name),
        kind=kind,
        value=(YES if value else NO) if is_switch else value,
        edit=again,
        choices=choices,
        tip=number_tip(docs),
        may_be_blank=not docs["needed"],
    )


def _kind_of(docs: dict[str, Any]) -> tuple[Kind, tuple[tuple[str, str], ...]]:
    """How a number is shown, and the words that it may be."""
    if docs["type"].startswith("true"):
        return "choice", ((YES, YES), (NO, NO))
    if " | " in docs["type"]:
        return "choice", tuple((one, one.replace("_", " ")) for one in docs["type"].split(" | "))
    if docs["type"].startswith("whole"):
        return "count", ()
    return KINDS_BY_UNIT.get(docs["unit"], "plain"), ()


def _source(project: Project, source: Source) -> CardRow:
    """An edge that it was made from: as long as then, and as now."""
    own = parse_ref(source.ref).edge
    if source.now_mm is None:
        return read(f"source {source.ref}", own, "note", "no longer there",
                    "The edge that it was drafted from is gone")  # fmt: skip
    return CardRow(
        key=f"source {source.ref}",
        words=f"from {_edge_words(project, own)}",
        kind="range",
        value=(source.then_mm, source.now_mm),
        leads_to=own,
        tip="How long it was when the piece was drafted, and is now",
    )


def _edge_words(project: Project, own: str) -> str:
    piece = project.pieces[project.owners[own]]
    return f"{piece.name or piece.id} {called(project, own)}"


def _since(found: Remembered) -> Iterator[CardRow]:
    """Edits made by hand, which are done again with it, and those that could not be."""
    count = len(found.hand_edits)
    if count:
        names = [one.replace("_", " ") for one in found.hand_edits]
        more = f" and {count - MOST_EDITS} more" if count > MOST_EDITS else ""
        tip = f"Done again when it is drafted again: {', '.join(names[:MOST_EDITS])}{more}"
        yield read("by hand", "changed by hand", "note", f"{count}: {', '.join(names)}", tip)
    for at, sentence in enumerate(found.refused, start=1):
        yield read(f"refused {at}", "not done again", "note", sentence, sentence)
