"""Tubes: the strip of a rolled or stuffed edge on an opening."""

from __future__ import annotations

import math
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.drafting.bands import one_length
from wedgework.drafting.draft import Draft, Number, Side, ring_of_sides
from wedgework.drafting.lines import GarmentLine
from wedgework.drafting.numbers import NotNegativeMm, Numbers, PositiveMm
from wedgework.drafting.sources import Refs
from wedgework.geometry.curve import polyline
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Notch, Piece, Project, Ref, Seam, Spot
from wedgework.pattern.errors import DraftRefused

NOTCH_MM: Final = 50.0
"""A notch every so often, to lay the strip on evenly; common practice, no source."""

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


def strip_width_mm(diameter_mm: float, thickness_mm: float, lap_mm: float) -> float:
    """Width of the strip of a tube: pi (D - t) + lap, the round of its middle surface."""
    return math.pi * (diameter_mm - thickness_mm) + lap_mm


def draft_tube(numbers: TubeNumbers, project: Project) -> Draft:
    """The strip, with notches and, along an opening, its seam.

    DraftRefused where the sheet is thicker than the tube, or the tapers longer than the strip.
    """
    line = one_length(project, numbers.opening, numbers.length_mm)
    length = line.length_mm if line is not None else numbers.length_mm or 0.0
    turning = 0.0 if line is None else line.turning_rad
    ends_mm = numbers.taper_to_mm or numbers.diameter_mm
    if min(ends_mm, numbers.diameter_mm) <= numbers.thickness_mm:
        raise DraftRefused("The tube must be wider than its sheet is thick.")
    if numbers.taper_to_mm is not None and 2.0 * numbers.taper_over_mm >= length:
        raise DraftRefused(
            f"Two tapers of {numbers.taper_over_mm:.0f} mm do not fit a strip of {length:.0f} mm."
        )
    full = strip_width_mm(numbers.diameter_mm, numbers.thickness_mm, numbers.lap_mm)
    ends = strip_width_mm(ends_mm, numbers.thickness_mm, numbers.lap_mm)
    piece = _strip(length, full, ends, numbers)
    told: dict[str, Number] = {
        "strip_width_mm": full,
        "strip_length_mm": length,
        "outer_length_mm": length + numbers.diameter_mm * turning,
        "middle_length_mm": length + numbers.diameter_mm / 2.0 * turning,
        "end_width_mm": ends,
        "diameter_mm": numbers.diameter_mm,
        "turning_deg": math.degrees(turning),
    }
    told |= _pucker(numbers, length, turning) | _stuffed(numbers)
    is_tapered = numbers.taper_to_mm is not None
    seams: tuple[Seam, ...] = ()
    if line is not None:
        edges = [f"tube.edge{n}" for n in (1, 2, 3)] if is_tapered else ["tube.edge"]
        run = tuple(Ref(edge, backward=True) for edge in reversed(edges))
        seams = (Seam(id="tube.seam", name="tube to garment", a=line.refs, b=run, laid_on=True,
            wanted_mm=0.0 if not is_tapered else -_slant_mm(full, ends, numbers)),)  # fmt: skip
    return Draft(
        pieces=(piece,), seams=seams, notches=tuple(_notches(piece, line)), numbers=told,
        steps=tuple(_steps(numbers, told)),
    )  # fmt: skip


def _slant_mm(full: float, ends: float, numbers: TubeNumbers) -> float:
    """By how much both tapered ends make the strip's edge longer than the straight line."""
    over = numbers.taper_over_mm
    return 2.0 * (math.hypot(over, (full - ends) / 2.0) - over)


def _strip(length: float, full: float, ends: float, numbers: TubeNumbers) -> Piece:
    """The strip about its middle line, straight edges running in towards its ends."""
    half, end = full / 2.0, ends / 2.0
    over = numbers.taper_over_mm
    if numbers.taper_to_mm is None:
        low = [(0.0, -half), (length, -half)]
    else:
        low = [(0.0, -end), (over, -half), (length - over, -half), (length, -end)]
    high = [(x, -y) for x, y in reversed(low)]
    names = ["edge"] if len(low) == 2 else ["edge1", "edge2", "edge3"]
    far = [name.replace("edge", "far") for name in reversed(names)]
    corners = [*low, *high]
    roles = [*names, "last", *far, "first"]
    sides = [
        Side(role=role, curve=polyline(np.array([corners[i], corners[(i + 1) % len(corners)]])))
        for i, role in enumerate(roles)
    ]
    return Piece(id="tube", name="Tube", edges=ring_of_sides("tube", sides))


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
            notches.append(
                Notch(id=f"tube.n{number}", at=Spot(edge.id, station - start), mate=mate)
            )
        start += own
    return notches


def _pucker(numbers: TubeNumbers, length: float, turning: float) -> dict[str, Number]:
    """Strain between attached and far edge, D / R, R the mean radius of the opening's line."""
    strain = numbers.diameter_mm * abs(turning) / length
    return {"strain_percent": 100.0 * strain, "look_again": strain > PUCKER}


def _stuffed(numbers: TubeNumbers) -> dict[str, Number]:
    """What a core larger than the hollow does: hoop stretch, and how much shorter it gets.

    Hoop stretch h = (d + t') / (D - t) with t' = t / sqrt(h), length by h ** -0.5 where the tube is
    free. Source: volume is kept (Poisson ratio 0.5), plane geometry.
    """
    if numbers.core_mm is None:
        return {}
    hoop = 1.0
    for _ in range(50):
        hoop = (numbers.core_mm + numbers.thickness_mm / math.sqrt(hoop)) / (
            numbers.diameter_mm - numbers.thickness_mm
        )
    if hoop <= 1.0:
        return {"hoop_stretch": 1.0, "shorter_percent": 0.0, "cut_longer_by": 1.0}
    return {"hoop_stretch": hoop, "shorter_percent": 100.0 * (1.0 - hoop**-0.5),
        "cut_longer_by": hoop**0.5}  # fmt: skip


def _steps(numbers: TubeNumbers, told: dict[str, Number]) -> list[str]:
    lines = [
        f"strip = pi x ({numbers.diameter_mm:.1f} - {numbers.thickness_mm:.2f}) + "
        f"{numbers.lap_mm:.1f} = {told['strip_width_mm']:.2f} mm",
        f"far edge = {told['strip_length_mm']:.1f} + {numbers.diameter_mm:.1f} x turning = "
        f"{told['outer_length_mm']:.1f} mm",
    ]
    if told["look_again"]:
        lines.append(
            f"The far edge is strained by {told['strain_percent']:.1f} %: it puckers. Stand the "
            "tube on the edge, make it thinner, or cut the strip curved."
        )
    if "shorter_percent" in told:
        lines.append(
            f"Stuffed it is {told['shorter_percent']:.1f} % shorter: cut it longer by "
            f"{told['cut_longer_by']:.3f}, or stuff it before it is glued and measure it then."
        )
    return lines
