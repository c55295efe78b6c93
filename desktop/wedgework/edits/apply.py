"""Apply a list of edits, all or nothing, and say what each made and removed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wedgework.edits.base import Edit
from wedgework.pattern.document import Project


def apply_all(
    project: Project, edits: Iterable[Edit]
) -> tuple[Project, list[list[str]], list[list[str]]]:
    """The project after all edits, and the ids that each one made and removed, in order.

    Ids of pieces, edges, corners, lines, cut-outs, labels, seams, marks, levels and sheets.
    Raises EditRefused if any edit is refused; the project given is never changed.
    """
    made: list[list[str]] = []
    removed: list[list[str]] = []
    for edit in edits:
        after = edit.apply(project)
        made.append(list(_only_in(after, project)))
        removed.append(list(_only_in(project, after)))
        project = after
    return project, made, removed


def _only_in(one: Project, other: Project) -> Iterator[str]:
    if one is not other:
        known = set(other.all_ids())
        yield from (own for own in one.all_ids() if own not in known)
