"""Project in, findings out: the one table of checks, and how they are run.

To add a check, write its `find` in the file of its subject and its row here: steps, badges and
`check --json` read the table.
"""

from __future__ import annotations

from typing import Final

from wedgework.checks.body import measure_unlikely, measures_disagree
from wedgework.checks.drafts import drafts_out_of_date
from wedgework.checks.finding import (
    GRAVES,
    EditData,
    Finding,
    Grave,
    Mend,
    PieceRule,
    ProjectRule,
    Rule,
    SeamRule,
)
from wedgework.checks.joining import flat_seam, run_jumps, seam_corner, seam_twisted
from wedgework.checks.laps import lap_too_curved
from wedgework.checks.lengths import dart_legs, seam_length
from wedgework.checks.levels import level_misses
from wedgework.checks.marks import holes_apart, notches_meet, seam_notches
from wedgework.checks.openings import (
    closing_metals,
    cuts_in,
    gapes,
    opening_too_small,
    way_in_too_small,
    zip_too_short,
)
from wedgework.checks.outlines import darts_meet, outline_crosses, outline_spike
from wedgework.checks.pins import pin_missed
from wedgework.checks.running import Runner
from wedgework.checks.sheets import piece_too_large, sheet_stains

__all__ = ["CHECKS", "GRAVES", "EditData", "Finding", "Grave", "Mend", "Rule", "check",
    "findings_touching", "is_ready", "measured_of"]  # fmt: skip

CHECKS: Final[tuple[SeamRule | PieceRule | ProjectRule, ...]] = (
    SeamRule(code="seam_length", grave="stops_cutting", step="Join", find=seam_length),
    SeamRule(code="seam_twisted", grave="stops_cutting", step="Join", find=seam_twisted),
    SeamRule(code="dart_legs", grave="stops_cutting", step="Shape", find=dart_legs),
    SeamRule(code="holes_apart", grave="stops_cutting", step="Mark", find=holes_apart),
    PieceRule(code="outline_crosses", grave="stops_cutting", step="Shape", find=outline_crosses),
    PieceRule(code="darts_meet", grave="stops_cutting", step="Shape", find=darts_meet),
    PieceRule(code="piece_too_large", grave="stops_cutting", step="Lay", find=piece_too_large),
    ProjectRule(
        code="opening_too_small", grave="stops_cutting", step="Measure", find=opening_too_small
    ),
    ProjectRule(
        code="way_in_too_small", grave="stops_cutting", step="Measure", find=way_in_too_small
    ),
    SeamRule(code="run_jumps", grave="look_again", step="Join", find=run_jumps),
    SeamRule(code="seam_corner", grave="look_again", step="Join", find=seam_corner),
    SeamRule(code="seam_notches", grave="look_again", step="Mark", find=seam_notches),
    PieceRule(code="notches_meet", grave="look_again", step="Mark", find=notches_meet),
    SeamRule(code="lap_too_curved", grave="look_again", step="Join", find=lap_too_curved),
    PieceRule(code="draft_out_of_date", grave="look_again", step="Draft", find=drafts_out_of_date),
    PieceRule(code="outline_spike", grave="look_again", step="Shape", find=outline_spike),
    SeamRule(code="sheet_stains", grave="look_again", step="Lay", find=sheet_stains),
    ProjectRule(code="level_misses", grave="look_again", step="Measure", find=level_misses),
    ProjectRule(code="gapes", grave="look_again", step="Measure", find=gapes),
    ProjectRule(code="cuts_in", grave="look_again", step="Measure", find=cuts_in),
    ProjectRule(code="zip_too_short", grave="look_again", step="Join", find=zip_too_short),
    ProjectRule(code="pin_missed", grave="look_again", step="Measure", find=pin_missed),
    ProjectRule(code="measure_unlikely", grave="look_again", step="Measure", find=measure_unlikely),
    ProjectRule(
        code="measures_disagree", grave="look_again", step="Measure", find=measures_disagree
    ),
    ProjectRule(code="closing_metals", grave="good_to_know", step="Join", find=closing_metals),
    SeamRule(code="flat_seam", grave="good_to_know", step="Shape", find=flat_seam),
)

_RUNNER: Final = Runner(CHECKS)

check = _RUNNER.check
findings_touching = _RUNNER.findings_touching
is_ready = _RUNNER.is_ready
measured_of = _RUNNER.measured_of
