"""Where pinned measurements stand on the table, and the edits that pin what is chosen.

Leaders and figures keep their distance from what they measure in pixels, so places depend on the
zoom. Whoever draws them and whoever is asked what lies under the pointer reads the same places.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeAlias
from weakref import WeakKeyDictionary

import numpy as np

from wedgework.bench.gestures import Mm2
from wedgework.edits.base import Edit
from wedgework.edits.pins import PinMeasure
from wedgework.geometry.curve import Curve, Floats, Point
from wedgework.geometry.length import length_mm, points_at_parameters
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.geometry.turning import start_tangent, tangents_at_parameters
from wedgework.pattern.angles import corner_angle
from wedgework.pattern.document import Pin, PinKind, Project, Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import around_corner, edge_in, end_corner
from wedgework.pattern.pins import anchor_points, pin_value, the_corner, way_along

TICK_PX: Final = 5.0
BESIDE_PX: Final = 14.0
"""How far a way along an edge is drawn beside it, and a figure beside its leader."""

ARC_PX: Final = 22.0
FIGURE_PX: Final = 9.0
"""Half the height of a figure's room."""

LETTER_PX: Final = 6.4
"""Room of a letter of the small type."""

MOST_ROWS: Final = 8
"""A figure that finds no room within so many rows stands where it would."""

STEPS: Final = 8
"""Stretches in which a cubic's leader is drawn."""


@dataclass(frozen=True, slots=True)
class _Room:
    """How large a pixel is at the present zoom, and half the width of a figure, in pixels."""

    px_mm: float
    half_px: float

    def clear_px(self, away: Floats) -> float:
        """How far the middle of a figure stands beside its leader: it is wider than high."""
        return BESIDE_PX + self.half_px * abs(float(away[0]))


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class PlacedPin:
    """A pin as it stands: leader lines in mm, the middle of its figure, and what it measures.

    `value` is None where it cannot be measured; `reach_mm` is half the room of the figure.
    """

    pin: Pin
    value: float | None
    lines: tuple[Floats, ...]
    figure_mm: Mm2
    away: Mm2
    reach_mm: Mm2

    @property
    def is_missed(self) -> bool:
        """Whether it is not what it should be."""
        wanted, value = self.pin.wanted, self.value
        return wanted is not None and value is not None and not self._agrees(wanted, value)

    def _agrees(self, wanted: float, value: float) -> bool:
        return abs(value - wanted) <= self.pin.allowed + SAME_STATION_MM

    def distance_mm(self, at_mm: Mm2) -> float:
        """How far a point is from the figure's room or from a leader line."""
        over = (
            max(abs(at - own) - reach, 0.0)
            for at, own, reach in zip(at_mm, self.figure_mm, self.reach_mm, strict=True)
        )
        to_lines = (_to_chain_mm(line, at_mm) for line in self.lines)
        return min(math.hypot(*over), min(to_lines, default=math.inf))


def _to_chain_mm(points: Floats, at_mm: Mm2) -> float:
    start, along = points[:-1], np.diff(points, axis=0)
    size = np.maximum((along * along).sum(axis=1), 1e-300)
    share = (((at_mm - start) * along).sum(axis=1) / size).clip(0.0, 1.0)
    feet = start + share[:, None] * along
    return float(np.hypot(*(feet - at_mm).T).min())


Taken: TypeAlias = tuple[Mm2, Mm2]
"""Where something else is written: its middle, and half of its width and height, in mm."""

_drawn: WeakKeyDictionary[Project, tuple[float, tuple[PlacedPin, ...]]] = WeakKeyDictionary()


def placed_pins(
    project: Project, px_mm: float, taken: Sequence[Taken] | None = None
) -> tuple[PlacedPin, ...]:
    """All pins as they stand at a zoom, figures moved off each other; lost ones are left out.

    Who draws says what else is written there, `taken`, and figures keep off it as well; who only
    asks gets the pins as they were last drawn.
    """
    known = _drawn.get(project)
    if taken is None and known is not None and math.isclose(known[0], px_mm):
        return known[1]
    placed = _all_placed(project, px_mm, taken or ())
    if taken is not None:
        _drawn[project] = px_mm, placed
    return placed


def _all_placed(project: Project, px_mm: float, taken: Sequence[Taken]) -> tuple[PlacedPin, ...]:
    stood: list[PlacedPin] = []
    for pin in project.pins.values():
        try:
            placed = _remembered(project, pin, px_mm)
        except EditRefused:
            continue
        others = (*taken, *((one.figure_mm, one.reach_mm) for one in stood))
        stood.append(_off_the_others(placed, others, px_mm))
    return tuple(stood)


_known: WeakKeyDictionary[Pin, tuple[tuple[object, ...], float, PlacedPin]] = WeakKeyDictionary()


