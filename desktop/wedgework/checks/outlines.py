"""Whether a piece can be cut as it is drawn."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from wedgework.checks.finding import Finding, Mend, Rule, called
from wedgework.geometry.crossing import crosses_itself, self_crossings
from wedgework.geometry.regions import region
from wedgework.geometry.tolerances import VISIBLE_CROSSING_MM
from wedgework.pattern.angles import angle_between_edges
from wedgework.pattern.darts import measure_dart, shares_apex
from wedgework.pattern.document import Piece, Project, Ring, Seam
from wedgework.pattern.lookup import seams_of

SPIKE_DEG: Final = 10.0
"""A sharper corner tears, and no blade cuts it clean; common practice, no source."""

BACK_MM: Final = 20.0
"""How far an apex is set back at first, 15 to 25 mm; common practice, no source."""


def outline_crosses(rule: Rule, project: Project, piece: Piece) -> tuple[Finding, ...]:
    """An outline or a cut-out that crosses itself, or the two each other."""
    rings = [piece.edges, *(cutout.edges for cutout in piece.cutouts)]
    found = [_crossing_of(rule, piece, ring) for ring in rings]
    told = [finding for finding in found if finding is not None]
    if not told and piece.cutouts and not _holes_lie_inside(piece):
        told = [_hole_finding(rule, piece)]
    del project  # every rule takes it; this one reads the piece alone
    return tuple(told)


def _crossing_of(rule: Rule, piece: Piece, ring: Ring) -> Finding | None:
    curves = [edge.curve for edge in ring]
    if not crosses_itself(curves):
        return None
    crossing = self_crossings(curves)[0]
    edges = dict.fromkeys((ring[crossing.edge_a], ring[crossing.edge_b]))
    names = " and ".join(f"“{edge.name or edge.id}”" for edge in edges)
    what = "crosses itself in" if len(edges) == 1 else "crosses itself where these meet:"
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=f"The outline of piece {called(piece)} {what} {names}.",
        where=(piece.id, *(edge.id for edge in edges)),
        at_mm=crossing.point,
    )


def _holes_lie_inside(piece: Piece) -> bool:
    holes = [[edge.curve for edge in cutout.edges] for cutout in piece.cutouts]
    outline = [edge.curve for edge in piece.edges]
    return bool(region(outline, VISIBLE_CROSSING_MM, holes).is_valid)


def _hole_finding(rule: Rule, piece: Piece) -> Finding:
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=f"A cut-out of piece {called(piece)} runs into its outline or into another one.",
        where=(piece.id, *(cutout.id for cutout in piece.cutouts)),
        at_mm=piece.cutouts[0].edges[0].curve.start,
    )


def outline_spike(rule: Rule, project: Project, piece: Piece) -> tuple[Finding, ...]:
    """Corners of a piece under SPIKE_DEG."""
    del project  # every rule takes it; this one reads the piece alone
    findings = []
    for ring in (piece.edges, *(cutout.edges for cutout in piece.cutouts)):
        for before, after in zip((ring[-1], *ring[:-1]), ring, strict=True):
            angle = math.degrees(angle_between_edges(before, after))
            if angle < SPIKE_DEG:
                finding = Finding(
                    code=rule.code,
                    grave=rule.grave,
                    message=(
                        f"Piece {called(piece)} has a spike of {angle:.1f} degrees between "
                        f"“{before.name or before.id}” and “{after.name or after.id}”."
                    ),
                    where=(piece.id, after.corner),
                    at_mm=after.curve.start,
                    measured=angle,
                    wanted=SPIKE_DEG,
                )
                findings.append(finding)
    return tuple(findings)


def darts_meet(rule: Rule, project: Project, piece: Piece) -> tuple[Finding, ...]:
    """Darts of a piece that share an apex."""
    edges = piece.all_edges()
    darts = [seam for edge in edges for seam in seams_of(project, edge.id) if seam.is_dart]
    groups: list[list[Seam]] = []
    for dart in dict.fromkeys(darts):
        for group in groups:
            if shares_apex(project, group[0], dart):
                group.append(dart)
                break
        else:
            groups.append([dart])
    return tuple(_meeting(rule, project, piece, group) for group in groups if len(group) > 1)


def _meeting(rule: Rule, project: Project, piece: Piece, darts: list[Seam]) -> Finding:
    names = [dart.id for dart in darts]
    measured = [measure_dart(project, dart) for dart in darts]
    deepest = min(
        float(np.hypot(*((one.mouth_a + one.mouth_b) / 2 - one.apex_mm))) for one in measured
    )
    by_mm = min(BACK_MM, deepest / 4)
    back = {"edit": "set_back_apexes", "darts": names, "by_mm": by_mm}
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"The darts {', '.join(map(called, darts))} of piece {called(piece)} share an apex: "
            "what lies between them hangs on a point."
        ),
        where=tuple(names),
        at_mm=measured[0].apex_mm,
        mends=(Mend(f"Set each apex back by {by_mm:g} mm", (back,)),),
    )
