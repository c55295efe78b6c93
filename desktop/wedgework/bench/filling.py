"""Edits carry results: what an edit leaves to be looked up is filled in before it is kept.

So a journal replays alike on another day, with other checks.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from wedgework.edits import Edit
from wedgework.edits.body import Accept
from wedgework.edits.drafted import DraftPieces
from wedgework.edits.redraft import DraftAgain
from wedgework.edits.settle import Settled
from wedgework.pattern.document import Project
from wedgework.pattern.errors import EditRefused


def filled(project: Project, edit: Edit) -> Edit:
    """The edit with what it looks up: what a draft made, and what an accepted finding measured.

    So a finding counts again when it grows. EditRefused where nothing of that code is found there,
    or nothing can be drafted.
    """
    if isinstance(edit, DraftPieces | DraftAgain):
        return edit.filled(project)
    if not isinstance(edit, Accept) or edit.measured is not None:
        return edit
    from wedgework.checks import check  # noqa: PLC0415 - one edit in a thousand needs it

    for finding in check(project):
        if (finding.code, finding.where) == (edit.code, edit.where):
            return msgspec.structs.replace(edit, measured=finding.measured)
    where = ", ".join(edit.where)
    raise EditRefused(f"There is no finding “{edit.code}” at {where or 'no place'} to accept.")


def filled_and_applied(project: Project, edits: Iterable[Edit]) -> tuple[tuple[Edit, ...], Settled]:
    """Edits with nothing left to be looked up, and what comes of all of them."""
    done: list[Edit] = []
    after = Settled(project)
    for edit in edits:
        done.append(filled(after.project, edit))
        after = after.then(done[-1].settled(after.project))
    return tuple(done), after


def tried(project: Project, edits: Iterable[Edit]) -> Settled:
    """What comes of edits that are tried only: nothing is looked up for them."""
    after = Settled(project)
    for edit in edits:
        after = after.then(edit.settled(after.project))
    return after
