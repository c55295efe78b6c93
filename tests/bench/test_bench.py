"""The bench: what is kept, what is shown, and the way back."""

from __future__ import annotations

from unittest.mock import patch

import pytest

from tests import small
from wedgework.bench import Bench
from wedgework.edits import decode_plain
from wedgework.geometry import length
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.seams import measure_seam


def move(corner="p.c2", x=10.0, y=0.0):
    return decode_plain({"edit": "move_corner", "corner": corner, "by_mm": [x, y]})


def rename(name="front", own="p"):
    return decode_plain({"edit": "rename", "id": own, "name": name})


@pytest.fixture
def bench():
    return Bench(small.square())


def corner_x(project):
    return project.pieces["p"].edges[1].curve.start[0]


def test_an_edit_is_kept_and_shown(bench):
    assert bench.do(rename())
    assert bench.shown is bench.project
    assert bench.project.pieces["p"].name == "front"


def test_undo_gives_back_the_very_project_before(bench):
    before = bench.project
    bench.do(rename())
    assert bench.undo()
    assert bench.project is before


def test_redo_gives_back_the_very_project_after(bench):
    bench.do(rename())
    after = bench.project
    bench.undo()
    assert bench.redo()
    assert bench.project is after


def test_undo_goes_back_without_limit(bench):
    first = bench.project
    for number in range(300):
        bench.do(rename(f"piece {number}"))
    while bench.undo():
        pass
    assert bench.project is first


def test_a_new_step_forgets_what_was_undone(bench):
    bench.do(rename("one"))
    bench.undo()
    bench.do(rename("two"))
    assert not bench.redo()


def test_undo_names_what_it_will_undo(bench):
    bench.do(rename("front"))
    assert "front" in bench.next_undo
    assert bench.next_redo is None


def test_an_edit_that_changes_nothing_is_no_step(bench):
    assert not bench.do(move(x=0.0))
    assert bench.history == ()


def test_a_refused_edit_changes_nothing(bench):
    before = bench.project
    with pytest.raises(EditRefused):
        bench.do(rename("x", own="no such piece"))
    assert bench.project is before
    assert bench.history == ()


def test_several_edits_are_one_step(bench):
    bench.do(rename("one"), rename("two"), text="Rename twice")
    assert [step.text for step in bench.history] == ["Rename twice"]


def test_a_preview_is_shown_and_not_kept(bench):
    before = bench.project
    bench.preview(move())
    assert corner_x(bench.shown) == 110
    assert bench.project is before
    assert bench.history == ()


def test_each_preview_begins_from_the_kept_project(bench):
    bench.preview(move(x=10))
    bench.preview(move(x=20))
    assert corner_x(bench.shown) == 120


def test_a_dropped_preview_leaves_no_trace(bench):
    before = bench.project
    bench.preview(move())
    bench.drop_preview()
    assert bench.shown is before
    assert not bench.is_previewing


def test_what_is_tried_can_be_kept(bench):
    bench.preview(move())
    assert bench.commit()
    assert corner_x(bench.project) == 110
    assert len(bench.history) == 1


def test_a_refused_preview_says_why_and_leaves_what_was_shown(bench):
    bench.preview(move(x=10))
    assert not bench.preview(move(corner="no such corner"))
    assert "no such corner" in bench.refusal
    assert corner_x(bench.shown) == 110


def test_listeners_are_told_which_piece_changed_and_which_seams_hang_on_it():
    bench = Bench(small.two_panels())
    told = []
    bench.subscribe(told.append)
    bench.preview(move("a.c2"))
    assert told[-1].pieces == {"a"}
    assert told[-1].seams == {"s"}


def test_a_seam_that_does_not_hang_on_what_changed_is_left_in_peace():
    bench = Bench(small.ring_of_panels(6))
    told = []
    bench.subscribe(told.append)
    bench.do(move("p1.c2"))
    assert told[-1].pieces == {"p1"}
    assert told[-1].seams == {"s1"}


