"""Seams that open: the part is divided off, overlaps, and has one row of holes on both sides."""

import math
from dataclasses import replace

import pytest

from tests import small
from tests.drafting.making import block
from tests.edits.checking import check_edit, refused
from tests.edits.measuring import edge_mm
from wedgework.checks import check
from wedgework.edits.closings import CloseSeam, LengthenClosing, RemoveClosing, SetClosing
from wedgework.edits.edges import SplitEdge
from wedgework.edits.rows import SetRow
from wedgework.edits.seam_parts import MergeSeams, SplitSeam
from wedgework.edits.seams import Unjoin
from wedgework.pattern.changes import new_project
from wedgework.pattern.closings import closing_length_mm, closing_row, flaps_of
from wedgework.pattern.cutlines import outset_mm
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.rows import punch_row
from wedgework.pattern.seams import measure_seam


def panels():
    """Two panels 400 high, joined along them."""
    return small.two_panels(400, 400)


def test_a_whole_seam_closes_with_snaps_through_both_laps():
    after = check_edit(CloseSeam(seam="s"), panels())
    closing, seam = after.closings["s.closing"], after.seams["s"]
    assert (closing.kind, closing.overlap_mm, closing.pitch_mm) == ("snaps", 22, 20)
    assert (seam.join, seam.lap_mm) == ("lapped", 22)
    row = punch_row(after, "s.closing.row")
    assert len(row.holes) == 20
    assert all(hole.through and hole.inset_mm == 11 for hole in row.holes)
    assert row.first_mm == pytest.approx(row.last_mm) == pytest.approx(10)


def test_the_overlap_is_cut_on_the_side_that_lies_under():
    after = CloseSeam(seam="s", overlap_mm=25.0).apply(panels())
    over, under = (the_edge(after, own) for own in ("a.e2", "b.e4"))
    assert (outset_mm(after, over), outset_mm(after, under)) == (0, 25)


@pytest.mark.parametrize(
    ("part", "lengths", "closed"),
    [
        ({"from_mm": 150.0}, [150, 250], "s.2"),
        ({"to_mm": 150.0}, [150, 250], "s.1"),
        ({"from_mm": 100.0, "to_mm": 300.0}, [100, 200, 100], "s.2"),
        ({"from_mm": 0.0, "to_mm": 400.0}, [400], "s"),
    ],
)
def test_a_part_of_a_seam_is_divided_off_first(part, lengths, closed):
    after = check_edit(CloseSeam(seam="s", kind="zip", **part), panels())
    found = [measure_seam(after, seam).a.length_mm for seam in after.seams.values()]
    assert found == pytest.approx(lengths)
    assert [one.seam for one in after.closings.values()] == [closed]
    others = [seam.join for own, seam in after.seams.items() if own != closed]
    assert set(others) <= {"lapped"}
    assert after.seams[closed].join == "butted"


def test_eyelets_stand_on_each_side_inside_its_own_edge():
    after = check_edit(CloseSeam(seam="s", kind="lacing", pitch_mm=25.0), panels())
    row = punch_row(after, "s.closing.row")
    assert {(hole.through, hole.inset_mm) for hole in row.holes} == {(False, 10)}
    assert all(hole.mate is not None for hole in row.holes)
    assert row.pitch_mm == pytest.approx(25)


def test_another_kind_takes_the_row_away_and_another_pitch_punches_it_anew():
    snaps = CloseSeam(seam="s").apply(panels())
    zipped = check_edit(SetClosing(closing="s.closing", kind="zip"), snaps)
    assert len(zipped.holes) == 0
    assert zipped.seams["s"].join == "butted"
    wide = check_edit(SetClosing(closing="s.closing", pitch_mm=40.0), snaps)
    assert punch_row(wide, "s.closing.row").pitch_mm == pytest.approx(40)
    flap = check_edit(SetClosing(closing="s.closing", flap_mm=45.0), snaps)
    assert flap.closings["s.closing"].flap_mm == 45
    assert SetClosing(closing="s.closing", pitch_mm=20.0).apply(snaps) is snaps


