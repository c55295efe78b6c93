"""Run the rules over a project: remember what was found, and heed what a maker has accepted.

What was found of a seam or piece is remembered for the objects that it was read from, so a full
check costs what has changed; after an edit, `findings_touching` asks what hangs on touched ids.
"""

from __future__ import annotations

import operator
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, Final
from weakref import WeakKeyDictionary

from wedgework.checks.finding import GRAVES, Finding, PieceRule, ProjectRule, SeamRule
from wedgework.checks.proposing import with_proposals
from wedgework.pattern.document import Accepted, Piece, Project, Seam, parse_ref
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.filling import fill_measures
from wedgework.pattern.lookup import holes_by_edge, notches_by_edge, piece_of, seams_of
from wedgework.pattern.round_corner import pieces_round

GROWN: Final = 0.01
"""Accepted findings count again when they have grown by more, in mm, degrees or per cent: as much
as is shown of them."""

Read = tuple[Any, ...]


class Runner:
    """The rules of one table, and what they have found so far."""

    def __init__(self, rules: Iterable[SeamRule | PieceRule | ProjectRule]) -> None:
        rows = tuple(rules)
        codes = [rule.code for rule in rows]
        if len(set(codes)) != len(codes):
            raise ValueError("two checks have one code")
        self._order = {code: number for number, code in enumerate(codes)}
        self._seam_rules = tuple(rule for rule in rows if isinstance(rule, SeamRule))
        self._piece_rules = tuple(rule for rule in rows if isinstance(rule, PieceRule))
        self._project_rules = tuple(rule for rule in rows if isinstance(rule, ProjectRule))
        self._seams: WeakKeyDictionary[Seam, tuple[Read, tuple[Finding, ...]]]
        self._pieces: WeakKeyDictionary[Piece, tuple[Read, tuple[Finding, ...]]]
        self._seams, self._pieces = WeakKeyDictionary(), WeakKeyDictionary()

    def check(self, project: Project) -> tuple[Finding, ...]:
        """Everything that is found in a project, the gravest first."""
        fill_measures(project, project.seams.values(), project.pieces.values())
        found = [self._of_seam(project, seam) for seam in project.seams.values()]
        found += [self._of_piece(project, piece) for piece in project.pieces.values()]
        found += [rule.find(rule, project) for rule in self._project_rules]
        plain = with_proposals(project, (one for findings in found for one in findings))
        return self._in_order(project, plain)

    def findings_touching(self, project: Project, ids: Iterable[str]) -> tuple[Finding, ...]:
        """What is found of seams and pieces that hang on some ids, the gravest first.

        Ids are those of pieces, edges, corners, seams and marks; those that are gone are passed
        over. A finding that names none of these is not asked for, but what looks at the project as
        a whole always is. No intake is proposed.
        """
        seams, pieces = _subjects(project, ids)
        fill_measures(project, seams, pieces)
        found = [self._of_seam(project, seam) for seam in seams]
        found += [self._of_piece(project, piece) for piece in pieces]
        found += [rule.find(rule, project) for rule in self._project_rules]
        return self._in_order(project, [one for findings in found for one in findings])

    def is_ready(self, project: Project) -> bool:
        """Whether nothing stops cutting."""
        return not any(finding.stops for finding in self.check(project))

    def measured_of(self, project: Project, code: str, where: tuple[str, ...]) -> float | None:
        """What a finding measures now; None where it has no number or there is none such."""
        alike = (one for one in self.check(project) if (one.code, one.where) == (code, where))
        return next((one.measured for one in alike), None)

    def _of_seam(self, project: Project, seam: Seam) -> tuple[Finding, ...]:
        read = _read_of_seam(project, seam)
        known = self._seams.get(seam)
        if known is not None and _all_the_same(known[0], read):
            return known[1]
        found = tuple(_found_of_seam(self._seam_rules, project, seam))
        self._seams[seam] = (read, found)
        return found

    def _of_piece(self, project: Project, piece: Piece) -> tuple[Finding, ...]:
        read = _read_of_piece(project, piece)
        known = self._pieces.get(piece)
        if known is not None and _all_the_same(known[0], read):
            return known[1]
        found = tuple(one for rule in self._piece_rules for one in rule.find(rule, project, piece))
        self._pieces[piece] = (read, found)
        return found

    def _in_order(self, project: Project, found: Iterable[Finding]) -> tuple[Finding, ...]:
        accepted = {(row.code, row.where): row for row in project.accepted}
        heeded = (_heeded(one, accepted.get((one.code, one.where))) for one in found)
        return tuple(
            sorted(heeded, key=lambda one: (GRAVES.index(one.grave), self._order[one.code]))
        )


