"""`fit`: levels, openings, closings and the way in, as numbers and as tables."""

import pytest

from tests import small
from tests.checks.test_fit import leg, tube
from tests.cli.program import command, saved
from tests.published.test_fit import suit


def fit(tmp_path, capsys, project):
    """The JSON that the command answers."""
    answer = command(capsys, "fit", saved(tmp_path / "a.wedge", project), "--json")
    assert (answer.code, answer.err) == (0, "")
    return answer.json


def test_levels_with_what_each_seam_across_them_should_take(tmp_path, capsys):
    told = fit(tmp_path, capsys, tube(600.0 / 0.92))
    waist = told["levels"][1]
    assert waist["cut_girth_mm"] == pytest.approx(600)
    assert waist["difference_mm"] == pytest.approx(120)
    assert waist["stretch"] == pytest.approx(600 / 0.92 / 720 - 1)
    assert [row["seam"] for row in waist["seams"]] == ["s1", "s2", "s3", "s4"]
    assert sum(row["wanted_mm"] for row in waist["seams"]) == pytest.approx(120)
    info = command(capsys, "info", tmp_path / "a.wedge", "--json").json["levels"][1]
    assert info["difference_mm"] == pytest.approx(120)


def test_the_way_in_row_by_row(tmp_path, capsys):
    told = fit(tmp_path, capsys, suit(350.0))
    way = told["way_in"]
    assert (way["through"], way["first"], way["passes"]) == ("neck", "feet", False)
    neck, waist = way["sections"]
    assert (neck["girth"], neck["section_mm"]) == ("shoulder_girth_mm", pytest.approx(1050))
    assert (waist["girth"], waist["passes"]) == ("hip_girth_mm", False)
    (zipped,) = told["closings"]
    assert zipped["teeth_mm"] == pytest.approx(350 / 0.96 - 4)
    assert zipped["short_of_worn_mm"] == pytest.approx(350 * 0.04 / 0.96)


def test_edges_round_limbs(tmp_path, capsys):
    (row,) = fit(tmp_path, capsys, leg(560.0))["openings"]
    assert (row["lies"], row["wanted_edge_mm"]) == ("gapes", pytest.approx(513))
    assert fit(tmp_path, capsys, leg(513.0))["openings"][0]["lies"] == "well"


def test_the_same_in_tables_with_cautions_that_never_promise(tmp_path, capsys):
    answer = command(capsys, "fit", saved(tmp_path / "a.wedge", suit(350.0)))
    assert "Getting in through neck, feet first: it does not pass" in answer.out
    assert "Stop at pain" in answer.out
    assert "safe" not in answer.out
    bare = command(capsys, "fit", saved(tmp_path / "a.wedge", small.square()))
    assert "No way in is said" in bare.out
