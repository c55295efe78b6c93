"""Drafts as edits: they carry their result, and are drafted again with the maker's edits kept."""

from __future__ import annotations

import json

import numpy as np
import pytest

from tests import small
from tests.drafting.making import BODY, block, draft, placed
from tests.edits.checking import check_edit, refused
from wedgework.checks import check
from wedgework.edits.arrange import CopyPiece, FlipPieces
from wedgework.edits.base import Place
from wedgework.edits.bodies import SetReductions
from wedgework.edits.body import SetBody
from wedgework.edits.cut import CutPiece
from wedgework.edits.drafted import BESIDE_MM, DraftPieces
from wedgework.edits.edges import SplitEdge
from wedgework.edits.marks import AddHoles, AddNotches
from wedgework.edits.move import MoveCorner, PullEdge
from wedgework.edits.names import Rename
from wedgework.edits.openings import MarkOpening, RemoveOpening
from wedgework.edits.pairs import SplitPair
from wedgework.edits.panels_unite import UnitePanels
from wedgework.edits.redraft import DraftAgain
from wedgework.edits.settings import SetAllowance, SetCutting, SetFinish
from wedgework.edits.shapes import AddRectangle
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Project
from wedgework.pattern.seams import measure_seam

COLLAR = DraftPieces(
    kind="collar", numbers={"neckline": ["-front.neck", "-back.neck"], "width_mm": 60}
)
LOWER = MoveCorner(corner="front.c7", by_mm=(0.0, -15.0))


def collared():
    return COLLAR.apply(block())


def codes(project):
    return [finding.code for finding in check(project)]


def test_a_draft_is_an_edit_like_any_other():
    project = check_edit(DraftPieces(kind="body_block", numbers=BODY), block())
    assert list(project.pieces) == ["front", "back", "front-2", "back-2"]


def test_a_filled_draft_no_longer_asks_the_draft():
    base = block()
    edit = COLLAR.filled(base)
    assert edit.made is not None
    assert json.loads(edit.as_json())["made"]["pieces"][0]["id"] == "collar"
    assert check_edit(edit, base).pieces["collar"].recipe.kind == "collar"


def test_a_neckline_that_moved_says_so_with_the_difference_and_a_mend():
    project = collared()
    assert "draft_out_of_date" not in codes(project)
    moved = LOWER.apply(project)
    finding = next(one for one in check(moved) if one.code == "draft_out_of_date")
    was, now = (
        sum(length_mm(e.curve) for p in one.pieces.values() for e in p.edges if e.name == "neck")
        for one in (project, moved)
    )
    assert abs(finding.measured - (now - was)) < 1e-6
    assert finding.mends[0].edits[0]["edit"] == "draft_again"


@pytest.mark.parametrize(("by_mm", "word"), [(-15.0, "longer"), (8.0, "shorter")])
def test_a_seam_that_lost_its_length_by_that_offers_the_draft_first(by_mm, word):
    moved = MoveCorner(corner="front.c7", by_mm=(0.0, by_mm)).apply(collared())
    told = {one.code: one for one in check(moved)}
    assert f"mm {word}." in told["draft_out_of_date"].message
    assert told["seam_length"].mends[0].edits[0] == {"edit": "draft_again", "piece": "collar"}
    again = DraftAgain(piece="collar").apply(moved)
    assert not {"seam_length", "draft_out_of_date"} & {*codes(again)}


def test_a_collar_whose_own_edge_was_changed_is_not_drafted_again_for_its_length():
    own = PullEdge(edge="collar.neck", at_mm=80.0, by_mm=(0.0, 9.0)).apply(collared())
    found = next(one for one in check(own) if one.code == "seam_length")
    assert all(mend.edits[0]["edit"] != "draft_again" for mend in found.mends)


def test_drafting_again_makes_the_collar_fit_the_moved_neckline():
    moved = LOWER.apply(collared())
    again = check_edit(DraftAgain(piece="collar"), moved)
    assert "draft_out_of_date" not in codes(again)
    assert abs(measure_seam(again, again.seams["collar.seam"]).difference_mm) < 1e-6


