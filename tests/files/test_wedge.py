"""The project file: everything comes back to the last bit, and nothing unsound gets in."""

from __future__ import annotations

import json
from contextlib import suppress
from dataclasses import fields, is_dataclass, replace
from pathlib import Path

import jsonschema
import msgspec
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests import small
from tests.files.full import as_of, full_project, sheet
from wedgework.files import wedge_rows
from wedgework.files.wedge import migrated, read_wedge, refuse_newer_target, write_wedge
from wedgework.files.wedge_rows import wedge_schema
from wedgework.geometry.curve import Curve
from wedgework.pattern import document
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Edge, Piece, Pin, Project
from wedgework.pattern.errors import FileRefused
from wedgework.pattern.table import Table
from wedgework.resources import demo_names, demo_path, resource_path

OLD = Path(__file__).parent / "old"


def plain(value):
    """The whole of a document's value as plain data, floats by their bits."""
    if isinstance(value, Table):
        return {key: plain(row) for key, row in value.items()}
    if is_dataclass(value):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, np.ndarray):
        return value.tobytes()
    if isinstance(value, tuple):
        return [plain(one) for one in value]
    return value


def file_of(project=None):
    return json.loads(write_wedge(project or full_project()))


def read(plain_file):
    return read_wedge(json.dumps(plain_file).encode())


def refusal(plain_file):
    with pytest.raises(FileRefused) as refused:
        read(plain_file)
    return refused.value.sentence


def test_rubber_is_not_said_in_a_file_and_every_other_material_is():
    project = full_project()
    (red,) = project.sheets.values()
    assert "material" not in file_of(project)["sheets"][0]
    hide = replace(project, sheets=Table({red.id: replace(red, material="leather")}))
    assert file_of(hide)["sheets"][0]["material"] == "leather"
    assert read(file_of(hide)).sheets[red.id].material == "leather"
    assert read(file_of(project)).sheets[red.id].material == "rubber"


def test_everything_comes_back_to_the_last_bit():
    project = full_project()
    assert plain(read_wedge(write_wedge(project))) == plain(project)


def test_an_empty_project_comes_back():
    assert plain(read_wedge(write_wedge(Project()))) == plain(Project())


def test_no_field_of_the_document_is_forgotten_in_the_file():
    rows = [name for name in vars(wedge_rows) if name.endswith("Row") and name[0] != "_"]
    pairs = [(name, name.removesuffix("Row")) for name in rows] + [("WedgeFile", "Project")]
    for row, kind in pairs:
        kept = set(getattr(wedge_rows, row).__struct_fields__)
        said = {field.name for field in fields(getattr(document, kind))}
        # An edge's curve is the points of its row; owners follow from the pieces.
        said = {"points" if name == "curve" else name for name in said} - {"owners"}
        assert said == kept - {"format", "version"}


@given(
    st.lists(
        st.tuples(*[st.floats(-1e8, 1e8)] * 2), min_size=6, max_size=6
    )
)  # fmt: skip
def test_any_curve_comes_back_bit_for_bit_and_neighbours_share_their_corner(points):
    chain = np.array(points)
    there = np.stack([chain[:4], chain[[3, 4, 5, 0]]])
    edges = tuple(
        Edge(id=f"e{i}", name="", curve=Curve(cubic[None]), corner=f"c{i}")
        for i, cubic in enumerate(there)
    )
    back = read_wedge(write_wedge(new_project(Piece(id="p", name="", edges=edges))))
    first, second = (edge.curve.segments for edge in back.pieces["p"].edges)
    assert (first.tobytes(), second.tobytes()) == tuple(cubic.tobytes() for cubic in there)
    assert first[-1, 3].tobytes() == second[0, 0].tobytes()


def test_curves_that_were_read_are_read_only():
    edge = read_wedge(write_wedge(full_project())).pieces["front"].edges[0]
    with pytest.raises(ValueError, match="read-only"):
        edge.curve.segments[0, 0, 0] = 1.0


def test_like_projects_make_like_bytes_with_a_line_for_each_piece():
    data = write_wedge(full_project())
    assert data == write_wedge(read_wedge(data))
    assert sum(line.startswith(b'{"id":"') for line in data.splitlines()) == 14


