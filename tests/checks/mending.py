"""What every finding's mends must do, and short ways to ask for findings."""

from __future__ import annotations

from wedgework.checks import Finding, Mend, check
from wedgework.edits import apply_all, decode_plain
from wedgework.pattern.document import Project


def codes(project: Project) -> list[str]:
    """Codes of all findings, in the order of the check."""
    return [finding.code for finding in check(project)]


def the(code: str, project: Project) -> Finding:
    """The one finding of a code."""
    (found,) = [finding for finding in check(project) if finding.code == code]
    return found


def mended(project: Project, mend: Mend) -> Project:
    """The project after a mend, decoded as the bench does."""
    return apply_all(project, [decode_plain(edit) for edit in mend.edits]).project


def assert_mends(project: Project, finding: Finding) -> None:
    """Each mend makes its finding go, or milder, and brings nothing new that stops cutting."""
    stops = {(one.code, one.where) for one in check(project) if one.stops}
    for mend in finding.mends:
        after = check(mended(project, mend))
        left = [one for one in after if (one.code, one.where) == (finding.code, finding.where)]
        assert all(one.badness < finding.badness for one in left), mend.label
        new = {(one.code, one.where) for one in after if one.stops} - stops
        assert not new, f"{mend.label} brings {new}"
