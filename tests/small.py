"""Every small project and hypothesis strategy of the tests, as plain functions."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
from hypothesis import strategies as st

from wedgework.edits.holds import HoldSeam
from wedgework.geometry.curve import Curve, line, with_ends
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import (
    Cutout,
    Edge,
    Finish,
    HoldKind,
    Hole,
    Label,
    Level,
    Line,
    Notch,
    Piece,
    Project,
    Seam,
    Spot,
    parse_ref,
)
from wedgework.pattern.table import Table


def piece_of_points(name: str, *points: tuple[float, float], bulge: float = 0.0) -> Piece:
    """A piece with straight edges `<name>.e1`.. from corner to corner, or edges that bulge.

    `bulge` is how far each edge's handles stand out, as a share of its length.
    """
    corners = [np.array(point, dtype=float) for point in points]
    edges = tuple(
        edge(
            f"{name}.e{i + 1}", f"{name}.c{i + 1}", corners[i], corners[i - len(points) + 1], bulge
        )
        for i in range(len(points))
    )
    return Piece(id=name, name=name, edges=edges)


def edge(name: str, corner: str, start: np.ndarray, end: np.ndarray, bulge: float = 0.0) -> Edge:
    """One edge; with a bulge, one cubic that stands out to the right (out of a piece)."""
    return Edge(id=name, name="", curve=bulging(start, end, bulge), corner=corner)


def bulging(start: np.ndarray, end: np.ndarray, bulge: float) -> Curve:
    """A straight curve, or one cubic with handles `bulge` of its length out to the right."""
    straight = line(start, end)
    if not bulge:
        return straight
    chord = np.asarray(end, float) - np.asarray(start, float)
    segments = straight.segments.copy()
    segments[0, 1:3] += bulge * np.array([chord[1], -chord[0]])
    return Curve(segments)


def rectangle(
    name: str, width_mm: float, height_mm: float, x: float = 0.0, y: float = 0.0
) -> Piece:
    """Counter-clockwise from its lower left: e1 lower, e2 right, e3 upper, e4 left."""
    return piece_of_points(
        name, (x, y), (x + width_mm, y), (x + width_mm, y + height_mm), (x, y + height_mm)
    )


def square(size_mm: float = 100.0) -> Project:
    """One square piece `p` with its lower left at (0, 0)."""
    return new_project(rectangle("p", size_mm, size_mm))


def curved_square(size_mm: float = 100.0, bulge: float = 0.15) -> Project:
    """One piece `p` whose four edges bulge outwards."""
    s = size_mm
    return new_project(piece_of_points("p", (0, 0), (s, 0), (s, s), (0, s), bulge=bulge))


def disc(radius_mm: float = 50.0) -> Project:
    """A round piece `p` with one edge and one corner, at (radius, 0); four cubics."""
    k = 4 / 3 * math.tan(math.pi / 8)
    quarter = np.array([[1, 0], [1, k], [k, 1], [0, 1]], dtype=float)
    turn = np.array([[0, 1], [-1, 0]], dtype=float)
    segments = [quarter]
    for _ in range(3):
        segments.append(segments[-1] @ turn)
    chain = np.array(segments) * radius_mm
    chain[1:, 0] = chain[:-1, 3]
    chain[-1, 3] = chain[0, 0]
    edges = (Edge(id="p.e1", name="", curve=Curve(chain), corner="p.c1"),)
    return new_project(Piece(id="p", name="disc", edges=edges))


def seam(name: str, a: str, b: str, **more: object) -> Seam:
    """A seam from runs written with spaces: `seam("s", "a.e2", "-b.e4")`."""
    runs = [tuple(parse_ref(text) for text in side.split()) for side in (a, b)]
    return Seam(id=name, name=name, a=runs[0], b=runs[1], **more)  # type: ignore[arg-type]


def two_panels(
    left_mm: float = 100.0, right_mm: float = 100.0, bulge: float = 0.0, *, joined: bool = True
) -> Project:
    """Pieces `a` and `b` side by side: `a.e2` (its right) meets `b.e4` (its left) in seam `s`."""
    a = piece_of_points("a", (0, 0), (100, 0), (100, left_mm), (0, left_mm), bulge=bulge)
    b = piece_of_points("b", (200, 0), (300, 0), (300, right_mm), (200, right_mm), bulge=bulge)
    return new_project(a, b, seams=[seam("s", "a.e2", "-b.e4")] if joined else [])


def ring_of_panels(count: int = 4, width_mm: float = 60.0, height_mm: float = 100.0) -> Project:
    """A tube of rectangles `p1`..: each one's right edge joined to the next one's left."""
    pieces = [rectangle(f"p{i + 1}", width_mm, height_mm, x=i * 100.0) for i in range(count)]
    seams = [seam(f"s{i + 1}", f"p{i + 1}.e2", f"-p{(i + 1) % count + 1}.e4") for i in range(count)]
    return new_project(*pieces, seams=seams)


def yoke_over_two() -> Project:
    """A `yoke` joined along its lower edge to two panels: one run over two pieces, seam `s`."""
    yoke = rectangle("yoke", 200, 60, y=200)
    left, right = rectangle("left", 100, 100), rectangle("right", 100, 100, x=150)
    return new_project(yoke, left, right, seams=[seam("s", "yoke.e1", "-left.e3 -right.e3")])


def darted_front(
    intake_mm: float = 30.0, width_mm: float = 200.0, depth_mm: float = 90.0
) -> Project:
    """A front `p` with dart `d1` in the middle of its lower side, and its side seam free.

    Legs `p.e2` (towards the apex `p.c3`) and `p.e3` (from it), equally long.
    """
    middle, half = width_mm / 2, intake_mm / 2
    front = piece_of_points(
        "p", (0, 0), (middle - half, 0), (middle, depth_mm), (middle + half, 0),
        (width_mm, 0), (width_mm, 300), (0, 300),
    )  # fmt: skip
    return new_project(front, seams=[seam("d1", "p.e2", "-p.e3", apex="p.c3")])


def fold_front(width_mm: float = 100.0, height_mm: float = 200.0) -> Project:
    """Half a front `p` cut on the fold about its left edge `p.e4`."""
    piece = rectangle("p", width_mm, height_mm)
    return new_project(
        replace(with_finish(piece, "p.e4", "fold"), cutting="fold", fold_edge="p.e4")
    )


def pair_and_fold() -> Project:
    """A front `f` on the fold and a side panel `g`, cut as a pair, joined in seam `s`."""
    front = with_finish(rectangle("f", 100, 200), "f.e4", "fold")
    side = rectangle("g", 60, 200, x=150)
    return new_project(
        replace(front, cutting="fold", fold_edge="f.e4"),
        replace(side, cutting="pair"),
        seams=[seam("s", "f.e2", "-g.e4")],
    )


def panelled_hem() -> Project:
    """A front `f` on the fold, a side panel `g` cut as a pair, a back `b` on the fold.

    Joined in `s1` (`f.e2`, `g.e4`) and `s2` (`g.e2`, `b.e4`). Their lower edges, `f.e1`, `g.e1`,
    `b.e1`, are a hem with a dent of 5 degrees and a peak of 7.
    """
    f = piece_of_points("f", (0, 0), (100, 4), (96, 200), (0, 200))
    g = piece_of_points("g", (200, 0), (260, -6), (266, 196), (206, 195))
    b = piece_of_points("b", (400, 0), (500, 3), (500, 200), (405, 199))
    return new_project(
        replace(with_finish(f, "f.e4", "fold"), cutting="fold", fold_edge="f.e4"),
        replace(g, cutting="pair"),
        replace(with_finish(b, "b.e2", "fold"), cutting="fold", fold_edge="b.e2"),
        seams=[seam("s1", "f.e2", "-g.e4"), seam("s2", "g.e2", "-b.e4")],
    )


def meeting_at_an_opening() -> Project:
    """Three pieces that meet at one corner of an opening: `p` and `q` with a wedge `w` between.

    `w` touches the opening, `p.e1` and `q.e1`, at its tip alone. The angles there sum to 150.
    """
    tilt = math.tan(math.radians(20))
    p = piece_of_points("p", (0, 0), (100, 0), (100 - 100 * tilt, 100), (0, 100))
    w = piece_of_points("w", (200, 0), (200 + 200 * math.tan(math.radians(10)), 200), (200, 200))
    q = piece_of_points("q", (400, 0), (500, 0), (500, 100), (400 + 100 * tilt, 100))
    return new_project(p, w, q, seams=[seam("s1", "p.e2", "-w.e3"), seam("s2", "w.e1", "-q.e4")])


def with_finish(piece: Piece, name: str, finish: Finish) -> Piece:
    """The piece with one edge's finish set."""
    edges = tuple(replace(e, finish=finish) if e.id == name else e for e in piece.edges)
    return replace(piece, edges=edges)