def _remembered(project: Project, pin: Pin, px_mm: float) -> PlacedPin:
    """As it stood before, while zoom and all that it reads are the same: frames of a drag ask."""
    read = tuple(_what_is_read(project, pin))
    known = _known.get(pin)
    if known is not None and known[1] == px_mm and _all_the_same(known[0], read):
        return known[2]
    placed = placed_pin(project, pin, px_mm)
    _known[pin] = (read, px_mm, placed)
    return placed


def _all_the_same(old: tuple[object, ...], new: tuple[object, ...]) -> bool:
    return len(old) == len(new) and all(map(operator.is_, old, new))


def _what_is_read(project: Project, pin: Pin) -> Iterator[object]:
    if pin.kind == "girth":
        yield from project.pieces.values()
        return
    for anchor in pin.anchors:
        mark = None
        if isinstance(anchor, str):
            mark = project.notches.get(anchor) or project.holes.get(anchor)
        spots = (mark.at, mark.mate) if mark else ()
        yield mark
        for own in () if isinstance(anchor, tuple) else (anchor, *spots):
            name = own.edge if isinstance(own, Spot) else own
            yield project.pieces.get(project.owners.get(name or "", ""))


def _off_the_others(placed: PlacedPin, others: Sequence[Taken], px_mm: float) -> PlacedPin:
    """The figure moved out, row by row, until it covers nothing that is written there."""
    for row in range(MOST_ROWS):
        shift = 2 * FIGURE_PX * px_mm * row
        x, y = (own + way * shift for own, way in zip(placed.figure_mm, placed.away, strict=True))
        if not any(_meet(other, ((x, y), placed.reach_mm)) for other in others):
            return replace(placed, figure_mm=(x, y)) if row else placed
    return placed


def _meet(one: Taken, other: Taken) -> bool:
    return all(abs(one[0][axis] - other[0][axis]) < one[1][axis] + other[1][axis]
               for axis in (0, 1))  # fmt: skip


def placed_pin(project: Project, pin: Pin, px_mm: float) -> PlacedPin:
    """One pin as it stands; EditRefused where it cannot be measured."""
    place = {"distance": _straight, "along": _along, "angle": _angled, "girth": _round}[pin.kind]
    room = _Room(px_mm, LETTER_PX / 2 * _letters(pin))
    lines, figure, away = place(project, pin, room)
    return PlacedPin(
        pin=pin,
        value=pin_value(project, pin),
        lines=lines,
        figure_mm=(float(figure[0]), float(figure[1])),
        away=(float(away[0]), float(away[1])),
        reach_mm=(room.half_px * px_mm, FIGURE_PX * px_mm),
    )


def _letters(pin: Pin) -> int:
    """How many letters a figure is written in, with room for what it should be where that is."""
    return len(pin.name) + (8 if pin.wanted is None else 17)


_Stood = tuple[tuple[Floats, ...], Point, Point]


def _straight(project: Project, pin: Pin, room: _Room) -> _Stood:
    """A line between both places with a tick at each, the figure beside its middle."""
    one, other = anchor_points(project, pin.anchors)
    away = _beside(other - one)
    ticks = (_tick(end, away, room.px_mm) for end in (one, other))
    figure = (one + other) / 2 + away * room.clear_px(away) * room.px_mm
    return (np.array([one, other]), *ticks), figure, away


def _beside(along: Floats) -> Floats:
    """The unit direction across a line that points up, or to the right of an upright one."""
    size = float(np.hypot(*along))
    across = np.array([-along[1], along[0]]) / size if size > 0 else np.array([0.0, 1.0])
    is_down = across[1] < 0 or (across[1] == 0 and across[0] < 0)
    return -across if is_down else across


def _tick(at: Floats, away: Floats, px_mm: float) -> Floats:
    return np.array([at - away * TICK_PX * px_mm, at + away * TICK_PX * px_mm])


def _along(project: Project, pin: Pin, room: _Room) -> _Stood:
    """A line outside along the way, with a tick at each end."""
    curves = way_along(project, pin.anchors).curves
    chains = [_shifted(curve, BESIDE_PX * room.px_mm) for curve in curves]
    if not chains:
        return _straight(project, pin, room)
    middle, outward = _middle_of(curves)
    ends = anchor_points(project, pin.anchors)
    near = (chains[0][0], chains[-1][-1])
    ticks = (np.array([min(ends, key=lambda end: _apart(end, one)), one]) for one in near)
    figure = middle + outward * (BESIDE_PX + room.clear_px(outward)) * room.px_mm
    return (*chains, *ticks), figure, outward


def _apart(one: Floats, other: Floats) -> float:
    return float(np.hypot(*(one - other)))


def _shifted(curve: Curve, by_mm: float) -> Floats:
    """Points along a curve of an outline, moved out of the piece."""
    parameters = np.linspace(0.0, len(curve), STEPS * len(curve) + 1)
    return points_at_parameters(curve, parameters) + by_mm * _outward(curve, parameters)


