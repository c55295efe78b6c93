"""What a flat seam could take out, proposed from the body's girths at the levels it crosses."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import Final

import numpy as np

from wedgework.checks.finding import EditData, Finding, Mend
from wedgework.pattern.closings import times_made
from wedgework.pattern.document import Project
from wedgework.pattern.intake import AT_END_MM, Station, width_along
from wedgework.pattern.levels import FITS_MM
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.wanted import (
    SHORT_MM,
    KnownLevels,
    Share,
    drawn_intake,
    proposed_intake,
    round_of_tips_mm,
    seams_at_level,
)

TIPS_MM: Final = FITS_MM / 2
"""So much may rounded tips together take out of a level that should lose nothing."""


def with_proposals(project: Project, found: Iterable[Finding]) -> list[Finding]:
    """Findings, those of flat seams and of levels with the intake that the body asks for.

    Flat seams that cross levels share alike in it; a level is shared by the flat seams that cross
    it, by all that do where none is flat. This reads all pieces of the garment, so it is asked for
    at the last and never remembered.
    """
    findings = list(found)
    flat = [one.where[0] for one in findings if one.code == "flat_seam"]
    if not project.body:
        return findings
    known = KnownLevels(project)
    takers = [name for name in flat if drawn_intake(project, project.seams[name], known=known)]
    told = [
        _with_proposal(known, one, 1.0 / len(takers))
        if one.code == "flat_seam" and one.where[0] in takers
        else one
        for one in findings
    ]
    return [_with_shared(known, one, takers) if one.code == "level_misses" else one for one in told]


def _with_shared(known: KnownLevels, finding: Finding, flat: Collection[str]) -> Finding:
    """A finding of a level, with the intake of every seam that may take it in one step."""
    project = known.project
    crossing = [seam.id for seam in seams_at_level(project, project.levels[finding.where[0]])]
    takers = [name for name in crossing if name in flat] or crossing
    edits = shared_intake(project, dict.fromkeys(takers, 1.0), known=known)
    if not edits:
        return finding
    seams = "the seam" if len(edits) == 1 else f"the {len(edits)} seams"
    mend = Mend(f"Shape {seams} across it by the body, all alike", tuple(edits))
    return replace(finding, mends=(mend, *finding.mends))


def shared_intake(
    project: Project, parts: Mapping[str, float], *, known: KnownLevels | None = None
) -> list[EditData]:
    """Edits that shape several seams by the body, in the proportion of `parts`.

    At each level what is too much is shared among those of them that cross it.
    """
    takers = {name: part for name, part in parts.items() if part > 0.0}
    known = known or KnownLevels(project)
    crossed = {
        name: {row.level for row in drawn_intake(project, project.seams[name], known=known)}
        for name in takers
    }
    rows = [
        _shaped(known, name, {
            level: part / sum(takers[own] for own, levels in crossed.items() if level in levels)
            for level in crossed[name]
        })
        for name, part in takers.items()
        if crossed[name]
    ]  # fmt: skip
    made = sum(times_made(project, project.seams[name]) for name in takers)
    return [_with_small_tips(project, row, made) for row in rows if row is not None]


def _with_small_tips(project: Project, edit: EditData, made: int) -> EditData:
    """The edit with its tips rounded so little that the level at a tip still fits.

    A tip of slope m rounded over r is m r / 8 wide where it was nothing; `made` seams do so.
    """
    stations = tuple(Station(row["at_mm"], row["width_mm"]) for row in edit["intake"])
    whole_mm = measure_seam(project, project.seams[edit["seam"]]).a.length_mm
    width = width_along(stations, whole_mm)
    tips = [at for at in (stations[0].at_mm, stations[-1].at_mm) if AT_END_MM < at < whole_mm]
    beside = [at + way for at in tips for way in (-AT_END_MM, AT_END_MM)]
    slopes = np.abs(width.at(beside)[1])
    steepest = float(slopes.max(initial=0.0))
    if steepest <= 0.0:
        return edit
    return edit | {"round_mm": min(edit["round_mm"], 8.0 * TIPS_MM / made / steepest)}


def _shaped(known: KnownLevels, name: str, share: Share) -> EditData | None:
    """The edit that gives a seam its share of the intake; None where that is nothing."""
    project, seam = known.project, known.project.seams[name]
    stations = proposed_intake(project, seam, share=share, known=known)
    if not any(station.width_mm for station in stations):
        return None
    whole_mm = measure_seam(project, seam).a.length_mm
    return {
        "edit": "shape_seam",
        "seam": name,
        "intake": [_plain(station) for station in stations],
        "round_mm": round_of_tips_mm(stations, whole_mm),
    }


def _with_proposal(known: KnownLevels, finding: Finding, share: float) -> Finding:
    project, seam = known.project, known.project.seams[finding.where[0]]
    stations = proposed_intake(project, seam, share=share, known=known)
    widest = max((station.width_mm for station in stations), key=abs)
    edit = _shaped(known, seam.id, share)
    if abs(widest) < SHORT_MM or edit is None:
        return finding
    mend = Mend(f"Shape it by the body: {widest:.1f} mm at the widest", (edit,))
    return replace(finding, mends=(mend, *finding.mends))


def _plain(station: Station) -> EditData:
    return {"at_mm": station.at_mm, "width_mm": station.width_mm}
