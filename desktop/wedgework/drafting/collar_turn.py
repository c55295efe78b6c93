"""How much turning is taken out of a collar: from its stand, its shoulder overlap or its lean.

A folded collar of width c that has the turn y taken out of a neckline that turns by B stands
c y / (2 B) high. Unfolded it is a cone, whose half angle is asin(turning left / 2 pi): none of it
leans, and it stands upright. Plane geometry, and that of the cone's net.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from wedgework.drafting.lines import GarmentLine
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import SUM_RELATIVE
from wedgework.pattern.document import Seam
from wedgework.pattern.errors import DraftRefused
from wedgework.pattern.lap_limits import LEAST_LAP_MM, SHORTAGE
from wedgework.pattern.lookup import around_corner


@dataclass(frozen=True, kw_only=True)
class Rise:
    """How a collar is asked to rise: one of these at most; none lies flat."""

    stand_mm: float | None
    overlap_mm: float | None
    lean_deg: float | None

    def __post_init__(self) -> None:
        """DraftRefused where more than one is said."""
        said = (self.stand_mm, self.overlap_mm, self.lean_deg)
        if sum(one is not None for one in said) > 1:
            raise DraftRefused(
                "Give either the stand, the overlap or the lean; the others follow from it."
            )


@dataclass(frozen=True, kw_only=True)
class Turn:
    """What is taken out of a collar, in rad, and what follows: stand, overlap and fall in mm.

    `lying_mm` is how much of its width lies on the garment.
    """

    turn_rad: float
    stand_mm: float
    overlap_mm: float
    lying_mm: float


@dataclass(frozen=True, eq=False, kw_only=True)
class Neckline:
    """The line that a collar is traced from, and which share of the whole neckline it is."""

    along: GarmentLine
    share: float

    @property
    def turning_rad(self) -> float:
        """How far it turns round the neck."""
        return -self.along.turning_rad

    @property
    def shoulder_mm(self) -> float | None:
        """The shortest seam that runs into it where two pieces meet; None without one."""
        lengths = []
        for station in self.along.joints_mm:
            stretch = self.along.run.stretch_at(station)
            before, after = around_corner(stretch.piece, stretch.last_corner)
            shoulder = after if before is stretch.edge else before
            lengths.append(length_mm(shoulder.curve))
        return min(lengths, default=None)

    def overlap_of(self, turn_rad: float) -> float:
        """By how much front and back overlap at each shoulder for a turn; 0 without shoulders."""
        joints = len(self.along.joints_mm)
        if self.shoulder_mm is None or not joints:
            return 0.0
        half = min(max(turn_rad, 0.0) / joints, math.pi) / 2.0
        return 2.0 * self.shoulder_mm * math.sin(half)


def turn_of(neckline: Neckline, rise: Rise, width_mm: float) -> Turn:
    """The turn that is asked for, and what follows from it; DraftRefused where it cannot be."""
    if rise.lean_deg is not None:
        return _leaning(neckline, rise.lean_deg, width_mm)
    if rise.overlap_mm:
        return _overlapped(neckline, rise.overlap_mm, width_mm)
    return _standing(neckline, rise.stand_mm or 0.0, width_mm)


def _leaning(neckline: Neckline, lean_deg: float, width_mm: float) -> Turn:
    left_rad = 2.0 * math.pi * neckline.share * math.sin(math.radians(lean_deg))
    own_rad = neckline.turning_rad
    if left_rad > own_rad + SUM_RELATIVE:
        if own_rad <= SUM_RELATIVE:
            raise DraftRefused("This line does not bend round a neck: no collar leans out on it.")
        most = math.asin(min(own_rad / (2.0 * math.pi * neckline.share), 1.0))
        raise DraftRefused(
            f"With a lean of {math.degrees(most):.1f}° this collar lies on the garment already; "
            "more would ripple."
        )
    turn_rad, lean_rad = own_rad - left_rad, math.radians(lean_deg)
    return Turn(
        turn_rad=turn_rad,
        stand_mm=width_mm * math.cos(lean_rad),
        overlap_mm=neckline.overlap_of(turn_rad),
        lying_mm=width_mm * math.sin(max(lean_rad, 0.0)),
    )


def _overlapped(neckline: Neckline, overlap_mm: float, width_mm: float) -> Turn:
    shoulder_mm = neckline.shoulder_mm
    if shoulder_mm is None:
        raise DraftRefused("The neckline crosses no shoulder to overlap: give the stand.")
    if overlap_mm >= 2.0 * shoulder_mm:
        raise DraftRefused(
            f"Shoulders of {shoulder_mm:.0f} mm cannot overlap by {overlap_mm:.0f} mm."
        )
    each_rad = 2.0 * math.asin(overlap_mm / (2.0 * shoulder_mm))
    turn_rad = len(neckline.along.joints_mm) * each_rad
    _refuse_turn(turn_rad, neckline, width_mm)
    stand_mm = width_mm * turn_rad / (2.0 * neckline.turning_rad)
    return Turn(turn_rad=turn_rad, stand_mm=stand_mm, overlap_mm=overlap_mm,
        lying_mm=width_mm - stand_mm)  # fmt: skip


def _standing(neckline: Neckline, stand_mm: float, width_mm: float) -> Turn:
    own_rad = neckline.turning_rad
    if stand_mm and own_rad <= 0.0:
        raise DraftRefused("This neckline does not bend round a neck, so no collar stands on it.")
    turn_rad = 2.0 * own_rad * stand_mm / width_mm
    _refuse_turn(turn_rad, neckline, width_mm)
    return Turn(turn_rad=turn_rad, stand_mm=stand_mm, overlap_mm=neckline.overlap_of(turn_rad),
        lying_mm=width_mm - stand_mm)  # fmt: skip


def _refuse_turn(turn_rad: float, neckline: Neckline, width_mm: float) -> None:
    """At most so much is taken out that a straight strip is left, which stands upright."""
    if turn_rad > max(neckline.turning_rad, 0.0) + SUM_RELATIVE:
        raise DraftRefused(
            f"A collar {width_mm:.0f} mm wide that falls over stands {width_mm / 2.0:.0f} mm high "
            "at most: then it is a straight strip, half of it stand and half of it fall. One that "
            "stands up unfolded is told by its lean."
        )


def standing_seam(seam: Seam, neckline: Neckline, turn: Turn) -> Seam:
    """The seam of a collar that goes up from the neckline: its lap goes down on the garment.

    There it is too short by its width times what both edges turn, and as wide as that allows; where
    even a narrow one is too short the edges are butted.
    """
    left_rad = neckline.turning_rad - turn.turn_rad
    bends_rad = max(neckline.turning_rad + left_rad, 0.0)
    most_mm = seam.lap_mm
    if bends_rad:
        most_mm = math.floor(2.0 * SHORTAGE * neckline.along.length_mm / bends_rad) / 2.0
    if most_mm < LEAST_LAP_MM:
        return replace(seam, join="butted")
    return replace(seam, join="lapped", lap_mm=min(most_mm, seam.lap_mm))


def turn_steps(neckline: Neckline, rise: Rise, turn: Turn, width_mm: float) -> Iterator[str]:
    """The calculation, a line each."""
    own_deg = math.degrees(neckline.turning_rad)
    long_mm = neckline.along.length_mm
    yield f"neckline: {long_mm:.1f} mm, turning {own_deg:.1f}°"
    left_rad = neckline.turning_rad - turn.turn_rad
    if rise.lean_deg is not None:
        yield (
            f"turning left = {360.0 * neckline.share:.0f}° × sin {rise.lean_deg:.1f}° = "
            f"{math.degrees(left_rad):.2f}°, as in the net of a cone"
        )
        yield f"stand = {width_mm:.1f} × cos {rise.lean_deg:.1f}° = {turn.stand_mm:.1f} mm"
    else:
        yield (
            f"stand = width × turn / (2 × neckline’s turning) = {width_mm:.1f} × "
            f"{math.degrees(turn.turn_rad):.2f}° / (2 × {own_deg:.1f}°) = {turn.stand_mm:.1f} mm"
        )
    yield (
        f"outer edge = neckline + turning left × width = {long_mm:.1f} + "
        f"{left_rad:.4f} × {width_mm:.1f} = {long_mm + left_rad * width_mm:.1f} mm"
    )
