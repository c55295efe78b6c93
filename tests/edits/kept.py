"""What the contract promises that an edit keeps, asked of any edit on any project."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import Any, Final

from wedgework.edits import Edit, edit_name
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.length import length_mm
from wedgework.pattern.darts import darts_of, measure_dart
from wedgework.pattern.document import Edge, Project
from wedgework.pattern.seams import measure_seam

KEPT_MM: Final = 1e-6
KEPT_RAD: Final = 1e-9


def assert_contract_kept(edit: Edit, before: Project, after: Project) -> None:
    """What is promised of edits of this kind; nothing where seams are held.

    A held seam's other side follows in the same edit, and may change what is promised here.
    """
    promised: Callable[[Any, Project, Project], None] | None = _PROMISED.get(edit_name(edit))
    if promised and not before.holds:
        promised(edit, before, after)


def _area_mm2(project: Project) -> float:
    rings = [piece.edges for piece in project.pieces.values()]
    rings += [cut.edges for piece in project.pieces.values() for cut in piece.cutouts]
    return sum(ring_area_mm2([edge.curve for edge in ring]) for ring in rings)


def _edges(project: Project) -> Iterable[Edge]:
    return (edge for piece in project.pieces.values() for edge in piece.all_edges())


def _outline_mm(project: Project) -> float:
    return sum(length_mm(edge.curve) for edge in _edges(project))


def _lengths_mm(project: Project, edges: Iterable[str]) -> dict[str, float]:
    known = set(edges)
    return {edge.id: length_mm(edge.curve) for edge in _edges(project) if edge.id in known}


def _shaped_rad(project: Project, seam: str) -> float:
    """The shaping of a seam, with the angles at the points where a dart ends."""
    row = project.seams[seam]
    shaping = measure_seam(project, row).shaping_rad
    if not row.is_dart:
        return shaping
    dart = measure_dart(project, row)
    return shaping + dart.angle_rad + dart.tip_angle_rad


def _apart_rad(one: float, other: float) -> float:
    """How far two sums of angles differ; a dart that was turned inside out reads a turn more."""
    return abs(math.remainder(one - other, math.tau))


def _assert_area(before: Project, after: Project) -> None:
    assert abs(_area_mm2(after) - _area_mm2(before)) <= KEPT_MM


def _assert_new_seams_alone_add(_: Edit, before: Project, after: Project) -> None:
    """Area and outline are kept; what is new of the outline is both sides of what was cut.

    A new dart is what was left of a double-pointed one: its legs were there before.
    """
    _assert_area(before, after)
    rows = after.seams.items()
    new = [seam for own, seam in rows if own not in before.seams and not seam.is_dart]
    cut = [ref.edge for seam in new for ref in (*seam.a, *seam.b)]
    added = sum(_lengths_mm(after, cut).values())
    assert abs(_outline_mm(after) - _outline_mm(before) - added) <= KEPT_MM


def _assert_split_keeps(_: Edit, before: Project, after: Project) -> None:
    _assert_area(before, after)
    assert abs(_outline_mm(after) - _outline_mm(before)) <= KEPT_MM


def _assert_rigid(edit: Any, before: Project, after: Project) -> None:
    """Edges that no slash cut keep their lengths."""
    if getattr(edit, "fair_ends", False):
        return
    rows = getattr(edit, "slashes", None) or (edit,)
    cut = {one for row in rows for one in _ends_of(row)}
    was = _lengths_mm(before, (edge.id for edge in _edges(before) if edge.id not in cut))
    now = _lengths_mm(after, was)
    assert all(abs(now[own] - was[own]) <= KEPT_MM for own in now)


def _ends_of(slash: Any) -> tuple[str, str]:
    if hasattr(slash, "from_edge"):
        return slash.from_edge, slash.to_edge
    return slash.from_.edge, slash.to.edge


def _assert_swung(_: Edit, before: Project, after: Project) -> None:
    _assert_area(before, after)
    angles = [
        sum(measure_dart(project, dart).angle_rad for dart in darts_of(project))
        for project in (before, after)
    ]
    assert _apart_rad(*angles) <= KEPT_RAD


def _assert_trued(edit: Any, _: Project, after: Project) -> None:
    assert abs(measure_seam(after, after.seams[edit.seam]).difference_mm) <= KEPT_MM


def _assert_shaping_of(edit: Any, before: Project, after: Project) -> None:
    darts = getattr(edit, "darts", None) or (edit.dart,)
    was = sum(_shaped_rad(before, dart) for dart in darts)
    now = sum(_shaped_rad(after, dart) for dart in darts if dart in after.seams)
    assert _apart_rad(was, now) <= KEPT_RAD


def _assert_shaping_is_angle(edit: Any, before: Project, after: Project) -> None:
    """Where the shaping itself says which part is flat; what a maker names may be all but flat."""
    if edit.from_mm is not None or edit.to_mm is not None:
        return
    assert _apart_rad(_shaped_rad(before, edit.seam), _shaped_rad(after, edit.seam)) <= KEPT_RAD


_PROMISED: Final[dict[str, Callable[[Any, Project, Project], None]]] = {
    "cut_piece": _assert_new_seams_alone_add,
    "cut_along_line": _assert_new_seams_alone_add,
    "cut_along_level": _assert_new_seams_alone_add,
    "cut_offset": _assert_new_seams_alone_add,
    "split_edge": _assert_split_keeps,
    "merge_edges": _assert_split_keeps,
    "slash_spread": _assert_rigid,
    "spread_many": _assert_rigid,
    "pivot_dart": _assert_swung,
    "divide_dart": _assert_swung,
    "true_seam": _assert_trued,
    "dart_to_seam": _assert_shaping_of,
    "darts_to_seam": _assert_shaping_of,
    "seam_to_dart": _assert_shaping_is_angle,
}
