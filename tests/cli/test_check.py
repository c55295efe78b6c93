"""`check`, `propose`, and what is accepted: findings, exit codes, mends as data."""

from __future__ import annotations

import subprocess
import sys

import pytest

from tests import small
from tests.cli.program import command, edits_file, program, saved
from wedgework.resources import demo_names, demo_path

FINDING_KEYS = {"code", "grave", "message", "where", "at_mm", "measured", "wanted", "accepted",
    "mends"}  # fmt: skip
ACCEPT = {"edit": "accept", "code": "seam_length", "where": ["s"], "reason": "eased by hand"}
DEMOS = [name for name in demo_names() if name.endswith(".wedge")]


@pytest.fixture
def apart(tmp_path):
    """Two panels whose sides differ by 3 mm."""
    return saved(tmp_path / "apart.wedge", small.two_panels(100, 97))


def told(capsys, path):
    return command(capsys, "check", path, "--json").json


def edited(capsys, path, *edits):
    do = edits_file(path.with_name("edits.json"), *edits)
    return command(capsys, "edit", path, "--do", do, "--save", path)


def test_the_real_program_ends_with_1_where_something_stops_cutting(apart):
    answer = program("check", apart, "--json")
    assert (answer.code, answer.err) == (1, "")
    assert answer.json["ready"] is False


def test_it_ends_with_0_where_nothing_does(capsys, tmp_path):
    path = saved(tmp_path / "a.wedge", small.two_panels())
    assert command(capsys, "check", path).code == 0
    assert told(capsys, path)["ready"] is True


def test_a_finding_has_every_key(capsys, apart):
    finding = told(capsys, apart)["findings"][0]
    assert finding.keys() >= FINDING_KEYS
    assert finding["code"] == "seam_length"
    assert finding["grave"] == "stops_cutting"
    assert finding["where"] == ["s"]
    assert finding["measured"] == pytest.approx(3)


def test_the_gravest_comes_first(capsys, apart):
    graves = [finding["grave"] for finding in told(capsys, apart)["findings"]]
    order = ["stops_cutting", "look_again", "good_to_know"]
    assert graves == sorted(graves, key=order.index)


def test_a_mend_is_a_list_of_edits_that_edit_takes(capsys, apart):
    (mend, *_) = told(capsys, apart)["findings"][0]["mends"]
    assert edited(capsys, apart, *mend["edits"]).code == 0
    assert told(capsys, apart)["ready"] is True


def test_what_is_accepted_is_listed_and_no_longer_stops_cutting(capsys, apart):
    assert edited(capsys, apart, ACCEPT).code == 0
    answer = told(capsys, apart)
    assert answer["ready"] is True
    assert answer["findings"][0]["accepted"] is True
    assert command(capsys, "check", apart).code == 0


def test_what_is_accepted_stops_cutting_again_when_it_grows(capsys, apart):
    longer = {"edit": "move_corner", "corner": "a.c3", "by_mm": [0.0, 4.0]}
    edited(capsys, apart, ACCEPT, longer)
    assert told(capsys, apart)["ready"] is False


def test_what_is_accepted_is_measured_at_its_turn_in_the_list(capsys, apart):
    longer = {"edit": "move_corner", "corner": "a.c3", "by_mm": [0.0, 4.0]}
    edited(capsys, apart, longer, ACCEPT)
    assert told(capsys, apart)["ready"] is True


def test_what_is_not_found_cannot_be_accepted(capsys, apart):
    answer = edited(capsys, apart, ACCEPT | {"code": "dart_legs"})
    assert answer.is_told_as_it_should_be
    assert "dart_legs" in answer.err


def test_a_person_reads_what_stops_and_what_would_mend_it(capsys, apart):
    lines = command(capsys, "check", apart).out.splitlines()
    assert lines[0] == "Not ready to cut: 1 thing stops cutting."
    assert lines[2] == "Stops cutting"
    assert any(line.startswith("    mend: ") for line in lines)


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_can_be_checked_and_measured(capsys, name):
    assert command(capsys, "check", demo_path(name), "--json").code in {0, 1}
    assert command(capsys, "info", demo_path(name), "--json").json["pieces"]


def test_the_body_proposes_intake_that_edit_takes(capsys, tmp_path):
    path = tmp_path / "suit.wedge"
    path.write_bytes(demo_path("kingfisher_flat.wedge").read_bytes())
    answer = command(capsys, "propose", path, "front.cut", "--json")
    assert [row["level"] for row in answer.json["levels"]][:2] == ["bust", "under-bust"]
    assert edited(capsys, path, *answer.json["edits"]).code == 0
    seams = command(capsys, "info", path, "--json").json["seams"]
    (chest,) = [seam for seam in seams if seam["id"] == "front.cut"]
    assert chest["dome_deg"] > 5


def test_a_seam_that_crosses_no_level_has_nothing_proposed(capsys, apart):
    answer = command(capsys, "propose", apart, "s")
    assert answer.is_told_as_it_should_be
    assert "level" in answer.err


@pytest.mark.parametrize("part", ["--reduction=2", "--share=much", "--share=-1"])
def test_a_part_that_is_none_is_refused(capsys, apart, part):
    assert command(capsys, "propose", apart, "s", part).is_told_as_it_should_be


def test_a_person_reads_the_proposal_in_columns(capsys):
    out = command(capsys, "propose", demo_path("kingfisher_flat.wedge"), "front.cut").out
    assert "Proposed intake" in out
    assert "intake mm" in out


def test_a_check_takes_no_edit_along():
    look = "import sys, wedgework.commands.check; print('wedgework.edits' in sys.modules)"
    told = subprocess.run([sys.executable, "-c", look], capture_output=True, check=True)
    assert told.stdout.strip() == b"False"


def test_a_check_imports_neither_drafts_nor_masked_arrays():
    """Each of them takes longer to import than a small file takes to check."""
    look = (
        "import sys; from wedgework.cli import main; main(sys.argv[1:]); "
        "print([name for name in ('wedgework.drafting', 'numpy.ma') if name in sys.modules])"
    )
    demo = demo_path("kingfisher_flat.wedge")
    command = [sys.executable, "-c", look, "check", str(demo)]
    answer = subprocess.run(command, check=False, capture_output=True, text=True)
    assert answer.stdout.splitlines()[-1] == "[]"
