"""Where laps meet in a corner of the garment: three layers at most lie on each other."""

from __future__ import annotations

import math
from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from tests import small
from wedgework.geometry.flatten import flattened
from wedgework.pattern.changes import new_project
from wedgework.pattern.cutlines import cut_outline
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.layers import SQUARE_RAD, corner_cuts, laps_round
from wedgework.pattern.lookup import the_edge

NOTHING_MM2 = 1e-3


def layers(project: Project) -> int:
    """How many pieces of a garment that lies flat, drawn in place, cover one spot at most."""
    cut = [region(project, piece) for piece in project.pieces.values()]
    for count in range(len(cut), 1, -1):
        if any(common(parts).area > NOTHING_MM2 for parts in combinations(cut, count)):
            return count
    return 1


def common(parts: tuple[Polygon, ...]) -> Polygon:
    left = parts[0]
    for part in parts[1:]:
        left = left.intersection(part)
    return left


def region(project: Project, piece: Piece) -> Polygon:
    (ring,) = cut_outline(project, piece)
    found = Polygon(np.concatenate([flattened(stretch.curve, 0.01) for stretch in ring]))
    assert found.is_valid
    return found


def crossing(over: str) -> Project:
    """Four squares that meet in (0, 0): A and B below, C and D above; over sides of ab cd ac bd."""
    corners = {"A": (-100, -100), "B": (0, -100), "C": (-100, 0), "D": (0, 0)}
    pieces = [small.rectangle(name, 100, 100, x, y) for name, (x, y) in corners.items()]
    runs = [("A.e2", "-B.e4"), ("C.e2", "-D.e4"), ("A.e3", "-C.e1"), ("B.e3", "-D.e1")]
    seams = [
        small.seam(f"s{i}", *run, over=side)
        for i, (run, side) in enumerate(zip(runs, over, strict=True))
    ]
    return new_project(*pieces, seams=seams)


def star(turns_rad: list[float], over: str) -> Project:
    """Pieces that meet in (0, 0), each filling a turn, each joined to the next."""
    bounds = np.concatenate([[0.0], np.cumsum(turns_rad)])
    ends = [(100 * math.cos(at), 100 * math.sin(at)) for at in bounds]
    count = len(turns_rad)
    pieces = [small.piece_of_points(f"p{i}", (0, 0), ends[i], ends[i + 1]) for i in range(count)]
    seams = [
        small.seam(f"s{i}", f"-p{i}.e3", f"p{(i + 1) % count}.e1", over=over[i])
        for i in range(count)
    ]
    return new_project(*pieces, seams=seams)


@pytest.mark.parametrize("over", ["".join(sides) for sides in product("ab", repeat=4)])
def test_never_more_than_three_layers_where_four_pieces_meet(over):
    assert layers(crossing(over)) <= 3


@settings(max_examples=40)
@given(
    shares=st.lists(st.floats(1.0, 2.0), min_size=3, max_size=8),
    over=st.lists(st.sampled_from("ab"), min_size=8, max_size=8),
)
def test_never_more_than_three_layers_however_many_pieces_meet_in_any_angles(shares, over):
    turns = [share * 2 * math.pi / sum(shares) for share in shares]
    # Half a turn leaves a piece without area; next to square, laps end square by intention.
    assume(all(turn < math.radians(175) for turn in turns))
    assume(all(not 0 < math.pi / 2 - turn <= SQUARE_RAD for turn in turns))
    assert layers(star(turns, "".join(over))) <= 3


def test_a_piece_that_is_a_spike_over_a_lap_leaves_it_square():
    project = star([math.pi / 2, math.pi / 2, math.pi], "aaa")
    slants = [
        one for piece in project.pieces.values() for one in corner_cuts(project, piece).slants
    ]
    assert slants
    assert all(one.angle_rad > SQUARE_RAD for one in slants)


def test_the_corner_of_two_laps_is_cut_off_back_to_the_seam_line():
    project = crossing("aaaa")
    assert corner_cuts(project, project.pieces["D"]).bare == {"D.c1"}
    assert region(project, project.pieces["D"]).area == pytest.approx(100 * 100 + 2 * 100 * 8)


def test_a_corner_where_two_laps_meet_is_left_whole():
    project = small.two_panels()
    assert corner_cuts(project, project.pieces["b"]).bare == frozenset()


def test_a_seam_that_runs_out_on_another_makes_three_laps():
    yoke = small.rectangle("yoke", 200, 60, y=100)
    left, right = small.rectangle("left", 100, 100), small.rectangle("right", 100, 100, x=100)
    seams = [
        small.seam("across", "yoke.e1", "-left.e3 -right.e3"),
        small.seam("down", "left.e2", "-right.e4"),
    ]
    project = new_project(yoke, left, right, seams=seams)
    assert laps_round(project, the_edge(project, "right.e4")) == 3
    assert corner_cuts(project, project.pieces["right"]).bare == {"right.c4"}
    assert layers(project) == 2


def test_butted_seams_have_no_laps_to_cut_off():
    project = crossing("aaaa")
    butted = [small.seam(s.id, " ".join(map(str, s.a)), " ".join(map(str, s.b)), join="butted")
              for s in project.seams.values()]  # fmt: skip
    project = new_project(*project.pieces.values(), seams=butted)
    assert all(not any(corner_cuts(project, piece)) for piece in project.pieces.values())
    assert layers(project) == 1


def test_a_lap_that_runs_out_at_an_opening_stays_below_the_piece_above():
    above = small.piece_of_points("a", (0, 0), (100, 0), (60, 100), (0, 100))
    below = small.piece_of_points("b", (100, 0), (200, 0), (200, 100), (60, 100))
    project = new_project(above, below, seams=[small.seam("s", "a.e2", "-b.e4")])
    (slant,) = corner_cuts(project, below).slants
    assert (slant.edge, slant.at_start) == ("b.e4", False)
    assert math.degrees(slant.angle_rad) == pytest.approx(math.degrees(math.atan2(100, 40)))
    covered = region(project, above).union(Polygon([(100, 0), (200, 0), (200, 100), (60, 100)]))
    outside = region(project, below).difference(covered.buffer(1e-6))
    # At the upper end the piece above is blunt, and a square end stays below it.
    assert outside.area < 1e-3
