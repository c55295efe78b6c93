"""The strips of a pleated skirt: where pleats, folds and both edges lie on the table.

A strip with a wider hem is part of a sector. Where waist or hem is lower at the front, they are
cosines of the way round the body, stretched: the waist advances a visible width while the strip
advances a whole pitch. Widths are measured square to the folds.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from wedgework.drafting.draft import APART_MM, Side, ring_of_sides
from wedgework.drafting.hanging import FULL, front_share
from wedgework.drafting.solving import solved
from wedgework.geometry.curve import Curve, line, reversed_curve
from wedgework.geometry.fit import smooth_through
from wedgework.pattern.document import Line, LineKind, Piece
from wedgework.pattern.errors import DraftRefused

SAMPLES: Final = 65
"""Places of an edge of one strip: the curve through them is within 0.001 mm of the true one for a
dip of 100 mm, or a sector of half a circle of a metre."""

PLACES: Final = 512
"""Places at which what goes round the waist is summed: it is even and periodic."""

LEAST_RADIUS_MM: Final = 5.0
"""A waist edge cannot be cut round a smaller circle; common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class Pleating:
    """The pleats: how many, visible and hidden width, and how they lie in strips, in mm."""

    count: int
    visible: float
    underlay: float
    visible_hem: float
    strips: tuple[int, ...]

    @property
    def pitch(self) -> float:
        """Visible width and underlay together, at the waist."""
        return self.visible + self.underlay

    @property
    def hem_pitch(self) -> float:
        """Visible width and underlay together, at the hem."""
        return self.visible_hem + self.underlay


@dataclass(frozen=True, kw_only=True)
class Cloth:
    """Where a place of the skirt lies on its strip: x along its waist from centre back, in mm.

    All lengths lie along the cloth. `radius`, of the waist at centre back, is 0 where the hem is
    no wider and the strips are straight.
    """

    pleats: Pleating
    box: bool
    overlap: float
    length: float
    drop: float
    dip: float
    slope: float
    radius: float = 0.0

    @property
    def whole(self) -> float:
        """The waist of all strips together, without the overlap."""
        return self.pleats.count * self.pleats.pitch

    def front(self, x: float) -> float:
        """1 at centre front, 0 at centre back."""
        return front_share(FULL * x / self.whole)

    def length_at(self, front: float) -> float:
        """How long the skirt is there, of which `front` says how far to the front it is."""
        return self.length + (self.dip - self.drop) * front

    def depth(self, x: float, down: float) -> float:
        """How far below the waist at the back; `down` is 0 at the waist and 1 at the hem."""
        front = self.front(x)
        return self.drop * front + down * self.length_at(front)

    @property
    def sector_rad(self) -> float:
        """What the whole skirt turns by on the table; 0 where its strips are straight."""
        return self.turn(self.whole) if self.radius else 0.0

    def turn(self, x: float) -> float:
        """How far a fold there is turned on from centre back, where the strip is a sector.

        The integral of dx / (radius + drop * front(x)), in closed form.
        """
        least, most = self.radius, self.radius + self.drop
        half = math.pi * x / self.whole
        rounds = math.floor(half / math.pi + 0.5)
        rest = half - rounds * math.pi
        # Not by the tangent, which changes its sign where rounding goes over a quarter turn.
        inside = math.atan2(math.sqrt(most / least) * math.sin(rest), math.cos(rest))
        return (rounds * math.pi + inside) * self.whole / (math.pi * math.sqrt(least * most))

    def widening(self, x: float) -> float:
        """By how much the hem there is wider than the waist, as a share of it."""
        if not self.radius:
            return 0.0
        front = self.front(x)
        return self.length_at(front) / (self.radius + self.drop * front)


def spread(cloth: Cloth) -> Cloth:
    """The cloth as a sector on which the hem has its width; DraftRefused where there is none."""
    wanted = cloth.pleats.hem_pitch / cloth.pleats.pitch - 1.0
    if wanted == 0.0:
        return cloth
    places = np.linspace(0.0, cloth.whole, PLACES, endpoint=False)
    raised = max(-cloth.drop, 0.0)
    longest = max(cloth.length_at(0.0), cloth.length_at(1.0))

    def miss(radius: float) -> float:
        one = replace(cloth, radius=radius)
        return math.fsum(one.widening(x) for x in places) / PLACES - wanted

    if cloth.drop == cloth.dip == 0.0:
        return replace(cloth, radius=cloth.length / wanted)
    radius = solved(miss, raised + LEAST_RADIUS_MM, raised + LEAST_RADIUS_MM + longest / wanted)
    if radius is None:
        raise DraftRefused(
            "So wide a hem does not go with a waist that is so much lower at the front."
        )
    return replace(cloth, radius=radius)


