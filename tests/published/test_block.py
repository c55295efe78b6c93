"""The suit block, drafted for published bodies and measured again without the program's own rulers.

Outlines are sampled and measured as polygons by shapely, lengths by chords, angles by the chords
beside a corner. Bodies: ASTM D5585-11e1, table 1 (inches), sizes 00 to 20; ANSUR II public
databases (Gordon et al. 2014, NATICK/TR-15/007), women and men, 5th, 50th and 95th percentile and
mean. Worked numbers of the invented body of tests/drafting/making.py: plane geometry.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon

from tests.drafting.making import block, draft, placed
from tests.published.test_drafts import ANSUR, ANSUR_MEAN, DEMO, TABLE_IN
from wedgework.units import Unit, parse_length_mm

CHORDS = 400
BODIES = {
    **{
        f"size {size}": {
            name: parse_length_mm(row.split(",")[size], Unit.IN) for name, row in TABLE_IN.items()
        }
        for size in range(12)
    },
    **{
        f"{group} {at}": {name: row[at] for name, row in ANSUR[group].items()}
        for group in ANSUR
        for at in range(3)
    },
    **{f"mean {one}": dict(zip(ANSUR[one], ANSUR_MEAN[one], strict=True)) for one in ANSUR},
    "invented": DEMO,
}


def sampled(curve):
    t = np.linspace(0.0, 1.0, CHORDS + 1)[:, None]
    s = 1.0 - t
    rows = [
        s**3 * a + 3 * s * s * t * b + 3 * s * t * t * c + t**3 * d for a, b, c, d in curve.segments
    ]
    return np.concatenate([rows[0], *(row[1:] for row in rows[1:])])


def chord_mm(curve):
    return float(np.hypot(*np.diff(sampled(curve), axis=0).T).sum())


def edges(project):
    return {edge.id: edge for piece in project.pieces.values() for edge in piece.edges}


def outline(piece):
    return Polygon(np.concatenate([sampled(edge.curve)[:-1] for edge in piece.edges]))


def girth_mm(project, level):
    """Both halves of both pieces, cut through at the level's height by shapely."""
    total = 0.0
    for piece in project.pieces.values():
        row = next(line for line in piece.lines if line.level == level)
        y = float(row.curve.start[1])
        x0, _, x1, _ = outline(piece).bounds
        total += outline(piece).intersection(LineString([(x0 - 1, y), (x1 + 1, y)])).length
    return 2.0 * total


def corner_deg(piece, edge):
    """The angle inside a piece where an edge begins, by the chords beside it."""
    at = [one.id for one in piece.edges].index(edge)
    before, after = sampled(piece.edges[at - 1].curve), sampled(piece.edges[at].curve)
    out, back = after[1] - after[0], before[-2] - before[-1]
    return math.degrees(math.acos(out @ back / np.hypot(*out) / np.hypot(*back)))


@pytest.mark.parametrize("body", BODIES)
def test_outlines_are_simple_and_girths_close(body):
    project = placed("body_block", **BODIES[body])
    numbers = draft("body_block", **BODIES[body]).numbers
    for piece in project.pieces.values():
        assert outline(piece).is_valid
        assert outline(piece).area > 0
    for level in ("bust", "under_bust", "waist", "hip"):
        wanted = numbers[f"{level}_girth_mm"] * 0.92
        assert numbers[f"{level}_cut_mm"] == pytest.approx(wanted)
        assert girth_mm(project, level) == pytest.approx(wanted, abs=0.01)


@pytest.mark.parametrize("body", BODIES)
def test_the_torso_loop_is_as_long_as_cut_and_seams_agree(body):
    project = placed("body_block", **BODIES[body])
    numbers = draft("body_block", **BODIES[body]).numbers
    lines = [line for piece in project.pieces.values() for line in piece.lines]
    loop = sum(chord_mm(line.curve) for line in lines if line.kind == "torso loop")
    assert loop == pytest.approx(numbers["torso_loop_mm"] * 0.96, abs=0.01)
    assert loop == pytest.approx(numbers["torso_loop_cut_mm"], abs=0.01)
    by_id = edges(project)
    for seam in ("shoulder", "side", "crotch"):
        one, other = (chord_mm(by_id[f"{half}.{seam}"].curve) for half in ("front", "back"))
        assert one == pytest.approx(other, abs=0.01)


@pytest.mark.parametrize("body", BODIES)
def test_joined_corners_go_on_and_corners_on_the_fold_are_square(body):
    project = placed("body_block", **BODIES[body])
    front, back = project.pieces["front"], project.pieces["back"]
    # Each corner where a line of the joined suit goes on, by the edge that begins there: the back
    # is turned over, so its edges begin where the front's end.
    for one, other in (
        ("front.armhole", "back.side"),
        ("front.shoulder", "back.armhole"),
        ("front.neck", "back.shoulder"),
        ("front.leg", "back.crotch"),
        ("front.side", "back.leg"),
    ):
        assert corner_deg(front, one) + corner_deg(back, other) == pytest.approx(180, abs=1.0)
    for half, piece in (("front", front), ("back", back)):
        ends = ("centre", "crotch") if half == "front" else ("centre", "neck")
        for edge in ends:
            assert corner_deg(piece, f"{half}.{edge}") == pytest.approx(90, abs=0.5)


