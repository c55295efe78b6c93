"""Findings of the kept project, kept up as it is edited: only what an edit touched is looked at."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from wedgework.bench.bench import Bench
from wedgework.bench.changes import Change
from wedgework.bench.mends import with_mends_that_do
from wedgework.bench.steps import STEPS, StepName
from wedgework.checks import CHECKS, GRAVES, Finding, findings_touching
from wedgework.checks.proposing import with_proposals
from wedgework.pattern.document import Project
from wedgework.pattern.lookup import seams_of

_STEP_OF: Final[dict[str, StepName]] = {rule.code: rule.step for rule in CHECKS}
_ORDER: Final = {rule.code: number for number, rule in enumerate(CHECKS)}


@dataclass(frozen=True, slots=True)
class Left:
    """Findings that are left in a step, accepted ones not counted; whether one stops cutting."""

    count: int = 0
    stops: bool = False


class Watch:
    """Follows a bench. Nothing is looked at until somebody asks for `findings`."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._seen = Project()
        self._touched: set[str] = set()
        self._found: dict[str, tuple[Finding, ...]] = {}
        self._findings: tuple[Finding, ...] | None = None
        self._all = True
        bench.subscribe(self._follow)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All that is found in the kept project, the gravest first."""
        if self._findings is None:
            self._catch_up()
            found = [one for rows in self._found.values() for one in rows]
            project = self._bench.project
            with_all = with_mends_that_do(project, with_proposals(project, found))
            order = sorted(with_all, key=lambda one: (GRAVES.index(one.grave), _ORDER[one.code]))
            self._findings = tuple(order)
        return self._findings

    @property
    def is_ready(self) -> bool:
        """Whether nothing stops cutting."""
        return not any(finding.stops for finding in self.findings)

    @property
    def left(self) -> dict[StepName, Left]:
        """What is left in each step of the job."""
        rows: defaultdict[StepName, list[Finding]] = defaultdict(list)
        for finding in self.findings:
            if not finding.accepted:
                rows[_STEP_OF[finding.code]].append(finding)
        return {step: Left(len(rows[step]), any(one.stops for one in rows[step])) for step in STEPS}

    def _follow(self, change: Change) -> None:
        if change.kind not in {"opened", "edited"}:
            return
        self._findings = None
        # Sheets, levels and the body are read by many pieces at once: then everything is asked.
        self._all = self._all or change.kind == "opened" or bool(change.others)
        self._touched |= change.pieces | change.seams

    def _catch_up(self) -> None:
        before, now = self._seen, self._bench.project
        if self._all or before.accepted is not now.accepted:
            self._found = _by_subject(findings_touching(now, (*now.pieces, *now.seams)))
        elif self._touched:
            # A corner that moved is read by all seams of its piece, and by what they join.
            touched = self._touched.union(*(_hanging(one, self._touched) for one in (before, now)))
            touched |= _around(before, touched)
            covered = touched | _around(now, touched)
            # What is found of anything else was found of the project as a whole and asked again.
            uncovered = (now.pieces.keys() | now.seams.keys()) - covered
            kept = {own: rows for own, rows in self._found.items() if own in uncovered}
            self._found = kept | _by_subject(findings_touching(now, touched))
        self._seen, self._all, self._touched = now, False, set()


def _by_subject(findings: Iterable[Finding]) -> dict[str, tuple[Finding, ...]]:
    rows: defaultdict[str, list[Finding]] = defaultdict(list)
    for finding in findings:
        rows[finding.where[0]].append(finding)
    return {own: tuple(found) for own, found in rows.items()}


def _around(project: Project, ids: Iterable[str]) -> set[str]:
    """Seams and pieces of these ids, the pieces of those seams, and all seams on those pieces."""
    there = {own for own in ids if own in project.seams or own in project.pieces}
    pieces = {own for own in there if own in project.pieces}
    for own in there - pieces:
        seam = project.seams[own]
        pieces |= {project.owners[ref.edge] for ref in (*seam.a, *seam.b)}
    return there | pieces | _hanging(project, pieces)


def _hanging(project: Project, ids: Iterable[str]) -> set[str]:
    """All seams on those of the ids that are pieces."""
    pieces = (project.pieces[own] for own in ids if own in project.pieces)
    edges = (edge.id for piece in pieces for edge in piece.all_edges())
    return {seam.id for edge in edges for seam in seams_of(project, edge)}
