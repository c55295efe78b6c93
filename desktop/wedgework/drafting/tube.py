"""Tubes: the strip of a rolled or stuffed edge on an opening."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.drafting.bands import one_length
from wedgework.drafting.draft import Draft, Number, Side, ring_of_sides
from wedgework.drafting.line_ends import LineEnds, line_ends
from wedgework.drafting.lines import GarmentLine, most_bent
from wedgework.drafting.numbers import NotNegativeMm, Numbers, PositiveMm
from wedgework.drafting.sources import Refs
from wedgework.geometry.curve import polyline
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Notch, Piece, Project, Ref, Seam, Spot
from wedgework.pattern.errors import DraftRefused

NOTCH_MM: Final = 50.0
"""A notch every so often, to lay the strip on evenly; common practice, no source."""

MOST_HOOP: Final = 5.0
"""Sheet rubber tears at some six times its length; common practice, no source."""

FREE: Final = LineEnds(cutting="single", fold=None, is_ring=False)
"""The ends of a tube that hangs on no edge."""

PUCKER: Final = 0.10
"""Diameter by radius of the opening's line above which a tube is looked at again; common practice,
no source."""


class TubeNumbers(Numbers, frozen=True, kw_only=True):
    """The strip of a tube along an opening or of a given length, straight or tapered."""

    diameter_mm: Annotated[PositiveMm, Meta(description="outside")]
    thickness_mm: Annotated[PositiveMm, Meta(description="of its sheet")] = 0.4
    opening: Annotated[
        Refs | None, Meta(description="edges that it is rolled on, in walking order")
    ] = None
    length_mm: Annotated[
        PositiveMm | None, Meta(description="length of a tube that hangs on no edge")
    ] = None
    lap_mm: Annotated[NotNegativeMm, Meta(description="where the tube closes along itself")] = 6.0
    taper_to_mm: Annotated[
        PositiveMm | None, Meta(description="diameter at both ends; not tapered without it")
    ] = None
    taper_over_mm: Annotated[PositiveMm, Meta(description="length of each taper")] = 60.0
    core_mm: Annotated[
        PositiveMm | None, Meta(description="diameter of what it is stuffed with, unstuffed")
    ] = None
    cut_longer: Annotated[
        bool, Meta(description="so that it is as long as its opening once it is stuffed")
    ] = False


def strip_width_mm(diameter_mm: float, thickness_mm: float, lap_mm: float) -> float:
    """Width of the strip of a tube: pi (D - t) + lap, the round of its middle surface."""
    return math.pi * (diameter_mm - thickness_mm) + lap_mm


def draft_tube(numbers: TubeNumbers, project: Project) -> Draft:
    """The strip, with notches and, along an opening, its seam; ends that meet are joined.

    DraftRefused where the sheet is thicker than the tube, or the tapers longer than the strip.
    """
    line = one_length(project, numbers.opening, numbers.length_mm)
    ends = FREE if line is None else line_ends(project, line)
    along = numbers.length_mm or 0.0 if line is None else line.length_mm
    if min(numbers.taper_to_mm or math.inf, numbers.diameter_mm) <= numbers.thickness_mm:
        raise DraftRefused("The tube must be wider than its sheet is thick.")
    stuffed = _stuffed(numbers)
    strip = _strip_of(numbers, ends, along * (stuffed.cut_longer_by if numbers.cut_longer else 1.0))
    piece = _piece(strip, ends)
    turning = 0.0 if line is None else line.turning_rad + ends.closing_rad
    told: dict[str, Number] = {
        "strip_width_mm": strip.full,
        "strip_length_mm": strip.length,
        "outer_length_mm": along + numbers.diameter_mm * turning,
        "middle_length_mm": along + numbers.diameter_mm / 2.0 * turning,
        "end_width_mm": strip.end,
        "diameter_mm": numbers.diameter_mm,
        "turning_deg": math.degrees(turning),
    }
    if any(strip.tapers):
        told["taper_slope_deg"] = math.degrees(strip.slope_rad)
    told |= _pucker(numbers, along, turning, line) | stuffed.told(numbers, along)
    return Draft(
        pieces=(piece,),
        seams=tuple(_seams(numbers, line, ends, strip)),
        along=() if line is None else line.refs,
        notches=tuple(_notches(piece, line)),
        numbers=told,
        steps=tuple(_steps(numbers, told, ends, along, turning)),
    )


@dataclass(frozen=True, kw_only=True)
class Strip:
    """A strip on the table, its middle line along x: widths in the middle and at tapered ends."""

    length: float
    full: float
    end: float
    over: float
    tapers: tuple[bool, bool]

    @property
    def slope_rad(self) -> float:
        """How far each side of a tapered end runs in."""
        return math.atan2((self.full - self.end) / 2.0, self.over)

    @property
    def longer_edge_mm(self) -> float:
        """By how much the slanted ends make an edge longer than the strip."""
        each = math.hypot(self.over, (self.full - self.end) / 2.0) - self.over
        return sum(self.tapers) * each

    @property
    def low(self) -> list[tuple[float, float]]:
        """Corners of the lower edge, from left to right."""
        at_first, at_last = self.tapers
        half, end = self.full / 2.0, self.end / 2.0
        first = [(0.0, -end), (self.over, -half)] if at_first else [(0.0, -half)]
        last = [(self.length - self.over, -half), (self.length, -end)]
        return [*first, *(last if at_last else [(self.length, -half)])]


def _strip_of(numbers: TubeNumbers, ends: LineEnds, length: float) -> Strip:
    """The strip of a tube; DraftRefused where there is none such."""
    ends_mm = numbers.taper_to_mm or numbers.diameter_mm
    tapers = _tapers(numbers, ends)
    if sum(tapers) * numbers.taper_over_mm >= length:
        raise DraftRefused(
            f"Tapers of {numbers.taper_over_mm:.0f} mm do not fit a strip of {length:.0f} mm."
        )
    full, end = (
        strip_width_mm(one, numbers.thickness_mm, numbers.lap_mm)
        for one in (numbers.diameter_mm, ends_mm)
    )
    return Strip(length=length, full=full, end=end, over=numbers.taper_over_mm, tapers=tapers)


def _tapers(numbers: TubeNumbers, ends: LineEnds) -> tuple[bool, bool]:
    """At which ends of the strip it tapers, left and right; never on a fold."""
    if numbers.taper_to_mm is None:
        return False, False
    if ends.is_ring:
        raise DraftRefused("The opening is closed all round: a tube on it has no end to taper.")
    # The strip is walked against its own direction: the line's last end is its left one.
    return ends.fold != "last", ends.fold != "first"


def _piece(strip: Strip, ends: LineEnds) -> Piece:
    """The strip about its middle line, straight edges running in towards tapered ends."""
    low = strip.low
    corners = [*low, *((x, -y) for x, y in reversed(low))]
    names = [f"edge{number}" for number in range(1, len(low))] if len(low) > 2 else ["edge"]
    far = [name.replace("edge", "far") for name in reversed(names)]
    roles = [*names, "last", *far, "first"]
    own_fold = {"first": "last", "last": "first", None: None}[ends.fold]
    sides = [
        Side(
            role=role,
            curve=polyline(np.array([corners[i], corners[(i + 1) % len(corners)]])),
            finish="fold" if role == own_fold else "open",
        )
        for i, role in enumerate(roles)
    ]
    return Piece(
        id="tube",
        name="Tube",
        edges=ring_of_sides("tube", sides),
        cutting=ends.cutting,
        fold_edge=None if own_fold is None else f"tube.{own_fold}",
    )


def _seams(
    numbers: TubeNumbers, line: GarmentLine | None, ends: LineEnds, strip: Strip
) -> Iterator[Seam]:
    """The seam on the garment, and that of the ends where they meet."""
    if line is None:
        return
    count = len(strip.low) - 1
    edges = [f"tube.edge{n}" for n in range(1, count + 1)] if count > 1 else ["tube.edge"]
    run = tuple(Ref(edge, backward=True) for edge in reversed(edges))
    longer = strip.length - line.length_mm + strip.longer_edge_mm
    yield Seam(id="tube.seam", name="tube to garment", a=line.refs, b=run, laid_on=True,
        wanted_mm=-longer if longer else 0.0)  # fmt: skip
    if ends.is_ring:
        free = "first" if ends.fold == "first" else "last"
        other = (
            Ref(f"tube.{free}", mirrored=True) if ends.fold else Ref("tube.first", backward=True)
        )
        yield Seam(id="tube.ring", name="tube ring", a=(Ref(f"tube.{free}"),), b=(other,),
            lap_mm=numbers.lap_mm)  # fmt: skip


def _notches(piece: Piece, line: GarmentLine | None) -> list[Notch]:
    """A notch every so often, with its mate on the garment at the same share of the length."""
    edges = [edge for edge in piece.edges if edge.id.startswith("tube.edge")]
    whole = sum(length_mm(edge.curve) for edge in edges)
    notches, start = [], 0.0
    for edge in edges:
        own = length_mm(edge.curve)
        first = math.floor(start / NOTCH_MM) + 1
        for number in range(first, math.ceil((start + own) / NOTCH_MM)):
            station = number * NOTCH_MM
            if min(station, whole - station) < NOTCH_MM / 2.0:
                continue
            # The strip is walked against its own direction.
            mate = None if line is None else line.spot_at(1.0 - station / whole)
            if line is not None and mate is None:
                continue
            notches.append(
                Notch(id=f"tube.n{number}", at=Spot(edge.id, station - start), mate=mate)
            )
        start += own
    return notches


def _pucker(
    numbers: TubeNumbers, length: float, turning: float, line: GarmentLine | None
) -> dict[str, Number]:
    """Strain between attached and far edge, D / R, R the mean radius of the opening's line.

    A line is not bent evenly: where it bends most is told as well, over the way between notches.
    """
    mean = numbers.diameter_mm * abs(turning) / length
    tightest = mean if line is None else numbers.diameter_mm * most_bent(line, NOTCH_MM)
    return {
        "strain_percent": 100.0 * mean,
        "most_strain_percent": 100.0 * max(mean, tightest),
        "look_again": max(mean, tightest) > PUCKER,
    }


@dataclass(frozen=True, kw_only=True)
class Stuffed:
    """What a core does to a tube: its hoop stretch, and by what to cut it longer for that."""

    hoop: float = 1.0

    @property
    def cut_longer_by(self) -> float:
        """A tube that is so many times as long is as long as wanted once it is stuffed."""
        return math.sqrt(self.hoop)

    def told(self, numbers: TubeNumbers, along: float) -> dict[str, Number]:
        """The numbers of it; none where nothing is put in."""
        if numbers.core_mm is None:
            return {}
        return {
            "hoop_stretch": self.hoop,
            "shorter_percent": 100.0 * (1.0 - self.hoop**-0.5),
            "cut_longer_by": self.cut_longer_by,
            "cut_length_mm": along * self.cut_longer_by,
        }


def _stuffed(numbers: TubeNumbers) -> Stuffed:
    """What a core larger than the hollow does: hoop stretch, and how much shorter it gets.

    Hoop stretch h = (d + t') / (D - t) with t' = t / sqrt(h), length by h ** -0.5 where the tube is
    free. Source: volume is kept (Poisson ratio 0.5), plane geometry.
    """
    if numbers.core_mm is None:
        return Stuffed()
    hoop = 1.0
    for _ in range(50):
        hoop = (numbers.core_mm + numbers.thickness_mm / math.sqrt(hoop)) / (
            numbers.diameter_mm - numbers.thickness_mm
        )
    if hoop > MOST_HOOP:
        raise DraftRefused(
            f"A core of {numbers.core_mm:.0f} mm would stretch this tube to {hoop:.1f} times its "
            "girth: take a thinner core, or a wider tube."
        )
    return Stuffed(hoop=max(hoop, 1.0))


def _steps(
    numbers: TubeNumbers,
    told: dict[str, Number],
    ends: LineEnds,
    along: float,
    turning_rad: float,
) -> Iterator[str]:
    """The calculation, line by line."""
    diameter = numbers.diameter_mm
    yield (
        f"strip = pi x ({diameter:.1f} - {numbers.thickness_mm:.2f}) + {numbers.lap_mm:.1f} lap = "
        f"{told['strip_width_mm']:.2f} mm wide"
    )
    if "taper_slope_deg" in told:
        yield (
            f"tapered to {told['end_width_mm']:.2f} mm over {numbers.taper_over_mm:.1f}: each side "
            f"runs in by {told['taper_slope_deg']:.1f}°. Cap the end"
        )
    yield from ends.steps(along)
    if numbers.opening is not None:
        turning = math.degrees(turning_rad)
        bent = "hollow" if turning < 0.0 else "convex"
        yield (
            f"the edge is {bent}, by {abs(turning):.1f}°: middle line "
            f"{told['middle_length_mm']:.1f}, far edge {told['outer_length_mm']:.1f} mm where the "
            "tube lies in the plane of the opening"
        )
    if told["look_again"]:
        yield (
            f"the far edge is strained by {told['strain_percent']:.1f} % on the whole, "
            f"{told['most_strain_percent']:.1f} % where the line bends most: over "
            f"{100 * PUCKER:.0f} % it puckers. Stand the tube on the edge, make it thinner, or "
            "cut the strip curved"
        )
    yield from _stuffed_steps(numbers, told, along)


def _stuffed_steps(numbers: TubeNumbers, told: dict[str, Number], along: float) -> Iterator[str]:
    if numbers.core_mm is None:
        return
    if told["hoop_stretch"] == 1.0:
        yield f"a core of {numbers.core_mm:.1f} mm fits into the tube and stretches nothing"
        return
    shorter = along * (1.0 - _stuffed(numbers).hoop ** -0.5)
    yield (
        f"stuffed its girth is {told['hoop_stretch']:.3f} times as large and it is "
        f"{told['shorter_percent']:.1f} % shorter, {shorter:.1f} mm, by which it gathers the edge"
    )
    if numbers.cut_longer:
        yield f"so it is cut {told['cut_length_mm']:.1f} mm long"
    else:
        yield (
            f"cut it {told['cut_longer_by']:.3f} times as long, {told['cut_length_mm']:.1f} mm, or "
            "stuff it before it is glued and measure it then"
        )
