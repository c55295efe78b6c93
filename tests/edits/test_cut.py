from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refs_of, refused
from tests.edits.measuring import area_mm2, curve, edge_ids, edge_mm, perimeter_mm, total_area_mm2
from wedgework.edits import Place
from wedgework.edits.cut import CutPiece
from wedgework.geometry.curve import Curve, line
from wedgework.geometry.nearest import nearest
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Cutout, Spot
from wedgework.pattern.seams import measure_seam


def cut(piece, start, start_mm, end, end_mm, *via):
    return CutPiece(piece=piece, from_=Place(start, start_mm), to=Place(end, end_mm), via_mm=via)


def test_a_cut_makes_two_pieces_and_a_flat_seam_between_them():
    after = check_edit(cut("p", "p.e1", 40.0, "p.e3", 60.0), small.square())
    assert list(after.pieces) == ["p.1", "p.2"]
    assert area_mm2(after.pieces["p.1"]) == pytest.approx(4000, abs=1e-9)
    assert area_mm2(after.pieces["p.2"]) == pytest.approx(6000, abs=1e-9)
    (seam,) = after.seams.values()
    measured = measure_seam(after, seam)
    assert measured.difference_mm == 0.0
    assert measured.shaping_rad == pytest.approx(0.0, abs=1e-12)


def test_edges_that_were_not_cut_keep_their_ids_and_cut_ones_have_children():
    after = check_edit(cut("p", "p.e1", 40.0, "p.e3", 60.0), small.square())
    assert edge_ids(after.pieces["p.1"]) == ["p.cut.a", "p.e3.2", "p.e4", "p.e1.1"]
    assert edge_ids(after.pieces["p.2"]) == ["p.cut.b", "p.e1.2", "p.e2", "p.e3.1"]


def test_a_cut_from_corner_to_corner_cuts_no_edge():
    after = check_edit(cut("p", "p.e1", 0.0, "p.e2", 100.0), small.square())
    assert edge_ids(after.pieces["p.1"]) == ["p.cut.a", "p.e3", "p.e4"]
    assert edge_ids(after.pieces["p.2"]) == ["p.cut.b", "p.e1", "p.e2"]


def test_a_run_walks_on_over_both_parts_of_an_edge():
    after = check_edit(cut("b", "b.e2", 50.0, "b.e4", 40.0), small.two_panels())
    assert refs_of(after, "s") == (["a.e2"], ["-b.e4.2", "-b.e4.1"])
    assert edge_mm(after, "b.e4.1") == pytest.approx(40.0)


def test_marks_go_with_the_part_that_they_lie_on():
    after = check_edit(cut("a", "a.e2", 50.0, "a.e4", 50.0), small.with_everything())
    assert after.notches["n1"].at == Spot("a.e2.1", pytest.approx(40.0))
    assert after.holes["o1"].at == Spot("a.e2.2", pytest.approx(20.0))


def test_what_is_drawn_goes_to_its_side_and_a_line_across_is_cut():
    after = check_edit(cut("a", "a.e1", 50.0, "a.e3", 50.0), small.with_everything())
    left, right = after.pieces["a.1"], after.pieces["a.2"]
    assert [line.id for line in left.lines] == ["a.l1.2", "a.l2.2"] or len(left.lines) == 2
    assert {line.level for line in (*left.lines, *right.lines)} >= {"waist"}
    assert [label.id for label in right.labels] == ["a.t1"]
    assert [cutout.id for cutout in left.cutouts] == ["a.k1"]
    assert "a.l3" in [line.id for line in right.lines]
    widths = [np.ptp(line.curve.segments[..., 0]) for line in left.lines]
    assert widths == pytest.approx([50.0, 50.0])


def test_a_cut_through_a_cut_out_is_refused():
    error = refused(cut("a", "a.e1", 25.0, "a.e3", 75.0), small.with_everything())
    assert error.culprit is not None


def test_a_cut_that_leaves_the_piece_is_refused():
    horseshoe = small.piece_of_points(
        "u", (0, 0), (100, 0), (100, 100), (70, 100), (70, 30), (30, 30), (30, 100), (0, 100)
    )
    refused(cut("u", "u.e2", 80.0, "u.e8", 20.0), new_project(horseshoe))


def test_a_cut_along_an_edge_is_refused():
    refused(cut("p", "p.e1", 0.0, "p.e1", 100.0), small.square())
    refused(cut("p", "p.e1", 10.0, "p.e1", 60.0), small.square())


def test_a_cut_from_a_place_to_itself_is_refused():
    refused(cut("p", "p.e1", 10.0, "p.e1", 10.0), small.square())


def test_a_place_beyond_the_end_of_its_edge_is_refused():
    assert refused(cut("p", "p.e1", 101.0, "p.e3", 10.0), small.square()).culprit == "p.e1"


