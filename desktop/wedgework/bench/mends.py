"""Mends of findings that can be done: what is refused, or changes nothing, is not offered.

A check measures a fault and names the edit against it. Whether a line can be drawn on across a
seam is known only once it is drawn, so those mends are tried before a maker sees them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from wedgework.checks import Finding, Mend
from wedgework.pattern.document import Project
from wedgework.pattern.errors import EditRefused

_TRIED: Final = frozenset({"true_across", "true_corner"})
"""Edits refused for what no check measures. To try every mend would take a quarter of a second."""


def with_mends_that_do(project: Project, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings of a project, each with those of its mends only that do something."""
    return tuple(_with_mends_that_do(project, one) for one in findings)


def _with_mends_that_do(project: Project, finding: Finding) -> Finding:
    kept = tuple(mend for mend in finding.mends if _does(project, mend))
    return finding if len(kept) == len(finding.mends) else replace(finding, mends=kept)


def _does(project: Project, mend: Mend) -> bool:
    if all(edit["edit"] not in _TRIED for edit in mend.edits):
        return True
    # Most checks have no such mend, and start without all edits.
    from wedgework.bench.filling import tried  # noqa: PLC0415
    from wedgework.edits import decode_plain  # noqa: PLC0415

    try:
        after = tried(project, map(decode_plain, mend.edits)).project
    except EditRefused:
        return False
    return after is not project