def test_of_ten_hand_edits_eight_are_done_again_and_the_others_are_named():
    project = collared()
    corner = project.pieces["collar"].edges[2].corner
    hand = [
        Rename(id="collar", name="Heron collar"),
        SetFinish(edges=("collar.outer",), finish="hem"),
        SetAllowance(edges=("collar.outer",), mm=12.0),
        MoveCorner(corner=corner, by_mm=(3.0, 2.0)),
        PullEdge(edge="collar.outer", at_mm=100.0, by_mm=(0.0, 4.0)),
        SplitEdge(edge="collar.outer", at_mm=80.0),
        Rename(id="collar.outer.1", name="front part"),
        SetAllowance(edges=("collar.outer.1",), mm=9.0),
        # Far along: when the neckline gets much shorter, the place is no longer there.
        SplitEdge(edge="collar.outer.2", at_mm=235.0),
        Rename(id="collar.outer.2.2", name="back part"),
    ]
    for edit in hand:
        project = edit.apply(project)
    raised = MoveCorner(corner="front.c7", by_mm=(0.0, 45.0)).apply(project)
    again = check_edit(DraftAgain(piece="collar"), raised)
    collar = again.pieces["collar"]
    assert collar.name == "Heron collar"
    assert {edge.name for edge in collar.edges} >= {"front part"}
    assert len(collar.recipe.edits_since) >= 8
    assert len(collar.recipe.edits_since) + len(collar.recipe.refused) == 10
    assert len(collar.recipe.refused) == 2
    told = DraftAgain(piece="collar").settled(raised).told
    assert [one.startswith("Not done again on “Heron collar”: ") for one in told] == [True, True]
    assert SetCutting(piece="front", cutting="fold").settled(again).told == ()


def test_marks_and_seams_made_by_hand_hang_on_a_collar_that_is_drafted_again():
    project = AddNotches(edge="collar.outer", at_mm=(50.0,)).apply(collared())
    project = AddHoles(edge="collar.outer", at_mm=(70.0,), inset_mm=5.0).apply(project)
    again = check_edit(DraftAgain(piece="collar"), LOWER.apply(project))
    assert len(again.notches) == len(project.notches)
    assert len(again.holes) == 1


def test_another_number_is_taken_from_now_on():
    again = check_edit(DraftAgain(piece="collar", numbers={"width_mm": 40}), collared())
    assert json.loads(again.pieces["collar"].recipe.numbers)["width_mm"] == 40


def test_a_piece_that_was_not_drafted_is_not_drafted_again():
    assert "was not drafted" in refused(DraftAgain(piece="p"), small.square(100)).sentence


def test_a_collar_follows_a_neckline_that_was_split():
    split = SplitEdge(edge="front.neck", at_mm=30.0).apply(collared())
    assert "draft_out_of_date" not in codes(split)
    check_edit(DraftAgain(piece="collar"), split)


def test_an_edit_of_something_else_is_not_the_collars():
    project = MoveCorner(corner="front.c4", by_mm=(1.0, 0.0)).apply(collared())
    assert project.pieces["collar"].recipe.edits_since == ()
    assert len(project.pieces["front"].recipe.edits_since) == 1


def test_an_opening_that_the_body_does_not_pass_stops_cutting():
    project = SetBody(measures={"hip_girth_mm": 980.0}).apply(block())
    leg = MarkOpening(name="leg", edges=("front.leg", "back.leg"), measure="hip_girth_mm")
    opened = check_edit(leg, project)
    finding = next(one for one in check(opened) if one.code == "opening_too_small")
    assert finding.grave == "stops_cutting"
    edge_mm = draft("body_block", **BODY).numbers["leg_edge_mm"]
    assert finding.measured == pytest.approx(100 * (980 / edge_mm - 1))
    assert "opening_too_small" not in codes(check_edit(RemoveOpening(opening="leg"), opened))


def test_half_a_neckline_is_measured_with_its_mirror_image():
    project = SetBody(measures={"head_girth_mm": 400.0}).apply(block(closing="none"))
    ring = MarkOpening(name="head", edges=("front.neck", "back.neck"), measure="head_girth_mm")
    assert "opening_too_small" not in codes(ring.apply(project))


def test_an_opening_follows_an_edge_that_is_split():
    leg = MarkOpening(name="leg", edges=("front.leg", "back.leg"), measure="thigh_girth_mm")
    split = check_edit(SplitEdge(edge="front.leg", at_mm=40.0), leg.apply(block()))
    (opening,) = split.openings.values()
    assert [str(ref) for ref in opening.edges] == ["front.leg.1", "front.leg.2", "back.leg"]


def test_bad_openings_are_refused():
    project = block()
    for edges, measure in (
        (("nothing",), "hip_girth_mm"),
        (("front.leg",), "hips"),
        (("front.leg", "front.leg"), "hip_girth_mm"),
    ):
        refused(MarkOpening(name="x", edges=edges, measure=measure), project)


def boxes(project):
    return {key: bounds_of_all([e.curve for e in p.edges]) for key, p in project.pieces.items()}


