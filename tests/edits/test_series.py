"""What hangs on strips of pleats follows when there are more of them, or fewer."""

from __future__ import annotations

import pytest

from tests import small
from tests.drafting.making import placed
from tests.edits.checking import check_edit
from wedgework.edits.base import Place
from wedgework.edits.cut import CutPiece
from wedgework.edits.drafted import DraftPieces
from wedgework.edits.marks import AddHoles
from wedgework.edits.openings import MarkOpening
from wedgework.edits.redraft import DraftAgain
from wedgework.edits.seams import JoinEdges
from wedgework.pattern.changes import new_project
from wedgework.pattern.seams import measure_seam

SKIRT = {"waist_mm": 720, "length_mm": 200, "pleats": 24}


def hung(**more):
    """A skirt that hangs on the top of a long band, closes at the back and is an opening below."""
    suit = new_project(small.rectangle("band", 2160, 40, y=300))
    project = DraftPieces(kind="pleated_skirt", numbers=SKIRT | more).apply(suit)
    strips = [own for own in project.pieces if own.startswith("strip")]
    project = JoinEdges(
        name="on the band", a=tuple(f"-{own}.waist" for own in strips), b=("band.e1",), laid_on=True
    ).apply(project)
    project = JoinEdges(name="closing", a=(f"{strips[-1]}.last",), b=("-strip_1.first",)).apply(
        project
    )
    project = AddHoles(edge=f"{strips[-1]}.last", at_mm=(20, 60), inset_mm=10).apply(project)
    return MarkOpening(
        name="hem", edges=tuple(f"{own}.hem" for own in strips), measure="hip_girth_mm"
    ).apply(project)


@pytest.mark.parametrize("first_mm", [3000, 1000, 500])
@pytest.mark.parametrize("then_mm", [3000, 1000, 500, 300])
def test_a_hung_skirt_stays_hung_and_closed_however_many_strips_it_has(first_mm, then_mm):
    before = hung(sheet_width_mm=first_mm)
    after = check_edit(DraftAgain(piece="strip_1", numbers={"sheet_width_mm": then_mm}), before)
    strips = [own for own in after.pieces if own.startswith("strip")]
    on_band, closing = after.seams["on_the_band"], after.seams["closing"]
    assert [str(ref) for ref in on_band.a] == [f"-{own}.waist" for own in strips]
    assert [str(ref) for ref in closing.a] == [f"{strips[-1]}.last"]
    assert abs(measure_seam(after, on_band).difference_mm) < 1e-6
    assert [str(ref) for ref in after.openings["hem"].edges] == [f"{own}.hem" for own in strips]
    assert {hole.at.edge for hole in after.holes.values()} == {f"{strips[-1]}.last"}
    assert len(after.holes) == 2
    recipe = after.pieces["strip_1"].recipe
    assert recipe is not None
    assert not recipe.refused


def test_panels_of_a_flared_skirt_stay_hung_too():
    suit = new_project(small.rectangle("band", 600, 40, y=900))
    project = placed("flared_skirt", suit, waist_mm=600, length_mm=100, turn_deg=360)
    project = JoinEdges(
        name="on", a=("-panel_1.waist", "-panel_2.waist"), b=("band.e1",), laid_on=True
    ).apply(project)
    after = DraftAgain(piece="panel_2", numbers={"panels": 5}).apply(project)
    assert len(after.seams["on"].a) == 5
    assert abs(measure_seam(after, after.seams["on"]).difference_mm) < 1e-6


def test_a_strip_that_was_cut_in_two_is_no_row_and_what_is_lost_is_told():
    cut = CutPiece(
        piece="strip_3", from_=Place("strip_3.waist", 100.0), to=Place("strip_3.hem", 620.0)
    ).apply(hung())
    after = DraftAgain(piece="strip_1", numbers={"sheet_width_mm": 3000}).apply(cut)
    recipe = after.pieces["strip_1"].recipe
    assert recipe is not None
    assert any("lost an edge" in sentence for sentence in recipe.refused)
