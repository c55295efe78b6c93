"""What a flat seam could take out, proposed from the body's girths at the levels it crosses."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from wedgework.checks.finding import EditData, Finding, Mend
from wedgework.pattern.document import Project
from wedgework.pattern.intake import Station
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.wanted import (
    SHORT_MM,
    drawn_intake,
    proposed_intake,
    round_of_tips_mm,
)


def with_proposals(project: Project, found: Iterable[Finding]) -> list[Finding]:
    """Findings, those of flat seams with the intake that the body asks for, where it asks for any.

    Flat seams that cross levels share alike in it. This reads all pieces of the garment, so it is
    asked for at the last and never remembered.
    """
    findings = list(found)
    flat = [one.where[0] for one in findings if one.code == "flat_seam"]
    if not flat or not project.body:
        return findings
    takers = [name for name in flat if drawn_intake(project, project.seams[name])]
    return [
        _with_proposal(project, one, 1.0 / len(takers))
        if one.code == "flat_seam" and one.where[0] in takers
        else one
        for one in findings
    ]


def _with_proposal(project: Project, finding: Finding, share: float) -> Finding:
    seam = project.seams[finding.where[0]]
    stations = proposed_intake(project, seam, share=share)
    whole_mm = measure_seam(project, seam).a.length_mm
    widest = max((station.width_mm for station in stations), key=abs)
    if abs(widest) < SHORT_MM:
        return finding
    edit: EditData = {
        "edit": "shape_seam",
        "seam": finding.where[0],
        "intake": [_plain(station) for station in stations],
        "round_mm": round_of_tips_mm(stations, whole_mm),
    }
    mend = Mend(f"Shape it by the body: {widest:.1f} mm at the widest", (edit,))
    return replace(finding, mends=(mend, *finding.mends))


def _plain(station: Station) -> EditData:
    return {"at_mm": station.at_mm, "width_mm": station.width_mm}
