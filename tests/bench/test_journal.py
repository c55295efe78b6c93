"""The journal: nothing that was kept is lost, whatever happens to the program."""

from __future__ import annotations

import json

import pytest

from tests import small
from tests.edits.checking import described
from wedgework.bench import (
    Bench,
    ChangedOutside,
    InUse,
    NotSaved,
    recover,
    unsaved_journals,
)
from wedgework.bench.journal import beside, read_lines
from wedgework.edits import decode_plain
from wedgework.files.wedge import read_wedge, write_wedge
from wedgework.pattern.errors import FileRefused


def move(x, corner="p.c2"):
    return decode_plain({"edit": "move_corner", "corner": corner, "by_mm": [x, 0.0]})


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "suit.wedge"
    path.write_bytes(write_wedge(small.square()))
    return path


@pytest.fixture
def state(tmp_path):
    return tmp_path / "state"


def opened(path, state, recovery="ask"):
    bench = Bench(state_folder=state)
    bench.open(path, recovery)
    return bench


def crashed(bench):
    """The program dies: the system lets go of the lock, and nothing else happens."""
    bench._keeper._journal.close(remove=False)
    bench._keeper._journal = None


def test_an_edit_is_on_the_disk_before_it_is_shown(path, state):
    bench = opened(path, state)
    seen = []
    bench.subscribe(lambda _: seen.append(recover(beside(path), path).texts))
    bench.do(move(10.0))
    assert [len(texts) for texts in seen] == [1]


