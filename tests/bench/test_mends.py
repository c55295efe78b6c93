"""A mend that is offered can be done."""

from __future__ import annotations

import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests import small
from tests.checks.mending import mended
from tests.edits.any_edit import edits_for
from tests.edits.any_project import STARTS
from wedgework.bench import Bench
from wedgework.bench.mends import with_mends_that_do
from wedgework.bench.watch import Watch
from wedgework.checks import check
from wedgework.cli import main
from wedgework.edits.edges import SplitEdge
from wedgework.files.wedge import write_wedge
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Project
from wedgework.pattern.errors import EditRefused

SMOOTH = "Draw the edge across it as one smooth line"
STRAIGHT = "Draw the edge straight on across the seam"


def peaked(short_mm: float) -> Project:
    """Two panels with a peak over their seam, which ends in an edge of `short_mm`."""
    a = small.piece_of_points("a", (0, 0), (100, 0), (100, 100), (0, 70))
    b = small.rectangle("b", 100, 100, x=200)
    project = new_project(a, b, seams=[small.seam("s", "a.e2", "-b.e4")])
    return SplitEdge(edge="a.e2", at_mm=100 - short_mm).apply(project)


def corner_mends(findings) -> set[str]:
    """Labels of the mends of the one corner that is found."""
    (found,) = [one for one in findings if one.code == "seam_corner"]
    return {mend.label for mend in found.mends}


def test_a_line_that_would_take_an_edge_away_is_not_offered():
    project = peaked(0.5)
    assert SMOOTH in corner_mends(check(project))
    smooth = next(
        mend
        for one in check(project)
        if one.code == "seam_corner"
        for mend in one.mends
        if mend.label == SMOOTH
    )
    with pytest.raises(EditRefused, match="would take all of"):
        mended(project, smooth)
    assert corner_mends(Watch(Bench(project)).findings) == {STRAIGHT}


def test_a_line_that_leaves_every_edge_some_length_is_offered():
    assert corner_mends(Watch(Bench(peaked(40.0))).findings) == {STRAIGHT, SMOOTH}


def test_the_command_offers_what_the_window_does(tmp_path, capsys):
    path = tmp_path / "peaked.wedge"
    path.write_bytes(write_wedge(peaked(0.5)))
    main(["check", "--json", str(path)])
    rows = json.loads(capsys.readouterr().out)["findings"]
    (found,) = [row for row in rows if row["code"] == "seam_corner"]
    assert [mend["label"] for mend in found["mends"]] == [STRAIGHT]


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_whatever_was_done_before_a_mend_that_is_offered_is_not_refused(data):
    project = data.draw(st.sampled_from(STARTS))()
    for _ in range(5):
        try:
            project = data.draw(edits_for(project), label="edit").apply(project)
        except EditRefused:
            continue
    for finding in with_mends_that_do(project, check(project)):
        for mend in finding.mends:
            mended(project, mend)
