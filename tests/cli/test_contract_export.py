"""Drawings out by command alone, read back by other libraries; refusals; the same bytes twice."""

from __future__ import annotations

import json
import re
import stat
from xml.etree import ElementTree

import pytest
import svgelements
from pypdf import PdfReader
from shapely.geometry import Polygon

from tests.cli.making import Maker, box, ring
from tests.cli.program import names_in

SVG = "{http://www.w3.org/2000/svg}"
LENS = '<path id="a" d="M0,0 L200,0 C230,-60 230,-110 200,-170 L0,-170 C30,-110 -20,-60 0,0 Z"/>'
RENAME = {"edit": "rename", "id": "a", "name": "front"}
POINT_MM = 25.4 / 72


@pytest.fixture
def maker(tmp_path, capsys):
    return Maker(tmp_path, capsys)


def drawn(path, piece: str, kind: str) -> list[Polygon]:
    """What stands in the drawing as one class of a piece, y up, as polygons."""
    root = ElementTree.parse(path).getroot()  # noqa: S314 - our own file
    (group,) = [g for g in root.iter(f"{SVG}g") if g.get("id") == piece]
    marked = [p for p in group.iter(f"{SVG}path") if kind in (p.get("class") or "").split()]
    return [polygon(p.get("d")) for p in marked]


def polygon(d: str) -> Polygon:
    points = []
    for part in svgelements.Path(d):
        if not isinstance(part, svgelements.Move):
            bent = isinstance(part, svgelements.CubicBezier)
            points += [part.point(t / 60) for t in range(60)] if bent else [part.start]
    return Polygon([(p.x, -p.y) for p in points])


def far(first: Polygon, second: Polygon) -> float:
    return first.exterior.hausdorff_distance(second.exterior)


# SVG


def test_the_page_is_true_in_size(maker):
    out = maker.new(LENS).export("out.svg")
    root = ElementTree.parse(out).getroot()  # noqa: S314 - our own file
    width, height = (re.fullmatch(r"([\d.]+)mm", root.get(k))[1] for k in ("width", "height"))
    box_words = root.get("viewBox").split()
    assert [float(width), float(height)] == pytest.approx([float(w) for w in box_words[2:]])


@pytest.mark.parametrize("mm", [5.0, 12.5])
def test_the_cut_line_is_the_mitred_buffer_of_the_seam_line(maker, mm):
    maker.new(ring("a", (0, 0), (200, 0), (170, 90), (120, 80), (100, 170), (0, 150)))
    names = list(maker.edges())
    maker.edit({"edit": "set_allowance", "edges": names, "mm": mm})
    out = maker.export("out.svg")
    (seam,), (cut,) = drawn(out, "a", "seam"), drawn(out, "a", "cut")
    wanted = seam.buffer(mm, join_style="mitre", mitre_limit=10)
    assert far(cut, wanted) < 0.02
    assert [e["allowance_mm"] for e in maker.edges().values()] == [mm] * 6


def test_the_cut_line_follows_a_curve(maker):
    maker.new('<circle id="d" cx="100" cy="-100" r="50"/>')
    maker.edit({"edit": "set_allowance", "edges": ["d.e1"], "mm": 10})
    (cut,) = drawn(maker.export("out.svg"), "d", "cut")
    (seam,) = drawn(maker.folder / "out.svg", "d", "seam")
    assert far(cut, seam.buffer(10, quad_segs=90)) < 0.05


def test_the_lap_stands_on_the_under_side_alone(maker):
    maker.new(box("a", 0, 0, 100, 170), box("b", 120, 0, 80, 170))
    seam = maker.join(["a.e2"], ["-b.e4"])
    areas = {}
    for words in ({}, {"over": "b"}, {"lap_mm": 12}, {"join": "butted"}):
        if words:
            maker.edit({"edit": "set_seam", "seam": seam, **words})
        out = maker.export("out.svg")
        areas[str(words)] = [drawn(out, name, "cut")[0].area for name in "ab"]
    a, b = 100 * 170, 80 * 170
    laps = [[a, b + 8 * 170], [a + 8 * 170, b], [a + 12 * 170, b], [a, b]]
    assert list(areas.values()) == [pytest.approx(lap, abs=1e-3) for lap in laps]


def test_a_negative_allowance_is_refused(maker):
    maker.new(LENS)
    maker.refused({"edit": "set_allowance", "edges": ["a.e1"], "mm": -1})


