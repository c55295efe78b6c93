"""Where a dragged point comes to rest, and why: level with a corner, on a level, on the grid."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from wedgework.bench.gestures import PICK_PX, Mm2
from wedgework.bench.picking import columns
from wedgework.geometry.curve import is_straight
from wedgework.geometry.nearest import nearest_foot
from wedgework.geometry.tolerances import STRAIGHT_MM
from wedgework.pattern.document import Line, Project

SNAP_PX: Final = PICK_PX * 0.75
"""A point nearer than this is drawn in: a little less than a press reaches, so that a hand that
aims beside a corner can stay beside it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapping:
    """What draws a point in: corners and levels, and the grid if there is one."""

    corners: bool = True
    levels: bool = True
    grid_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Snapped:
    """Where the point is put, and why; no reason where nothing drew it in."""

    at_mm: Mm2
    reason: str | None = None


def snapped(
    project: Project, at_mm: Mm2, px_mm: float, snapping: Snapping, without: frozenset[str]
) -> Snapped:
    """Where a point comes to rest; `without` are ids of corners that are moving themselves.

    A corner itself draws first, then a level's line, then being level with a corner in either
    direction, then the grid, each direction for itself.
    """
    reach = SNAP_PX * px_mm
    corner = _on_corner(project, at_mm, reach, without) if snapping.corners else None
    if corner is not None:
        return corner
    level = _on_level(project, at_mm, reach) if snapping.levels else None
    if level is not None:
        return level
    found = Snapped(at_mm)
    if snapping.corners:
        found = _level_with_corners(project, at_mm, reach, without)
    return _on_grid(found, at_mm, reach, snapping.grid_mm) if snapping.grid_mm else found


def _rows(project: Project, without: frozenset[str]) -> list[int]:
    rows = columns(project.pieces).corner_rows
    return [rows[corner] for corner in without if corner in rows]


def _on_corner(
    project: Project, at_mm: Mm2, reach: float, without: frozenset[str]
) -> Snapped | None:
    table = columns(project.pieces)
    away = np.hypot(table.corners[:, 0] - at_mm[0], table.corners[:, 1] - at_mm[1])
    away[_rows(project, without)] = np.inf
    if len(away) == 0 or away.min() > reach:
        return None
    index = int(away.argmin())
    x, y = table.corners[index].tolist()
    return Snapped((x, y), f"on corner {table.corner_ids[index][0]}")


def _on_level(project: Project, at_mm: Mm2, reach: float) -> Snapped | None:
    best: tuple[float, Snapped] | None = None
    for line in _level_lines(project):
        foot = nearest_foot(line.curve, at_mm)
        if foot.distance_mm <= reach and (best is None or foot.distance_mm < best[0]):
            best = (
                foot.distance_mm,
                Snapped((foot.x, foot.y), f"on the {_name(project, line)} line"),
            )
    return best[1] if best else None


def _level_lines(project: Project) -> Iterator[Line]:
    if project.levels:
        for piece in project.pieces.values():
            for line in piece.lines:
                if line.level is not None and is_straight(line.curve, STRAIGHT_MM):
                    yield line


def _name(project: Project, line: Line) -> str:
    level = project.levels.get(line.level or "")
    return level.name or level.id if level else line.name


def _level_with_corners(
    project: Project, at_mm: Mm2, reach: float, without: frozenset[str]
) -> Snapped:
    """Upright above or below a corner, or at its height; both at once where both are near."""
    table = columns(project.pieces)
    if len(table.corners) == 0:
        return Snapped(at_mm)
    offsets = np.abs(table.corners - np.array(at_mm))
    offsets[_rows(project, without)] = np.inf
    place, reasons = list(at_mm), []
    for axis, words in ((1, "level with corner"), (0, "upright with corner")):
        index = int(offsets[:, axis].argmin())
        if offsets[index, axis] <= reach:
            place[axis] = float(table.corners[index, axis])
            reasons.append(f"{words} {table.corner_ids[index][0]}")
    return Snapped((place[0], place[1]), ", ".join(reasons) or None)


def _on_grid(found: Snapped, at_mm: Mm2, reach: float, grid_mm: float) -> Snapped:
    """Directions in which nothing else has drawn the point in are drawn to the grid."""
    place, drawn = list(found.at_mm), False
    for axis in (0, 1):
        line = round(at_mm[axis] / grid_mm) * grid_mm
        if found.at_mm[axis] == at_mm[axis] and abs(line - at_mm[axis]) <= reach:
            place[axis], drawn = line, True
    if not drawn:
        return found
    reason = ", ".join(part for part in (found.reason, "on the grid") if part)
    return replace(found, at_mm=(place[0], place[1]), reason=reason)