def with_everything() -> Project:
    """Two joined panels and all that a piece can carry, on `a` and on the seam `s`."""
    project = two_panels()
    hole = piece_of_points("h", (20, 20), (20, 30), (30, 30), (30, 20)).edges
    a = replace(
        project.pieces["a"],
        lines=(
            Line(id="a.l1", kind="style", curve=line((0, 60), (100, 60)), name="style"),
            Line(id="a.l2", kind="level", curve=line((0, 80), (100, 80)), level="waist"),
            Line(id="a.l3", kind="grain", curve=line((80, 10), (80, 40))),
        ),
        labels=(Label(id="a.t1", text="front", at_mm=np.array([70.0, 50.0])),),
        cutouts=(Cutout(id="a.k1", edges=hole),),
    )
    project = new_project(a, project.pieces["b"], seams=project.seams.values())
    notch = Notch(id="n1", at=Spot("a.e2", 40.0), mate=Spot("b.e4", 60.0))
    return replace(
        project,
        notches=Table({"n1": notch, "n2": Notch(id="n2", at=Spot("a.e1", 25.0))}),
        holes=Table({"o1": Hole(id="o1", at=Spot("a.e2", 70.0), mate=Spot("b.e4", 30.0))}),
        levels=Table({"waist": Level(id="waist", name="waist")}),
    )