def test_a_drawing_comes_back_with_its_ids_and_seam_lines(maker):
    line, text = '<path d="M20,-20 L40,-110"/>', '<text x="120" y="-100">Front &amp; side</text>'
    maker.new(LENS, box("b", 300, 0, 80, 180), box("hole", 60, 60, 30, 30), line, text)
    maker.join(["a.e2"], ["-b.e4"])
    maker.edit({"edit": "add_notches", "edge": "a.e1", "at_mm": [30]},
               {"edit": "set_allowance", "edges": ["a.e1"], "mm": 10},
               {"edit": "split_edge", "edge": "a.e3", "at_mm": 50})  # fmt: skip
    out = maker.export("out.svg")
    back = maker.folder / "back.wedge"
    assert maker.run("new", back, "--from", out).code == 0
    before, after = maker.info(), maker.run("info", back, "--json").json
    assert [p["id"] for p in after["pieces"]] == [p["id"] for p in before["pieces"]]
    shift = None
    for was, now in zip(before["pieces"], after["pieces"], strict=True):
        assert now["area_mm2"] == pytest.approx(was["area_mm2"], abs=0.5)
        assert now["labels"] == was["labels"]
        assert [(n["id"], n["edge"]) for n in now["notches"]] == [
            (n["id"], n["edge"]) for n in was["notches"]
        ]
        for key in ("cutouts", "lines"):
            assert len(now[key]) == len(was[key])
        for one, two in zip(was["edges"], now["edges"], strict=True):
            assert one["id"] == two["id"]
            assert two["length_mm"] == pytest.approx(one["length_mm"], abs=0.01)
            assert two["allowance_mm"] == one["allowance_mm"]
            step = [two["start_mm"][k] - one["start_mm"][k] for k in (0, 1)]
            shift = shift or step
            assert step == pytest.approx(shift, abs=0.01)


# PDF


def paper_mm(page) -> list[float]:
    return [float(side) * POINT_MM for side in (page.mediabox.width, page.mediabox.height)]


@pytest.mark.parametrize(
    ("paper", "size"),
    [("A4", (210, 297)), ("A3", (297, 420)), ("Letter", (215.9, 279.4)), ("300x500", (300, 500))],
)
def test_pages_are_of_the_paper_asked_for(maker, paper, size):
    maker.new(box("a", 0, 0, 400, 500))
    out = maker.export("out.pdf", "--paper", paper)
    pages = PdfReader(out).pages
    assert len(pages) > 1
    for page in pages:
        sides = sorted(paper_mm(page))
        assert sides == pytest.approx(sorted(size), abs=0.01)
        assert page.get("/UserUnit", 1) == 1


def test_a_roll_is_one_page(maker):
    maker.new(box("a", 0, 0, 400, 500))
    (page,) = PdfReader(maker.export("out.pdf", "--paper", "roll:600")).pages
    sides = paper_mm(page)
    assert min(abs(side - 600) for side in sides) < 0.01
    assert max(sides) >= 500


def test_a_square_of_50_mm_stands_on_the_paper(maker):
    maker.new(box("a", 0, 0, 100, 130))
    pages = PdfReader(maker.export("out.pdf", "--paper", "A4")).pages
    found = [sorted(span) for page in pages for span in spans(page)]
    assert any(span == pytest.approx([50, 50], abs=1e-3) for span in found)
    assert any(span == pytest.approx([100, 130], abs=1e-3) for span in found)


def spans(page) -> list[tuple[float, float]]:
    """Width and height in mm of every path of a page, however deep its frames are."""
    paths, now = [], []

    def seen(op, args, cm, _tm):
        name = op.decode()
        values = [float(v) for v in args] if name in ("m", "l", "c", "re") else []
        if name == "re":
            x, y, w, h = values
            values = [x, y, x + w, y + h]
        for x, y in zip(values[::2], values[1::2], strict=True):
            now.append((cm[0] * x + cm[2] * y + cm[4], cm[1] * x + cm[3] * y + cm[5]))
        if name in ("S", "s", "f", "B", "b", "n", "f*", "B*") and now:
            xs, ys = zip(*now, strict=True)
            paths.append(((max(xs) - min(xs)) * POINT_MM, (max(ys) - min(ys)) * POINT_MM))
            now.clear()

    page.extract_text(visitor_operand_before=seen)
    return paths


# Refusals


