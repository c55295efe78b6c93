"""What is drawn of a piece, asked of the recorder."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests import small
from wedgework.drawing.pieces import draw_project
from wedgework.drawing.recorder import Began, Circled, Ended, Recorder, Written
from wedgework.edits.marks import StopTear
from wedgework.geometry.curve import line as straight
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import Hole, Label, Line, Notch, Sheet, Spot
from wedgework.pattern.table import Table


def drawn(project, *, words=True):
    recorder = Recorder()
    draw_project(project, recorder, words=words)
    return recorder


def from_cloth(project):
    """Every piece cut from a sheet in which notches are slits."""
    cloth = Sheet(id="cloth", name="cloth", width_mm=1400.0, marking="slit")
    pieces = Table((key, replace(one, sheet="cloth")) for key, one in project.pieces.items())
    return replace(project, pieces=pieces, sheets=Table({"cloth": cloth}))


def kinds(recorder, kind):
    return [one for one in recorder.drawn if isinstance(one, kind)]


def words(recorder):
    return [one.words for one in kinds(recorder, Written)]


def notched(at_mm=30.0, **more):
    notch = Notch(id="n", at=Spot("p.e1", at_mm), **more)
    return replace(small.square(100), notches=Table({"n": notch}))


def with_allowance(project, mm):
    piece = project.pieces["p"]
    edges = tuple(replace(edge, allowance_mm=mm) for edge in piece.edges)
    return replace(project, pieces=Table({"p": replace(piece, edges=edges)}))


def dash_y(project):
    """How far above the lower side each end of each dash lies."""
    dashes = drawn(project).strokes("mark")
    return [(one.curves[0].start[1], one.curves[-1].end[1]) for one in dashes]


def test_each_piece_is_a_group_of_its_own():
    recorder = drawn(small.two_panels())
    assert [one.ink.id for one in kinds(recorder, Began)] == ["a", "b"]
    assert len(kinds(recorder, Ended)) == 2


def test_the_seam_line_is_the_very_curves_of_the_outline():
    project = small.curved_square()
    (stroke,) = drawn(project).strokes("seam")
    assert stroke.closed
    assert [a is e.curve for a, e in zip(stroke.curves, project.pieces["p"].edges, strict=True)]


def test_a_seam_line_says_which_cubics_are_which_edge():
    (stroke,) = drawn(small.disc()).strokes("seam")
    assert dict(stroke.ink.said) == {"cubics": "4", "edges": "p.e1", "corners": "p.c1"}


def test_ids_with_a_space_are_not_listed():
    (stroke,) = drawn(small.new_project(small.rectangle("my p", 10, 10))).strokes("seam")
    assert dict(stroke.ink.said) == {"cubics": "1 1 1 1"}


def test_lines_cutouts_labels_and_holes_are_all_drawn():
    recorder = drawn(small.with_everything())
    piece = small.with_everything().pieces["a"]
    heads_of_the_grain = 2
    assert len(recorder.strokes("internal")) == len(piece.lines) + heads_of_the_grain
    assert len(recorder.strokes("seam")) == 2 + len(piece.cutouts)
    assert {label.text for label in piece.labels} <= set(words(recorder))
    assert kinds(recorder, Circled)


def test_a_notch_without_room_outside_is_a_dash_inside_clear_of_the_cut():
    assert dash_y(notched()) == [(1.0, 6.0)]


def test_a_notch_with_room_outside_is_a_dash_in_it_clear_of_the_cut():
    assert dash_y(with_allowance(notched(), 8.0)) == [(-7.0, 0.0)]


def test_the_under_side_is_cut_a_lap_outside_and_marked_in_the_lap():
    project = small.two_panels()
    notch = Notch(id="n", at=Spot("a.e2", 50.0), mate=Spot("b.e4", 50.0))
    recorder = drawn(replace(project, notches=Table({"n": notch})))
    over, under = recorder.strokes("cut")
    assert over.curves[1] is project.pieces["a"].edges[1].curve
    reach = [min(curve.start[0] for curve in one.curves) for one in (over, under)]
    left = project.pieces["b"].edges[3].curve.start[0]
    assert reach[1] == pytest.approx(left - 8.0)
    dash = recorder.strokes("mark")[1].curves[0]
    assert sorted([dash.start[0], dash.end[0]]) == pytest.approx([left - 7.0, left])


def test_only_a_placement_line_apart_from_the_seam_line_is_drawn():
    assert drawn(small.two_panels()).strokes("internal") == []
    own = small.seam("s", "p.e2", "~p.e2")
    piece = replace(small.rectangle("p", 100, 100), cutting="pair")
    (line,) = drawn(small.new_project(piece, seams=[own])).strokes("internal")
    assert line.curves[0].start[0] == pytest.approx(96.0)
    assert line.ink.derived


def test_a_slit_ends_half_way_through_the_allowance():
    assert dash_y(from_cloth(with_allowance(notched(), 8.0))) == [(-8.0, -4.0)]


def test_a_slit_without_an_allowance_is_a_short_snip_into_the_seam_line():
    assert dash_y(from_cloth(notched())) == [(0.0, 2.5)]


def test_a_hole_at_the_apex_of_a_dart_is_punched_once():
    project = StopTear(dart="d1", diameter_mm=3.0).apply(small.darted_front())
    (circle,) = kinds(drawn(project), Circled)
    assert (*circle.centre, circle.radius_mm) == pytest.approx((100.0, 90.0, 1.5))


def test_words_of_a_piece_can_be_left_out_and_labels_of_the_maker_stay():
    assert words(drawn(small.with_everything(), words=False)) == ["front"]


def test_a_double_notch_is_two_dashes_about_its_place():
    dashes = drawn(notched(double=True)).strokes("mark")
    assert [one.curves[0].start[0] for one in dashes] == pytest.approx([28.0, 32.0])


def test_a_mark_and_its_mate_on_one_edge_are_both_drawn():
    assert len(dash_y(notched(mate=Spot("p.e1", 70.0)))) == 2


def test_a_hole_lies_inside_the_seam_line():
    hole = Hole(id="h", at=Spot("p.e1", 40.0), inset_mm=6.0, diameter_mm=3.0)
    project = replace(small.square(100), holes=Table({"h": hole}))
    (circle,) = kinds(drawn(project), Circled)
    assert (*circle.centre, circle.radius_mm) == pytest.approx((40.0, 6.0, 1.5))


def test_a_piece_says_its_name_how_often_it_is_cut_and_its_seams():
    assert words(drawn(small.two_panels())) == [
        *("a", "cut 1", "this side up", "s (over)", "top"),
        *("b", "cut 1", "this side up", "s (under, lap 8)", "top"),
    ]
    assert {"cut 1 on the fold", "fold"} <= set(words(drawn(small.fold_front())))
    assert "cut 1 pair" in words(drawn(small.pair_and_fold()))


def test_the_name_stays_clear_of_a_label_in_the_middle():
    project = small.square(100)
    label = Label(id="t", text="this side up", at_mm=np.array([25.0, 48.0]), height_mm=8.0)
    piece = replace(project.pieces["p"], labels=(label,))
    titles = kinds(drawn(replace(project, pieces=Table({"p": piece}))), Written)
    name = next(one for one in titles if one.words == "p")
    assert abs(name.setting.at_mm[1] - 50.0) > 10.0


def test_no_words_stand_upside_down():
    turns = [one.setting.angle_rad for one in kinds(drawn(small.ring_of_panels()), Written)]
    assert all(-np.pi / 2 < turn <= np.pi / 2 for turn in turns)


def test_a_sliver_has_no_room_for_words_and_is_drawn_all_the_same():
    recorder = drawn(small.new_project(small.rectangle("p", 100, 1)))
    assert words(recorder) == []
    assert recorder.strokes("seam")


def derived(project):
    """Kinds of the lines that seams and finishes make, with where each starts."""
    strokes = drawn(project).strokes("internal")
    return [
        (dict(one.ink.said)["kind"], one.curves[0].start.tolist())
        for one in strokes
        if one.ink.derived
    ]


def made(join, **more):
    project = small.two_panels()
    seam = replace(project.seams["s"], join=join, **more)
    return replace(project, seams=Table({"s": seam}))


def test_a_tape_shows_half_its_width_on_both_sides_and_ends_at_the_edges_beside():
    assert derived(made("butted", tape_mm=14.0)) == [
        ("tape", pytest.approx([93, 0])),
        ("tape", pytest.approx([207, 100])),
    ]


def test_a_binding_shows_how_deep_it_covers():
    assert derived(made("bound", binding_mm=7.0)) == [
        ("binding", pytest.approx([93, 0])),
        ("binding", pytest.approx([207, 100])),
    ]


def test_superimposed_sides_show_nothing_but_their_allowances():
    assert derived(made("superimposed")) == []


def test_a_turned_hem_shows_where_its_edge_comes_to_lie():
    project = with_allowance(small.square(100), 12.0)
    piece = small.with_finish(project.pieces["p"], "p.e1", "hem")
    project = replace(project, pieces=Table({"p": piece}))
    assert derived(project) == [("hem", pytest.approx([0, 12]))]
    assert "hem, turned 12" in words(drawn(project))


def test_words_say_how_a_seam_is_made():
    assert "s (tape 12)" in words(drawn(made("butted")))
    assert "s (binding 8)" in words(drawn(made("bound")))
    assert "s" in words(drawn(made("superimposed")))
    own = small.seam("s", "p.e2", "~p.e2")
    piece = replace(small.rectangle("p", 100, 100), cutting="pair")
    assert "s (lap 8)" in words(drawn(small.new_project(piece, seams=[own])))


def test_a_pair_says_that_one_is_laid_over():
    assert "one this side up, one over" in words(drawn(small.pair_and_fold()))


def test_words_of_an_edge_stand_clear_of_a_line_that_meets_it_in_the_middle():
    project = small.two_panels()
    line = Line(id="l", kind="style", curve=straight((0, 50), (100, 50)))
    piece = replace(project.pieces["a"], lines=(line,))
    written = kinds(drawn(with_pieces(project, piece)), Written)
    name = next(one for one in written if one.words == "s (over)")
    assert abs(name.setting.at_mm[1] - 50.0) > 5.0


def box_of(written):
    x, y = written.setting.at_mm.tolist()
    half = 0.28 * written.setting.height_mm * len(written.words)
    return x - half, x + half, y - 1.0, y + 3.0


def test_words_of_an_edge_stand_clear_of_a_row_of_holes_and_of_notches():
    project = small.two_panels()
    holes = Table(
        (f"o{n}", Hole(id=f"o{n}", at=Spot("a.e2", 50.0 + n), inset_mm=9.5))
        for n in range(-6, 7, 3)
    )
    written = kinds(drawn(replace(project, holes=holes)), Written)
    name = next(one for one in written if one.words == "s (over)")
    circles = [one.centre for one in kinds(drawn(replace(project, holes=holes)), Circled)]
    # The words run up the edge: along it they are some 16 mm long and 3 mm high.
    clear = [abs(x - name.setting.at_mm[0]) > 3.0 or abs(y - name.setting.at_mm[1]) > 8.0
             for x, y in circles]  # fmt: skip
    assert circles
    assert all(clear)


def test_a_name_stands_beside_a_grain_line_in_the_middle_of_its_piece():
    project = small.square(100)
    grain = Line(id="l", kind="grain", curve=straight((50, 20), (50, 80)))
    piece = replace(project.pieces["p"], lines=(grain,))
    written = kinds(drawn(with_pieces(project, piece)), Written)
    low, high, _, _ = box_of(next(one for one in written if one.words == "cut 1"))
    assert high < 50.0 or low > 50.0


def test_the_name_of_a_level_crosses_no_outline():
    piece = small.piece_of_points("p", (0, 0), (100, 0), (100, 60), (85, 51), (70, 60), (0, 60))
    level = Line(id="l", kind="level", name="under-bust", curve=straight((100, 50), (0, 50)))
    written = kinds(drawn(small.new_project(replace(piece, lines=(level,)))), Written)
    name = next(one for one in written if one.words == "under-bust")
    assert box_of(name)[1] < 80.0