def neckline_ring() -> Project:
    """A bodice half of `front`, `side` and `back`, with a `collar` over both necks: a ring.

    Seams `front_side`, `side_back`, `shoulder`, and `neck` (the collar against both necks in one
    run), each with a pair of notches. Lengths do not quite agree yet.
    """
    front = piece_of_points(
        "front", (0, 0), (100, 0), (102, 250), (72, 380), (30, 400), (0, 330), bulge=-0.08
    )
    side = piece_of_points("side", (150, 0), (230, 0), (226, 250), (154, 250), bulge=0.02)
    back = piece_of_points(
        "back", (300, 0), (400, 0), (400, 385), (370, 402), (328, 380), (298, 250), bulge=-0.05
    )
    collar = piece_of_points("collar", (0, 450), (112, 450), (118, 490), (0, 495), bulge=0.03)
    project = new_project(
        front, side, back, collar,
        seams=[
            seam("front_side", "front.e2", "-side.e4"),
            seam("side_back", "side.e2", "-back.e6"),
            seam("shoulder", "front.e4", "-back.e4", wanted_mm=-2.0),
            seam("neck", "collar.e1", "-front.e5 -back.e3"),
        ],
    )  # fmt: skip
    pairs = (
        ("front.e2", "side.e4"), ("side.e2", "back.e6"), ("front.e4", "back.e4"),
        ("collar.e1", "front.e5"),
    )  # fmt: skip
    notches = {
        f"n{i}": Notch(id=f"n{i}", at=Spot(one, 15.0), mate=Spot(other, 20.0))
        for i, (one, other) in enumerate(pairs)
    }
    return replace(project, notches=Table(notches))


def held(project: Project, kind: HoldKind = "length") -> Project:
    """The project with every seam held."""
    for key in project.seams:
        project = HoldSeam(seam=key, kind=kind).apply(project)
    return project


def held_ring() -> Project:
    """The ring of `neckline_ring`, every seam of it held."""
    return held(neckline_ring())


def cap_and_ring() -> Project:
    """The ring, and a round `p` held to a `strip`: a round edge has no end that could follow."""
    ring, strip = neckline_ring(), rectangle("strip", 300, 40, y=-200)
    pieces = (*ring.pieces.values(), *disc().pieces.values(), strip)
    return held(
        new_project(*pieces, seams=[*ring.seams.values(), seam("cap", "strip.e1", "-p.e1")])
    )


