"""The card's page of several chosen things: what they share, set for all of them in one step."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Edge, Hole, Notch, Piece, Project, Seam
from wedgework.pattern.lookup import edge_in, seams_of
from wedgework.window.panels.card_pieces import MOST_LINKS
from wedgework.window.panels.card_rows import (
    CUTTINGS,
    FINISHES,
    JOINS,
    NOTCHES,
    SEVERAL,
    SIDES,
    CardPage,
    CardRow,
    EditData,
    Kind,
    link,
    read,
)
from wedgework.window.things import called, kind_of

T = TypeVar("T")
Choices = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class _Chosen:
    """What is chosen, by kind."""

    pieces: tuple[Piece, ...]
    edges: tuple[Edge, ...]
    seams: tuple[Seam, ...]
    notches: tuple[Notch, ...]
    holes: tuple[Hole, ...]


def several_page(project: Project, ids: Sequence[str]) -> CardPage:
    """Fields of each kind that is among the chosen things, then the things themselves."""
    chosen = _sorted(project, ids)
    rows = [
        *_pieces(project, chosen.pieces),
        *_edges(project, chosen.edges),
        *_seams(chosen.seams),
        *_notches(chosen.notches),
        *_holes(chosen.holes),
        *(link(own, kind_of(project, own), called(project, own), own)
          for own in ids[: 2 * MOST_LINKS]),
    ]  # fmt: skip
    if len(ids) > 2 * MOST_LINKS:
        rows.append(read("more", "more", "count", len(ids) - 2 * MOST_LINKS))
    return CardPage(heading=f"{len(ids)} things", kind="chosen", rows=tuple(rows),
                    deeds=tuple(_deeds(project, ids, chosen)))  # fmt: skip


def _sorted(project: Project, ids: Iterable[str]) -> _Chosen:
    ids = tuple(ids)
    edges = (_edge_of(project, own) for own in ids)
    return _Chosen(
        pieces=_rows(project.pieces, ids),
        edges=tuple(edge for edge in edges if edge is not None),
        seams=_rows(project.seams, ids),
        notches=_rows(project.notches, ids),
        holes=_rows(project.holes, ids),
    )


def _rows(table: Any, ids: Iterable[str]) -> tuple[Any, ...]:  # noqa: ANN401 - any table
    return tuple(table[own] for own in ids if own in table)


def _edge_of(project: Project, own: str) -> Edge | None:
    owner = project.owners.get(own)
    return None if owner is None else edge_in(project.pieces[owner], own)


def _deeds(project: Project, ids: Sequence[str], chosen: _Chosen) -> Iterator[str]:
    if len(chosen.edges) == 2:
        yield "join_chosen"
    places = {"corner", "notch", "hole"}
    if len(ids) <= 3 and all(kind_of(project, own) in places for own in ids):
        yield "pin"
    yield "fit_chosen"
    yield "delete"


# Rows that stand for several things


def _shared(values: Iterable[T]) -> T | None:
    """The value that all have; None where they differ."""
    found = set(values)
    return found.pop() if len(found) == 1 else None


def _field(key: str, words: str, kind: Kind, values: Iterable[float], edit: Any) -> CardRow:  # noqa: ANN401
    """A number; blank where the things differ in it."""
    return CardRow(key=key, words=words, kind=kind, value=_shared(values), edit=edit,
                   tip="For all that is chosen; blank where they differ")  # fmt: skip


def _choice(
    key: str,
    words: str,
    values: Iterable[str],
    choices: Choices,
    edits: Callable[[str], list[EditData]],
) -> CardRow:
    """A word of a list; `several` where the things differ in it."""
    value = _shared(values)
    return CardRow(
        key=key,
        words=words,
        kind="choice",
        value=value or "",
        choices=choices if value is not None else SEVERAL + choices,
        edit=lambda word: edits(word) if word else [],
        tip="For all that is chosen",
    )


# Pieces


def _pieces(project: Project, pieces: Sequence[Piece]) -> Iterator[CardRow]:
    if not pieces:
        return
    yield _choice(
        "cutting", "cut", (one.cutting for one in pieces), CUTTINGS,
        lambda word: [{"edit": "set_cutting", "piece": one.id, "cutting": word} for one in pieces],
    )  # fmt: skip
    if project.sheets:
        names = tuple((own, row.name or own) for own, row in project.sheets.items())
        sheets = (("", "none yet"), *names) if any(not one.sheet for one in pieces) else names
        yield CardRow(key="sheet", words="sheet", kind="choice",
                      value=_shared(one.sheet or "" for one in pieces) or "",
                      choices=sheets if ("", "none yet") in sheets else SEVERAL + names,
                      edit=lambda sheet: _cut_from(pieces, sheet) if sheet else [],
                      tip="For all chosen pieces")  # fmt: skip
    if any(one.sheet for one in pieces):
        yield _field("quantity", "quantity", "count", (one.quantity for one in pieces),
                     lambda count: _cut_from(pieces, None, count))  # fmt: skip


def _cut_from(
    pieces: Iterable[Piece], sheet: str | None, quantity: int | None = None
) -> list[EditData]:
    """Edits that set a sheet or a quantity and leave all else as each piece has it."""
    groups: defaultdict[tuple[Any, ...], list[str]] = defaultdict(list)
    for one in pieces:
        own = sheet or one.sheet
        if own is not None:
            groups[own, quantity or one.quantity, one.turns_rad].append(one.id)
    return [
        {"edit": "cut_from", "pieces": ids, "sheet": own, "quantity": count,
         "turns_deg": "any" if turns is None else [math.degrees(turn) for turn in turns]}
        for (own, count, turns), ids in groups.items()
    ]  # fmt: skip


# Edges


def _edges(project: Project, edges: Sequence[Edge]) -> Iterator[CardRow]:
    if not edges:
        return
    ids = [edge.id for edge in edges]
    whole = math.fsum(length_mm(edge.curve) for edge in edges)
    yield read("length", "together", "length", whole, "Lengths of all chosen edges")
    yield _field("allowance", "allowance", "length", (float(one.allowance_mm) for one in edges),
                 lambda value: [{"edit": "set_allowance", "edges": ids, "mm": value}])  # fmt: skip
    if not any(seams_of(project, own) for own in ids):
        yield _choice(
            "finish", "finish", (one.finish for one in edges), FINISHES,
            lambda word: [{"edit": "set_finish", "edges": ids, "finish": word}],
        )  # fmt: skip


# Seams


def _seams(seams: Sequence[Seam]) -> Iterator[CardRow]:
    if not seams:
        return
    yield _field("wanted", "wanted", "signed", (one.wanted_mm for one in seams),
                 _setting(seams, "wanted_mm"))  # fmt: skip
    yield _field("allowed", "allowed", "length", (one.allowed_mm for one in seams),
                 _setting(seams, "allowed_mm"))  # fmt: skip
    joined = [one for one in seams if not one.is_dart]
    if joined:
        yield _choice("join", "join", (one.join for one in joined), JOINS,
                      _setting(joined, "join"))  # fmt: skip
    lapped = [one for one in joined if one.join == "lapped"]
    if lapped:
        yield _field("lap", "lap", "length", (one.lap_mm for one in lapped),
                     _setting(lapped, "lap_mm"))  # fmt: skip
        yield _choice("over", "on top", (one.over for one in lapped), SIDES,
                      _setting(lapped, "over"))  # fmt: skip


def _setting(seams: Iterable[Seam], key: str) -> Callable[[Any], list[EditData]]:
    ids = [one.id for one in seams]
    return lambda value: [{"edit": "set_seam", "seam": own, key: value} for own in ids]


# Marks


def _notches(notches: Sequence[Notch]) -> Iterator[CardRow]:
    if notches:
        ids = [one.id for one in notches]
        yield _choice(
            "double", "drawn as", ("double" if one.double else "single" for one in notches),
            NOTCHES,
            lambda word: [{"edit": "set_notches", "notches": ids, "double": word == "double"}],
        )  # fmt: skip


def _holes(holes: Sequence[Hole]) -> Iterator[CardRow]:
    ids = [one.id for one in holes]
    for key, words in (("inset_mm", "inset"), ("diameter_mm", "diameter")):

        def changed(value: float, key: str = key) -> list[EditData]:
            return [{"edit": "set_holes", "holes": ids, key: value}]

        if holes:
            yield _field(key, words, "length", (getattr(one, key) for one in holes), changed)
