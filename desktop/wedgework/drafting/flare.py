"""Skirts and peplums cut as shares of a circle.

A waist W turning by an angle is an arc of radius W / angle; the hem, l further out, is W + angle l.
Where waist or hem is lower at the front, its edge is no arc: then the radius, and the angle where
the hem is said, are those at which the edges themselves measure what was asked for.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.drafting.draft import APART_MM, Draft, Number, Side, ring_of_sides
from wedgework.drafting.hanging import (
    FULL,
    SlopeDeg,
    along_cloth,
    front_share,
    one_of,
    over_suit,
    over_suit_numbers,
    refuse_below_hem,
    slope_rad,
    waist_under_mm,
)
from wedgework.drafting.numbers import Degrees, Mm, Numbers, PositiveMm
from wedgework.drafting.solving import solved
from wedgework.geometry.curve import Curve, line, reversed_curve
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.length import length_mm, station_of
from wedgework.geometry.tolerances import STATION_MM, WHOLE_COUNT
from wedgework.pattern.document import Notch, Piece, Project, Ref, Seam, Spot
from wedgework.pattern.errors import DraftRefused

PANEL: Final = math.pi
"""A panel turns by no more: beyond half a circle it encloses waste."""

MOST_RAD: Final = 20.0 * FULL
"""No skirt is fuller: its hem would be some forty times its length longer than its waist."""

LEAST_RAD: Final = 1e-3
"""A sector that turns by less is a straight strip: over a metre of waist it bends by 0.1 mm."""

HANDLE_STEP: Final = math.pi / 16.0
"""An arc is drawn in cubics of at most so much: each is right to 1e-9 of its radius (Mortensen,
“Approximate a circle with cubic Bezier curves”)."""

SAMPLES: Final = 65
"""Places of a lowered edge of one panel: its length is then right to 1e-5 mm."""

PLACES: Final = 512
"""Places at which the length of a lowered edge is summed: it is even and periodic, so the sum is
right to the last digits."""

LEAST_RADIUS_MM: Final = 5.0
"""A waist edge cannot be cut round a smaller circle; common practice, no source."""

CREEP: Final = (0.02, 0.03)
"""Shares by which a waist edge is cut smaller, as it creeps longer; common practice, no source."""

ROUNDS: Final = 60
"""Each round leaves less than a third of the miss of the hem."""

AT_JOIN_MM: Final = 5.0
"""A mark so near to the end of a panel would say what the end says already."""


class FlaredSkirtNumbers(Numbers, frozen=True, kw_only=True):
    """A skirt or peplum cut as a share of a circle, by its angle or by its hem."""

    waist_mm: Annotated[PositiveMm, Meta(description="girth of the waist edge where it is worn")]
    length_mm: Annotated[PositiveMm, Meta(description="along the cloth, at centre back")]
    turn_deg: Annotated[
        Degrees | None, Meta(description="angle of the sector: 360 is a full circle")
    ] = None
    hem_mm: Annotated[PositiveMm | None, Meta(description="girth of the hem")] = None
    waist_drop_mm: Annotated[
        Mm, Meta(description="how much lower the waist is worn at the front")
    ] = 0.0
    hem_dip_mm: Annotated[Mm, Meta(description="how much lower the hem is at the front")] = 0.0
    slope_deg: SlopeDeg = None
    panels: Annotated[
        Annotated[int, Meta(ge=1, le=64)] | None,
        Meta(description="how many; as few as fit without it"),
    ] = None


@dataclass(frozen=True, kw_only=True)
class Sector:
    """A skirt on the table, about the centre of its circle; all along the cloth, mm and rad.

    A place is told by how far it is turned on from centre back, and by `down`: 0 at the waist, 1
    at the hem.
    """

    angle: float
    radius: float
    length: float
    drop: float
    dip: float
    slope: float

    def lower(self, down: int) -> float:
        """How much lower the waist or the hem is at centre front."""
        return self.dip if down else self.drop

    def reach(self, turn: float, down: int) -> float:
        """How far from the centre the edge is."""
        base = self.radius + down * self.length
        return base + self.lower(down) * front_share(FULL * turn / self.angle)

    def lengthening(self, turn: float, down: int) -> float:
        """How fast the edge moves out there, in mm by rad."""
        round_rad = FULL / self.angle
        return self.lower(down) * math.sin(round_rad * turn) * round_rad / 2.0

    def edge_mm(self, down: int) -> float:
        """Length of the whole waist or hem."""
        turns = np.linspace(0.0, self.angle, PLACES, endpoint=False)
        steps = [math.hypot(self.reach(t, down), self.lengthening(t, down)) for t in turns]
        return self.angle * math.fsum(steps) / PLACES

    def heading(self, turn: float, about: float, down: int) -> tuple[float, float]:
        """Direction of the edge, the panel standing upright about a turn."""
        sin, cos = math.sin(turn - about), math.cos(turn - about)
        out, on = self.lengthening(turn, down), self.reach(turn, down)
        return out * sin + on * cos, -out * cos + on * sin

    def place(self, turn: float, about: float, down: int) -> tuple[float, float]:
        """A place of the edge, the panel standing upright about a turn."""
        reach = self.reach(turn, down)
        return reach * math.sin(turn - about), -reach * math.cos(turn - about)


def sector_of(numbers: FlaredSkirtNumbers) -> Sector:
    """The sector that the numbers ask for; DraftRefused where there is none."""
    one_of("how far it turns", numbers.turn_deg, "the girth of its hem", numbers.hem_mm)
    if numbers.turn_deg is not None:
        return _turning(numbers, math.radians(numbers.turn_deg))
    hem, angle = numbers.hem_mm or 0.0, _plain_angle(numbers)
    for _ in range(ROUNDS):
        sector = _turning(numbers, angle)
        miss = hem - sector.edge_mm(1)
        if abs(miss) < STATION_MM * hem:
            return sector
        angle += miss / (sector.length + (sector.dip - sector.drop) / 2.0)
    raise DraftRefused(
        f"No hem of {hem:.0f} mm goes with a waist that is so much lower at the front."
    )


def _plain_angle(numbers: FlaredSkirtNumbers) -> float:
    return ((numbers.hem_mm or 0.0) - numbers.waist_mm) / numbers.length_mm


def _turning(numbers: FlaredSkirtNumbers, angle: float) -> Sector:
    """The sector of an angle whose waist edge, lowered or not, is as long as it has to be."""
    _refuse_angle(angle)
    slope = slope_rad(angle / FULL, numbers.slope_deg)
    drop, dip = (mm / math.cos(slope) for mm in (numbers.waist_drop_mm, numbers.hem_dip_mm))
    refuse_below_hem(numbers.length_mm + dip - drop)

    def about(radius: float) -> Sector:
        return Sector(angle=angle, radius=radius, length=numbers.length_mm, drop=drop, dip=dip,
            slope=slope)  # fmt: skip

    plain = numbers.waist_mm / angle
    if drop == 0.0:
        return about(plain)
    raised = max(-drop, 0.0)
    least, most = raised + min(LEAST_RADIUS_MM, plain), raised + plain
    radius = solved(lambda one: about(one).edge_mm(0) - numbers.waist_mm, least, most)
    if radius is None:
        mm, way = abs(numbers.waist_drop_mm), "lower" if drop > 0.0 else "higher"
        raise DraftRefused(
            f"A waist edge of {numbers.waist_mm:.0f} mm cannot be cut {mm:.0f} mm {way} at the "
            "front in so full a skirt: take less of that, or less of a circle."
        )
    return about(radius)


def _refuse_angle(angle: float) -> None:
    if angle > MOST_RAD:
        raise DraftRefused(
            f"A hem that turns {angle / FULL:.0f} times round is more than any skirt has: make it "
            "longer, or the hem narrower."
        )
    if angle < LEAST_RAD:
        raise DraftRefused("The hem must be wider than the waist; a straight skirt is a strip.")


def draft_flared_skirt(numbers: FlaredSkirtNumbers, project: Project) -> Draft:
    """The panels, side by side seams, waist and hem lower at the front where that is asked for."""
    sector = sector_of(numbers)
    count = numbers.panels or math.ceil(sector.angle / PANEL - WHOLE_COUNT)
    if sector.angle / count > PANEL * 1.9:
        raise DraftRefused(
            f"{math.degrees(sector.angle):.0f} degrees need at least "
            f"{math.ceil(sector.angle / PANEL)} panels."
        )
    pieces = tuple(_panels(sector, count))
    under_mm = waist_under_mm(project)
    return Draft(
        pieces=pieces,
        seams=tuple(_seams(count)),
        notches=tuple(_notches(pieces)),
        numbers=_numbers(sector, pieces) | over_suit_numbers(numbers.waist_mm, under_mm),
        steps=(
            *_steps(numbers, sector, pieces),
            *over_suit(numbers.waist_mm, under_mm),
            *_against_creep(numbers),
        ),
    )


def measured_mm(pieces: tuple[Piece, ...], role: str) -> float:
    """How long the waist or the hem of all panels is together, on the edges themselves."""
    edges = (edge for piece in pieces for edge in piece.edges if edge.name == role)
    return sum(length_mm(edge.curve) for edge in edges)


def _numbers(sector: Sector, pieces: tuple[Piece, ...]) -> dict[str, Number]:
    front = sector.length + sector.dip - sector.drop
    told: dict[str, Number] = {
        "waist_radius_mm": sector.radius,
        "turn_deg": math.degrees(sector.angle),
        "hem_mm": measured_mm(pieces, "hem"),
        "hem_radius_mm": sector.radius + sector.length,
        "circle_share": sector.angle / FULL,
        "panels": len(pieces),
        "front_length_mm": front,
        "side_length_mm": (front + sector.length) / 2.0,
        "back_length_mm": sector.length,
        "waist_mm": measured_mm(pieces, "waist"),
        "slope_deg": math.degrees(sector.slope),
    }
    if sector.angle <= math.pi:
        told["lean_deg"] = math.degrees(math.asin(sector.angle / FULL))
    return told


def _steps(numbers: FlaredSkirtNumbers, sector: Sector, pieces: tuple[Piece, ...]) -> Iterator[str]:
    """The calculation, line by line."""
    waist, hem = (measured_mm(pieces, role) for role in ("waist", "hem"))
    angle, length = sector.angle, sector.length
    yield f"angle = {math.degrees(angle):.2f} degrees, {angle / FULL:.3f} of a circle"
    for name, lower in (("waist", numbers.waist_drop_mm), ("hem", numbers.hem_dip_mm)):
        if lower != 0.0:
            yield along_cloth(name, lower, sector.slope)
    if sector.drop == 0.0:
        yield f"waist radius = {waist:.1f} / {angle:.4f} = {sector.radius:.2f} mm"
    else:
        yield (
            f"waist radius = {sector.radius:.2f} mm at the back, {sector.radius + sector.drop:.2f} "
            f"at the front: the waist edge measures {waist:.1f} mm"
        )
    if sector.drop == sector.dip == 0.0:
        yield f"hem = {waist:.1f} + {angle:.4f} x {length:.1f} = {hem:.1f} mm"
    else:
        yield f"hem = {hem:.1f} mm, measured on the edge"
        yield (
            f"length along the cloth: front {length + sector.dip - sector.drop:.1f}, side "
            f"{length + (sector.dip - sector.drop) / 2.0:.1f}, back {length:.1f} mm"
        )


def _against_creep(numbers: FlaredSkirtNumbers) -> Iterator[str]:
    """What to do about a cut edge of rubber, which creeps longer; common practice, no source."""
    small, large = (numbers.waist_mm * (1.0 - share) for share in CREEP)
    yield (
        f"a waist edge of rubber creeps longer: lay a stay strip on it, or cut it {large:.1f} to "
        f"{small:.1f} mm, 2 to 3 % smaller"
    )


def _panels(sector: Sector, count: int) -> Iterator[Piece]:
    """The panels side by side, in order; the whole starts and ends at centre back."""
    shift = 0.0
    for index in range(count):
        span = (sector.angle * index / count, sector.angle * (index + 1) / count)
        turns, about = np.linspace(*span, SAMPLES), sum(span) / 2.0
        places = [sector.place(turn, about, down)[0] for turn in turns for down in (0, 1)]
        shift -= min(places) if index else 0.0
        yield _panel(sector, index, span, shift)
        shift += max(places) + APART_MM


def _panel(sector: Sector, index: int, span: tuple[float, float], shift: float) -> Piece:
    """One panel of the sector, standing upright, moved aside by `shift`."""
    waist, hem = (_edge(sector, span, down, shift) for down in (0, 1))
    name = f"panel_{index + 1}"
    sides = [
        Side(role="hem", curve=hem, finish="hem"),
        Side(role="last", curve=line(hem.end, waist.end)),
        Side(role="waist", curve=reversed_curve(waist)),
        Side(role="first", curve=line(waist.start, hem.start)),
    ]
    return Piece(
        id=name, name=name.replace("_", " ").capitalize(), edges=ring_of_sides(name, sides)
    )


def _edge(sector: Sector, span: tuple[float, float], down: int, shift: float) -> Curve:
    """Waist or hem of one panel, moved aside by `shift`."""
    about = sum(span) / 2.0
    if sector.lower(down) == 0.0:
        reach = sector.reach(0.0, down)
        return _arc(reach, span[0] - about, span[1] - about, shift)
    places = np.array([sector.place(t, about, down) for t in np.linspace(*span, SAMPLES)])
    headings = (sector.heading(turn, about, down) for turn in span)
    return smooth_through(places + np.array([shift, 0.0]), *headings)


def _notches(pieces: tuple[Piece, ...]) -> Iterator[Notch]:
    """A notch on the waist at either side and a double one at centre front, but where panels end.

    A quarter of the angle is a quarter of the way round the body.
    """
    for number in (1, 2, 3):
        at, inside = divmod(number * len(pieces) / 4.0, 1.0)
        piece = pieces[math.floor(at)]
        edge = next(edge for edge in piece.edges if edge.name == "waist")
        # Its cubics take even parts of the angle, from the last side to the first.
        station = station_of(edge.curve, (1.0 - inside) * len(edge.curve))
        if min(station, length_mm(edge.curve) - station) > AT_JOIN_MM:
            yield Notch(id=f"{piece.id}.n{number}", at=Spot(edge.id, station), double=number == 2)


def _arc(radius: float, start: float, end: float, shift: float) -> Curve:
    """An arc about (shift, 0), angles from straight down, in cubics of HANDLE_STEP at most."""
    count = max(math.ceil((end - start) / HANDLE_STEP), 1)
    turns = np.linspace(start, end, count + 1)
    places = np.stack([shift + radius * np.sin(turns), -radius * np.cos(turns)], axis=1)
    ahead = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    reach = radius * 4.0 / 3.0 * math.tan((end - start) / count / 4.0)
    return Curve(
        np.stack(
            [places[:-1], places[:-1] + reach * ahead[:-1], places[1:] - reach * ahead[1:],
             places[1:]],
            axis=1,
        )
    )  # fmt: skip


def _seams(count: int) -> Iterator[Seam]:
    for number in range(1, count):
        yield Seam(
            id=f"panel_{number}.join",
            name=f"panel {number} to {number + 1}",
            a=(Ref(f"panel_{number}.last"),),
            b=(Ref(f"panel_{number + 1}.first", backward=True),),
        )