def test_a_flap_is_drafted_with_its_closing_on_the_under_side_and_goes_with_it():
    project = check_edit(CloseSeam(seam="s", from_mm=100.0, flap_mm=45.0), panels())
    flap, seam = project.pieces["flap"], project.seams["flap.seam"]
    assert (flap.cutting, flap.recipe.kind) == ("single", "flap")
    assert seam.laid_on
    assert [ref.edge for ref in seam.a] == ["b.e4.1"]
    assert measure_seam(project, seam).difference_mm == pytest.approx(0.0, abs=1e-6)
    assert edge_mm(project, "flap.outer") == pytest.approx(300.0)
    wide = check_edit(SetClosing(closing="s.2.closing", flap_mm=60.0), project)
    assert edge_mm(wide, f"{flaps_of(wide, wide.closings['s.2.closing'])[0]}.last") == 60.0
    bare = check_edit(SetClosing(closing="s.2.closing", flap_mm=0.0), project)
    assert set(bare.pieces) == {"a", "b"}
    assert set(check_edit(RemoveClosing(closing="s.2.closing"), project).pieces) == {"a", "b"}


def test_a_flap_of_a_piece_closed_with_its_mirror_image_is_cut_once():
    piece = replace(small.rectangle("p", 100, 300), cutting="pair")
    pair = new_project(piece, seams=[small.seam("centre", "p.e2", "~p.e2")])
    after = check_edit(CloseSeam(seam="centre", kind="lacing", flap_mm=50.0), pair)
    assert after.pieces["flap"].cutting == "single"
    assert not [one for one in check(after) if one.stops]


def test_a_closing_goes_over_several_seams_as_one():
    upper = [small.rectangle("ul", 90, 200, y=200), small.rectangle("ur", 90, 200, x=200, y=200)]
    lower = [small.rectangle("ll", 90, 150), small.rectangle("lr", 90, 150, x=200)]
    project = new_project(
        *upper, *lower,
        seams=[
            small.seam("back", "ul.e2", "-ur.e4"), small.seam("skirt", "ll.e2", "-lr.e4"),
            small.seam("left", "ul.e1", "-ll.e3"), small.seam("right", "ur.e1", "-lr.e3"),
        ],
    )  # fmt: skip
    after = check_edit(CloseSeam(seam="skirt", also=("back",), kind="zip", from_mm=50.0), project)
    (closing,) = after.closings.values()
    assert closing_length_mm(after, closing) == pytest.approx(300.0)
    assert len(after.seams[closing.seam].a) == 2
    ring = small.ring_of_panels(4)
    assert "does not follow" in str(refused(CloseSeam(seam="s1", also=("s2",)), ring))


@pytest.mark.parametrize("said", [{"number": 5}, {"number": 30}, {"pitch_mm": 20.0}])
def test_a_lacing_spread_anew_stays_between_the_ends_of_its_closing(said):
    # One piece laced to its own mirror image along two edges: none of its eyelets has a mate.
    split = SplitEdge(edge="back.centre", at_mm=300.0).apply(block())
    lacing = {"kind": "lacing", "from_mm": 100.0, "to_mm": 500.0, "pitch_mm": 30.0}
    laced = CloseSeam(seam="centre_back", **lacing).apply(split)
    closing = next(iter(laced.closings.values()))
    row = closing_row(closing)
    after = punch_row(check_edit(SetRow(row=row, **said), laced), row)
    assert after.whole_mm == pytest.approx(closing_length_mm(laced, closing))
    assert after.first_mm == pytest.approx(after.last_mm) == pytest.approx(10.0)
    assert {hole.at.edge for hole in after.holes} == {"back.centre.1.2", "back.centre.2.1"}


