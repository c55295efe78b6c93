"""Every mend that the check offers in a demo project does what it says."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.mending import assert_mends
from wedgework.checks import check
from wedgework.files.wedge import read_wedge

DEMOS = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.wedge"))


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_each_mend_of_a_demo_makes_its_finding_go_and_stops_nothing(path):
    project = read_wedge(path.read_bytes())
    for finding in check(project):
        assert_mends(project, finding)


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_a_demo_is_ready_to_cut(path):
    project = read_wedge(path.read_bytes())
    assert [one.message for one in check(project) if one.stops] == []
