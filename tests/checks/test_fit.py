"""What the checks say of levels, edges round limbs, zips and the way in."""

from dataclasses import replace

import pytest

from tests import small
from tests.checks.mending import assert_mends, codes, mended, the
from tests.drafting.making import block
from tests.published.test_fit import suit
from wedgework.bench import read_project
from wedgework.checks import check
from wedgework.edits.body import AddLevel, LevelPoint, SetBody
from wedgework.edits.closings import CloseSeam
from wedgework.edits.drawn import RemoveLevel
from wedgework.edits.openings import MarkOpening, SetOpening
from wedgework.pattern import wanted
from wedgework.pattern.closings import closing_length_mm
from wedgework.pattern.drawn import edge_intakes
from wedgework.pattern.levels import level_fit
from wedgework.pattern.openings import edge_fit, rise_that_fits_mm
from wedgework.pattern.table import Table
from wedgework.resources import demo_path


def tube(waist_mm: float, *, width_mm: float = 180.0):
    """Four rectangles in a ring, 300 high, with a bust level and a waist level."""
    project = small.ring_of_panels(4, width_mm=width_mm, height_mm=300.0)
    pieces = ("p1", "p2", "p3", "p4")
    for name, y_mm in (("bust", 250.0), ("waist", 100.0)):
        points = tuple(LevelPoint(piece=own, y_mm=y_mm) for own in pieces)
        level = AddLevel(name=name, points=points, measure=f"{name}_girth_mm")
        project = level.apply(project)
    body = {"bust_girth_mm": 720.0 / 0.92, "waist_girth_mm": waist_mm}
    return SetBody(measures=body).apply(project)


def test_a_level_that_misses_by_over_5_mm_is_looked_at_again():
    project = tube(600.0 / 0.92)
    found = the("level_misses", project)
    assert found.where == ("waist",)
    assert (found.measured, found.wanted) == (pytest.approx(720), pytest.approx(600))
    assert found.grave == "look_again"
    assert "120.0 mm too wide" in found.message
    assert "under-shaped" in found.message


def test_its_mend_shapes_all_seams_across_it_alike_until_it_fits():
    project = tube(600.0 / 0.92)
    found = the("level_misses", project)
    assert_mends(project, found)
    after = mended(project, found.mends[0])
    assert "level_misses" not in codes(after)
    assert level_fit(after, after.levels["waist"]).difference_mm == pytest.approx(0, abs=0.5)
    assert len(found.mends[0].edits) == 4


@pytest.mark.parametrize("waist_mm", [720.0 / 0.92, 716.0 / 0.92])
def test_levels_that_fit_keep_still(waist_mm):
    assert "level_misses" not in codes(tube(waist_mm))


def test_the_reduction_of_the_project_is_what_counts():
    project = tube(720.0 / 0.92)
    loose = replace(project, reductions=Table({"girth": 0.02}))
    assert [one.where for one in check(loose) if one.code == "level_misses"] == [
        ("bust",),
        ("waist",),
    ]


def leg(edge_mm: float, rise_mm: float = 0.0):
    """A ring with an opening round a thigh of 570."""
    marked = MarkOpening(
        name="leg",
        edges=("p1.e1", "p2.e1", "p3.e1", "p4.e1"),
        measure="thigh_girth_mm",
        rise_mm=rise_mm,
    ).apply(small.ring_of_panels(4, width_mm=edge_mm / 4))
    return SetBody(measures={"thigh_girth_mm": 570.0}).apply(marked)


@pytest.mark.parametrize(
    ("edge_mm", "rise_mm", "code"),
    [(560.0, 0.0, "gapes"), (480.0, 0.0, "cuts_in"), (513.0, 220.0, "cuts_in")],
)
def test_an_edge_round_a_limb_gapes_or_cuts_in(edge_mm, rise_mm, code):
    found = the(code, leg(edge_mm, rise_mm))
    assert found.measured == pytest.approx(edge_mm)
    assert found.where[0] == "leg"
    assert_mends(leg(edge_mm, rise_mm), found)
    assert code not in codes(mended(leg(edge_mm, rise_mm), found.mends[0]))


@pytest.mark.parametrize("rise_mm", [80.0, 150.0, 220.0])
def test_the_line_on_which_an_edge_lies_well_as_it_is_is_offered(rise_mm):
    """The ellipse of a limb of 570 that rises so, less 10 %, as tests/published/test_fit works."""
    edge_mm = {80.0: 537.1, 150.0: 591.8, 220.0: 667.8}[rise_mm]
    project = leg(edge_mm)
    opening = project.openings["leg"]
    assert rise_that_fits_mm(project, opening) == pytest.approx(rise_mm, abs=0.5)
    said = mended(project, the("gapes", project).mends[-1])
    assert "gapes" not in codes(said)
    assert said.openings["leg"].rise_mm == pytest.approx(rise_mm, abs=0.5)


