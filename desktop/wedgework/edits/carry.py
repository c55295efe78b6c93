"""What hangs on edges when they are cut, joined or reshaped: runs of seams, and marks.

This is the one place that aims runs again and places marks again. An edit says of every edge that
it retired or reshaped what has become of it (its `Fate`).
"""

from __future__ import annotations

import json
import operator
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from wedgework.geometry.curve import Curve
from wedgework.geometry.extent import swept_area_mm2
from wedgework.geometry.length import length_mm, station_of
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.changes import with_edges_replaced, with_pieces
from wedgework.pattern.document import (
    Anchor,
    Edge,
    EdgeId,
    Piece,
    Pin,
    Project,
    Recipe,
    Ref,
    Ring,
    Run,
    Seam,
    Spot,
    parse_ref,
)
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import (
    Mark,
    holes_by_edge,
    notches_by_edge,
    pins_by_edge,
    seams_by_edge,
)
from wedgework.pattern.table import Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A stretch of an old edge, and the stretch of a (new) edge that it has become."""

    from_mm: float
    to_mm: float
    edge: EdgeId
    new_from_mm: float
    new_to_mm: float

    def moved(self, at_mm: float) -> Spot:
        """Where a place has gone: an unmoved stretch keeps the distance, another the fraction."""
        whole = self.to_mm - self.from_mm
        inside = min(max(at_mm, self.from_mm), self.to_mm) - self.from_mm
        new_whole = self.new_to_mm - self.new_from_mm
        if abs(new_whole - whole) <= SAME_STATION_MM:
            return Spot(self.edge, self.new_from_mm + min(inside, new_whole))
        share = inside / whole if whole > 0 else 0.0
        return Spot(self.edge, self.new_from_mm + share * new_whole)

    def then(self, other: Stretch) -> Stretch:
        """What both leave of a stretch, one after the other; neither changes its length."""
        low, high = max(self.new_from_mm, other.from_mm), min(self.new_to_mm, other.to_mm)
        return Stretch(
            from_mm=self.from_mm + low - self.new_from_mm,
            to_mm=self.from_mm + high - self.new_from_mm,
            edge=other.edge,
            new_from_mm=other.new_from_mm + low - other.from_mm,
            new_to_mm=other.new_from_mm + high - other.from_mm,
        )

    def missed_by(self, at_mm: float) -> float:
        """How far a place lies outside the stretch, in mm."""
        return max(self.from_mm - at_mm, at_mm - self.to_mm, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fate:
    """What has become of an edge.

    `walk` are the edges that a run now walks in its place, in the edge's own direction, fills
    included; `stretches` say where its parts are. An edge that is gone has neither.
    """

    walk: tuple[EdgeId, ...] = ()
    stretches: tuple[Stretch, ...] = ()

    def moved(self, spot: Spot) -> Spot | None:
        """Where a mark has gone; the nearest place where its own was taken out, None if all was."""
        if not self.stretches:
            return None
        return min(self.stretches, key=lambda one: one.missed_by(spot.at_mm)).moved(spot.at_mm)


def carried(project: Project, fates: Mapping[EdgeId, Fate]) -> Project:
    """The project with runs and marks following the edges; pieces are changed already.

    Raises EditRefused where a seam would be left without any edge on one side.
    """
    aimed = _with_openings_carried(_with_runs_carried(project, fates), fates)
    return with_marks_carried(_with_recipes_carried(aimed, fates), fates)


def _with_openings_carried(project: Project, fates: Mapping[EdgeId, Fate]) -> Project:
    """Openings follow their edges; one that has lost an edge altogether goes with it."""
    moved = {
        key: replace(opening, edges=reaimed_run(opening.edges, fates))
        for key, opening in project.openings.items()
        if any(ref.edge in fates for ref in opening.edges)
    }
    if not moved:
        return project
    gone = [key for key, one in moved.items() if not one.edges]
    kept = {key: one for key, one in moved.items() if one.edges}
    return replace(project, openings=project.openings.with_rows(kept, gone))


def _with_recipes_carried(project: Project, fates: Mapping[EdgeId, Fate]) -> Project:
    """Drafted pieces go on being made from what their sources have become."""
    changed = [
        replace(piece, recipe=_recipe_reaimed(piece.recipe, fates))
        for piece in project.pieces.values()
        if piece.recipe is not None
        and any(parse_ref(ref).edge in fates for ref in piece.recipe.sources)
    ]
    return with_pieces(project, *changed) if changed else project


def _recipe_reaimed(recipe: Recipe, fates: Mapping[EdgeId, Fate]) -> Recipe:
    def reaimed(refs: Iterable[str]) -> list[str]:
        return [str(ref) for ref in reaimed_run(tuple(map(parse_ref, refs)), fates)]

    named = set(recipe.sources)
    numbers = {
        name: reaimed(value) if isinstance(value, list) and named.issuperset(value) else value
        for name, value in json.loads(recipe.numbers).items()
    }
    return replace(recipe, sources=tuple(reaimed(recipe.sources)), numbers=json.dumps(numbers))


def _with_runs_carried(project: Project, fates: Mapping[EdgeId, Fate]) -> Project:
    by_edge = seams_by_edge(project.seams)
    touched = {seam.id: seam for edge in fates for seam in by_edge.get(edge, ())}
    changed = {seam.id: _reaimed(seam, fates) for seam in touched.values()}
    changed = {key: seam for key, seam in changed.items() if seam is not touched[key]}
    return replace(project, seams=project.seams.with_rows(changed)) if changed else project


def _reaimed(seam: Seam, fates: Mapping[EdgeId, Fate]) -> Seam:
    a, b = reaimed_run(seam.a, fates), reaimed_run(seam.b, fates)
    if not a or not b:
        raise EditRefused(
            f"Seam “{seam.name or seam.id}” would be left without an edge.", culprit=seam.id
        )
    return seam if (a, b) == (seam.a, seam.b) else replace(seam, a=a, b=b)


def reaimed_run(run: Run, fates: Mapping[EdgeId, Fate]) -> Run:
    """The run with each edge replaced by what it has become, in walking order."""
    walked: list[Ref] = []
    for ref in run:
        fate = fates.get(ref.edge)
        edges = (ref.edge,) if fate is None else fate.walk
        for edge in reversed(edges) if ref.backward else edges:
            # Two edges that were merged follow each other as one.
            if not walked or walked[-1] != replace(ref, edge=edge):
                walked.append(replace(ref, edge=edge))
    return tuple(walked)


def with_marks_carried(project: Project, fates: Mapping[EdgeId, Fate]) -> Project:
    """The project with notches, holes and pinned measurements following their edges."""
    notches = _carried_marks(project.notches, notches_by_edge(project.notches), fates)
    holes = _carried_marks(project.holes, holes_by_edge(project.holes), fates)
    pins = _carried_pins(project.pins, fates)
    tables = (project.notches, project.holes, project.pins)
    if all(map(operator.is_, (notches, holes, pins), tables)):
        return project
    return replace(project, notches=notches, holes=holes, pins=pins)


def _carried_pins(table: Table[Pin], fates: Mapping[EdgeId, Fate]) -> Table[Pin]:
    """Anchors on edges carried like marks; a pin that has lost one goes with it."""
    by_edge = pins_by_edge(table)
    touched = {pin.id: pin for edge in fates for pin in by_edge.get(edge, ())}
    moved = {key: _carried_pin(pin, fates) for key, pin in touched.items()}
    changed = {key: p for key, p in moved.items() if p is not None and p is not touched[key]}
    gone = [key for key, pin in moved.items() if pin is None]
    return table.with_rows(changed, gone) if changed or gone else table


def _carried_pin(pin: Pin, fates: Mapping[EdgeId, Fate]) -> Pin | None:
    anchors: list[Anchor] = []
    for one in pin.anchors:
        anchor = _carried_spot(one, fates) if isinstance(one, Spot) else one
        if anchor is None:
            return None
        anchors.append(anchor)
    return pin if tuple(anchors) == pin.anchors else replace(pin, anchors=tuple(anchors))


def _carried_marks(
    table: Table[Mark], by_edge: Mapping[EdgeId, tuple[Mark, ...]], fates: Mapping[EdgeId, Fate]
) -> Table[Mark]:
    touched = {mark.id: mark for edge in fates for mark in by_edge.get(edge, ())}
    moved = {key: _carried_mark(mark, fates) for key, mark in touched.items()}
    changed = {key: m for key, m in moved.items() if m is not None and m is not touched[key]}
    gone = [key for key, mark in moved.items() if mark is None]
    return table.with_rows(changed, gone) if changed or gone else table


def _carried_mark(mark: Mark, fates: Mapping[EdgeId, Fate]) -> Mark | None:
    at, mate = _carried_spot(mark.at, fates), mark.mate and _carried_spot(mark.mate, fates)
    if at is None:
        # Its own edge is gone: what is left of the mark is its mate.
        return None if mate is None else replace(mark, at=mate, mate=None)
    return mark if (at, mate) == (mark.at, mark.mate) else replace(mark, at=at, mate=mate)


def _carried_spot(spot: Spot, fates: Mapping[EdgeId, Fate]) -> Spot | None:
    fate = fates.get(spot.edge)
    return spot if fate is None else fate.moved(spot)


def reshaped_fate(old: Edge, new: Edge) -> Fate:
    """What becomes of an edge that got another curve: cubic by cubic where there are as many."""
    before, after = cubic_stations(old.curve), cubic_stations(new.curve)
    if len(before) != len(after):
        before, after = [before[0], before[-1]], [after[0], after[-1]]
    stretches = tuple(
        Stretch(
            from_mm=before[i],
            to_mm=before[i + 1],
            edge=new.id,
            new_from_mm=after[i],
            new_to_mm=after[i + 1],
        )
        for i in range(len(before) - 1)
    )
    return Fate(walk=(new.id,), stretches=stretches)


def cubic_stations(curve: Curve) -> list[float]:
    """Where each cubic of a curve starts, and its whole length last, in mm."""
    return [*(station_of(curve, float(i)) for i in range(len(curve))), length_mm(curve)]


def parts_fate(parts: Iterable[tuple[Edge, float]], walk: Iterable[EdgeId] | None = None) -> Fate:
    """The fate of an edge that was cut: (part, station where it starts) in the edge's direction.

    `walk` names what a run walks, fills included; without it, it walks the parts.
    """
    parts = list(parts)
    stretches = []
    for part, from_mm in parts:
        whole = length_mm(part.curve)
        stretch = Stretch(
            from_mm=from_mm,
            to_mm=from_mm + whole,
            edge=part.id,
            new_from_mm=0.0,
            new_to_mm=whole,
        )
        stretches.append(stretch)
    ids = tuple(part.id for part, _ in parts) if walk is None else tuple(walk)
    return Fate(walk=ids, stretches=tuple(stretches))


def whole_stretch(old: Edge, new: Edge, at_mm: float = 0.0) -> Stretch:
    """An old edge as a stretch of a new one that starts `at_mm` along it."""
    whole = length_mm(old.curve)
    return Stretch(
        from_mm=0.0, to_mm=whole, edge=new.id, new_from_mm=at_mm, new_to_mm=at_mm + whole
    )


def with_edges_reshaped(project: Project, piece: Piece, edges: Iterable[Edge]) -> Project:
    """The project with other curves for edges of one piece, their marks placed again.

    Raises EditRefused where an outline would turn inside out, or a cut-out would.
    """
    changed = {edge.id: edge for edge in edges}
    reshaped = with_edges_replaced(piece, changed)
    _refuse_turned_over(reshaped, changed)
    old = {edge.id: edge for edge in piece.all_edges() if edge.id in changed}
    after = with_pieces(project, reshaped)
    marked = (
        notches_by_edge(project.notches),
        holes_by_edge(project.holes),
        pins_by_edge(project.pins),
    )
    fates = {
        key: reshaped_fate(old[key], edge)
        for key, edge in changed.items()
        if any(key in table for table in marked)
    }
    return with_marks_carried(after, fates) if fates else after


def _refuse_turned_over(piece: Piece, changed: Mapping[EdgeId, Edge]) -> None:
    if any(e.id in changed for e in piece.edges) and _area_mm2(piece.edges) <= 0:
        raise EditRefused(
            f"Piece “{piece.name or piece.id}” would turn inside out.", culprit=piece.id
        )
    for cutout in piece.cutouts:
        if any(e.id in changed for e in cutout.edges) and _area_mm2(cutout.edges) >= 0:
            raise EditRefused("A cut-out would turn inside out.", culprit=cutout.id)


def _area_mm2(ring: Ring) -> float:
    """Signed area of a ring in one pass: this is asked in every frame of a drag."""
    chain = Curve(np.concatenate([edge.curve.segments for edge in ring]) - ring[0].curve.start)
    return swept_area_mm2(chain)