def _found_of_seam(rules: Iterable[SeamRule], project: Project, seam: Seam) -> Iterator[Finding]:
    for rule in rules:
        try:
            yield from rule.find(rule, project, seam)
        except EditRefused:
            # A run over an internal line, of something laid on, has no side and no marks to look
            # at: what a rule cannot measure it has nothing to say of.
            continue


def _read_of_seam(project: Project, seam: Seam) -> Read:
    """All that any rule reads of a seam: its pieces, their seams, its marks, its sheets."""
    own = [ref.edge for ref in (*seam.a, *seam.b)]
    # A notch may have its mate in another seam of its edge, so these are read as well.
    alike = {one.id: one for edge in own for one in seams_of(project, edge)} | {seam.id: seam}
    edges = dict.fromkeys(ref.edge for one in alike.values() for ref in (*one.a, *one.b))
    pieces = {(piece := piece_of(project, edge)).id: piece for edge in edges}
    # At an opening its angles are summed with those of pieces further round the corner.
    further = () if seam.laid_on else pieces_round(project, seam)
    by_edge = notches_by_edge(project.notches), holes_by_edge(project.holes)
    marks = [mark for table in by_edge if table for edge in edges for mark in table.get(edge, ())]
    sheets = [project.sheets.get(piece.sheet) for piece in pieces.values() if piece.sheet]
    seams = [one for piece in pieces.values() for one in _seams_on(project, piece)]
    return (*pieces.values(), *further, *marks, *sheets, *seams)


def _read_of_piece(project: Project, piece: Piece) -> Read:
    sheet = project.sheets.get(piece.sheet) if piece.sheet else None
    by_edge = notches_by_edge(project.notches)
    notches = [one for edge in piece.all_edges() for one in by_edge.get(edge.id, ())]
    return (piece, sheet, *_seams_on(project, piece), *notches, *_sources_of(project, piece))


def _sources_of(project: Project, piece: Piece) -> Iterator[Piece | None]:
    """Pieces that a drafted one was made from, None for one that is gone."""
    for ref in piece.recipe.sources if piece.recipe is not None else ():
        owner = project.owners.get(parse_ref(ref).edge)
        yield None if owner is None else project.pieces[owner]


def _seams_on(project: Project, piece: Piece) -> Iterator[Seam]:
    for edge in piece.all_edges():
        yield from seams_of(project, edge.id)


def _all_the_same(old: Read, new: Read) -> bool:
    return len(old) == len(new) and all(map(operator.is_, old, new))


def _subjects(project: Project, ids: Iterable[str]) -> tuple[list[Seam], list[Piece]]:
    seams: dict[str, Seam] = {}
    pieces: dict[str, Piece] = {}
    for own in ids:
        if own in project.seams:
            seams[own] = project.seams[own]
        for edge in _edges_of_mark(project, own):
            seams |= {seam.id: seam for seam in seams_of(project, edge)}
            pieces[project.owners[edge]] = piece_of(project, edge)
        name = own if own in project.pieces else project.owners.get(own)
        if name is not None:
            pieces[name] = project.pieces[name]
    for seam in seams.values():
        named = (piece_of(project, ref.edge) for ref in (*seam.a, *seam.b))
        pieces |= {piece.id: piece for piece in named}
    for piece in pieces.values():
        seams |= {seam.id: seam for seam in _seams_on(project, piece)}
    return list(seams.values()), list(pieces.values())


def _edges_of_mark(project: Project, own: str) -> Iterator[str]:
    mark = project.notches.get(own) or project.holes.get(own)
    if mark is not None:
        yield from (spot.edge for spot in (mark.at, mark.mate) if spot is not None)


def _heeded(finding: Finding, accepted: Accepted | None) -> Finding:
    """The finding, marked as accepted unless it has grown since, or gone over to the other side."""
    if accepted is None:
        return finding
    then = replace(finding, measured=accepted.measured)
    # Ease that was meant for one side is a fault on the other, however small.
    has_turned = finding.excess * then.excess < 0 and finding.badness > GROWN
    if accepted.measured is not None and (has_turned or finding.badness > then.badness + GROWN):
        return finding
    return replace(finding, accepted=True)
