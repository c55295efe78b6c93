"""How the garment fits, as plain data: levels, openings, closings and the way in.

This is what `fit --json` answers, what `info --json` says of levels and closings, and what the
window shows.
"""

from __future__ import annotations

from typing import Any, TypeAlias

from wedgework.checks import Finding, Mend, check
from wedgework.checks.levels import intake_at
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.body import measure_words, measured
from wedgework.pattern.closings import (
    closing_length_mm,
    closing_row,
    short_of_worn_mm,
    teeth_mm,
    times_made,
)
from wedgework.pattern.document import Closing, Level, Opening, Project, Seam
from wedgework.pattern.drawn import edge_intakes, shared_out
from wedgework.pattern.getting_in import Passage, WayIn, way_in
from wedgework.pattern.levels import body_girth_mm, flat_girth_mm, level_fit
from wedgework.pattern.openings import edge_fit, measure_opening
from wedgework.pattern.rows import rows_by_id
from wedgework.pattern.unmarked import OpenRing, unmarked_rings
from wedgework.pattern.wanted import LevelIntake, whole_intake

Plain: TypeAlias = dict[str, Any]

ABOUT_FIT = frozenset(
    {"opening_too_small", "way_in_too_small", "gapes", "cuts_in", "zip_too_short"}
)
"""Findings about getting in and edges: what they propose is offered beside the figures. Levels have
their own button."""

CAUTIONS = (
    "These are stretches, never a promise. Never be alone in what you cannot leave unaided.",
    "Stop at pain, numbness, colour change or faintness, and nothing tight round the neck.",
)


def fit_report(project: Project) -> Plain:
    """Levels, openings, closings and the way in. EditRefused where a seam names a lost edge."""
    way = way_in(project)
    return {
        "levels": [
            level_report(project, one) | _intakes(project, one) for one in project.levels.values()
        ],
        "openings": [opening_report(project, one) for one in project.openings.values()],
        "could_mark": marks_offered(project),
        "closings": [closing_report(project, one) for one in project.closings.values()],
        "way_in": None if way is None else way_report(way),
        "cautions": list(CAUTIONS),
    }


def marks_offered(project: Project) -> list[Plain]:
    """Openings that nobody has marked: what would be said, and the edit that marks each."""
    return [
        {
            "label": _mark_words(project, ring),
            "edits": [
                {
                    "edit": "mark_opening",
                    "name": ring.name,
                    "edges": list(ring.edges),
                    "measure": ring.measure,
                    "rise_mm": ring.rise_mm,
                }
            ],
        }
        for ring in unmarked_rings(project)
    ]


def _mark_words(project: Project, ring: OpenRing) -> str:
    words = f"Mark “{ring.name}” as the opening that the {measure_words(ring.measure)} passes"
    return (
        words if measured(project.body, ring.measure) is not None else f"{words}, not measured yet"
    )


def mends_offered(project: Project) -> list[Plain]:
    """What the checks of levels, openings and the way in propose: of which, and the edits."""
    found = [one for one in check(project) if one.code in ABOUT_FIT and not one.accepted]
    return [
        {
            "code": one.code,
            "label": _mend_words(project, one, mend),
            "edits": list(mend.edits),
            "message": one.message,
        }
        for one in found
        for mend in one.mends
    ]


def _mend_words(project: Project, finding: Finding, mend: Mend) -> str:
    """What a mend does, and of which opening, where it does not say it itself."""
    opening = project.openings.get(finding.where[0])
    if opening is None or finding.code not in {"gapes", "cuts_in"}:
        return mend.label
    return f"“{opening.name or opening.id}”: {mend.label[0].lower()}{mend.label[1:]}"


def level_report(project: Project, level: Level) -> Plain:
    """One level: what all instances of all pieces measure there, what the body does, and how."""
    fit = level_fit(project, level)
    return {
        "id": level.id,
        "name": level.name,
        "flat_girth_mm": float(flat_girth_mm(project, level.id)),
        "body_girth_mm": body_girth_mm(project, level),
        "cut_girth_mm": None if fit is None else float(fit.cut_mm),
        "difference_mm": None if fit is None else float(fit.difference_mm),
        "stretch": None if fit is None else float(fit.stretch),
    }


