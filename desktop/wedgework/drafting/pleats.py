"""Pleated skirts: equal pleats always, the whole calculation told line by line.

The visible width is the waist of the middle layer divided by the number of pleats, never a typed
width rounded. Three layers lie on one another, their middle surfaces t/2, 3t/2 and 5t/2 outside the
inner waist, so the middle layer's waist is W + 3 pi t (plane geometry).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Final, Literal, TypeAlias

import msgspec
import numpy as np
from msgspec import Meta

from wedgework.drafting.draft import Draft, Number, Side, ring_of_sides
from wedgework.drafting.numbers import Mm, NotNegativeMm, Numbers, PositiveMm
from wedgework.geometry.curve import Curve, line, reversed_curve
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.tolerances import WHOLE_COUNT
from wedgework.pattern.document import Line, Piece, Project, Ref, Seam
from wedgework.pattern.errors import DraftRefused

Style: TypeAlias = Literal["knife", "box", "inverted"]

LEAST_MM: Final = 2.0
"""A visible width below this cannot be folded in sheet; common practice, no source."""

MOST_PLEATS: Final = 2000

GAP_MM: Final = 40.0
"""Strips lie so far apart on the table."""

SAMPLES: Final = 49
"""Places of a dipped edge over one waist: the curve through them is within 0.001 mm of the cosine
for a dip of 100 mm."""


class PleatedSkirtNumbers(Numbers, frozen=True, kw_only=True):
    """A pleated skirt in strips joined in hidden folds: knife, box or inverted pleats."""

    waist_mm: Annotated[PositiveMm, Meta(description="inside, over what is worn under it")]
    length_mm: Annotated[PositiveMm, Meta(description="at centre back")]
    style: Annotated[Style, Meta(description="how the pleats are laid")] = "knife"
    pleats: Annotated[
        Annotated[int, Meta(ge=1, le=MOST_PLEATS)] | None, Meta(description="how many")
    ] = None
    visible_mm: Annotated[
        PositiveMm | None,
        Meta(description="visible width of a pleat; the nearest whole number of pleats is taken"),
    ] = None
    underlay_mm: Annotated[
        PositiveMm | None,
        Meta(description="hidden material of a pleat in all; twice the visible width without it"),
    ] = None
    thickness_mm: Annotated[
        NotNegativeMm, Meta(description="of its sheet: three layers lie on each other")
    ] = 0.0
    lap_mm: Annotated[NotNegativeMm, Meta(description="where strips are joined")] = 8.0
    overlap_mm: Annotated[NotNegativeMm, Meta(description="where the skirt closes")] = 0.0
    sheet_width_mm: Annotated[PositiveMm, Meta(description="that a strip has to fit on")] = 1000.0
    waist_drop_mm: Annotated[
        Mm, Meta(description="how much lower the waist is worn at the front")
    ] = 0.0
    hem_dip_mm: Annotated[Mm, Meta(description="how much lower the hem is at the front")] = 0.0
    hem_mm: Annotated[
        PositiveMm | None, Meta(description="girth of a wider hem, the underlay staying as it is")
    ] = None


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


def pleating(numbers: PleatedSkirtNumbers) -> Pleating:
    """The pleats that the numbers ask for; DraftRefused where there are none such."""
    middle = numbers.waist_mm + 3.0 * math.pi * numbers.thickness_mm
    if (numbers.pleats is None) == (numbers.visible_mm is None):
        raise DraftRefused("Give either the number of pleats or their visible width.")
    count = numbers.pleats or max(round(middle / (numbers.visible_mm or middle)), 1)
    if count > MOST_PLEATS:
        raise DraftRefused(f"{count} pleats are more than any skirt has.")
    visible = middle / count
    if visible < max(LEAST_MM, 2.0 * numbers.thickness_mm):
        raise DraftRefused(
            f"{count} pleats on a waist of {numbers.waist_mm:.0f} mm are {visible:.2f} mm wide "
            "each: more than fit."
        )
    underlay = 2.0 * visible if numbers.underlay_mm is None else numbers.underlay_mm
    _refuse_underlay(numbers, visible, underlay)
    hem = visible if numbers.hem_mm is None else numbers.hem_mm / count
    if hem < visible:
        raise DraftRefused(
            f"A hem of {numbers.hem_mm:.0f} mm is narrower than the waist: pleats only get wider."
        )
    return Pleating(
        count=count,
        visible=visible,
        underlay=underlay,
        visible_hem=hem,
        strips=_strips(numbers, count, hem + underlay),
    )


def _strips(numbers: PleatedSkirtNumbers, count: int, pitch: float) -> tuple[int, ...]:
    """How many pleats each strip takes, as evenly as may be; the last takes the overlap too."""
    most = math.floor((numbers.sheet_width_mm - numbers.lap_mm) / pitch + WHOLE_COUNT)
    if most < 1:
        raise DraftRefused(
            f"One pleat takes {pitch:.1f} mm and does not fit on a sheet "
            f"{numbers.sheet_width_mm:.0f} mm wide: take more pleats or less underlay."
        )
    strips = math.ceil(count / most)
    last = math.floor((numbers.sheet_width_mm - numbers.overlap_mm) / pitch + WHOLE_COUNT)
    if count // strips > last:
        strips += 1
    return tuple(count // strips + (number < count % strips) for number in range(strips))


def _refuse_underlay(numbers: PleatedSkirtNumbers, visible: float, underlay: float) -> None:
    most = 2.0 * visible
    if underlay > most + WHOLE_COUNT:
        what = "A knife pleat hides" if numbers.style == "knife" else "Two folds of a pleat hide"
        raise DraftRefused(
            f"{what} at most twice its visible width, {most:.1f} mm here; with {underlay:.1f} mm "
            "the folds would lie on the next pleat."
        )


def draft_pleated_skirt(numbers: PleatedSkirtNumbers, project: Project) -> Draft:
    """The strips with their fold lines and the laps that join them."""
    del project
    pleats = pleating(numbers)
    if numbers.length_mm - numbers.waist_drop_mm + numbers.hem_dip_mm <= 0.0:
        raise DraftRefused("The waist would be dropped below the hem at the front.")
    pieces = tuple(_strip(numbers, pleats, index) for index in range(len(pleats.strips)))
    return Draft(
        pieces=pieces,
        seams=tuple(_seams(numbers, len(pieces))),
        numbers=_numbers(numbers, pleats),
        steps=tuple(_steps(numbers, pleats)),
    )


def length_at(numbers: PleatedSkirtNumbers, turn_rad: float) -> float:
    """Length of the skirt at an azimuth from centre front, in mm."""
    front = (1.0 + math.cos(turn_rad)) / 2.0
    return numbers.length_mm + (numbers.hem_dip_mm - numbers.waist_drop_mm) * front


def _strip(numbers: PleatedSkirtNumbers, pleats: Pleating, index: int) -> Piece:
    """One strip, its waist along the top; x runs on from strip to strip, from centre back."""
    before, count = sum(pleats.strips[:index]), pleats.strips[index]
    start, end = before * pleats.pitch, (before + count) * pleats.pitch
    end += numbers.overlap_mm if index == len(pleats.strips) - 1 else 0.0
    name = f"strip_{index + 1}"
    cloth = Cloth(pleats=pleats, numbers=numbers, middle=(start + end) / 2.0, shift=index * GAP_MM)
    waist, low = cloth.along(start, end, 0.0), cloth.along(start, end, 1.0)
    sides = [
        Side(role="hem", curve=low, finish="hem"),
        Side(role="last", curve=line(low.end, waist.end)),
        Side(role="waist", curve=reversed_curve(waist)),
        Side(role="first", curve=line(waist.start, low.start)),
    ]
    tops, hems = (_folds(numbers, pleats, (before, count), at) for at in (0.0, 1.0))
    lines = tuple(
        Line(
            id=f"{name}.fold{number}",
            kind="fold",
            name="fold",
            curve=line(cloth.place(hem, 1.0), cloth.place(top, 0.0)),
        )
        for number, (top, hem) in enumerate(zip(tops, hems, strict=True), start=1)
    )
    return Piece(
        id=name,
        name=name.replace("_", " ").capitalize(),
        edges=ring_of_sides(name, sides),
        lines=lines,
    )


def _front(pleats: Pleating, x: float) -> float:
    """1 at centre front and 0 at centre back, by a place along the strip.

    The waist advances a visible width while the strip advances a whole pitch.
    """
    azimuth = 2.0 * math.pi * x / (pleats.count * pleats.pitch) - math.pi
    return (1.0 + math.cos(azimuth)) / 2.0


@dataclass(frozen=True, kw_only=True)
class Cloth:
    """Where a place of a strip lies on the table: x along its waist, and the way down to the hem.

    A strip with a wider hem is a sector: of the angle by which its hem is longer than its waist,
    over its length.
    """

    pleats: Pleating
    numbers: PleatedSkirtNumbers
    middle: float
    shift: float

    @property
    def bend(self) -> float:
        """Turning of the strip by length of its waist, in rad by mm; 0 for a straight one."""
        pleats = self.pleats
        return (pleats.hem_pitch - pleats.pitch) / (pleats.pitch * self.numbers.length_mm)

    def depth(self, x: float, down: float) -> float:
        """How far below the waist at the back; `down` is 0 at the waist and 1 at the hem."""
        front = _front(self.pleats, x)
        waist = self.numbers.waist_drop_mm * front
        return waist + down * (self.numbers.length_mm + self.numbers.hem_dip_mm * front - waist)

    def place(self, x: float, down: float) -> tuple[float, float]:
        """The place on the table, in mm."""
        depth = self.depth(x, down)
        if self.bend == 0.0:
            return x + self.shift, -depth
        radius, turn = 1.0 / self.bend, (x - self.middle) * self.bend
        reach = radius + depth
        spread = self.middle * self.pleats.hem_pitch / self.pleats.pitch
        return spread + self.shift + reach * math.sin(turn), radius - reach * math.cos(turn)

    def along(self, start: float, end: float, down: float) -> Curve:
        """The waist, the hem, or a line between, from one x to another."""
        dip = (self.numbers.waist_drop_mm, self.numbers.hem_dip_mm)[round(down)]
        if self.bend == 0.0 and dip == 0.0:
            return line(self.place(start, down), self.place(end, down))
        return smooth_through([self.place(x, down) for x in np.linspace(start, end, SAMPLES)])


def _folds(
    numbers: PleatedSkirtNumbers, pleats: Pleating, strip: tuple[int, int], down: float
) -> Iterator[float]:
    """Where a strip (pleats before it, its own) is folded, by x of its waist, in order.

    Every join lies in hidden material. A knife pleat: half the underlay, the visible width, half
    the underlay. A box pleat hides half of its underlay on each side, folded twice each; an
    inverted one is the same the other way out. At a wider hem the visible part alone is wider.
    """
    before, count = strip
    visible = pleats.visible + down * (pleats.visible_hem - pleats.visible)
    half, whole = pleats.underlay / 2.0, pleats.underlay + visible
    folds = [half, half + visible]
    if numbers.style != "knife":
        folds = [half / 2.0, half, half + visible, half * 1.5 + visible]
    for number in range(before, before + count):
        yield from ((number + fold / whole) * pleats.pitch for fold in folds)


def _seams(numbers: PleatedSkirtNumbers, strips: int) -> Iterator[Seam]:
    for number in range(1, strips):
        yield Seam(
            id=f"strip_{number}.join",
            name=f"strip {number} to {number + 1}",
            a=(Ref(f"strip_{number}.last"),),
            b=(Ref(f"strip_{number + 1}.first", backward=True),),
            lap_mm=numbers.lap_mm,
        )


def _numbers(numbers: PleatedSkirtNumbers, pleats: Pleating) -> dict[str, Number]:
    waist, thickness = numbers.waist_mm, numbers.thickness_mm
    return {
        "pleats": pleats.count,
        "visible_mm": pleats.visible,
        "underlay_mm": pleats.underlay,
        "pitch_mm": pleats.pitch,
        "material_mm": pleats.count * pleats.pitch,
        "strips": len(pleats.strips),
        "pleats_in_strips": [str(count) for count in pleats.strips],
        "finished_waist_mm": pleats.count * pleats.visible - 3.0 * math.pi * thickness,
        "visible_hem_mm": pleats.visible_hem,
        "hem_material_mm": pleats.count * pleats.hem_pitch,
        "sector_deg": math.degrees(
            pleats.count * (pleats.hem_pitch - pleats.pitch) / numbers.length_mm
        ),
        "outside_waist_mm": waist + 6.0 * math.pi * thickness,
        "front_length_mm": length_at(numbers, 0.0),
        "side_length_mm": length_at(numbers, math.pi / 2.0),
        "back_length_mm": length_at(numbers, math.pi),
        "folds": pleats.count * (2 if numbers.style == "knife" else 4),
        "fold_allowance_mm": (math.pi / 2.0 - 1.0) * thickness,
        "waist_mm": waist,
        "thickness_mm": thickness,
    }


def _steps(numbers: PleatedSkirtNumbers, pleats: Pleating) -> Iterator[str]:
    """The calculation, line by line."""
    waist, thickness = numbers.waist_mm, numbers.thickness_mm
    middle = waist + 3.0 * math.pi * thickness
    yield f"waist of the middle layer = {waist:.1f} + 3 pi x {thickness:.2f} = {middle:.2f} mm"
    yield f"visible = {middle:.2f} / {pleats.count} = {pleats.visible:.4f} mm, all alike"
    yield f"underlay = {pleats.underlay:.4f} mm, hidden in {pleats.underlay / 2:.4f} mm deep folds"
    yield f"pitch = {pleats.visible:.4f} + {pleats.underlay:.4f} = {pleats.pitch:.4f} mm"
    material = pleats.count * pleats.pitch
    yield f"material = {pleats.count} x {pleats.pitch:.4f} = {material:.2f} mm"
    yield f"that is {material / middle:.3f} times the waist"
    for number, count in enumerate(pleats.strips, start=1):
        extra = numbers.lap_mm if number < len(pleats.strips) else numbers.overlap_mm
        whole = count * pleats.pitch + extra
        yield f"strip {number}: {count} x {pleats.pitch:.4f} + {extra:.1f} = {whole:.2f} mm"
    yield (
        f"length: front {length_at(numbers, 0.0):.1f}, side {length_at(numbers, math.pi / 2):.1f}, "
        f"back {length_at(numbers, math.pi):.1f} mm"
    )


def what_if(numbers: PleatedSkirtNumbers) -> list[tuple[int, float, float, int]]:
    """Rows (pleats, visible, material, strips) for some numbers of pleats around that asked for."""
    middle = pleating(numbers).count
    rows = []
    for count in range(max(middle - 4, 1), middle + 5):
        other = msgspec.structs.replace(numbers, pleats=count, visible_mm=None)
        try:
            found = pleating(other)
        except DraftRefused:
            continue
        rows.append((count, found.visible, count * found.pitch, len(found.strips)))
    return rows