def test_a_file_that_an_editor_laid_out_again_and_marked_with_a_bom_is_read():
    laid_out = b"\xef\xbb\xbf" + json.dumps(file_of(), indent=4).encode()
    assert write_wedge(read_wedge(laid_out)) == write_wedge(full_project())


def test_the_published_schema_is_current():
    published = json.loads(resource_path("wedge.schema.json").read_bytes())
    assert published == json.loads(msgspec.json.encode(wedge_schema()))


@pytest.mark.parametrize("name", [name for name in demo_names() if name.endswith(".wedge")])
def test_the_schema_holds_for_the_demos(name):
    jsonschema.validate(json.loads(demo_path(name).read_bytes()), wedge_schema())


def test_the_schema_holds_for_a_full_file_and_not_for_a_broken_one():
    file = file_of()
    jsonschema.validate(file, wedge_schema())
    file["pieces"][0]["edges"][0]["id"] = "-e1"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(file, wedge_schema())


@pytest.mark.parametrize("path", sorted(OLD.glob("*.wedge")), ids=lambda path: path.name)
def test_every_version_ever_released_is_read(path):
    version = int(path.stem.removeprefix("version_"))
    assert plain(read_wedge(path.read_bytes())) == plain(as_of(version))


def test_an_older_version_is_brought_up_step_by_step():
    steps = {0: lambda data: data | {"a": 1}, 1: lambda data: data | {"b": data["a"] + 1}}
    assert migrated({}, 0, steps) == {"a": 1, "b": 2}


def test_a_version_that_never_was_is_refused():
    assert "never was" in refusal(file_of() | {"version": 0})


def test_a_newer_version_is_refused_with_a_sentence():
    newer = {"format": "wedgework", "version": 3, "pieces": {"by": "id"}}
    assert "newer version" in refusal(newer)


@pytest.mark.parametrize(
    "data",
    [
        b'{\n"format": "wedgework",\n"version": 3,\n"pieces": []\n}',
        b'\xef\xbb\xbf{"format": "wedgework", "version": 3, "pie',
        b'{"accepted": [], "format": "wedgework", "pieces": [], "version": 12}',
    ],
)
def test_a_newer_file_is_no_target_even_if_broken_or_laid_out_anew(tmp_path, data):
    target = tmp_path / "suit.wedge"
    target.write_bytes(data)
    with pytest.raises(FileRefused, match="newer"):
        refuse_newer_target(target)


def test_what_is_no_newer_file_may_be_written_over(tmp_path):
    target = tmp_path / "suit.wedge"
    refuse_newer_target(target)
    for data in (write_wedge(full_project()), b"", b"[" * 10_000, b"\xff", b'{"version": 9}'):
        target.write_bytes(data)
        refuse_newer_target(target)
    assert target.exists()


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "readable as JSON"),
        (b"PK\x03\x04", "readable as JSON"),
        (b'{"format": "wedgework", "version": 2', "readable as JSON"),
        (b'{"format": "wedgework", "version": 2, "name": "\xff"}', "readable as JSON"),
        (b'{"format": "wedgework", "version": 2, "name": "\\ud800"}', "readable as JSON"),
        (b'{"format": "wedgework", "version": 2, "body": {"a": NaN}}', "readable as JSON"),
        (b'{"format": "wedgework", "version": 2, "body": {"a": 1e999}}', "body"),
        (b"[]", "no Wedgework project"),
        (b'{"version": 1}', "no Wedgework project"),
        (b'{"format": "other", "version": 1}', "no Wedgework project"),
        (b'{"format": "wedgework", "version": 2, "more": 1}', "“more”"),
        (b'{"format": "wedgework", "version": 0, "more":' + b"[" * 100_000, "too deep"),
        (b'{"format": "wedgework", "version": 2, "name": "a", "name": "b"}', "“name” twice"),
    ],
)
def test_what_is_no_project_is_refused_with_a_sentence(data, why):
    with pytest.raises(FileRefused, match=why):
        read_wedge(data)


