"""Parts along every open line: as long as it is on the made-up garment, counted copy by copy."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from tests.drafting.making import block, draft, placed
from tests.published.test_drafts import chord_length
from wedgework.bench.opening import read_project
from wedgework.checks import check
from wedgework.edits.closings import CloseSeam
from wedgework.edits.redraft import DraftAgain
from wedgework.pattern.laying import line_through
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.runs import walked
from wedgework.pattern.seams import measure_seam

DEMOS = Path(__file__).parents[2] / "demo_projects"
KINDS = {
    "facing": {"width_mm": 12}, "binding": {"depth_mm": 8, "lap_mm": 6}, "cuff": {"width_mm": 40},
    "band": {"width_mm": 8},
}  # fmt: skip
GARMENTS = {
    "plain": block,
    "v": lambda: block(neckline="v", neck_lower_mm=60),
    "sleeves and legs": lambda: block(sleeves="long", legs="ankle"),
    "open in front": lambda: block(closing="front"),
    "shaped": lambda: read_project(DEMOS / "kingfisher_shaped.wedge"),
}


def open_runs(project):
    """Each open line of the pieces, once."""
    seen = set()
    for piece in project.pieces.values():
        for edge in piece.edges:
            if edge.id not in seen and edge.id != piece.fold_edge:
                run = line_through(project, edge.id)
                seen |= {ref.edge for ref in run}
                if run:
                    yield run


def copies(project, own):
    """How often an edge is there on the made-up garment."""
    return 1 if project.pieces[project.owners[own]].cutting == "single" else 2


@pytest.mark.parametrize("garment", GARMENTS)
@pytest.mark.parametrize("kind", KINDS)
def test_all_copies_of_a_strip_are_as_long_as_all_copies_of_its_line(kind, garment):
    project = GARMENTS[garment]()
    known = {(one.code, one.where) for one in check(project)}
    for run in open_runs(project):
        edges = {ref.edge for ref in run}
        if kind == "band" and any("e2" in own for own in edges):
            continue  # the legs of the shaped suit bend more tightly than any band lies
        whole = sum(copies(project, own) * chord_length(the_edge(project, own).curve)
                    for own in edges)  # fmt: skip
        after = placed(kind, project, along=[str(ref) for ref in run], **KINDS[kind])
        seam = after.seams[f"{kind}.seam"]
        strip = walked(after, seam.b)
        times = 1 if after.pieces[kind].cutting == "single" else 2
        assert times * strip.length_mm == pytest.approx(whole, abs=1e-5), run
        assert abs(measure_seam(after, seam).difference_mm) < 1e-6
        found = [one for one in check(after) if (one.code, one.where) not in known]
        assert not [one for one in found if one.grave == "stops_cutting"]
        assert "seam_notches" not in {one.code for one in found}


def test_a_strip_round_a_closed_line_is_joined_to_itself():
    after = placed("facing", block(), along=["front.leg", "back.leg"], width_mm=15)
    assert after.pieces["facing"].cutting == "pair"
    ring = after.seams["facing.ring"]
    assert [str(ref) for ref in (*ring.a, *ring.b)] == ["facing.first", "-facing.last"]
    assert "seam_corner" not in {one.code for one in check(after)}


def test_a_strip_on_the_fold_round_a_closed_line_is_joined_to_its_mirror_image():
    after = placed("facing", block(), along=["front.neck", "back.neck"], width_mm=15)
    ring = after.seams["facing.ring"]
    (one,), (other,) = ring.a, ring.b
    assert after.pieces["facing"].cutting == "fold"
    assert one.edge == other.edge != after.pieces["facing"].fold_edge
    assert other.mirrored


def test_at_a_closing_a_strip_stays_open():
    laced = CloseSeam(seam="centre_back", kind="lacing", pitch_mm=30.0).apply(block())
    after = placed("facing", laced, along=["front.neck", "back.neck"], width_mm=15)
    assert "facing.ring" not in after.seams


def test_a_whole_neckline_named_with_its_mirror_image_is_cut_once():
    half = ["front.neck", "back.neck"]
    whole = ["-~back.neck", "-~front.neck", "front.neck", "back.neck"]
    one = placed("facing", block(), along=half, width_mm=15)
    both = placed("facing", block(), along=whole, width_mm=15)
    assert both.pieces["facing"].cutting == "single"
    lengths = [measure_seam(made, made.seams["facing.seam"]).b.length_mm for made in (one, both)]
    assert lengths[1] == pytest.approx(2 * lengths[0], abs=1e-6)
    assert not [one for one in check(both) if one.grave == "stops_cutting"]


def test_a_facing_of_a_facing_hangs_on_the_first_and_is_drafted_again_with_it():
    first = placed("facing", block(), along=["front.neck", "back.neck"], width_mm=30)
    second = placed("facing", first, along=["facing.outer"], width_mm=10)
    assert [str(ref) for ref in second.seams["facing-2.seam"].a] == ["facing.outer"]
    narrower = DraftAgain(piece="facing", numbers={"width_mm": 25}).apply(second)
    again = DraftAgain(piece="facing-2").apply(narrower)
    assert abs(measure_seam(again, again.seams["facing-2.seam"]).difference_mm) < 1e-6
    assert [str(ref) for ref in again.seams["facing-2.seam"].a] == ["facing.outer"]


def test_a_binding_has_the_line_on_which_the_edge_lies_in_its_middle():
    made = draft("binding", block(), along=["front.neck", "back.neck"], depth_mm=12)
    middle = made.pieces[0].lines[0].curve
    # Half of 2 x 12 + 0.4 + pi / 2 x 0.4 (plane geometry).
    assert [middle.start[1], middle.end[1]] == pytest.approx([12.5141593] * 2, abs=1e-6)


def test_a_binding_that_bends_too_much_to_lie_says_so():
    # Strain is depth by radius: 8 on a neckline that turns 140 degrees in 177.6 mm is 11 % on the
    # mean, more where it bends most (plane geometry).
    neck = draft("binding", block(), along=["front.neck", "back.neck"], depth_mm=8)
    mean = 100 * 8 * math.radians(140) / 177.6
    assert neck.numbers["strain_percent"] > mean
    assert "pucker" in neck.steps[-1]
    hem = draft("binding", block(sleeves="long"), along=["sleeve.hem"], depth_mm=8)
    assert hem.numbers["strain_percent"] < 1.0
    assert not any("pucker" in line for line in hem.steps)


def test_the_loop_strip_of_a_bow_is_marked_where_it_is_pinched():
    bow = placed("bow", width_mm=190, depth_mm=95, knot_mm=34)
    marks = [one.at for one in bow.notches.values()]
    assert {(spot.edge, spot.at_mm) for spot in marks} == {("loops.long", 195), ("loops.far", 195)}
