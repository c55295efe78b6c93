from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refs_of, refused
from tests.edits.measuring import area_mm2, curve, edge_ids, edge_mm
from wedgework.edits.facing import AddFacing
from wedgework.edits.seams import JoinEdges
from wedgework.geometry.length import points_at
from wedgework.geometry.nearest import nearest
from wedgework.geometry.turning import turning_rad
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Cutout
from wedgework.pattern.seams import measure_seam


def test_a_facing_is_traced_and_laid_on():
    after = check_edit(AddFacing(edges=("p.e3",), width_mm=15.0), small.square())
    facing = after.pieces["facing"]
    assert area_mm2(facing) == pytest.approx(1500, abs=1e-6)
    (seam,) = after.seams.values()
    assert seam.laid_on
    assert refs_of(after, seam.id) == (["p.e3"], ["facing.e1"])
    assert measure_seam(after, seam).difference_mm == pytest.approx(0, abs=1e-9)


def test_a_traced_edge_is_the_edge_itself_and_the_other_follows_it():
    project = small.curved_square()
    after = check_edit(AddFacing(edges=("p.e1",), width_mm=10.0), project)
    assert edge_mm(after, "facing.e1") == pytest.approx(edge_mm(project, "p.e1"), abs=1e-9)
    turned = turning_rad(curve(after, "facing.e1"))
    inner = points_at(curve(after, "facing.e3"), np.linspace(15, 100, 9))
    apart = [nearest(curve(after, "facing.e1"), point).distance_mm for point in inner]
    assert apart == pytest.approx([10.0] * 9, abs=0.006)
    assert turned == pytest.approx(turning_rad(curve(project, "p.e1")), abs=1e-12)


def test_a_facing_ends_where_its_piece_does():
    slanted = small.piece_of_points("p", (0, 0), (100, 0), (120, 100), (-20, 100))
    after = check_edit(AddFacing(edges=("p.e1",), width_mm=20.0), new_project(slanted))
    assert edge_mm(after, "facing.e3") == pytest.approx(108, abs=1e-3)


def test_a_facing_over_two_joined_pieces_has_an_edge_for_each():
    project = small.two_panels()
    after = check_edit(AddFacing(edges=("a.e1", "b.e1"), width_mm=15.0), project)
    assert refs_of(after, "facing.laid") == (["a.e1", "b.e1"], ["facing.e1", "facing.e2"])
    assert area_mm2(after.pieces["facing"]) == pytest.approx(3000, abs=1e-6)


def test_a_facing_of_a_piece_on_the_fold_is_on_the_fold():
    after = check_edit(AddFacing(edges=("p.e3",), width_mm=15.0), small.fold_front())
    facing = after.pieces["facing"]
    assert (facing.cutting, facing.fold_edge) == ("fold", "facing.e2")
    edge = curve(after, facing.fold_edge)
    assert abs(edge.end[0] - edge.start[0]) < 1e-9


def test_a_facing_from_fold_to_fold_is_joined_at_the_second():
    front = small.with_finish(small.rectangle("f", 100, 200), "f.e4", "fold")
    back = small.with_finish(small.rectangle("g", 80, 200, x=150), "g.e2", "fold")
    project = new_project(
        replace(front, cutting="fold", fold_edge="f.e4"),
        replace(back, cutting="fold", fold_edge="g.e2"),
        seams=[small.seam("s", "f.e2", "-g.e4")],
    )
    after = check_edit(AddFacing(edges=("f.e1", "g.e1"), width_mm=15.0), project)
    assert after.pieces["facing"].fold_edge == "facing.e5"
    assert refs_of(after, "facing.join") == (["facing.e3"], ["~facing.e3"])


def test_a_facing_of_a_pair_is_a_pair():
    after = check_edit(AddFacing(edges=("g.e3",)), small.pair_and_fold())
    assert after.pieces["facing"].cutting == "pair"


def test_a_facing_round_a_hole_has_the_hole_in_it():
    hole = small.disc(20).pieces["p"].edges[0]
    ring = (replace(hole, id="h", corner="hc", curve=reversed_disc()),)
    piece = replace(small.square().pieces["p"], cutouts=(Cutout(id="k", edges=ring),))
    after = check_edit(AddFacing(edges=("h",), width_mm=10.0), new_project(piece))
    facing = after.pieces["facing"]
    assert refs_of(after, "facing.laid") == (["h"], ["facing.e1"])
    assert [edge.id for edge in facing.cutouts[0].edges] == ["facing.e1"]
    assert edge_mm(after, "facing.e2") == pytest.approx(2 * 3.14159265 * 30, abs=0.02)


def reversed_disc():
    from wedgework.geometry.curve import Curve  # noqa: PLC0415

    return Curve(small.disc(20).pieces["p"].edges[0].curve.segments[::-1, ::-1] + 50.0)


def test_edges_that_do_not_follow_each_other_or_bend_too_tightly_are_refused():
    refused(AddFacing(edges=("p.e1", "p.e3")), small.square())
    refused(AddFacing(edges=("a.e2",)), small.two_panels())
    refused(AddFacing(edges=("p.e1",), width_mm=60.0), small.disc())


def test_a_facing_joins_in_no_seam_of_the_skin():
    project = JoinEdges(name="side", a=("p.e1",), b=("q.e1",), laid_on=True).apply(
        new_project(small.rectangle("p", 100, 50), small.rectangle("q", 100, 20, y=90))
    )
    after = check_edit(AddFacing(edges=("p.e1",), name="second"), project)
    assert edge_ids(after.pieces["second"]) == [f"second.e{n}" for n in (1, 2, 3, 4)]


@settings(max_examples=15)
@given(small.blobs(), small.millimetres(2, 40))
def test_every_facing_agrees_with_its_edge(project, wide):
    after = check_or_refuse(AddFacing(edges=("p.e2",), width_mm=wide), project)
    if after is not None:
        measured = measure_seam(after, after.seams["facing.laid"])
        assert measured.difference_mm == pytest.approx(0, abs=1e-9)