REFUSED = [
    {"edit": "nonsense"},
    {"edit": "rename", "id": "a"},
    {"edit": "rename", "id": "a", "name": "b", "more": 1},
    {"edit": "rename", "id": "a", "name": 3},
    {"edit": "rename", "id": "nobody", "name": "b"},
    {"edit": "split_edge", "edge": "a.e1", "at_mm": True},
    {"edit": "split_edge", "edge": "a.e1", "at_mm": "40"},
    {"edit": "move_corner", "corner": "a.c1", "by_mm": [1]},
    {"edit": "move_corner", "corner": "a.c1", "by_mm": [1, 1e400]},
    {"edit": "join", "name": "s", "a": ["a.e1"], "b": ["a.e9"]},
    {"edit": "join", "name": "s", "a": [], "b": ["a.e1"]},
    {"edit": "join", "name": "s", "a": ["a.e1"], "b": ["-a.e1"]},
    {"edit": "join", "name": "s", "a": ["a.e1"], "b": ["~a.e1"]},
    {"edit": "set_seam", "seam": "nobody", "lap_mm": 3},
    {"edit": "shape_seam", "seam": "nobody", "intake": []},
    {"edit": "accept", "code": "seam_length", "where": ["nobody"], "reason": "x"},
    {"edit": "set_body", "measures": {"bust_girth_mm": -3}},
    {"edit": "inset_edges", "edges": ["a.e1"], "mm": 180},
    {"edit": "mirror_piece", "piece": "a", "about": "a.e2"},
    {"edit": "merge_edges", "first": "a.e1", "second": "a.e1"},
]


@pytest.mark.parametrize("edit", REFUSED, ids=lambda edit: json.dumps(edit)[:60])
def test_what_cannot_be_done_changes_nothing(maker, edit):
    maker.new(LENS)
    said = maker.refused(RENAME, edit)
    assert said.strip()
    assert maker.piece("a")["name"] == "a"


@pytest.mark.parametrize("text", ["", "{}", "[1]", '[{"edit": "rename"', "[NaN]", "null"])
def test_what_is_no_list_of_edits_is_refused(maker, text):
    maker.new(LENS)
    do = maker.folder / "edits.json"
    do.write_text(text)
    answer = maker.run("edit", maker.file, "--do", do, "--save", maker.folder / "out.wedge")
    assert answer.is_told_as_it_should_be
    assert not (maker.folder / "out.wedge").exists()


def newer(maker) -> None:
    told = json.loads(maker.file.read_bytes())
    (key,) = [name for name in told if "version" in name or name == "wedgework"]
    told[key] = 999
    (maker.folder / "newer.wedge").write_text(json.dumps(told))


def test_a_newer_file_is_neither_read_nor_written_over(maker):
    maker.new(LENS)
    newer(maker)
    target = maker.folder / "newer.wedge"
    before = target.read_bytes()
    do = maker.folder / "edits.json"
    do.write_text(json.dumps([RENAME]))
    for words in (
        ["info", target], ["check", target], ["export", target, maker.folder / "out.svg"],
        ["edit", target, "--do", do, "--save", maker.folder / "other.wedge"],
        ["edit", maker.file, "--do", do, "--save", target],
        ["new", target, "--from", maker.folder / "drawing.svg"],
    ):  # fmt: skip
        assert maker.run(*words).is_told_as_it_should_be
    assert target.read_bytes() == before
    assert not (maker.folder / "out.svg").exists()
    assert not (maker.folder / "other.wedge").exists()


def test_saving_onto_the_input_keeps_its_mode(maker):
    maker.new(LENS)
    maker.file.chmod(0o600)
    maker.edit(RENAME)
    assert stat.S_IMODE(maker.file.stat().st_mode) == 0o600
    assert names_in(maker.folder) == ["drawing.svg", "edits.json", "work.wedge"]


def test_an_export_that_fails_leaves_what_was_there(maker):
    maker.new(LENS)
    out = maker.folder / "out.pdf"
    out.write_text("mine")
    assert maker.run("export", maker.file, out, "--paper", "3x3").is_told_as_it_should_be
    assert maker.run("export", maker.file, maker.folder / "no" / "out.svg").is_told_as_it_should_be
    assert out.read_text() == "mine"


def test_the_same_work_gives_the_same_bytes(maker):
    shots = []
    for _ in range(2):
        maker.new(LENS, box("b", 300, 0, 80, 180))
        seam = maker.join(["a.e2"], ["-b.e4"])
        stations = [{"at_mm": d, "width_mm": w} for d, w in ((0, 0), (60, 9), (150, 0))]
        cut = {"edit": "cut_piece", "piece": "b", "from": {"edge": "b.e1", "at_mm": 30}}
        maker.edit({"edit": "shape_seam", "seam": seam, "intake": stations},
                   {**cut, "to": {"edge": "b.e3", "at_mm": 40}, "via_mm": [[340, 80]]})  # fmt: skip
        outs = [maker.export("out.svg"), maker.export("out.pdf")]
        told = [maker.run(word, maker.file, "--json").out for word in ("info", "check")]
        shots.append((maker.file.read_bytes(), *(out.read_bytes() for out in outs), *told))
    assert shots[0] == shots[1]
