import math
from dataclasses import replace

import pytest
from hypothesis import given, settings

from tests import small
from tests.edits.checking import check_edit, check_or_refuse, refs_of, refused
from tests.edits.measuring import area_mm2, curve, edge_ids, total_area_mm2
from wedgework.edits.body import AddLevel, LevelPoint
from wedgework.edits.drawn import AddLine
from wedgework.edits.panels_cut import CutAlongLevel, CutAlongLine, CutOffset
from wedgework.geometry.curve import line
from wedgework.geometry.nearest import nearest
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Line
from wedgework.pattern.levels import flat_girth_mm
from wedgework.pattern.seams import measure_seam


def styled(*points, smooth=False, kind="style"):
    return AddLine(piece="p", kind=kind, points_mm=points, smooth=smooth).apply(small.square())


def test_a_style_line_becomes_the_seam_and_is_gone():
    after = check_edit(CutAlongLine(line="p.l1"), styled((0, 40), (50, 60), (100, 50), smooth=True))
    assert list(after.pieces) == ["p.1", "p.2"]
    assert total_area_mm2(after) == pytest.approx(10_000, abs=1e-6)
    (seam,) = after.seams.values()
    measured = measure_seam(after, seam)
    assert (measured.difference_mm, measured.shaping_rad) == pytest.approx((0, 0), abs=1e-12)
    assert not any(piece.lines for piece in after.pieces.values())


def test_a_line_that_ends_inside_goes_on_straight_to_the_outline():
    after = check_edit(CutAlongLine(line="p.l1"), styled((20, 50), (60, 50)))
    assert sorted(area_mm2(piece) for piece in after.pieces.values()) == pytest.approx([5000, 5000])


def test_a_line_that_goes_beyond_the_outline_is_cut_off_there():
    after = check_edit(CutAlongLine(line="p.l1"), styled((-30, 25), (130, 25)))
    assert sorted(area_mm2(piece) for piece in after.pieces.values()) == pytest.approx([2500, 7500])


def test_a_line_that_leaves_and_enters_again_is_refused():
    horseshoe = small.piece_of_points(
        "u", (0, 0), (100, 0), (100, 100), (70, 100), (70, 30), (30, 30), (30, 100), (0, 100)
    )
    own = Line(id="l", kind="style", curve=line((0, 80), (100, 80)))
    project = new_project(replace(horseshoe, lines=(own,)))
    refused(CutAlongLine(line="l"), project)
    refused(CutAlongLine(line="x"), project)


def levelled(*names):
    pieces = [small.rectangle(name, 100, 100, x=150 * n) for n, name in enumerate(names)]
    points = tuple(LevelPoint(piece=name, y_mm=60) for name in names)
    return AddLevel(name="waist", points=points).apply(new_project(*pieces))


def test_a_level_cuts_every_piece_that_it_crosses():
    project = levelled("a", "b")
    after = check_edit(CutAlongLevel(level="waist"), project)
    assert list(after.pieces) == ["a.1", "a.2", "b.1", "b.2"]
    assert {round(area_mm2(piece)) for piece in after.pieces.values()} == {4000, 6000}
    assert flat_girth_mm(after, "waist") == pytest.approx(200)


def test_a_level_cuts_only_the_pieces_that_are_named():
    after = check_edit(CutAlongLevel(level="waist", pieces=("b",)), levelled("a", "b"))
    assert list(after.pieces) == ["a", "b.1", "b.2"]
    refused(CutAlongLevel(level="hip"), after)
    refused(CutAlongLevel(level="waist", pieces=("x",)), after)


def test_a_yoke_is_cut_off_parallel_to_an_edge_and_gets_its_name():
    after = check_edit(CutOffset(edges=("p.e3",), mm=30.0, name="yoke"), small.square())
    yoke = next(piece for piece in after.pieces.values() if piece.name == "yoke")
    assert "p.e3" in edge_ids(yoke)
    assert area_mm2(yoke) == pytest.approx(3000, abs=1e-6)


def test_a_strip_along_a_curved_edge_is_equally_wide_all_along():
    after = check_edit(CutOffset(edges=("p.e1",), mm=20.0), small.curved_square())
    (seam,) = after.seams.values()
    inner, outer = curve(after, seam.a[0].edge), curve(after, "p.e1")
    for share in (0.3, 0.5, 0.7):
        point = inner.segments.reshape(-1, 2)[int(share * 4 * (len(inner) - 1) + 1) // 4 * 4]
        if 15 < point[0] < 85:
            assert nearest(outer, point).distance_mm == pytest.approx(20, abs=0.006)


def test_a_strip_along_several_edges_follows_their_corner():
    after = check_edit(CutOffset(edges=("p.e2", "p.e3"), mm=10.0), small.square())
    border = next(piece for piece in after.pieces.values() if "p.e2" in edge_ids(piece))
    # Two strips of 10 along the edges, one lying over the other in the corner.
    assert area_mm2(border) == pytest.approx(1900, abs=1e-6)
    refused(CutOffset(edges=("p.e1", "p.e3"), mm=10.0), small.square())
    refused(CutOffset(edges=("p.e1", "p.e2", "p.e3", "p.e4"), mm=10.0), small.square())
    refused(CutOffset(edges=("p.e1",), mm=120.0), small.square())


def test_a_seam_walks_on_over_what_a_yoke_has_cut():
    after = check_edit(CutOffset(edges=("a.e3",), mm=25.0), small.two_panels())
    assert refs_of(after, "s") == (["a.e2.1", "a.e2.2"], ["-b.e4"])


@settings(max_examples=15)
@given(small.blobs(), small.millimetres(2, 40))
def test_a_strip_keeps_the_area_and_joins_flat(project, wide):
    after = check_or_refuse(CutOffset(edges=("p.e2",), mm=wide), project)
    if after is not None:
        (seam,) = after.seams.values()
        assert total_area_mm2(after) == pytest.approx(total_area_mm2(project), abs=1e-6)
        assert math.degrees(measure_seam(after, seam).shaping_rad) == pytest.approx(0, abs=1e-6)


def there_and_back(middle):
    points = ((10.0, 20.0), middle, (10.0, 20.0))
    return AddLine(piece="p", kind="style", points_mm=points, smooth=True).apply(small.square())


@pytest.mark.parametrize("middle", [(20.0, 60.0), (90.0, 20.0), (50.0, 21.0)])
def test_a_line_that_comes_back_to_its_start_is_no_cut(middle):
    drawn = there_and_back(middle)
    (line,) = drawn.pieces["p"].lines
    refused(CutAlongLine(line=line.id), drawn)
