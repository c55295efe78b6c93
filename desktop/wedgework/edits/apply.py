"""Apply a list of edits, all or nothing, and say what each made and removed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from wedgework.edits.base import Edit
from wedgework.edits.settle import Released
from wedgework.pattern.document import Project


@dataclass(frozen=True, eq=False, slots=True)
class Applied:
    """The project after some edits; for each one the ids that it made and removed, in order.

    Ids of all that has one in the project. `let_go` are the holds that each edit could not keep,
    `told` what else is to be said of each, in sentences.
    """

    project: Project
    made: list[list[str]] = field(default_factory=list)
    removed: list[list[str]] = field(default_factory=list)
    let_go: list[tuple[Released, ...]] = field(default_factory=list)
    told: list[tuple[str, ...]] = field(default_factory=list)


def apply_all(project: Project, edits: Iterable[Edit]) -> Applied:
    """What comes of all edits; EditRefused if any is refused. What was given is never changed."""
    applied = Applied(project)
    for edit in edits:
        applied = with_one_more(applied, edit)
    return applied


def with_one_more(applied: Applied, edit: Edit) -> Applied:
    """What comes of one edit more; EditRefused if it is refused."""
    before, settled = applied.project, edit.settled(applied.project)
    return Applied(
        settled.project,
        [*applied.made, list(_only_in(settled.project, before))],
        [*applied.removed, list(_only_in(before, settled.project))],
        [*applied.let_go, settled.released],
        [*applied.told, settled.told],
    )


def _only_in(one: Project, other: Project) -> Iterator[str]:
    if one is not other:
        known = set(other.all_ids())
        yield from (own for own in one.all_ids() if own not in known)