def bag() -> Project:
    """Two four-sided pieces `a` and `b` with curved edges, every edge of `a` held to one of `b`."""
    points = [(0, 0), (100, 5), (110, 120), (-5, 115)]
    a = piece_of_points("a", *points, bulge=0.05)
    b = piece_of_points("b", *((300 - x, y) for x, y in reversed(points)), bulge=0.05)
    pairs = [("a.e1", "-b.e3"), ("a.e2", "-b.e2"), ("a.e3", "-b.e1"), ("a.e4", "-b.e4")]
    return held(
        new_project(a, b, seams=[seam(f"s{i}", *pair) for i, pair in enumerate(pairs, start=1)])
    )


# Strategies


def millimetres(least: float = -50.0, most: float = 50.0) -> st.SearchStrategy[float]:
    """Lengths as makers give them: to a micrometre, never a trace of one."""
    return st.floats(least, most).map(lambda value: round(value, 3))


def degrees(least: float = -180.0, most: float = 180.0) -> st.SearchStrategy[float]:
    """Angles as makers give them."""
    return st.floats(least, most).map(lambda value: round(value, 3))


def inner_ratios() -> st.SearchStrategy[float]:
    """Shares of a length, not so near an end that nothing is left."""
    return st.floats(0.05, 0.95)


def ratios() -> st.SearchStrategy[float]:
    """Shares from nothing to all, in thousandths."""
    return st.integers(0, 1000).map(lambda value: value / 1000)


def bulges(most: float) -> st.SearchStrategy[float]:
    """How far handles stand out, in thousandths of an edge's length; nothing at times."""
    return st.floats(-most, most).map(lambda value: round(value, 3))


def two_ratios() -> st.SearchStrategy[tuple[float, float]]:
    """Two shares of lengths."""
    return st.tuples(inner_ratios(), inner_ratios())


@st.composite
def blobs(draw: st.DrawFn, corners: int = 5, *, bulge: float = 0.2) -> Project:
    """One star-shaped piece `p` about (0, 0), its edges straight or curved."""
    radii = [draw(st.floats(60.0, 140.0)) for _ in range(corners)]
    angles = [2 * math.pi * i / corners for i in range(corners)]
    points = [
        np.array([r * math.cos(t), r * math.sin(t)]) for r, t in zip(radii, angles, strict=True)
    ]
    rows = []
    for i in range(corners):
        share = draw(st.sampled_from([0.0, 0.0, bulge, -bulge / 2]))
        rows.append(edge(f"p.e{i + 1}", f"p.c{i + 1}", points[i], points[i - corners + 1], share))
    return new_project(Piece(id="p", name="blob", edges=tuple(rows)))


@st.composite
def curves(draw: st.DrawFn, segments: int = 2) -> Curve:
    """A smooth-ish chain of cubics with random control points."""
    point = st.tuples(millimetres(), millimetres())
    rows = [np.array([draw(point) for _ in range(4)]) for _ in range(segments)]
    for before, after in pairwise(rows):
        after[0] = before[3]
    return Curve(np.array(rows))


@st.composite
def garment_curves(draw: st.DrawFn, segments: int = 2) -> Curve:
    """A chain as makers draw it: handles of a quarter to a half chord, turning at no point back."""
    at = np.zeros(2)
    rows = []
    for _ in range(segments):
        step = np.array([draw(st.floats(20.0, 80.0)), draw(st.floats(-30.0, 30.0))])
        out, back = (draw(st.floats(0.25, 0.45)) for _ in range(2))
        lift, drop = (draw(st.floats(-0.3, 0.3)) for _ in range(2))
        across = np.array([-step[1], step[0]])
        ends = (at, at + out * step + lift * across, at + (1 - back) * step + drop * across)
        rows.append(np.array([*ends, at + step]))
        at = rows[-1][3]
    return Curve(np.array(rows))


def shared_corner(curve: Curve, end: np.ndarray) -> Curve:
    """The curve with its last point put to `end` bit for bit."""
    return with_ends(curve, curve.start, end)
