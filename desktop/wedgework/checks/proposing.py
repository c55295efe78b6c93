"""What a flat seam could take out, proposed from the body's girths at the levels it crosses."""

from __future__ import annotations

from dataclasses import replace

from wedgework.checks.finding import EditData, Finding, Mend
from wedgework.pattern.document import Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.intake import Station
from wedgework.pattern.wanted import SHORT_MM, proposed_intake


def with_proposal(project: Project, finding: Finding) -> Finding:
    """A finding of a flat seam with the intake that the body asks for, where it asks for any.

    This reads all pieces of the garment, so it is asked for at the last and never remembered.
    """
    if finding.code != "flat_seam":
        return finding
    try:
        stations = proposed_intake(project, project.seams[finding.where[0]])
    except EditRefused:
        return finding
    widest = max((station.width_mm for station in stations), key=abs)
    if abs(widest) < SHORT_MM:
        return finding
    edit: EditData = {
        "edit": "shape_seam",
        "seam": finding.where[0],
        "intake": [_plain(station) for station in stations],
    }
    mend = Mend(f"Shape it by the body: {widest:.1f} mm at the widest", (edit,))
    return replace(finding, mends=(mend, *finding.mends))


def _plain(station: Station) -> EditData:
    return {"at_mm": station.at_mm, "width_mm": station.width_mm}
