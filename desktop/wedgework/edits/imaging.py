"""Make one side of a seam the image of the other: both then are cut from one line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from wedgework.edits.carry import cubic_stations, with_edges_reshaped
from wedgework.edits.sideways import refuse_unsound
from wedgework.geometry.curve import Curve, Floats, Point, reversed_curve, with_ends
from wedgework.geometry.distinct import distinct
from wedgework.geometry.ends import end_moved, start_moved
from wedgework.geometry.length import length_mm, parameters_at, points_at
from wedgework.geometry.motion import Affine, fitted_motion, moved
from wedgework.geometry.split import split_at_parameters
from wedgework.geometry.tolerances import SAME_POINT_MM, SAME_STATION_MM
from wedgework.pattern.document import Edge, Project, Seam, Side
from wedgework.pattern.ends import ENDS, RunEnd, run_end
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.runs import WalkedRun, walked


@dataclass(frozen=True, eq=False, slots=True)
class _Facing:
    """The two sides of a seam, each one curve in the direction of the walk.

    `mirrored`: one of them is seen as its piece's mirror image.
    """

    lead_run: WalkedRun
    run: WalkedRun
    lead: Curve
    own: Curve
    mirrored: bool


def is_image(project: Project, seam: Seam) -> bool:
    """Whether both sides are one curve, to SAME_STATION_MM; EditRefused where they cannot be."""
    facing = _facing(project, seam, "b")
    lead, own = _matching_points(facing)
    motion = fitted_motion(lead, own, mirrored=facing.mirrored)
    return bool(np.abs(motion.points(lead) - own).max() <= SAME_STATION_MM)


def with_image(before: Project, project: Project, seam: Seam, side: Side) -> Project:
    """The project with a side of a seam made the image of the other one.

    It is laid as the other one lay before where an end stays then, else as near as can be; what
    adjoins is drawn to its new corners. EditRefused where it cannot be.
    """
    facing = _facing(project, seam, side)
    image = _snapped(moved(facing.lead, _laying(before, facing, seam, side)), facing.own)
    edges = _as_edges(facing, image)
    drawn = _neighbours_drawn(facing, edges, image)
    piece = facing.run.stretches[0].piece
    after = with_edges_reshaped(project, piece, drawn)
    refuse_unsound(piece, after.pieces[piece.id])
    return after


def _facing(project: Project, seam: Seam, side: Side) -> _Facing:
    a, b = walked(project, seam.a), walked(project, seam.b)
    lead, own = (a, b) if side == "b" else (b, a)
    mirrored = lead.stretches[0].ref.mirrored != own.stretches[0].ref.mirrored
    return _Facing(lead, own, _chain(lead), _chain(own), mirrored)


def _chain(run: WalkedRun) -> Curve:
    """The whole side as one curve of one piece; EditRefused where it is none."""
    for before, after in pairwise(run.stretches):
        follows = before.last_corner == after.first_corner
        if not follows or before.ref.mirrored != after.ref.mirrored:
            raise EditRefused(
                "A side that lies on several pieces is not one line, so nothing can be its image.",
                culprit=after.edge.id,
            )
    curves = [run.curve_of(stretch).segments for stretch in run.stretches]
    return Curve(np.concatenate(curves))


def _matching_points(facing: _Facing) -> tuple[Floats, Floats]:
    """Points of both sides at the same shares of their lengths, (k, 2) mm each."""
    lead_mm, own_mm = length_mm(facing.lead), length_mm(facing.own)
    on_lead, on_own = (np.array(cubic_stations(one)) for one in (facing.lead, facing.own))
    joints = distinct(np.concatenate([on_lead / lead_mm, on_own / own_mm]))
    # Three places inside each cubic: six numbers, as many as its two handles and a half.
    between = joints[:-1, None] + np.diff(joints)[:, None] * np.array([0.25, 0.5, 0.75])
    shares = np.concatenate([joints, between.ravel()])
    shares.sort()
    return points_at(facing.lead, shares * lead_mm), points_at(facing.own, shares * own_mm)


def _laying(before: Project, facing: _Facing, seam: Seam, side: Side) -> Affine:
    """The motion that lays the leading side on the other one."""
    if seam.is_dart:
        return _about_the_apex(facing)
    was = _facing(before, seam, side)
    as_before = fitted_motion(*_matching_points(was), mirrored=was.mirrored)
    if _keeps_an_end(as_before, facing):
        return as_before
    return fitted_motion(*_matching_points(facing), mirrored=facing.mirrored)


def _keeps_an_end(motion: Affine, facing: _Facing) -> bool:
    ends = ((facing.lead.start, facing.own.start), (facing.lead.end, facing.own.end))
    return any(_is_one(motion.points(lead), own) for lead, own in ends)


def _is_one(point: Point, other: Point) -> bool:
    return bool(np.abs(point - other).max() <= SAME_POINT_MM)


def _about_the_apex(facing: _Facing) -> Affine:
    """Legs end in one apex: there the leg stays, and its mouth slides along its own direction."""
    chords = [curve.start - curve.end for curve in (facing.lead, facing.own)]
    turn = np.arctan2(chords[1][1], chords[1][0]) - np.arctan2(chords[0][1], chords[0][0])
    cos, sin = np.cos(turn), np.sin(turn)
    linear = np.array([[cos, -sin], [sin, cos]])
    return Affine(linear, facing.own.end - linear @ facing.lead.end)


def _snapped(image: Curve, own: Curve) -> Curve:
    """The image with an end that stayed put in its old place bit for bit."""
    start = own.start if _is_one(image.start, own.start) else image.start
    end = own.end if _is_one(image.end, own.end) else image.end
    return with_ends(image, start, end)


def _as_edges(facing: _Facing, image: Curve) -> dict[str, Edge]:
    """The edges of the side, cut from the image at the shares of the length where they meet."""
    share = length_mm(image) / facing.run.length_mm
    joints = [stretch.to_mm * share for stretch in facing.run.stretches[:-1]]
    parts = split_at_parameters(image, _rounded(image, joints)) if joints else (image,)
    return {
        stretch.edge.id: replace(
            stretch.edge, curve=reversed_curve(part) if stretch.ref.backward else part
        )
        for stretch, part in zip(facing.run.stretches, parts, strict=True)
    }


def _rounded(image: Curve, stations_mm: list[float]) -> Floats:
    """Parameters of stations; one at a joint of two cubics is that joint itself."""
    known = np.array(cubic_stations(image))
    parameters = parameters_at(image, stations_mm)
    for index, station in enumerate(stations_mm):
        nearest = int(np.abs(known - station).argmin())
        if abs(known[nearest] - station) <= SAME_STATION_MM:
            parameters[index] = nearest
    bounds = np.concatenate([[0.0], parameters, [len(image)]])
    if (np.diff(bounds) <= 0.0).any():
        raise EditRefused("An edge of its mate would have no length left.")
    return parameters


def _neighbours_drawn(facing: _Facing, edges: dict[str, Edge], image: Curve) -> Iterator[Edge]:
    """All edges that change: the side's own, and what adjoins drawn to its new corners."""
    drawn = dict(edges)
    for end in ENDS:
        there = run_end(facing.run, end)
        point = image.end if end == "last" else image.start
        own = there.neighbour.id
        if own in edges or np.array_equal(point, there.point):
            continue
        if any(stretch.edge.id == own for stretch in facing.lead_run.stretches):
            raise EditRefused("Its two sides meet there, so one would drag the other along.")
        drawn[own] = _drawn_to(drawn.get(own, there.neighbour), there, point)
    return iter(drawn.values())


def _drawn_to(neighbour: Edge, there: RunEnd, point: Point) -> Edge:
    draw = start_moved if there.is_at_edge_end else end_moved
    edge = replace(neighbour, curve=draw(neighbour.curve, point))
    if length_mm(edge.curve) <= SAME_STATION_MM:
        raise EditRefused(f"Edge “{edge.name or edge.id}” would have no length left.")
    return edge
