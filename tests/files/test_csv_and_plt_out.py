"""The cut list, and files for plotters."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace

import numpy as np
import pytest

from tests import small
from tests.files.full import full_project
from wedgework.files.csv_out import write_csv
from wedgework.files.plt_out import write_plt
from wedgework.pattern.document import Hole, Project, Spot
from wedgework.pattern.errors import FileRefused
from wedgework.pattern.table import Table


def rows(project):
    return list(csv.DictReader(io.StringIO(write_csv(project).decode(), newline="")))


def test_the_cut_list_has_a_header_line_and_a_line_for_each_piece():
    assert [row["piece"] for row in rows(full_project())] == ["front", "collar"]
    assert [row["piece"] for row in rows(Project())] == []
    assert write_csv(Project()).count(b"\r\n") == 1


def test_a_pair_is_cut_twice_and_once_of_it_mirrored():
    front, collar = rows(full_project())
    assert (collar["count"], collar["mirrored"], collar["on_fold"]) == ("2", "1", "no")
    assert (front["count"], front["mirrored"], front["on_fold"]) == ("2", "0", "yes")


def test_a_piece_on_the_fold_is_measured_unfolded():
    (row,) = rows(small.fold_front(100, 200))
    assert (row["width_mm"], row["height_mm"], row["area_mm2"]) == ("200.0", "200.0", "40000")


def test_the_sheet_is_named_with_its_colour():
    front, collar = rows(full_project())
    assert (front["sheet"], front["colour"]) == ("Red", "#a01030")
    assert (collar["sheet"], collar["colour"]) == ("", "")


def test_a_name_with_commas_quotes_and_line_breaks_stays_one_cell():
    piece = replace(small.rectangle("p", 10, 10), name='a, "b"\nc')
    assert rows(small.new_project(piece))[0]["name"] == 'a, "b" c'


def lines_of(data, pen):
    """(n, 2) units of each line that a pen draws."""
    part = re.search(rf"SP{pen};(.*?)(?=SP\d;)", data.decode("ascii"), re.DOTALL)[1]
    found = re.findall(r"PU([\d,-]+);PD([\d,-]+);", part)
    return [np.array(f"{up},{down}".split(","), dtype=int).reshape(-1, 2) for up, down in found]


def test_a_plotter_gets_40_units_to_the_millimetre_from_the_lower_left():
    # HP PCL/PJL Reference, Technical Reference Manual Part II, table 17-7.
    (line,) = lines_of(write_plt(small.square(100)), pen=1)
    assert line.tolist() == [[0, 0], [4000, 0], [4000, 4000], [0, 4000], [0, 0]]


def test_a_plotters_line_is_within_a_unit_of_the_curve():
    (line,) = lines_of(write_plt(small.disc(50)), pen=1)
    radii = np.hypot(*(line - 2000).T)
    middles = np.hypot(*((line[1:] + line[:-1]) / 2 - 2000).T)
    assert np.abs(radii - 2000).max() < 1.5
    assert np.abs(middles - 2000).max() < 1.5


def test_all_that_is_drawn_comes_before_the_first_cut():
    text = write_plt(full_project()).decode("ascii")
    assert text.startswith("IN;")
    assert text.index("LB") < text.index("SP1;") < text.index("SP0;")


def test_a_hole_is_cut_as_a_circle():
    hole = Hole(id="h", at=Spot("p.e1", 40.0), inset_mm=6.0, diameter_mm=3.0)
    project = replace(small.square(100), holes=Table({"h": hole}))
    assert b"PU1600,240;CI60," in write_plt(project)


def test_letters_that_a_plotter_does_not_know_do_no_harm():
    piece = replace(small.rectangle("p", 100, 100), name="d\u00edl\x03;PU0,0;")
    text = write_plt(small.new_project(piece)).decode("ascii")
    assert "LBd?l;PU0,0;\x03;" in text


def test_a_project_without_pieces_gives_no_plotter_file():
    with pytest.raises(FileRefused, match="no pieces"):
        write_plt(Project())