def _outward(curve: Curve, parameters: Floats) -> Floats:
    along = tangents_at_parameters(curve, parameters)
    return np.column_stack([along[:, 1], -along[:, 0]])


def _middle_of(curves: Sequence[Curve]) -> tuple[Floats, Floats]:
    """About the middle of a way, and the direction out of the piece there."""
    half, upto = sum(map(length_mm, curves)) / 2, 0.0
    for curve in curves:
        upto += length_mm(curve)
        if upto >= half:
            break
    share = 1.0 - (upto - half) / length_mm(curve)
    parameter = np.array([share * len(curve)])
    return points_at_parameters(curve, parameter)[0], _outward(curve, parameter)[0]


def _angled(project: Project, pin: Pin, room: _Room) -> _Stood:
    """An arc from one side to the other, the figure beyond its middle."""
    middle, start_rad, size_rad = _angle_of(project, pin)
    turns = start_rad + np.linspace(0.0, size_rad, 2 * STEPS + 1)
    arc = middle + ARC_PX * room.px_mm * np.column_stack([np.cos(turns), np.sin(turns)])
    half = start_rad + size_rad / 2
    away = np.array([math.cos(half), math.sin(half)])
    lines = [arc]
    if len(pin.anchors) > 1:
        one, _, other = anchor_points(project, pin.anchors)
        lines.append(np.array([one, middle, other]))
    figure = middle + away * (ARC_PX + room.clear_px(away)) * room.px_mm
    return tuple(lines), figure, away


def _angle_of(project: Project, pin: Pin) -> tuple[Point, float, float]:
    """The place of an angle, the direction where its arc starts, and how far it turns, in rad."""
    if len(pin.anchors) == 1:
        corner = the_corner(project, pin.anchors[0])
        piece = project.pieces[project.owners[corner]]
        after = around_corner(piece, corner)[1].curve
        out = start_tangent(after)
        return after.start, math.atan2(out[1], out[0]), corner_angle(piece, corner)
    one, middle, other = anchor_points(project, pin.anchors)
    (a, b), (c, d) = one - middle, other - middle
    return middle, math.atan2(b, a), math.atan2(a * d - b * c, a * c + b * d)


def _round(project: Project, pin: Pin, room: _Room) -> _Stood:
    """Right of the level's line that lies furthest to the right."""
    ends = [
        end
        for piece in project.pieces.values()
        for line in piece.lines
        if line.level == pin.anchors[0]
        for end in (line.curve.start, line.curve.end)
    ]
    if not ends:
        raise EditRefused("The level crosses no piece.", culprit=pin.id)
    foot = max(ends, key=lambda end: float(end[0]))
    out = np.array([1.0, 0.0])
    leader = np.array([foot, foot + out * BESIDE_PX * room.px_mm])
    figure = foot + out * (BESIDE_PX + room.half_px + TICK_PX) * room.px_mm
    return (leader,), figure, np.array([0.0, 1.0])


# Pinning what is chosen


def edit_pinning(project: Project, chosen: Iterable[str]) -> Edit:
    """The edit that pins what is chosen: a level's girth, a corner's angle, an edge's length.

    Two corners or marks give their distance, three the angle at the second. EditRefused where what
    is chosen is nothing to measure.
    """
    ids = tuple(chosen)
    for kind, anchors in _readings(project, ids):
        return PinMeasure(kind=kind, anchors=anchors)
    raise EditRefused("Choose a level, an edge, or one to three corners or notches to measure.")


def _readings(project: Project, ids: tuple[str, ...]) -> Iterator[tuple[PinKind, tuple[str, ...]]]:
    if len(ids) == 1 and ids[0] in project.levels:
        yield "girth", ids
    elif len(ids) == 1 and (ends := _ends_of(project, ids[0])):
        yield "along", ends
    elif 1 <= len(ids) <= 3 and all(_is_place(project, own) for own in ids):
        kinds: tuple[PinKind, ...] = ("angle", "distance", "angle")
        yield kinds[len(ids) - 1], ids


def _ends_of(project: Project, own: str) -> tuple[str, ...]:
    """Both corners of an edge; EditRefused where the way between them is shorter elsewhere."""
    piece = project.pieces.get(project.owners.get(own, ""))
    edge = edge_in(piece, own) if piece else None
    if piece is None or edge is None:
        return ()
    ends = (edge.corner, end_corner(piece, own))
    whole = length_mm(edge.curve)
    if abs(way_along(project, ends).length_mm - whole) > SAME_STATION_MM:
        raise EditRefused("This edge is more than half of its outline; pin it in two parts.")
    return ends


def _is_place(project: Project, own: str) -> bool:
    piece = project.pieces.get(project.owners.get(own, ""))
    is_corner = piece is not None and any(edge.corner == own for edge in piece.all_edges())
    return is_corner or own in project.notches or own in project.holes