@dataclass(frozen=True, kw_only=True)
class Laid:
    """A strip of the cloth on the table, standing upright about `middle`, moved by `shift`."""

    cloth: Cloth
    middle: float
    shift: float

    def place(self, x: float, down: float) -> tuple[float, float]:
        """The place on the table, in mm."""
        cloth = self.cloth
        depth = cloth.depth(x, down)
        if not cloth.radius:
            return x + self.shift, -depth
        turn = cloth.turn(x) - cloth.turn(self.middle)
        reach = cloth.radius + depth
        aside = self.middle * cloth.pleats.hem_pitch / cloth.pleats.pitch + self.shift
        return aside + reach * math.sin(turn), cloth.radius - reach * math.cos(turn)

    def heading(self, x: float, down: int) -> tuple[float, float]:
        """Direction of the waist or hem there."""
        cloth = self.cloth
        round_rad = FULL / cloth.whole
        lower = (cloth.drop, cloth.dip)[down] * math.sin(round_rad * x) * round_rad / 2.0
        if not cloth.radius:
            return 1.0, -lower
        turn = cloth.turn(x) - cloth.turn(self.middle)
        on = 1.0 + down * cloth.widening(x)
        sin, cos = math.sin(turn), math.cos(turn)
        return on * cos + lower * sin, on * sin - lower * cos

    def edge(self, start: float, end: float, down: int) -> Curve:
        """The waist or the hem from one x to another."""
        if not self.cloth.radius and (self.cloth.drop, self.cloth.dip)[down] == 0.0:
            return line(self.place(start, down), self.place(end, down))
        places = [self.place(x, down) for x in np.linspace(start, end, SAMPLES)]
        return smooth_through(places, self.heading(start, down), self.heading(end, down))


def strip_of(cloth: Cloth, index: int) -> Piece:
    """One strip, its waist along the top; x runs on from strip to strip, from centre back."""
    pleats = cloth.pleats
    before, count = sum(pleats.strips[:index]), pleats.strips[index]
    is_last = index == len(pleats.strips) - 1
    start, end = before * pleats.pitch, (before + count) * pleats.pitch
    end += cloth.overlap if is_last else 0.0
    laid = Laid(cloth=cloth, middle=(start + end) / 2.0, shift=index * APART_MM)
    waist, low = laid.edge(start, end, 0), laid.edge(start, end, 1)
    name = f"strip_{index + 1}"
    sides = [
        Side(role="hem", curve=low, finish="hem"),
        Side(role="last", curve=line(low.end, waist.end)),
        Side(role="waist", curve=reversed_curve(waist)),
        Side(role="first", curve=line(waist.start, low.start)),
    ]
    marks = sorted(_marks(cloth, before, count, is_last=is_last), key=lambda one: one.waist)
    return Piece(
        id=name,
        name=name.replace("_", " ").capitalize(),
        edges=ring_of_sides(name, sides),
        lines=tuple(
            Line(
                id=f"{name}.fold{number}",
                kind=one.kind,
                name=one.name,
                curve=line(laid.place(one.hem, 1.0), laid.place(one.waist, 0.0)),
            )
            for number, one in enumerate(marks, start=1)
        ),
    )


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A line of a strip from waist to hem: x of the waist where it starts, and where it ends."""

    waist: float
    hem: float
    name: str
    kind: LineKind = "fold"


@dataclass(frozen=True, kw_only=True)
class Rule:
    """A line that every pleat has: so many underlays from its start, or back from its end."""

    name: str
    underlays: float
    at_end: bool = False
    kind: LineKind = "fold"


KNIFE: Final = (
    Rule(name="fold out", underlays=0.5),
    Rule(name="next fold lies here", underlays=0.5, at_end=True, kind="placement"),
)
"""Folded outwards where it starts to be seen; the next pleat's fold is laid where that ends. The
fold inwards, in the middle of what is hidden, is where strips are joined."""

BOX: Final = (
    Rule(name="fold in", underlays=0.25),
    Rule(name="fold out", underlays=0.5),
    Rule(name="fold out", underlays=0.5, at_end=True),
    Rule(name="fold in", underlays=0.25, at_end=True),
)
"""Folded outwards at both sides of what is seen, and inwards halfway from there to the join."""


def _marks(cloth: Cloth, before: int, count: int, *, is_last: bool) -> Iterator[Mark]:
    """Lines of a strip, in any order; every join lies in the middle of what is hidden."""
    pitch = cloth.pleats.pitch
    for number in range(before, before + count):
        yield from _of_pleat(cloth, number * pitch)
    if not cloth.box:
        for number in range(before + 1, before + count):
            yield Mark(name="fold in", waist=number * pitch, hem=number * pitch)
    if is_last and cloth.overlap:
        yield Mark(name="closes here", waist=cloth.whole, hem=cloth.whole, kind="placement")


def _of_pleat(cloth: Cloth, start: float) -> Iterator[Mark]:
    """Lines of the pleat that starts there; at a wider hem what is seen of it alone is wider."""
    pleats = cloth.pleats
    hem = pleats.pitch * (1.0 + cloth.widening(start + pleats.pitch / 2.0))
    if hem <= pleats.underlay:
        raise DraftRefused("The hem is so narrow at one place that nothing of a pleat is seen.")
    for rule in BOX if cloth.box else KNIFE:
        hidden = rule.underlays * pleats.underlay
        waist, low = (whole - hidden if rule.at_end else hidden for whole in (pleats.pitch, hem))
        yield Mark(
            name=rule.name,
            kind=rule.kind,
            waist=start + waist,
            hem=start + low * pleats.pitch / hem,
        )