def test_new_pieces_lie_clear_of_those_that_are_there_and_stay_there_when_drafted_again():
    project = collared()
    here = boxes(project)
    others = [box for key, box in here.items() if key != "collar"]
    right, top = max(box[2] for box in others), max(box[3] for box in others)
    assert abs(here["collar"][0] - right - BESIDE_MM) < 1e-2
    assert abs(here["collar"][3] - top) < 1e-2
    again = boxes(DraftAgain(piece="collar").apply(project))
    assert np.allclose(again["collar"], here["collar"], atol=1e-9)


def at(edge, mm):
    return Place(edge, mm)


CUT = CutPiece(piece="front", from_=at("front.side", 100.0), to=at("front.centre", 150.0))
WIDER = DraftAgain(piece="back", numbers={"bust_girth_mm": 940.0})


def drafted_ids(project):
    return [piece.id for piece in project.pieces.values() if piece.recipe is not None]


def test_a_drafted_piece_that_was_cut_is_drafted_again_and_cut_again():
    project = check_edit(CUT, block())
    again = check_edit(WIDER, project)
    assert sorted(again.pieces) == sorted(project.pieces) == ["back", "front.1", "front.2"]
    assert [piece.recipe.refused for piece in again.pieces.values()] == [(), (), ()]
    assert "front.cut" in again.seams


def test_a_drafted_piece_that_was_turned_over_is_so_after_it_was_drafted_again():
    again = check_edit(WIDER, check_edit(FlipPieces(pieces=("front",)), block()))
    assert sorted(again.pieces) == ["back", "front"]
    left = {one.name: float(one.curve.start[0]) for one in again.pieces["front"].edges}
    assert left["side"] < left["centre"]


def test_both_halves_of_a_drafted_pair_are_drafted_again_once():
    paired = SetCutting(piece="front", cutting="pair").apply(block())
    again = check_edit(WIDER, check_edit(SplitPair(piece="front"), paired))
    assert sorted(again.pieces) == ["back", "front", "front.m"]


def test_a_copy_of_a_drafted_piece_is_none_and_stays_when_that_is_drafted_again():
    project = check_edit(CopyPiece(piece="front"), block())
    assert drafted_ids(project) == ["front", "back"]
    again = check_edit(WIDER, project)
    assert again.pieces["front.copy"] is project.pieces["front.copy"]


def test_parts_of_a_drafted_piece_that_are_united_are_a_draft_still():
    project = check_edit(UnitePanels(seam="front.cut"), CUT.apply(block()))
    assert drafted_ids(project) == ["front", "back"]
    assert sorted(check_edit(WIDER, project).pieces) == ["back", "front"]


def test_a_draft_that_becomes_part_of_another_piece_is_none_any_more_and_that_is_told():
    base = AddRectangle(name="wing", width_mm=60.0, height_mm=40.0, at_mm=(900, 0)).apply(block())
    row = {"kind": "band", "numbers": {"along": ["wing.e3"], "width_mm": 30.0}}
    banded = DraftPieces(**row).apply(base)
    (seam,) = (one.id for one in banded.seams.values() if "wing.e3" in {r.edge for r in one.a})
    settled = UnitePanels(seam=seam).settled(banded)
    assert drafted_ids(settled.project) == ["front", "back"]
    assert [text.startswith("“Band” can no longer be drafted") for text in settled.told] == [True]
    assert UnitePanels(seam="front.cut").settled(CUT.apply(block())).told == ()


def reductions(project):
    return dict(project.reductions)


def test_a_block_that_is_cut_smaller_than_usual_is_held_against_what_it_was_cut_to():
    smaller = DraftPieces(kind="body_block", numbers=BODY | {"girth_reduction": 0.12})
    project = check_edit(smaller, Project())
    assert reductions(project) == {"girth": 0.12}
    assert "level_misses" not in codes(project)


def test_drafted_again_a_block_takes_its_reductions_along():
    project = block(girth_reduction=0.12)
    again = DraftAgain(piece="front", numbers={"girth_reduction": 0.1, "edge_reduction": 0.09})
    after = check_edit(again, project)
    assert reductions(after) == {"girth": 0.1, "edge": 0.09}
    usual = check_edit(DraftAgain(piece="front", numbers={"girth_reduction": None}), project)
    assert reductions(usual) == {}


def test_reductions_that_the_maker_has_set_stand():
    project = SetReductions(girth=0.05).apply(Project())
    assert reductions(placed("body_block", project, **BODY, girth_reduction=0.12)) == {
        "girth": 0.05
    }
