"""Whether pinned measurements are what the maker wants them to be."""

from __future__ import annotations

import math

from wedgework.checks.finding import EditData, Finding, Mend, Rule
from wedgework.geometry.curve import Point, is_straight
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import SAME_STATION_MM, STRAIGHT_MM
from wedgework.pattern.document import Edge, Pin, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import edge_in, end_corner
from wedgework.pattern.pins import anchor_points, anchor_spots, pin_value
from wedgework.pattern.pins_bare import has_bare_places


def pin_missed(rule: Rule, project: Project) -> tuple[Finding, ...]:
    """Pinned measurements that miss their wanted value by more than is allowed."""
    found = (_missed(rule, project, pin) for pin in project.pins.values())
    return tuple(one for one in found if one is not None)


def _missed(rule: Rule, project: Project, pin: Pin) -> Finding | None:
    if pin.wanted is None:
        return None
    try:
        value = pin_value(project, pin)
    except EditRefused:
        # What cannot be measured any more is told by no number; the table shows it without one.
        return None
    if abs(value - pin.wanted) <= pin.allowed + SAME_STATION_MM:
        return None
    measured, wanted = (_shown(pin, one) for one in (value, pin.wanted))
    unit = "°" if pin.kind == "angle" else " mm"
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"Pinned measure “{pin.name or pin.id}” is {measured:.2f}{unit}; it should be "
            f"{wanted:.2f}{unit}."
        ),
        where=(pin.id,),
        at_mm=_place(project, pin),
        measured=measured,
        wanted=wanted,
        mends=(*_mends(project, pin, value), _as_it_is(pin, measured, unit)),
    )


def _shown(pin: Pin, value: float) -> float:
    return math.degrees(value) if pin.kind == "angle" else value


def _place(project: Project, pin: Pin) -> Point | None:
    if pin.kind == "girth":
        return None
    points = anchor_points(project, pin.anchors)
    return points[len(points) // 2]


def _as_it_is(pin: Pin, measured: float, unit: str) -> Mend:
    edit: EditData = {"edit": "set_pin", "pin": pin.id, "wanted": measured}
    return Mend(f"Take {measured:.2f}{unit} as what is wanted", (edit,))


def _mends(project: Project, pin: Pin, value: float) -> tuple[Mend, ...]:
    """A measure from end to end of one straight edge is put right by moving its end along it."""
    is_way = pin.kind in {"distance", "along"} and not has_bare_places(pin)
    edge = _edge_measured(project, pin) if is_way else None
    if edge is None or pin.wanted is None or pin.wanted <= SAME_STATION_MM:
        return ()
    piece = project.pieces[project.owners[edge.id]]
    by_mm = (edge.curve.end - edge.curve.start) / value * (pin.wanted - value)
    move: EditData = {
        "edit": "move_corner",
        "corner": end_corner(piece, edge.id),
        "by_mm": by_mm.tolist(),
    }
    words = f"Make {edge.name or edge.id} {pin.wanted:.2f} mm long: its end moves along it"
    return (Mend(words, (move,)),)


def _edge_measured(project: Project, pin: Pin) -> Edge | None:
    """The straight edge that is measured from one of its ends to the other, if it is that."""
    one, other = anchor_spots(project, pin.anchors)
    for first, last in ((one, other), (other, one)):
        piece = project.pieces[project.owners[first.edge]]
        edge = edge_in(piece, first.edge)
        if edge is not None and first.at_mm == 0.0 and is_straight(edge.curve, STRAIGHT_MM):
            at_end = last.edge == edge.id and last.at_mm >= length_mm(edge.curve) - SAME_STATION_MM
            if at_end or _starts_at(project, last.edge, end_corner(piece, edge.id), last.at_mm):
                return edge
    return None


def _starts_at(project: Project, edge: str, corner: str, at_mm: float) -> bool:
    found = edge_in(project.pieces[project.owners[edge]], edge)
    return found is not None and found.corner == corner and at_mm == 0.0