def _intakes(project: Project, level: Level) -> Plain:
    """The intake of a level: of all, of each seam that may take some, and of all that is left."""
    whole = whole_intake(project, level)
    if whole is None:
        return {"fullest": None, "seams": [], "others": [], "open_intake_mm": None}
    takers = intake_at(project, level)
    edges = edge_intakes(project, level, project.levels[whole.fullest])
    drawn, open_mm = shared_out(project, edges)
    shaped = "under" if whole.short_mm > 0 else "over"
    return {
        "fullest": whole.fullest,
        "wanted_intake_mm": float(whole.wanted_mm),
        "drawn_intake_mm": float(whole.drawn_mm),
        "short_intake_mm": float(whole.short_mm),
        "shaped": shaped if whole.is_short else "well",
        "seams": [_taker(project, seam, row) for seam, row in takers],
        "others": _others(drawn, {seam.id for seam, _ in takers}),
        "open_intake_mm": float(open_mm),
    }


def _taker(project: Project, seam: Seam, row: LevelIntake) -> Plain:
    """A seam that crosses a level, all taking alike: figures for one making of it."""
    return {
        "seam": seam.id,
        "times": times_made(project, seam),
        "at_mm": float(row.at_mm),
        "wanted_mm": float(row.wanted_mm),
        "drawn_mm": float(row.drawn_mm),
        "short_mm": float(row.short_mm),
    }


def _others(drawn: dict[str, float], takers: set[str]) -> list[Plain]:
    """Darts, closings and seams that end between the levels: what all makings of each take."""
    return [
        {"seam": own, "drawn_mm": float(taken)}
        for own, taken in drawn.items()
        if own not in takers and abs(taken) > SAME_STATION_MM
    ]


def opening_report(project: Project, opening: Opening) -> Plain:
    """One opening: how far it stretches for what passes, and how its edge lies on a limb."""
    measure, edge = measure_opening(project, opening), edge_fit(project, opening)
    lies = None if edge is None else "gapes" if edge.over_mm > 0 else "cuts_in"
    return {
        "id": opening.id,
        "name": opening.name,
        "measure": opening.measure,
        "opens_mm": float(measure.length_mm),
        "body_mm": measure.body_mm,
        "needed_stretch": measure.stretch,
        "allowed_stretch": float(opening.allowed_stretch),
        "rise_mm": float(opening.rise_mm),
        "edge_mm": None if edge is None else float(edge.edge_mm),
        "path_mm": None if edge is None else float(edge.path_mm),
        "wanted_edge_mm": None if edge is None else float(edge.wanted_mm),
        "lies": "well" if edge is not None and edge.lies_well else lies,
    }


def closing_report(project: Project, closing: Closing) -> Plain:
    """One closing: what it opens, and what its fastening takes."""
    holes = rows_by_id(project.holes).get(closing_row(closing), ())
    return {
        "id": closing.id,
        "seam": closing.seam,
        "kind": closing.kind,
        "length_mm": float(closing_length_mm(project, closing)),
        "overlap_mm": float(closing.overlap_mm),
        "flap_mm": float(closing.flap_mm),
        "pitch_mm": float(closing.pitch_mm) if holes else None,
        "holes": len(holes),
        "teeth_mm": float(teeth_mm(project, closing)) if closing.kind == "zip" else None,
        "short_of_worn_mm": float(short_of_worn_mm(project, closing)),
    }


def way_report(way: WayIn) -> Plain:
    """The way in: through what, and every section on it."""
    return {
        "through": way.entrance,
        "first": way.first,
        "passes": not way.fails,
        "sections": [passage_report(one) for one in way.passages],
    }


def passage_report(one: Passage) -> Plain:
    """One section, and the largest girth that passes it; no stretch where it lies open."""
    return {
        "id": one.id,
        "name": one.name,
        "kind": one.kind,
        "section_mm": float(one.section_mm),
        "girth": one.girth,
        "girth_mm": float(one.girth_mm),
        "open": one.is_open,
        "needed_stretch": None if one.is_open else float(one.needed),
        "allowed_stretch": float(one.allowed),
        "passes": one.passes,
    }
