"""A project that says something in every field, so that nothing can be lost unseen."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from wedgework.geometry.curve import Curve, line, polyline
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import (
    Accepted,
    Body,
    Closing,
    Cutout,
    Edge,
    Hold,
    Hole,
    Label,
    Level,
    Line,
    Notch,
    Opening,
    Picture,
    Piece,
    Pin,
    Project,
    Recipe,
    Ref,
    Seam,
    Sheet,
    Spot,
)
from wedgework.pattern.table import Table


def straight_ring(of, corners):
    """Edges `of.e1`, ... through corners, each (x, y) mm."""
    ends = [*corners[1:], corners[0]]
    return tuple(
        Edge(id=f"{of}.e{i}", name="", curve=line(a, b), corner=f"{of}.c{i}")
        for i, (a, b) in enumerate(zip(corners, ends, strict=True), start=1)
    )


def front():
    """A half front with a bent side, on the fold, with all that can be drawn in a piece."""
    ring = straight_ring("front", [(0, 0), (100, 0), (100, 150), (0, 150)])
    hem = replace(ring[0], name="hem", finish="hem")
    bent = Curve(np.array([[[100, 0], [108.1, 50], [91.7, 100 / 3], [100, 150]]]))
    side = replace(ring[1], curve=bent, allowance_mm=1 / 3)
    fold = replace(ring[3], finish="fold")
    return Piece(
        id="front",
        name="Front “A”\nhalf",
        edges=(hem, side, ring[2], fold),
        lines=(
            Line(
                id="bust@front",
                kind="level",
                curve=polyline([(0, 100.1), (50, 100), (99, 101)]),
                name="bust",
                level="bust",
            ),
        ),
        cutouts=(Cutout(id="eye", edges=straight_ring("eye", [(10, 10), (10, 20), (20, 10)])),),
        labels=(
            Label(
                id="t1",
                text="This way up",
                at_mm=np.array([5.5, 0.1]),
                height_mm=7.0,
                angle_rad=0.3,
            ),
        ),
        cutting="fold",
        fold_edge="front.e4",
        sheet="red",
        quantity=2,
        turns_rad=(0.0, math.pi),
    )


def collar():
    """A drafted piece."""
    return Piece(
        id="collar",
        name="Collar",
        edges=straight_ring("collar", [(200, 0), (300, 0), (300, 30), (200, 30)]),
        cutting="pair",
        recipe=Recipe(
            kind="collar",
            numbers='{"width_mm":30}',
            sources=("front.e3",),
            measured='{"front.e3":100}',
            edits_since=('{"edit":"rename"}',),
        ),
    )


def full_project() -> Project:
    """Two pieces and a row in every table."""
    seams = (
        Seam(
            id="neck",
            name="Neck",
            a=(Ref("front.e3"), Ref("front.e3", mirrored=True)),
            b=(Ref("collar.e1", backward=True), Ref("collar.e1", backward=True, mirrored=True)),
            join="bound",
            lap_mm=9.5,
            over="b",
            wanted_mm=-0.5,
            allowed_mm=0.7,
            laid_on=True,
            tape_mm=14.0,
            binding_mm=7.5,
        ),
        Seam(
            id="d1",
            name="Dart",
            a=(Ref("eye.e1"),),
            b=(Ref("eye.e3", backward=True),),
            apex="eye.c1",
            tip="eye.c2",
        ),
    )
    return replace(
        new_project(front(), collar(), name="Heron of the river pageant", seams=seams),
        notches=Table({"n1": Notch(id="n1", at=Spot("front.e3", 33.3), double=True)}),
        holes=Table({"h1": hole()}),
        holds=Table({"k1": Hold(id="k1", seam="neck", kind="shape")}),
        pins=Table({"m1": pin()}),
        pictures=Table({"scan": picture()}),
        openings=Table({"head": opening()}),
        closings=Table({"way_in": closing()}),
        bodies=Table(
            {"heron": Body(id="heron", name="Heron", measures=Table({"hip_girth_mm": 985.5}))}
        ),
        wearer="heron",
        reductions=Table({"girth": 0.075, "limb": 0.05}),
        levels=Table({"bust": Level(id="bust", name="Bust", measure="bust_girth_mm")}),
        sheets=Table({"red": sheet()}),
        body=Table({"bust_girth_mm": 920.75}),
        accepted=(
            Accepted(code="flat_seam", where=("neck",), reason="It only decorates.", measured=1.5),
        ),
        notes="All numbers are invented.",
        problems=("A gap of 0.05 mm was closed.",),
    )


def as_of(version) -> Project:
    """The full project, in so far as a file of that version can say it."""
    project = full_project()
    if version > 1:
        return project
    first = Seam(id="", name="", a=(), b=())
    since = {name: getattr(first, name) for name in ("tip", "tape_mm", "binding_mm")}
    seams = Table((key, replace(seam, **since)) for key, seam in project.seams.items())
    tables = ("holds", "pins", "pictures", "openings", "closings", "bodies", "reductions")
    empty = {name: Table() for name in tables}
    old = {
        "holes": Table({"h1": replace(hole(), row=None, through=False)}),
        "sheets": Table({"red": replace(sheet(), marking="dash")}),
    }
    return replace(project, seams=seams, wearer="", **empty, **old)


def hole():
    """A punched hole with its mate."""
    return Hole(
        id="h1",
        at=Spot("front.e2", 12.0),
        mate=Spot("collar.e2", 3.0),
        inset_mm=6.0,
        diameter_mm=2.5,
        row="neck.r1",
        through=True,
    )


def pin():
    """A measurement along an edge that carries what is wanted."""
    return Pin(
        id="m1",
        name="Side to the notch",
        kind="along",
        anchors=(Spot("front.e2", 1.5), "front.c3"),
        wanted=101.25,
        allowed=0.25,
    )


def picture():
    """A scan that lies squarely on the table and is out of sight."""
    return Picture(
        id="scan",
        name="Sheet from the drawer",
        data=b"\x89PNG\r\n\x1a\n\x00\xff",
        placing=(0.25, 0.01, -3.0, 0.02, -0.25, 7.5, 1e-5, 0.0, 1.0),
        strength_ratio=0.3,
        shown=False,
    )


def opening():
    """A neck that the head has to pass."""
    return Opening(
        id="head",
        name="Neck",
        edges=(Ref("front.e3"), Ref("front.e3", mirrored=True)),
        measure="head_girth_mm",
        allowed_stretch=0.35,
        rise_mm=12.5,
    )


def heron():
    """Someone who was measured."""
    return Body(id="heron", name="Heron", measures=Table({"hip_girth_mm": 985.5}))


def closing():
    """A zip with a flap behind it."""
    return Closing(
        id="way_in", seam="neck", kind="zip", overlap_mm=21.0, flap_mm=40.0, pitch_mm=18.0,
        lengthened_mm=4.5,
    )  # fmt: skip


def sheet():
    """A sheet with nothing left at what it is at first."""
    return Sheet(
        id="red",
        name="Red",
        width_mm=1000.0,
        length_mm=2500.0,
        thickness_mm=0.6,
        colour="#a01030",
        spacing_mm=4.0,
        margin_mm=6.0,
        stains=("white",),
        marking="slit",
    )