def test_steps_that_were_not_saved_are_asked_about(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    crashed(bench)
    with pytest.raises(NotSaved) as asked:
        opened(path, state)
    assert asked.value.recovered.texts == ("Move corner p.c2",)


def test_taking_them_brings_back_the_project_to_the_last_bit(path, state):
    bench = opened(path, state)
    bench.do(move(0.1))
    bench.do(move(1 / 3))
    crashed(bench)
    assert described(opened(path, state, "take").project) == described(bench.project)


def test_what_was_brought_back_can_be_undone_and_done_again(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    bench.do(move(20.0))
    bench.undo()
    crashed(bench)
    again = opened(path, state, "take")
    assert [len(again.history), len(again.undone)] == [1, 1]
    assert again.is_dirty
    again.redo()
    again.undo()
    again.undo()
    assert not again.is_dirty


def test_the_journal_goes_on_where_it_ended(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    crashed(bench)
    again = opened(path, state, "take")
    again.do(move(20.0))
    crashed(again)
    assert len(opened(path, state, "take").history) == 2


def test_dropping_them_opens_the_file_as_it_was_saved(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    crashed(bench)
    again = opened(path, state, "drop")
    assert described(again.project) == described(read_wedge(path.read_bytes()))
    crashed(again)
    assert opened(path, state).history == ()


def test_nothing_is_asked_where_nothing_was_done(path, state):
    crashed(opened(path, state))
    assert opened(path, state).history == ()


def test_nothing_is_asked_where_all_was_undone(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    bench.undo()
    crashed(bench)
    assert not opened(path, state).is_dirty


def test_saving_begins_a_new_journal(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    bench.save()
    bench.do(move(20.0))
    crashed(bench)
    again = opened(path, state, "take")
    assert len(again.history) == 1
    assert described(again.project) == described(bench.project)


def test_undo_goes_back_beyond_a_save_and_survives_a_crash(path, state):
    bench = opened(path, state)
    first = bench.project
    bench.do(move(10.0))
    bench.save()
    bench.undo()
    bench.redo()
    bench.undo()
    crashed(bench)
    assert described(opened(path, state, "take").project) == described(first)


def test_work_after_an_undo_beyond_a_save_survives_too(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    bench.save()
    bench.undo()
    bench.do(move(3.0))
    bench.do(move(4.0))
    bench.undo()
    crashed(bench)
    assert described(opened(path, state, "take").project) == described(bench.project)


def test_closing_takes_the_journal_away(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    bench.close()
    assert not beside(path).exists()


@pytest.mark.parametrize("lost", range(1, 60, 7))
def test_a_broken_last_line_is_dropped_and_the_rest_brought_back(path, state, lost):
    bench = opened(path, state)
    bench.do(move(10.0))
    bench.do(move(20.0))
    crashed(bench)
    journal = beside(path)
    journal.write_bytes(journal.read_bytes()[:-lost])
    assert len(opened(path, state, "take").history) == 1


def test_work_goes_on_after_a_broken_last_line(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    crashed(bench)
    with beside(path).open("ab") as file:
        file.write(b'0badc0de {"do":[')
    again = opened(path, state, "take")
    again.do(move(20.0))
    crashed(again)
    assert len(opened(path, state, "take").history) == 2


def test_a_damaged_line_in_the_middle_stops_there_and_is_told(path, state):
    bench = opened(path, state)
    for x in (10.0, 20.0, 30.0):
        bench.do(move(x))
    crashed(bench)
    journal = beside(path)
    journal.write_bytes(journal.read_bytes().replace(b"[20.0,", b"[29.0,"))
    again = Bench(state_folder=state)
    assert "2 lines" in again.open(path, "take")
    assert len(again.history) == 1


def test_a_line_that_is_missing_is_seen(path, state):
    bench = opened(path, state)
    for x in (10.0, 20.0, 30.0):
        bench.do(move(x))
    crashed(bench)
    lines = beside(path).read_bytes().splitlines(keepends=True)
    assert read_lines(b"".join([*lines[:2], *lines[3:]])).broken == 1


def test_a_file_that_was_changed_by_something_else_keeps_its_own_content(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    crashed(bench)
    path.write_bytes(write_wedge(small.square(50)))
    with pytest.raises(NotSaved, match="never saved") as asked:
        opened(path, state)
    assert "changed by something else" in asked.value.recovered.problem
    assert described(opened(path, state, "take").project) == described(small.square(50))


def test_steps_of_a_version_with_other_edits_are_not_replayed(path, state, monkeypatch):
    bench = opened(path, state)
    bench.do(move(10.0))
    crashed(bench)
    monkeypatch.setattr("wedgework.bench.recovery.edits_print", lambda: "another")
    again = Bench(state_folder=state)
    assert "another version" in again.open(path, "take")
    assert described(again.project) == described(read_wedge(path.read_bytes()))


def test_two_programs_do_not_open_one_file(path, state):
    first = opened(path, state)
    first.do(move(10.0))
    with pytest.raises(InUse, match="open in another window"):
        opened(path, state)


def test_a_file_can_be_opened_again_by_the_program_that_has_it(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    bench.open(path)
    assert bench.history == ()
    assert not bench.is_dirty


def test_a_refused_file_leaves_open_what_is_open(path, state, tmp_path):
    bench = opened(path, state)
    bench.do(move(10.0))
    with pytest.raises(FileRefused):
        bench.open(tmp_path / "nowhere.wedge")
    bench.do(move(20.0))
    crashed(bench)
    assert len(opened(path, state, "take").history) == 2


def test_saving_does_not_lose_what_another_program_wrote(path, state):
    bench = opened(path, state)
    bench.do(move(10.0))
    path.write_bytes(write_wedge(small.square(50)))
    with pytest.raises(ChangedOutside):
        bench.save()
    bench.save(overwrite=True)
    assert described(read_wedge(path.read_bytes())) == described(bench.project)


def test_saving_by_another_name_goes_on_under_that_name(path, state, tmp_path):
    bench = opened(path, state)
    bench.do(move(10.0))
    other = tmp_path / "other.wedge"
    bench.save(other)
    bench.do(move(20.0))
    assert bench.path == other
    assert not beside(path).exists()
    crashed(bench)
    assert len(opened(other, state, "take").history) == 1


def test_a_save_that_fails_changes_nothing(path, state, tmp_path):
    bench = opened(path, state)
    bench.do(move(10.0))
    with pytest.raises(FileRefused):
        bench.save(tmp_path / "no folder" / "suit.wedge")
    assert bench.path == path
    assert bench.is_dirty
    crashed(bench)
    assert len(opened(path, state, "take").history) == 1


def test_a_project_without_a_file_has_a_journal_that_holds_it(state):
    bench = Bench(small.square(), state_folder=state)
    bench.do(move(10.0))
    crashed(bench)
    (journal,) = unsaved_journals(state)
    again = Bench(state_folder=state)
    assert again.open_unsaved(journal) is None
    assert described(again.project) == described(bench.project)
    assert again.is_dirty


def test_journals_of_running_programs_are_not_offered(state):
    bench = Bench(small.square(), state_folder=state)
    bench.do(move(10.0))
    assert unsaved_journals(state) == ()


def test_saving_a_project_for_the_first_time_takes_its_unsaved_journal_away(state, tmp_path):
    bench = Bench(small.square(), state_folder=state)
    bench.do(move(10.0))
    bench.save(tmp_path / "first.wedge")
    assert list(state.iterdir()) == []


def test_work_on_an_empty_bench_is_kept_too(state):
    bench = Bench(state_folder=state)
    bench.do(decode_plain({"edit": "set_body", "measures": {"bust_girth_mm": 900.0}}))
    crashed(bench)
    again = Bench(state_folder=state)
    again.open_unsaved(unsaved_journals(state)[0])
    assert dict(again.project.body) == {"bust_girth_mm": 900.0}


def test_a_journal_that_cannot_be_written_keeps_the_step_from_being_shown(path, state, monkeypatch):
    bench = opened(path, state)
    before = bench.project

    def full(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr("os.write", full)
        with pytest.raises(FileRefused, match="the disk is full"):
            bench.do(move(10.0))
    assert bench.project is before
    assert bench.history == ()
    bench.do(move(20.0))
    crashed(bench)
    assert len(opened(path, state, "take").history) == 1


def test_the_first_line_carries_version_and_hash_only(path, state):
    opened(path, state)
    (head,) = read_lines(beside(path).read_bytes()).entries
    assert set(head) == {"journal", "edits", "saved"}


def test_a_line_is_one_line_whatever_the_text(path, state):
    bench = opened(path, state)
    name = "two\nlines “quoted” \u2028"
    bench.do(decode_plain({"edit": "rename", "id": "p", "name": name}))
    crashed(bench)
    lines = beside(path).read_bytes().splitlines()
    assert len(lines) == 2
    assert json.loads(lines[1][9:])["do"][0]["name"] == name
    assert opened(path, state, "take").project.pieces["p"].name == name


def test_a_bench_without_a_folder_keeps_no_journal(path):
    bench = Bench()
    bench.open(path)
    bench.do(move(10.0))
    assert not beside(path).exists()


def test_where_no_journal_can_lie_beside_the_file_it_lies_in_the_state_folder(
    path, state, monkeypatch
):
    monkeypatch.setattr("wedgework.bench.keeping.beside", lambda p: p.parent / "nowhere" / "j")
    bench = opened(path, state)
    bench.do(move(10.0))
    assert bench.journal_problem is None
    crashed(bench)
    assert len(opened(path, state, "take").history) == 1


def test_where_no_journal_can_be_kept_at_all_work_goes_on_and_the_bench_says_why(path, monkeypatch):
    def none(*_):
        raise FileRefused("No journal can be kept here: the disk is full.")

    monkeypatch.setattr("wedgework.bench.journal.Journal.take", none)
    bench = opened(path, path.parent / "state")
    assert bench.do(move(10.0))
    assert "the disk is full" in bench.journal_problem


def test_an_unsaved_project_on_which_nothing_was_done_is_not_offered(state):
    crashed(Bench(small.square(), state_folder=state))
    assert unsaved_journals(state) == ()
    assert list(state.iterdir()) == []


def test_what_is_no_journal_is_refused(state):
    state.mkdir()
    junk = state / "unsaved-junk.journal"
    junk.write_text("Dear river,\n")
    with pytest.raises(FileRefused, match="holds no project"):
        Bench(state_folder=state).open_unsaved(junk)