def test_no_line_is_offered_to_an_edge_that_is_too_short_for_any():
    project = leg(480.0)
    assert rise_that_fits_mm(project, project.openings["leg"]) is None


def test_an_edge_within_the_usual_reductions_keeps_still():
    for edge_mm in (513.0, 502.5, 523.5):
        assert not {"gapes", "cuts_in"} & set(codes(leg(edge_mm)))
    neck = SetOpening(opening="leg", measure="head_girth_mm").apply(leg(900.0))
    assert not {"gapes", "cuts_in"} & set(codes(neck))


def test_a_section_on_the_way_in_stops_cutting_once_there_is_a_closing():
    assert "way_in_too_small" not in codes(suit())
    found = the("way_in_too_small", suit(350.0))
    assert found.where == ("waist",)
    assert found.measured == pytest.approx(47.95, abs=0.01)
    assert found.stops
    assert_mends(suit(350.0), found)
    assert "way_in_too_small" not in codes(mended(suit(350.0), found.mends[0]))


def test_what_an_opening_tells_is_not_told_twice():
    found = codes(suit(150.0))
    assert found.count("opening_too_small") == 1
    assert [one.where for one in check(suit(150.0)) if one.code == "way_in_too_small"] == [
        ("waist",)
    ]


def test_a_zip_is_told_by_how_much_it_should_be_longer():
    project = CloseSeam(seam="s", kind="zip").apply(small.two_panels(400, 400))
    found = the("zip_too_short", project)
    assert (found.measured, found.wanted) == (pytest.approx(400), pytest.approx(400 / 0.96))
    assert_mends(project, found)
    assert "zip_too_short" not in codes(mended(project, found.mends[0]))
    assert "zip_too_short" not in codes(CloseSeam(seam="s").apply(small.two_panels(400, 400)))


def test_closings_of_metal_remind_once_of_metals_that_stain():
    project = small.ring_of_panels(4, height_mm=400.0)
    assert "closing_metals" not in codes(project)
    open_one = CloseSeam(seam="s1", kind="left_open").apply(project)
    assert "closing_metals" not in codes(open_one)
    two = CloseSeam(seam="s2").apply(CloseSeam(seam="s3", kind="lacing").apply(open_one))
    assert the("closing_metals", two).where == ("s3.closing", "s2.closing")


def test_an_opening_that_is_too_small_offers_a_closing_that_is_long_enough():
    project = suit()
    found = the("opening_too_small", project)
    assert_mends(project, found)
    after = mended(project, found.mends[0])
    assert "opening_too_small" not in codes(after)
    # For the shoulders (1030 / 1.4 - 350) / 2 = 192.9 mm would do; the hips want the waist open,
    # 560.6 mm down the seam, and 20 mm more.
    (closing,) = after.closings.values()
    assert closing_length_mm(after, closing) == pytest.approx(581.0, abs=0.5)


def test_a_slit_is_as_long_as_has_to_be_where_nothing_else_is_tight():
    project = RemoveLevel(level="waist").apply(suit())
    after = mended(project, the("opening_too_small", project).mends[0])
    (closing,) = after.closings.values()
    assert closing_length_mm(after, closing) == pytest.approx(198.0, abs=0.01)


def test_a_seam_that_is_too_short_for_the_slit_is_not_offered():
    ring = small.ring_of_panels(4, width_mm=60.0, height_mm=100.0)
    marked = MarkOpening(
        name="top", edges=("p1.e3", "p2.e3", "p3.e3", "p4.e3"), measure="hip_girth_mm"
    ).apply(SetBody(measures={"hip_girth_mm": 980.0}).apply(ring))
    assert the("opening_too_small", marked).mends == ()


@pytest.mark.parametrize("rise_mm", [150.0, 220.0])
def test_a_leg_line_that_cuts_in_is_drafted_anew_where_it_is_to_lie(rise_mm):
    project = MarkOpening(
        name="leg", edges=("front.leg", "back.leg"), measure="thigh_girth_mm", rise_mm=rise_mm
    ).apply(block())
    (mend, *_) = the("cuts_in", project).mends
    assert mend.label == f"Draft the leg line so that it rises by {rise_mm:.0f} mm"
    after = mended(project, mend)
    assert not {"cuts_in", "gapes", "level_misses"} & set(codes(after))
    assert edge_fit(after, after.openings["leg"]).over_mm == pytest.approx(0.0, abs=1e-6)
    assert set(after.openings) == {"leg"}


def test_what_all_edges_take_is_measured_once_a_level_and_not_for_each_seam(monkeypatch):
    asked = []

    def counted(project, level, fullest):
        asked.append(level.id)
        return edge_intakes(project, level, fullest)

    monkeypatch.setattr(wanted, "edge_intakes", counted)
    project = read_project(demo_path("kingfisher_flat.wedge"))
    assert {"level_misses", "flat_seam"} <= {one.code for one in check(project)}
    # Once where levels are told, and once more where seams are offered a share in them.
    assert max(asked.count(own) for own in project.levels) <= 2
