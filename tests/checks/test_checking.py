"""The table of checks, what is accepted, what is asked again, and what is proposed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests import small
from tests.checks.mending import assert_mends, codes, mended, the
from wedgework.checks import CHECKS, check, findings_touching, is_ready, measured_of
from wedgework.edits.body import Accept
from wedgework.edits.move import MoveCorner, MovePiece
from wedgework.geometry.curve import line
from wedgework.glossary import words_of
from wedgework.pattern.changes import new_project, with_pieces, with_seams
from wedgework.pattern.document import Level, Line, Project
from wedgework.pattern.intake import Station
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.table import Table
from wedgework.pattern.wanted import (
    drawn_intake,
    proposed_intake,
    round_of_tips_mm,
    whole_intake,
)


def test_every_check_has_a_row_in_the_glossary():
    assert {rule.code for rule in CHECKS} <= {entry.word for entry in words_of("finding")}


def test_nothing_is_found_in_an_empty_project():
    assert check(Project()) == ()
    assert is_ready(Project())


def test_a_project_is_ready_when_nothing_stops_cutting():
    assert is_ready(small.two_panels())
    assert not is_ready(small.two_panels(left_mm=104))


def accepted(project: Project, measured: float | None) -> Project:
    edit = Accept(code="seam_length", where=("s",), reason="it stretches", measured=measured)
    return edit.apply(project)


def test_what_is_accepted_is_still_listed_and_no_longer_stops():
    project = accepted(small.two_panels(left_mm=104), 4.0)
    assert the("seam_length", project).accepted
    assert is_ready(project)


def test_what_is_accepted_stops_again_when_it_grows():
    project = accepted(small.two_panels(left_mm=104), 4.0)
    milder = MoveCorner(corner="a.c3", by_mm=(0, -1)).apply(project)
    worse = MoveCorner(corner="a.c3", by_mm=(0, 1)).apply(project)
    assert is_ready(milder)
    assert not is_ready(worse)


def test_what_is_accepted_stops_again_when_the_other_side_is_the_longer_one():
    project = accepted(small.two_panels(left_mm=104), 4.0)
    turned = MoveCorner(corner="a.c3", by_mm=(0, -6)).apply(project)
    assert not the("seam_length", turned).accepted
    assert not is_ready(turned)


def test_what_was_measured_when_it_was_accepted_can_be_asked():
    project = small.two_panels(left_mm=104)
    assert measured_of(project, "seam_length", ("s",)) == pytest.approx(4.0)
    assert measured_of(project, "seam_length", ("t",)) is None


def test_a_second_check_of_the_same_project_finds_the_same_objects():
    project = small.two_panels(left_mm=104)
    first, second = check(project), check(project)
    assert all(one is other for one, other in zip(first, second, strict=True))


def test_only_what_hangs_on_a_changed_piece_is_found_again():
    project = small.ring_of_panels(6)
    before = {one.where: one for one in check(project)}
    after = {one.where: one for one in check(MovePiece(piece="p1", by_mm=(0, 5)).apply(project))}
    again = {where for where in after if after[where] is not before.get(where)}
    assert again == {("s1",), ("s6",)}


def test_findings_that_hang_on_an_id_are_those_of_the_whole_check():
    project = MoveCorner(corner="p1.c3", by_mm=(0, 4)).apply(small.ring_of_panels(6))
    whole = {(one.code, one.where) for one in check(project)}
    touching = {(one.code, one.where) for one in findings_touching(project, ["p1.c3"])}
    assert touching == {pair for pair in whole if pair[1][0] in ("s1", "s6", "p1")}
    assert ("seam_length", ("s1",)) in touching


def test_ids_that_are_gone_touch_nothing():
    assert findings_touching(small.two_panels(), ["nothing"]) == ()


def measured_body(waist_mm: float = 720.0) -> Project:
    """Four panels round, 920 mm less 8 % at both levels; the waist of the body is narrower."""
    project = small.ring_of_panels(4, width_mm=920 * 0.92 / 4, height_mm=300)
    for piece in project.pieces.values():
        (x, y), width = piece.edges[0].curve.start, 920 * 0.92 / 4
        lines = tuple(
            Line(
                id=f"{piece.id}.{name}",
                kind="level",
                curve=line((x, y + height), (x + width, y + height)),
                level=name,
            )
            for name, height in (("waist", 80.0), ("bust", 250.0))
        )
        project = with_pieces(project, replace(piece, lines=lines))
    levels = {
        "waist": Level(id="waist", name="waist", measure="waist_girth_mm"),
        "bust": Level(id="bust", name="bust", measure="bust_girth_mm"),
    }
    body = {"waist_girth_mm": waist_mm, "bust_girth_mm": 920.0}
    return replace(project, levels=Table(levels), body=Table(body))


def test_intake_wanted_and_drawn_are_told_at_each_level():
    project = measured_body()
    waist, bust = drawn_intake(project, the_seam(project, "s1"))
    assert (waist.level, bust.level) == ("waist", "bust")
    assert waist.at_mm == pytest.approx(80.0)
    assert waist.wanted_mm == pytest.approx(200 * 0.92)
    assert (waist.drawn_mm, bust.wanted_mm) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert whole_intake(project, project.levels["waist"]).is_short
    assert not whole_intake(project, project.levels["bust"]).is_short


def test_the_trade_s_own_intake_from_bust_to_waist():
    # Bust 846.4 and waist 662.4 mm cut: 184.0 mm of intake.
    project = measured_body()
    assert drawn_intake(project, the_seam(project, "s1"))[0].wanted_mm == pytest.approx(184.0)


def test_the_proposed_intake_brings_the_girth_to_what_is_wanted():
    project = measured_body()
    stations = proposed_intake(project, the_seam(project, "s1"), share=0.25)
    assert [one.at_mm for one in stations] == pytest.approx([0, 80, 250])
    assert [one.width_mm for one in stations] == pytest.approx([46, 46, 0], abs=1e-3)


def test_a_flat_seam_offers_the_intake_of_the_body():
    project = measured_body(waist_mm=850.0)
    found = next(one for one in check(project) if one.code == "flat_seam")
    assert found.mends[0].edits[0]["edit"] == "shape_seam"
    assert_mends(project, found)
    after = mended(project, found.mends[0])
    assert codes(after).count("flat_seam") == 3
    # Four flat seams share the 64.4 mm that the waist has too much.
    assert max(row["width_mm"] for row in found.mends[0].edits[0]["intake"]) == pytest.approx(
        (920 - 850) * 0.92 / 4, abs=1e-3
    )
    seam = the_seam(after, found.where[0])
    assert measure_seam(after, seam).difference_mm == pytest.approx(0.0, abs=1e-6)


def test_tips_are_rounded_as_far_as_the_stations_leave_room():
    near = (Station(100.0, 0.0), Station(120.0, 20.0), Station(300.0, 20.0))
    assert round_of_tips_mm(near, 300.0) == 40.0
    far = (Station(0.0, 10.0), Station(120.0, 20.0), Station(200.0, 0.0))
    assert round_of_tips_mm(far, 300.0) == 60.0
    assert round_of_tips_mm((Station(0.0, 0.0), Station(300.0, 9.0)), 300.0) == 0.0


def test_a_slice_runs_to_nothing_where_another_seam_needs_the_length():
    project = measured_body()
    lid = small.rectangle("lid", 800, 40, y=500)
    hem = small.seam("hem", "lid.e3", "p1.e1 p2.e1 p3.e1 p4.e1")
    joined = with_seams(with_pieces(project, lid), hem)
    first = proposed_intake(joined, the_seam(joined, "s1"))[0]
    assert (first.at_mm, first.width_mm) == (0.0, 0.0)


def test_a_flat_seam_without_a_body_offers_nothing():
    assert the("flat_seam", small.two_panels()).mends == ()


def test_a_run_over_an_internal_line_is_held_to_the_length_of_the_line():
    a = small.rectangle("a", 100, 100)
    a = replace(a, lines=(Line(id="a.l1", kind="style", curve=line((0, 50), (100, 50))),))
    skirt = small.rectangle("k", 120, 80, x=200)
    hung = replace(small.seam("s", "a.l1", "k.e3"), laid_on=True)
    found = [one for one in check(new_project(a, skirt, seams=[hung])) if one.code == "seam_length"]
    assert found[0].measured == pytest.approx(-20.0)
