"""The outer edge of a collar as the maker drew it: lines on the garment's pieces, round the neck.

The pieces lie as they are joined along the neckline. Each place of a line is told by its foot on
the neckline and its distance from there, and both are kept when the neck edge is bent.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from wedgework.drafting.draft import Side
from wedgework.drafting.lines import GarmentLine, in_few, smooth_stretches
from wedgework.drafting.sources import run_of_refs
from wedgework.drafting.strips import Fold
from wedgework.geometry.curve import Curve, Floats, joined, reversed_curve, with_ends
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.motion import moved
from wedgework.geometry.nearest import nearest
from wedgework.geometry.turning import joint_turnings_rad, tangents_at
from wedgework.pattern.document import Project
from wedgework.pattern.errors import DraftRefused

MEET_MM: Final = 5.0
"""Lines drawn by hand on two pieces miss each other at the shoulder by no more; common practice."""

CORNER_RAD: Final = np.radians(15.0)
"""Where a drawn line turns so far there is a corner of the collar."""

PLACES: Final = 33
"""Places of a smooth stretch that it is carried by when the neck edge is bent."""


@dataclass(frozen=True, eq=False, kw_only=True)
class DrawnLine:
    """The maker's line, laid out beside the neckline and walked as that is."""

    line: Curve
    feet: Floats
    """(n, 2): station on the neckline and distance from it, both in mm, of places along it."""

    @property
    def width_mm(self) -> float:
        """How far it lies from the neckline, on the average along it."""
        return float(self.feet[:, 1].mean())


def drawn_line(project: Project, refs: tuple[str, ...], along: GarmentLine) -> DrawnLine:
    """The lines that `refs` name as one; DraftRefused where they do not make one round the neck."""
    parts = sorted(_laid(project, refs, along), key=lambda part: _station(along, part.start))
    line = parts[0]
    for following in parts[1:]:
        gap_mm = float(np.hypot(*(following.start - line.end)))
        if gap_mm > MEET_MM:
            raise DraftRefused(
                f"The lines of the outer edge do not meet: {gap_mm:.1f} mm lie between them where "
                "the pieces are joined."
            )
        middle = (following.start + line.end) / 2.0
        line = joined(
            with_ends(line, line.start, middle), with_ends(following, middle, following.end)
        )
    feet = _feet(along.curve, points_at(line, np.linspace(0.0, length_mm(line), PLACES)))
    if (feet[1:-1, 1] <= 0.0).any():
        raise DraftRefused("The line of the outer edge crosses the neckline.")
    return DrawnLine(line=line, feet=feet)


def _laid(project: Project, refs: tuple[str, ...], along: GarmentLine) -> list[Curve]:
    """Each line where its piece lies beside the neckline, walked as that is."""
    places = {
        (one.piece.id, one.ref.mirrored): motion
        for one, motion in zip(along.run.stretches, along.motions, strict=True)
    }
    run, found = run_of_refs(project, refs), []
    for stretch in run.stretches:
        motion = places.get((stretch.piece.id, stretch.ref.mirrored))
        if motion is None:
            raise DraftRefused(
                f"“{stretch.edge.name or stretch.edge.id}” lies on no piece of the neckline.",
                culprit=stretch.edge.id,
            )
        curve = moved(run.curve_of(stretch), motion)
        is_against = _station(along, curve.end) < _station(along, curve.start)
        found.append(reversed_curve(curve) if is_against else curve)
    return found


def _station(along: GarmentLine, point: Floats) -> float:
    return nearest(along.curve, point).station_mm


def _feet(neck: Curve, points: Floats) -> Floats:
    """Station and distance, (n, 2) mm, of places beside a curve; stations go on past its ends."""
    stations = np.array([nearest(neck, point).station_mm for point in points])
    feet, along = points_at(neck, stations), tangents_at(neck, stations)
    way = points - feet
    past = (way * along).sum(axis=1)
    return np.stack([stations + past, along[:, 0] * way[:, 1] - along[:, 1] * way[:, 0]], axis=1)


def _beside(neck: Curve, feet: Floats) -> Floats:
    """The places, (n, 2) mm, that have these feet."""
    stations = np.clip(feet[:, 0], 0.0, length_mm(neck))
    along = tangents_at(neck, stations)
    normals = np.stack([-along[:, 1], along[:, 0]], axis=1)
    past = (feet[:, 0] - stations)[:, None]
    return np.asarray(points_at(neck, stations) + past * along + feet[:, 1:] * normals)


def drawn_sides(
    drawn: DrawnLine, along: GarmentLine, neck: Curve, smaller_mm: float, fold: Fold
) -> list[Side]:
    """The outer edge beside a neck edge that may be bent otherwise than the neckline.

    It is cut in edges at the line's corners; at a fold it ends on that.
    """
    drawn_parts, parts = smooth_stretches(drawn.line), []
    for stretch in drawn_parts:
        stations = np.linspace(0.0, length_mm(stretch), PLACES)
        feet = _feet(along.curve, points_at(stretch, stations)) - [0.0, smaller_mm]
        parts.append(feet)
    if fold is not None:
        _snap(parts, fold, along.length_mm)
    ends = [_beside(neck, feet) for feet in parts]
    if neck is along.curve and not smaller_mm:
        # Of a flat collar it is the very line that was drawn.
        curves = [with_ends(one, at[0], at[-1]) for one, at in zip(drawn_parts, ends, strict=True)]
    else:
        curves = [in_few(smooth_through(at)) for at in ends]
    whole = joined(
        curves[0],
        *(with_ends(one, before.end, one.end)
          for before, one in pairwise(curves)),
    )  # fmt: skip
    corners = np.flatnonzero(np.abs(joint_turnings_rad(whole)) >= CORNER_RAD) + 1
    edges = [Curve(rows) for rows in np.split(whole.segments, corners)]
    return [
        Side(role="outer" if at == 0 else f"outer_{at + 1}", curve=curve)
        for at, curve in enumerate(edges)
    ]


def _snap(parts: list[Floats], fold: Fold, whole_mm: float) -> None:
    """Let the line end on the fold; DraftRefused where it ends too far from it."""
    rows, at, wanted = (parts[0], 0, 0.0) if fold == "first" else (parts[-1], -1, whole_mm)
    off_mm = float(rows[at, 0] - wanted)
    if abs(off_mm) > MEET_MM:
        raise DraftRefused(
            f"The line of the outer edge ends {abs(off_mm):.1f} mm beside the fold: it has to "
            "reach it."
        )
    rows[at, 0] = wanted