def test_the_part_with_the_fold_stays_on_the_fold_and_the_other_becomes_a_pair():
    after = check_edit(cut("p", "p.e1", 50.0, "p.e3", 50.0), small.fold_front())
    assert (after.pieces["p.1"].cutting, after.pieces["p.1"].fold_edge) == ("fold", "p.e4")
    assert (after.pieces["p.2"].cutting, after.pieces["p.2"].fold_edge) == ("pair", None)


def test_a_cut_across_the_fold_leaves_two_pieces_on_the_fold():
    after = check_edit(cut("p", "p.e4", 80.0, "p.e2", 90.0), small.fold_front())
    assert [piece.fold_edge for piece in after.pieces.values()] == ["p.e4.1", "p.e4.2"]


def test_a_round_piece_is_cut_across():
    after = check_edit(cut("p", "p.e1", 50.0, "p.e1", 200.0), small.disc())
    assert total_area_mm2(after) == pytest.approx(total_area_mm2(small.disc()), abs=1e-6)


def test_a_pair_stays_a_pair_and_keeps_its_sheet_and_number():
    project = small.square()
    pair = replace(project.pieces["p"], cutting="pair", quantity=3)
    after = check_edit(cut("p", "p.e1", 40.0, "p.e3", 60.0), new_project(pair))
    assert [(p.cutting, p.quantity) for p in after.pieces.values()] == [("pair", 3)] * 2


def test_a_cut_out_beside_the_cut_stays_a_cut_out():
    hole = small.piece_of_points("h", (20, 20), (20, 30), (30, 30), (30, 20)).edges
    piece = replace(small.square().pieces["p"], cutouts=(Cutout(id="k", edges=hole),))
    after = check_edit(cut("p", "p.e1", 50.0, "p.e3", 50.0), new_project(piece))
    assert after.pieces["p.1"].cutouts[0] is piece.cutouts[0]


def test_a_line_that_lies_on_the_cut_goes_to_one_side():
    piece = small.square().pieces["p"]
    style = small.Line(id="p.l1", kind="style", curve=line((50, 0), (50, 100)))
    project = new_project(replace(piece, lines=(style,)))
    after = check_edit(cut("p", "p.e1", 50.0, "p.e3", 50.0), project)
    assert sum(len(part.lines) for part in after.pieces.values()) == 1


def test_a_smooth_cut_passes_through_its_points_and_joins_flat():
    via = (30.0, 40.0), (60.0, 70.0)
    after = check_edit(cut("p", "p.e1", 40.0, "p.e3", 60.0, *via), small.square())
    (seam,) = after.seams.values()
    way = curve(after, seam.a[0].edge)
    assert [nearest(way, point).distance_mm for point in via] == pytest.approx([0, 0], abs=1e-9)
    measured = measure_seam(after, seam)
    assert (measured.difference_mm, measured.shaping_rad) == pytest.approx((0, 0), abs=1e-12)
    assert total_area_mm2(after) == pytest.approx(10_000, abs=1e-6)


def test_a_cut_that_crosses_itself_is_refused():
    loop = (70, 70), (30, 70), (30, 30), (70, 30), (50, 80)
    refused(cut("p", "p.e1", 50.0, "p.e3", 50.0, *loop), small.square())


@settings(max_examples=60)
@given(small.blobs(), st.tuples(st.integers(1, 5), st.integers(1, 5)), small.two_ratios())
def test_a_cut_keeps_the_area_and_the_outline(project, edges, ratios):
    piece = project.pieces["p"]
    ends = [
        (f"p.e{number}", ratio * edge_mm(project, f"p.e{number}"))
        for number, ratio in zip(edges, ratios, strict=True)
    ]
    after = check_or_refuse(cut("p", *ends[0], *ends[1]), project)
    if after is not None:
        (seam,) = after.seams.values()
        measured = measure_seam(after, seam)
        assert total_area_mm2(after) == pytest.approx(area_mm2(piece), abs=1e-6)
        outline = (
            sum(perimeter_mm(part) for part in after.pieces.values()) - 2 * measured.a.length_mm
        )
        assert outline == pytest.approx(perimeter_mm(piece), abs=1e-6)
        first, second = (curve(after, ref.edge) for ref in (*seam.a, *seam.b))
        assert np.array_equal(first.segments, second.segments[::-1, ::-1])


def test_a_cut_along_the_outline_is_refused():
    # 0.02 mm off straight over 100: the chord cuts off what has no width to speak of.
    nearly_straight = Curve(np.array([[[0, 0], [33, -0.02], [67, -0.02], [100, 0]]]))
    piece = small.square().pieces["p"]
    edges = (replace(piece.edges[0], curve=nearly_straight), *piece.edges[1:])
    project = new_project(replace(piece, edges=edges))
    refused(cut("p", "p.e1", 20.0, "p.e1", 80.0), project)
    check_edit(cut("p", "p.e1", 20.0, "p.e3", 80.0), project)