def test_the_pitch_of_a_closing_is_punched_again_where_its_holes_were_spread_by_hand():
    closed = CloseSeam(seam="s").apply(panels())
    by_hand = SetRow(row="s.closing.row", number=5).apply(closed)
    again = check_edit(SetClosing(closing="s.closing", pitch_mm=20.0), by_hand)
    assert len(punch_row(again, "s.closing.row").holes) == 20
    assert SetClosing(closing="s.closing", pitch_mm=20.0).apply(again) is again


def test_a_closing_is_glued_up_again():
    after = check_edit(RemoveClosing(closing="s.closing"), CloseSeam(seam="s").apply(panels()))
    assert (len(after.closings), len(after.holes)) == (0, 0)
    assert (after.seams["s"].join, after.seams["s"].lap_mm) == ("lapped", 8)


def test_a_zip_is_cut_at_worn_length_on_both_sides():
    project = CloseSeam(seam="s", kind="zip", from_mm=100.0).apply(panels())
    after = check_edit(LengthenClosing(closing="s.2.closing"), project)
    wanted = 300 / 0.96
    assert measure_seam(after, after.seams["s.2"]).a.length_mm == pytest.approx(wanted)
    assert measure_seam(after, after.seams["s.2"]).difference_mm == pytest.approx(0, abs=1e-9)
    assert edge_mm(after, "a.e2.1") == pytest.approx(100)
    assert after.closings["s.2.closing"].lengthened_mm == pytest.approx(wanted - 300)
    assert "worn length already" in str(refused(LengthenClosing(closing="s.2.closing"), after))


def test_a_piece_closed_with_its_own_mirror_image_gets_longer_once():
    piece = replace(small.rectangle("p", 100, 300), cutting="pair")
    pair = new_project(piece, seams=[small.seam("centre", "p.e2", "~p.e2")])
    project = CloseSeam(seam="centre", kind="zip").apply(pair)
    after = check_edit(LengthenClosing(closing="centre.closing"), project)
    assert edge_mm(after, "p.e2") == pytest.approx(300 / 0.96)
    assert edge_mm(after, "p.e4") == pytest.approx(300)


def test_what_nobody_gets_in_through_is_refused():
    refused(CloseSeam(seam="d1"), small.darted_front())
    refused(CloseSeam(seam="none"), panels())
    refused(CloseSeam(seam="s", from_mm=300.0, to_mm=200.0), panels())
    refused(CloseSeam(seam="s", to_mm=401.0), panels())
    refused(CloseSeam(seam="s", overlap_mm=0.0), panels())
    refused(CloseSeam(seam="s", to_mm=15.0), panels())
    closed = CloseSeam(seam="s").apply(panels())
    refused(CloseSeam(seam="s", kind="zip"), closed)
    refused(SetClosing(closing="none", kind="zip"), closed)
    refused(RemoveClosing(closing="none"), closed)
    refused(LengthenClosing(closing="s.closing"), closed)


def test_a_closing_is_not_divided_and_goes_with_its_seam():
    closed = CloseSeam(seam="s").apply(panels())
    assert "closing" in str(refused(SplitSeam(seam="s", at_mm=(50.0,)), closed))
    apart = CloseSeam(seam="s", from_mm=200.0).apply(panels())
    refused(MergeSeams(seams=("s.1", "s.2")), apart)
    assert not Unjoin(seam="s").apply(closed).closings


def test_snaps_match_by_length_along_a_seam_that_bends():
    after = check_edit(CloseSeam(seam="s", overlap_mm=20.0), small.two_panels(300, 300, bulge=0.1))
    row = punch_row(after, "s.closing.row")
    steps = [b - a for a, b in zip(row.stations_mm, row.stations_mm[1:], strict=False)]
    assert steps == pytest.approx([20.0] * len(steps))
    assert math.isclose(row.first_mm, row.last_mm, abs_tol=1e-6)