def test_a_new_seam_is_told_as_changed():
    bench = Bench(small.two_panels(joined=False))
    told = []
    bench.subscribe(told.append)
    bench.do(decode_plain({"edit": "join", "name": "side", "a": ["a.e2"], "b": ["-b.e4"]}))
    assert set(bench.project.seams) == told[-1].seams


def test_who_has_ended_the_subscription_is_not_told(bench):
    told = []
    bench.subscribe(told.append)()
    bench.do(rename())
    assert told == []


def test_choosing_tells_what_was_chosen_and_what_was_before(bench):
    bench.choose(["p.c1"])
    told = []
    bench.subscribe(told.append)
    bench.choose(["p.c2"])
    assert told[-1].others == {"p.c1", "p.c2"}


def test_what_is_chosen_and_no_longer_there_is_chosen_no_longer():
    bench = Bench(small.two_panels())
    bench.choose(["s", "a"])
    bench.do(decode_plain({"edit": "unjoin", "seam": "s"}))
    assert bench.chosen == ("a",)


def test_work_makes_the_bench_dirty_and_undoing_it_clean_again(tmp_path):
    bench = Bench(small.square())
    bench.save(tmp_path / "a.wedge")
    assert not bench.is_dirty
    bench.do(rename())
    assert bench.is_dirty
    bench.undo()
    assert not bench.is_dirty


def test_there_is_no_step_of_an_unknown_name(bench):
    with pytest.raises(ValueError, match="Sew"):
        bench.go_to_step("Sew")


def test_what_is_accepted_carries_what_was_measured():
    bench = Bench(small.two_panels(100, 97))
    accept = {"edit": "accept", "code": "seam_length", "where": ["s"], "reason": "eased"}
    bench.do(decode_plain(accept))
    assert bench.history[-1].edits[0].measured == pytest.approx(3)


def lengths_measured_in_a_frame(count):
    """How often a frame of a drag measures cubics, in a garment of so many panels."""
    bench = Bench(small.ring_of_panels(count))
    bench.subscribe(
        lambda change: [measure_seam(bench.shown, bench.shown.seams[own]) for own in change.seams]
    )
    bench.preview(move("p2.c2"))
    with patch.object(length, "_block_measured", wraps=length._block_measured) as measured:
        bench.preview(move("p2.c2", y=3.0))
    return measured.call_count


def test_a_frame_of_a_drag_measures_no_more_in_a_large_garment_than_in_a_small_one():
    few, many = lengths_measured_in_a_frame(6), lengths_measured_in_a_frame(60)
    assert few == many > 0


def test_only_seams_that_hang_on_what_moves_are_told_in_a_drag():
    bench = Bench(small.ring_of_panels(60))
    told = []
    bench.subscribe(lambda change: told.append(change.seams))
    bench.preview(move("p2.c2"))
    assert told == [{"s2"}]


def test_a_hold_that_is_let_go_is_said_in_the_undo_list_and_comes_back_with_undo():
    bench = Bench(small.cap_and_ring())
    assert bench.preview(decode_plain(DRAG_OF_STRIP))
    assert [one.seam for one in bench.released] == ["cap"]
    bench.drop_preview()
    assert bench.released == ()
    bench.do(decode_plain(DRAG_OF_STRIP))
    assert bench.next_undo.endswith(", letting “cap” go")
    assert "cap.hold" not in bench.project.holds
    bench.undo()
    assert "cap.hold" in bench.project.holds


def test_a_seam_that_is_held_is_told_with_its_pieces():
    bench, changes = Bench(small.two_panels()), []
    bench.subscribe(changes.append)
    bench.do(decode_plain({"edit": "hold_seam", "seam": "s"}))
    assert (changes[0].seams, changes[0].pieces) == ({"s"}, {"a", "b"})


DRAG_OF_STRIP = {"edit": "move_corner", "corner": "strip.c2", "by_mm": [9, 0]}