def change(path, value):
    """A change of a full file: `pieces.0.edges.1.id` and what is put there."""

    def apply(file):
        *way, last = [int(key) if key.isdecimal() else key for key in path.split(".")]
        at = file
        for key in way:
            at = at[key]
        at[last] = value

    return apply


@pytest.mark.parametrize(
    ("path", "value", "why"),
    [
        ("pieces.0.edges.1.id", "front.e1", "“front.e1” stands twice"),
        ("seams.0.id", "front", "“front” stands twice"),
        ("pieces.1.id", "~collar", "“~collar” is no id"),
        ("pieces.1.edges.0.id", "", "is no id"),
        ("pieces.1.edges.0.points", [0.0] * 8, "does not start where"),
        ("pieces.1.edges.0.points", [0.0] * 10, "has 10 numbers"),
        ("pieces.1.edges.0.points", [0.0, 0.0], "points: .*8"),
        ("pieces.1.edges.0.points.1", 1e300, "“collar.e1” lies too far"),
        ("pieces.1.edges.0.points.1", "7", r"pieces\[1\].edges\[0\].points\[1\]"),
        ("pieces.1.edges", [], "edges"),
        ("pieces.0.labels.0.at_mm", [1e300, 0.0], "“t1” lies too far"),
        ("pieces.1.quantity", 0, "quantity"),
        ("pieces.0.fold_edge", "collar.e1", "does not have"),
        ("pieces.0.cutting", "single", "fold edge"),
        ("pieces.0.cutting", "triple", "triple"),
        ("pieces.0.sheet", "blue", "sheet “blue”"),
        ("pieces.0.lines.0.level", "knee", "level “knee”"),
        ("seams.0.a", ["lost"], "“lost”"),
        ("seams.0.a", [], r"seams\[0\].a"),
        ("seams.1.apex", "lost", "corner “lost”"),
        ("notches.0.at.edge", "lost", "“n1” names an edge “lost”"),
        ("holes.0.mate.edge", "bust@front", "edge “bust@front”"),
        ("body.bust_girth_mm", None, "body"),
    ],
)
def test_an_unsound_file_is_refused_and_says_where(path, value, why):
    file = file_of()
    change(path, value)(file)
    with pytest.raises(FileRefused, match=why):
        read(file)


def test_what_could_not_be_read_again_is_not_written():
    endless = replace(full_project(), body=Table({"bust_girth_mm": float("nan")}))
    with pytest.raises(FileRefused, match="body"):
        write_wedge(endless)
    lost = replace(full_project(), sheets=Table())
    with pytest.raises(FileRefused, match="sheet “red”"):
        write_wedge(lost)
    with pytest.raises(FileRefused, match="characters"):
        write_wedge(replace(Project(), name="\ud800"))


def test_a_number_out_of_an_array_is_saved_like_any_other():
    project = replace(Project(), body=Table({"waist_girth_mm": np.float64(711.2)}))
    assert read_wedge(write_wedge(project)).body["waist_girth_mm"] == 711.2


def test_the_word_null_in_a_text_is_no_number():
    named = replace(Project(), name="null", sheets=Table({"red": replace(sheet(), name=":null,")}))
    assert read_wedge(write_wedge(named)).sheets["red"].name == ":null,"


@given(st.binary(max_size=200), st.integers(0, 5000), st.integers(0, 200))
def test_any_damage_is_refused_by_our_own_error_or_gives_a_project(junk, at, cut):
    data = write_wedge(full_project())
    damaged = data[:at] + junk + data[at + cut :]
    with suppress(FileRefused):
        assert isinstance(read_wedge(damaged), Project)


def test_a_pin_on_the_bare_table_is_kept_and_one_beyond_every_table_is_refused():
    pin = Pin(id="p1", name="", kind="distance", anchors=("p.c1", (3.0, -7.5)))
    data = write_wedge(replace(small.square(), pins=Table({"p1": pin})))
    assert read_wedge(data).pins["p1"].anchors == ("p.c1", (3.0, -7.5))
    with pytest.raises(FileRefused, match="too far away"):
        read_wedge(data.replace(b"-7.5", b"1e300"))
