"""SVG out, read with the standard library alone."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest

from tests import small
from tests.files.full import full_project
from wedgework.files.svg_out import write_svg
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused

NAMESPACE = "{http://www.w3.org/2000/svg}"


def root_of(project):
    return ElementTree.fromstring(write_svg(project))  # noqa: S314 - our own file


def of_class(root, kind):
    return [one for one in root.iter() if one.get("class") == kind]


def cubics(path):
    """(n, 4, 2) of a path of M, L, C and Z, as written."""
    found, at = [], None
    for letter, numbers in re.findall(r"([MLCZ])([^MLCZ]*)", path.get("d")):
        points = np.array(numbers.split(), dtype=float).reshape(-1, 2)
        if letter == "M":
            at = points[0]
        elif letter == "L":
            found.append([at, *(at + np.outer([1 / 3, 2 / 3], points[0] - at)), points[0]])
        elif letter == "C":
            found.append([at, *points])
        at = points[-1] if len(points) else at
    return np.array(found)


def test_width_height_and_viewbox_say_the_same_millimetres():
    root = root_of(small.square(100))
    assert (root.get("width"), root.get("height")) == ("120mm", "120mm")
    assert root.get("viewBox") == "0 0 120 120"


def test_a_piece_is_a_group_with_its_id_and_children_of_known_classes():
    root = root_of(full_project())
    groups = root.findall(f"{NAMESPACE}g")
    assert [one.get("id") for one in groups] == ["front", "collar"]
    classes = {child.get("class") for group in groups for child in group}
    assert classes == {"cut", "seam", "internal", "mark", "label"}


def test_no_id_stands_twice():
    ids = [one.get("id") for one in root_of(full_project()).iter() if one.get("id")]
    assert len(ids) == len(set(ids))
    assert {"front", "eye", "bust@front", "t1", "collar"} == set(ids)


@pytest.mark.parametrize(
    "project", [small.curved_square(), small.disc(), small.with_everything(), full_project()]
)
def test_a_seam_line_is_its_edges_one_after_the_other_up_to_one_shift(project):
    root = root_of(project)
    top = float(root.get("height").removesuffix("mm"))
    shifts = []
    for group in of_class(root, "piece"):
        piece = project.pieces[group.get("id")]
        outline = next(one for one in of_class(group, "seam") if not one.get("id"))
        there = np.concatenate([edge.curve.segments for edge in piece.edges])
        here = cubics(outline) * [1, -1] + [0, top]
        shifts.append((here - there).reshape(-1, 2))
        counts = [int(count) for count in outline.get("data-cubics").split()]
        assert counts == [len(edge.curve) for edge in piece.edges]
        assert outline.get("data-edges").split() == [edge.id for edge in piece.edges]
    spread = np.ptp(np.concatenate(shifts), axis=0)
    assert (spread < 1e-8).all()


def test_closed_lines_end_bit_for_bit_where_they_start():
    for path in of_class(root_of(small.disc(33.3)), "seam"):
        there = cubics(path)
        assert there[0, 0].tolist() == there[-1, 3].tolist()


def test_lengths_survive_to_the_promise_of_the_contract():
    project = small.curved_square()
    (path,) = of_class(root_of(project), "seam")
    for cubic, edge in zip(cubics(path), project.pieces["p"].edges, strict=True):
        curve = type(edge.curve)(cubic[None])
        assert length_mm(curve) == pytest.approx(length_mm(edge.curve), abs=1e-6)


def test_the_same_project_gives_the_same_bytes():
    assert write_svg(full_project()) == write_svg(full_project())


def test_odd_characters_stay_text():
    project = small.square()
    piece = replace(project.pieces["p"], name='<a href="x">&\x07')
    project = replace(project, name="\ud800", pieces=project.pieces.with_rows({"p": piece}))
    (group,) = of_class(root_of(project), "piece")
    assert group.get("data-name") == '<a href="x">&\N{REPLACEMENT CHARACTER}'


def test_turned_words_are_turned_the_other_way_with_y_down():
    label = next(one for one in root_of(full_project()).iter() if one.get("id") == "t1")
    turn = re.match(r"rotate\((\S+) ", label.get("transform"))
    assert float(turn[1]) == pytest.approx(-math.degrees(0.3))


def test_what_is_derived_says_so():
    root = root_of(full_project())
    assert all(one.get("data-derived") == "1" for one in of_class(root, "cut"))
    assert [one.text for one in of_class(root, "label") if not one.get("data-derived")] == [
        "This way up"
    ]


def test_nothing_to_draw_is_refused():
    with pytest.raises(FileRefused, match="no pieces"):
        write_svg(Project())


def test_the_drawing_is_line_by_line_the_one_that_was_looked_at():
    # Derived lines are left out: where words find room is for shapely's version to say.
    kept = Path(__file__).parent / "golden" / "full.svg"
    lines = [line for line in write_svg(full_project()).splitlines() if b"data-derived" not in line]
    assert lines == kept.read_bytes().splitlines()