def test_the_worked_cut_sizes_of_the_invented_body():
    # 920, 780, 720, 980 x 0.92; 1560 x 0.96; 370 x 0.96; 125 x 0.96.
    numbers = draft("body_block", **DEMO).numbers
    wanted = {
        "bust_cut_mm": 846.4, "under_bust_cut_mm": 717.6, "waist_cut_mm": 662.4,
        "hip_cut_mm": 901.6, "torso_loop_cut_mm": 1497.6, "neck_edge_mm": 355.2,
        "shoulder_cut_mm": 120.0, "intake_under_bust_mm": 128.8, "intake_waist_mm": 184.0,
    }  # fmt: skip
    assert {name: numbers[name] for name in wanted} == pytest.approx(wanted)
    by_id = edges(block(**DEMO))
    neck = 2 * sum(chord_mm(by_id[f"{half}.neck"].curve) for half in ("front", "back"))
    assert neck == pytest.approx(355.2, abs=1e-3)
    assert [chord_mm(by_id[f"{half}.shoulder"].curve) for half in ("front", "back")] == (
        pytest.approx([120.0, 120.0])
    )


def test_the_parts_of_the_worked_torso_loop():
    # 420, 320, 380, 440 x 0.96, walked on front and back.
    project = block(**DEMO)
    parts = []
    for half in ("front", "back"):
        loop = next(one for one in project.pieces[half].lines if one.kind == "torso loop")
        chords = np.hypot(*np.diff([*loop.curve.segments[:, 0], loop.curve.end], axis=0).T)
        above = loop.curve.segments[:, 3, 1] > -1e-9
        parts += [chords[above].sum(), chords[~above].sum()]
    assert parts == pytest.approx([403.2, 307.2, 422.4, 364.8])


def test_the_leg_opening_of_the_block_is_its_way_on_the_body_less_a_tenth():
    # A loop of 570 that rises by 80 is 596.8 long, by 150 it is 657.5: cut at 10 % 537.1, 591.8.
    for rise_mm, edge_mm in ((80.0, 537.1), (150.0, 591.8), (220.0, 667.8)):
        by_id = edges(block(**DEMO, leg_rise_mm=rise_mm))
        drawn = sum(chord_mm(by_id[f"{half}.leg"].curve) for half in ("front", "back"))
        assert drawn == pytest.approx(edge_mm, abs=0.1)


def test_the_whole_intake_of_an_unreduced_block_of_size_8():
    # ASTM D5585-11e1, size 8: 36 1/4 - 30 in = 158.75 mm, 36 1/4 - 28 in = 209.55 mm.
    body = BODIES["size 5"] | {"girth_reduction": 0.0}
    numbers = draft("body_block", **body).numbers
    assert numbers["intake_under_bust_mm"] == pytest.approx(158.75, abs=1e-9)
    assert numbers["intake_waist_mm"] == pytest.approx(209.55, abs=1e-9)
    project = placed("body_block", **body)
    bust, under, waist = (girth_mm(project, one) for one in ("bust", "under_bust", "waist"))
    assert (bust - under, bust - waist) == pytest.approx((158.75, 209.55), abs=0.01)


@pytest.mark.parametrize("overlap_mm", [0.0, 12.7, 25.4, 50.8])
def test_the_edges_of_a_worked_collar_are_as_long_as_told(overlap_mm):
    # Laid together at the armhole's end of a shoulder of 125, front and back overlap at the neck by
    # o when one is turned by 2 asin(o / 250); a collar of 75 gets shorter outside by 75 times that.
    project = block(length_reduction=0.0, neck_reduction=0.0)
    numbers = {"neckline": ["front.neck", "back.neck"], "width_mm": 75}
    flat = draft("collar", project, **numbers)
    made = draft("collar", project, **numbers, overlap_mm=overlap_mm)
    sides = {edge.name: edge.curve for edge in made.pieces[0].edges}
    neckline = sum(chord_mm(edges(project)[one].curve) for one in numbers["neckline"])
    assert chord_mm(sides["neck"]) == pytest.approx(neckline, abs=0.01)
    assert chord_mm(sides["outer"]) == pytest.approx(made.numbers["outer_edge_mm"], abs=0.01)
    turn_rad = 2.0 * math.asin(overlap_mm / 250.0)
    open_mm = chord_mm({edge.name: edge.curve for edge in flat.pieces[0].edges}["outer"])
    assert open_mm - chord_mm(sides["outer"]) == pytest.approx(75.0 * turn_rad, abs=0.05)
