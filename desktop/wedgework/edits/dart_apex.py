"""The apex of a dart: move it, set it back along the middle line, make both legs equally long.

The mouth stays; each leg goes along as one, turned and made longer or shorter but not bent, so a
shaped leg keeps all of its turning.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated, Final, Literal

import msgspec
import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, PointMm, PositiveMm
from wedgework.edits.carry import with_edges_reshaped
from wedgework.edits.darts import dart_in_ring
from wedgework.edits.sideways import refuse_unsound
from wedgework.edits.true import trued
from wedgework.geometry.curve import Floats, Point, with_ends
from wedgework.geometry.motion import moved, similarity
from wedgework.geometry.tolerances import SAME_STATION_MM, STATION_MM
from wedgework.pattern.darts import DartMeasure, measure_dart
from wedgework.pattern.document import Edge, Project, Run, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.runs import walked

HALVINGS: Final = 80
"""Halvings while an apex is looked for; float64 has no more than 64 to give."""


class MoveApex(Edit, frozen=True, kw_only=True):
    """Move the apex of a dart; its mouth stays, and its legs follow without bending."""

    dart: Annotated[Id, Meta(description="dart")]
    by_mm: Annotated[PointMm, Meta(description="how far its apex goes, right and up")]

    def change(self, project: Project) -> Project:
        """EditRefused where the legs would leave the piece, or one would have no length left."""
        dart = the_seam(project, self.dart)
        found = measure_dart(project, dart)
        if self.by_mm == (0.0, 0.0):
            return project
        return with_apex_at(project, dart, found.apex_mm + np.array(self.by_mm))


class SetBackApexes(Edit, frozen=True, kw_only=True):
    """Set the apexes of darts back along their middle lines; each dart opens a little wider."""

    darts: Annotated[tuple[Id, ...], Meta(min_length=1, description="darts")]
    by_mm: Annotated[PositiveMm, Meta(description="how far towards the mouth")]

    def change(self, project: Project) -> Project:
        """EditRefused where a dart is no longer than that, or the outline would cross itself."""
        for name in dict.fromkeys(self.darts):
            project = _with_apex_back(project, the_seam(project, name), self.by_mm)
        return project


class EvenLegs(Edit, frozen=True, kw_only=True):
    """Make both legs of a dart equally long: at the mouth its angle stays, at the apex the mouth.

    A leg that changes is lengthened or cut off along itself, and the edge beside it drawn to it.
    """

    dart: Annotated[Id, Meta(description="dart")]
    which: Annotated[
        Literal["a", "b", "both", "apex"],
        Meta(description="leg that changes at the mouth, or the apex, which moves across"),
    ] = msgspec.field(name="change")

    def change(self, project: Project) -> Project:
        """EditRefused where no end can be moved, or the legs would leave the piece."""
        dart = the_seam(project, self.dart)
        found = measure_dart(project, dart)
        if self.which != "apex":
            return trued(project, dart, self.which)
        if abs(found.leg_a_mm - found.leg_b_mm - dart.wanted_mm) <= STATION_MM:
            return project
        return with_apex_at(project, dart, _evened(found, dart.wanted_mm))


def with_apex_at(project: Project, dart: Seam, apex: Point) -> Project:
    """The project with a dart's apex at a point, (2,) mm, its mouth where it was.

    EditRefused where a leg would have no length, or the outline would cross itself.
    """
    if dart.tip is None:
        dart_in_ring(project, dart.id)  # refuses legs that another dart has opened in
    found = measure_dart(project, dart)
    _refuse_beyond_mouth(dart, found, apex)
    edges: list[Edge] = []
    for run, mouth in ((dart.a, found.mouth_a), (dart.b, found.mouth_b)):
        _refuse_no_leg(dart, mouth, apex)
        edges += followed(project, run, (mouth, found.apex_mm), (mouth, apex))
    changed = with_edges_reshaped(project, found.piece, edges)
    refuse_unsound(found.piece, changed.pieces[found.piece.id])
    return changed


def _refuse_beyond_mouth(dart: Seam, found: DartMeasure, apex: Point) -> None:
    was, now = (_side_of_mouth(found, point) for point in (found.apex_mm, apex))
    if was * now < 0:
        raise EditRefused("The apex would lie on the other side of its mouth.", culprit=dart.id)


def _side_of_mouth(found: DartMeasure, point: Point) -> float:
    one, other = found.mouth_a - point, found.mouth_b - point
    return float(one[0] * other[1] - one[1] * other[0])


def _refuse_no_leg(dart: Seam, mouth: Point, apex: Point) -> None:
    if np.hypot(*(apex - mouth)) <= SAME_STATION_MM:
        raise EditRefused("A leg of the dart would have no length left.", culprit=dart.id)


def followed(
    project: Project, run: Run, leg: tuple[Point, Point], to: tuple[Point, Point]
) -> list[Edge]:
    """The edges of a leg (its mouth and its apex) turned and sized to another mouth and apex."""
    motion = similarity(leg, to)
    stretches = walked(project, run).stretches
    points = [to[0], *(motion.points(_entry(one.edge, one.ref.backward)) for one in stretches[1:])]
    points.append(to[1])
    edges = []
    for number, one in enumerate(stretches):
        ends = points[number : number + 2]
        first, last = ends[::-1] if one.ref.backward else ends
        curve = with_ends(moved(one.edge.curve, motion), first, last)
        edges.append(replace(one.edge, curve=curve))
    return edges


def _entry(edge: Edge, backward: bool) -> Point:  # noqa: FBT001 - as a ref has it
    return edge.curve.end if backward else edge.curve.start


def _with_apex_back(project: Project, dart: Seam, by_mm: float) -> Project:
    found = measure_dart(project, dart)
    depth, along = middle_line(found)
    if by_mm >= depth:
        raise EditRefused(
            f"Dart “{dart.name or dart.id}” is {depth:.1f} mm deep; its apex cannot be set back by "
            f"{by_mm:.1f} mm.",
            culprit=dart.id,
        )
    return with_apex_at(project, dart, found.apex_mm + by_mm * along)


def middle_line(found: DartMeasure) -> tuple[float, Floats]:
    """Depth of a dart in mm and the direction, (2,), from its apex to the middle of its mouth."""
    towards = (found.mouth_a + found.mouth_b) / 2 - found.apex_mm
    depth = float(np.hypot(*towards))
    return depth, towards / depth


@dataclass(frozen=True, eq=False, slots=True)
class _Across:
    """An apex that moves across, along the direction of the mouth."""

    found: DartMeasure
    wanted_mm: float

    def at(self, by_mm: float) -> Point:
        chord = self.found.mouth_b - self.found.mouth_a
        return np.asarray(self.found.apex_mm + by_mm * chord / np.hypot(*chord))

    def over_mm(self, by_mm: float) -> float:
        """How much longer leg A then is than it is meant to be: a leg grows with its chord."""
        apex, found = self.at(by_mm), self.found
        a, b = (
            length * float(np.hypot(*(apex - mouth)) / np.hypot(*(found.apex_mm - mouth)))
            for length, mouth in (
                (found.leg_a_mm, found.mouth_a),
                (found.leg_b_mm, found.mouth_b),
            )
        )
        return a - b - self.wanted_mm


def _evened(found: DartMeasure, wanted_mm: float) -> Point:
    """Where both legs have the lengths that they are meant to have, across from the apex."""
    across = _Across(found, wanted_mm)
    reach = found.leg_a_mm + found.leg_b_mm
    low, high = -reach, reach
    mouth_mm = float(np.hypot(*(found.mouth_a - found.mouth_b)))
    if mouth_mm <= SAME_STATION_MM or across.over_mm(low) * across.over_mm(high) > 0:
        raise EditRefused("No place of its apex makes the legs of this dart equally long.")
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if across.over_mm(middle) > 0 else (middle, high)
    return across.at((low + high) / 2)
