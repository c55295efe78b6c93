"""`guess`: seams as edits that `edit` takes."""

from __future__ import annotations

from tests import small
from tests.cli.program import command, edits_file, loaded, saved
from wedgework.bench.offers import offers


def test_every_guess_is_an_edit_that_edit_takes(capsys, tmp_path):
    path = saved(tmp_path / "a.wedge", small.two_panels(joined=False, bulge=0.1))
    guesses = command(capsys, "guess", path, "--json").json["guesses"]
    assert guesses
    do = edits_file(tmp_path / "edits.json", *(guess["edit"] for guess in guesses))
    assert command(capsys, "edit", path, "--do", do, "--save", path).code == 0
    assert len(loaded(path).seams) == len(guesses)


def test_the_surest_comes_first_and_says_why(capsys, tmp_path):
    path = saved(tmp_path / "a.wedge", small.two_panels(joined=False, bulge=0.1))
    guesses = command(capsys, "guess", path, "--json").json["guesses"]
    sure = [guess["sure"] for guess in guesses]
    assert sure == sorted(sure, reverse=True)
    assert all("mm long" in guess["why"] for guess in guesses)


def test_a_person_reads_them_in_columns(capsys, tmp_path):
    path = saved(tmp_path / "a.wedge", small.two_panels(joined=False, bulge=0.1))
    lines = command(capsys, "guess", path).out.splitlines()
    assert "suggest" in lines[0]
    assert lines[1].split()[:3] == ["sure", "%", "name"]


def test_where_all_is_joined_nothing_is_guessed(capsys, tmp_path):
    path = saved(tmp_path / "a.wedge", small.new_project(small.rectangle("p", 100, 37)))
    answer = command(capsys, "guess", path)
    assert answer.code == 0
    assert command(capsys, "guess", path, "--json").json["guesses"] == [] or "suggest" in answer.out


def test_seams_of_the_same_two_pieces_get_names_of_their_own():
    names = [offer.edit.name for offer in offers(small.two_panels(joined=False, bulge=0.1))]
    assert len(set(names)) == len(names)
