"""Pleated skirts: equal pleats always, the whole calculation told line by line.

The visible width is the waist of the middle layer divided by the number of pleats, never a typed
width rounded. Three layers lie on one another, their middle surfaces t/2, 3t/2 and 5t/2 outside the
inner waist, so the middle layer's waist is W + 3 pi t (plane geometry).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Final, Literal, TypeAlias

import msgspec
from msgspec import Meta

from wedgework.drafting.draft import Draft, Number
from wedgework.drafting.hanging import (
    FULL,
    SlopeDeg,
    along_cloth,
    one_of,
    over_suit,
    over_suit_numbers,
    refuse_below_hem,
    slope_rad,
    tilted_waist_mm,
    waist_under_mm,
)
from wedgework.drafting.numbers import Mm, NotNegativeMm, Numbers, PositiveMm
from wedgework.drafting.pleat_strips import Cloth, Pleating, spread, strip_of
from wedgework.geometry.tolerances import WHOLE_COUNT
from wedgework.pattern.document import Project, Ref, Seam
from wedgework.pattern.errors import DraftRefused

Style: TypeAlias = Literal["knife", "box", "inverted"]

LEAST_MM: Final = 2.0
"""A visible width below this cannot be folded in sheet; common practice, no source."""

LEAST_DEEP_MM: Final = 1.0
"""A fold below this cannot be made in sheet; common practice, no source."""

MOST_PLEATS: Final = 2000

MOST_STRETCH_PERCENT: Final = 3.0
"""A pleated waist in three layers is stretched by no more; common practice, no source."""


class PleatedSkirtNumbers(Numbers, frozen=True, kw_only=True):
    """A pleated skirt in strips joined in hidden folds: knife, box or inverted pleats."""

    waist_mm: Annotated[PositiveMm, Meta(description="inside, over what is worn under it")]
    length_mm: Annotated[PositiveMm, Meta(description="along the cloth, at centre back")]
    style: Annotated[Style, Meta(description="how the pleats are laid")] = "knife"
    pleats: Annotated[
        Annotated[int, Meta(ge=1, le=MOST_PLEATS)] | None,
        Meta(description="all alike; their visible width follows"),
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
    slope_deg: SlopeDeg = None


def pleating(numbers: PleatedSkirtNumbers) -> Pleating:
    """The pleats that the numbers ask for; DraftRefused where there are none such."""
    middle = numbers.waist_mm + 3.0 * math.pi * numbers.thickness_mm
    count = _count(numbers, middle)
    visible = middle / count
    _refuse_visible(numbers, count, visible)
    underlay = 2.0 * visible if numbers.underlay_mm is None else numbers.underlay_mm
    _refuse_underlay(numbers, visible, underlay)
    hem = _visible_hem(numbers, count, visible)
    strips = _strips(numbers, count, hem + underlay)
    return Pleating(count=count, visible=visible, underlay=underlay, visible_hem=hem, strips=strips)


def _count(numbers: PleatedSkirtNumbers, middle: float) -> int:
    """How many pleats: as said, or the whole number that comes nearest to a visible width."""
    one_of("the number of pleats", numbers.pleats, "their visible width", numbers.visible_mm)
    count = numbers.pleats or max(round(middle / (numbers.visible_mm or middle)), 1)
    if count > MOST_PLEATS:
        raise DraftRefused(f"{count} pleats are more than any skirt has.")
    return count


def _refuse_visible(numbers: PleatedSkirtNumbers, count: int, visible: float) -> None:
    thick = 2.0 * numbers.thickness_mm
    if visible < max(LEAST_MM, thick):
        so_thick = f" in sheet {numbers.thickness_mm:.1f} mm thick" if visible < thick else ""
        raise DraftRefused(
            f"{count} pleats on a waist of {numbers.waist_mm:.0f} mm are {visible:.2f} mm wide "
            f"each: more than fit{so_thick}."
        )


def _visible_hem(numbers: PleatedSkirtNumbers, count: int, visible: float) -> float:
    if numbers.hem_mm is None:
        return visible
    if numbers.hem_mm < numbers.waist_mm:
        raise DraftRefused(
            f"A hem of {numbers.hem_mm:.0f} mm is narrower than the waist: pleats only get wider."
        )
    return max(numbers.hem_mm / count, visible)


def _strips(numbers: PleatedSkirtNumbers, count: int, pitch: float) -> tuple[int, ...]:
    """How many pleats each strip takes, as evenly as may be; the last takes the overlap too."""
    most, last = (
        math.floor((numbers.sheet_width_mm - extra) / pitch + WHOLE_COUNT)
        for extra in (numbers.lap_mm, numbers.overlap_mm)
    )
    if min(most, last) < 1:
        extra, what = (numbers.lap_mm, "lap") if most < 1 else (numbers.overlap_mm, "overlap")
        raise DraftRefused(
            f"One pleat takes {pitch:.1f} mm and, with its {what} of {extra:.1f} mm, does not fit "
            f"on a sheet {numbers.sheet_width_mm:.0f} mm wide: take more pleats or less underlay."
        )
    strips = math.ceil(count / most)
    while count // strips > last:
        strips += 1
    return tuple(count // strips + (number < count % strips) for number in range(strips))


def _refuse_underlay(numbers: PleatedSkirtNumbers, visible: float, underlay: float) -> None:
    """DraftRefused where folds are deeper than a pleat, or too shallow to be folded."""
    most = 2.0 * visible
    if underlay > most + WHOLE_COUNT:
        what = "A knife pleat hides" if numbers.style == "knife" else "Two folds of a pleat hide"
        raise DraftRefused(
            f"{what} at most twice its visible width, {most:.1f} mm here; with {underlay:.1f} mm "
            "the folds would lie on the next pleat."
        )
    deep = underlay / (2.0 if numbers.style == "knife" else 4.0)
    if deep < max(LEAST_DEEP_MM, 2.0 * numbers.thickness_mm):
        raise DraftRefused(
            f"An underlay of {underlay:.1f} mm makes folds {deep:.2f} mm deep: that cannot be "
            "folded. Take more underlay."
        )


def draft_pleated_skirt(numbers: PleatedSkirtNumbers, project: Project) -> Draft:
    """The strips with their fold lines and the laps that join them."""
    pleats = pleating(numbers)
    cloth = cloth_of(numbers, pleats)
    pieces = tuple(strip_of(cloth, index) for index in range(len(pleats.strips)))
    under_mm = waist_under_mm(project)
    return Draft(
        pieces=pieces,
        seams=tuple(_seams(numbers, len(pieces))),
        numbers=_numbers(numbers, cloth, under_mm),
        steps=(*_steps(numbers, cloth), *_over_suit(numbers.waist_mm, under_mm)),
    )


def cloth_of(numbers: PleatedSkirtNumbers, pleats: Pleating) -> Cloth:
    """How the strips lie on the table; DraftRefused where waist and hem cannot be so."""
    wider = 0.0 if numbers.hem_mm is None else numbers.hem_mm - numbers.waist_mm
    slope = slope_rad(max(wider, 0.0) / (FULL * numbers.length_mm), numbers.slope_deg)
    drop, dip = (mm / math.cos(slope) for mm in (numbers.waist_drop_mm, numbers.hem_dip_mm))
    refuse_below_hem(numbers.length_mm + dip - drop)
    return spread(
        Cloth(
            pleats=pleats, box=numbers.style != "knife", overlap=numbers.overlap_mm,
            length=numbers.length_mm, drop=drop, dip=dip, slope=slope,
        )
    )  # fmt: skip


def _seams(numbers: PleatedSkirtNumbers, strips: int) -> Iterator[Seam]:
    """The joins; each lap is cut on the strip before, as the last one has the overlap."""
    for number in range(1, strips):
        yield Seam(
            id=f"strip_{number}.join",
            name=f"strip {number} to {number + 1}",
            a=(Ref(f"strip_{number}.last"),),
            b=(Ref(f"strip_{number + 1}.first", backward=True),),
            lap_mm=numbers.lap_mm,
            over="b",
        )


def _numbers(
    numbers: PleatedSkirtNumbers, cloth: Cloth, under_mm: float | None
) -> dict[str, Number]:
    waist, thickness, pleats = numbers.waist_mm, numbers.thickness_mm, cloth.pleats
    told: dict[str, Number] = {
        "pleats": pleats.count,
        "visible_mm": pleats.visible,
        "underlay_mm": pleats.underlay,
        "pitch_mm": pleats.pitch,
        "material_mm": pleats.count * pleats.pitch,
        "strips": len(pleats.strips),
        "pleats_in_strips": [str(count) for count in pleats.strips],
        "finished_waist_mm": pleats.count * pleats.visible - 3.0 * math.pi * thickness,
        "outside_waist_mm": waist + 6.0 * math.pi * thickness,
        "front_length_mm": cloth.length_at(1.0),
        "side_length_mm": cloth.length_at(0.5),
        "back_length_mm": cloth.length_at(0.0),
        "folds": pleats.count * (4 if cloth.box else 2),
        "waist_mm": waist,
        "thickness_mm": thickness,
    }
    if thickness:
        told["fold_allowance_mm"] = _fold_allowance_mm(thickness)
    if numbers.hem_mm is not None:
        told |= {
            "visible_hem_mm": pleats.visible_hem,
            "hem_material_mm": pleats.count * pleats.hem_pitch,
            "sector_deg": math.degrees(cloth.sector_rad),
            "slope_deg": math.degrees(cloth.slope),
        }
    if numbers.waist_drop_mm:
        told["tilted_waist_mm"] = tilted_waist_mm(waist, numbers.waist_drop_mm)
    return told | over_suit_numbers(waist, under_mm)


def _fold_allowance_mm(thickness_mm: float) -> float:
    """What a fold takes, measured from crest to crest on middle surfaces (plane geometry)."""
    return (math.pi / 2.0 - 1.0) * thickness_mm


def _steps(numbers: PleatedSkirtNumbers, cloth: Cloth) -> Iterator[str]:
    """The calculation, line by line."""
    waist, thickness, pleats = numbers.waist_mm, numbers.thickness_mm, cloth.pleats
    middle = waist + 3.0 * math.pi * thickness
    deep = pleats.underlay / (4.0 if cloth.box else 2.0)
    yield f"waist of the middle layer = {waist:.1f} + 3 pi x {thickness:.2f} = {middle:.2f} mm"
    yield f"visible = {middle:.2f} / {pleats.count} = {pleats.visible:.4f} mm, all alike"
    sides = " on both sides of each pleat" if cloth.box else ""
    yield f"underlay = {pleats.underlay:.4f} mm, hidden in folds {deep:.4f} mm deep{sides}"
    yield f"pitch = {pleats.visible:.4f} + {pleats.underlay:.4f} = {pleats.pitch:.4f} mm"
    material = pleats.count * pleats.pitch
    yield f"material = {pleats.count} x {pleats.pitch:.4f} = {material:.2f} mm"
    yield f"that is {material / middle:.3f} times the waist"
    yield from _strip_steps(numbers, pleats)
    yield from _layer_steps(numbers, cloth)
    yield from _length_steps(numbers, cloth)
    yield _at_front(numbers.style, pleats.count)


def _strip_steps(numbers: PleatedSkirtNumbers, pleats: Pleating) -> Iterator[str]:
    for number, count in enumerate(pleats.strips, start=1):
        is_last = number == len(pleats.strips)
        extra, why = (numbers.overlap_mm, "overlap") if is_last else (numbers.lap_mm, "lap")
        added = f" + {extra:.1f} {why}" if extra else ""
        whole = count * pleats.pitch + extra
        yield f"strip {number}: {count} x {pleats.pitch:.4f}{added} = {whole:.2f} mm"
    hidden = pleats.underlay / 2.0
    if len(pleats.strips) > 1 and numbers.lap_mm > hidden:
        yield (
            f"a lap of {numbers.lap_mm:.1f} mm will be seen: only {hidden:.1f} mm are hidden where "
            "strips are joined"
        )


def _layer_steps(numbers: PleatedSkirtNumbers, cloth: Cloth) -> Iterator[str]:
    waist, thickness = numbers.waist_mm, numbers.thickness_mm
    if thickness:
        outside = waist + 6.0 * math.pi * thickness
        folds = cloth.pleats.count * (4 if cloth.box else 2)
        each = _fold_allowance_mm(thickness)
        yield f"outside waist = {waist:.1f} + 6 pi x {thickness:.2f} = {outside:.2f} mm, for a band"
        yield (
            f"measured from crest to crest a fold takes some {each:.3f} mm, {folds} folds "
            f"{folds * each:.2f} mm: fold ten on a scrap to know"
        )


def _length_steps(numbers: PleatedSkirtNumbers, cloth: Cloth) -> Iterator[str]:
    pleats = cloth.pleats
    if numbers.hem_mm is not None:
        hem = pleats.count * pleats.hem_pitch
        yield (
            f"hem = {pleats.count} x ({pleats.visible_hem:.4f} + {pleats.underlay:.4f}) = "
            f"{hem:.2f} mm, in all a sector of {math.degrees(cloth.sector_rad):.2f} degrees"
        )
    for name, lower in (("waist", numbers.waist_drop_mm), ("hem", numbers.hem_dip_mm)):
        if lower != 0.0:
            yield along_cloth(name, lower, cloth.slope)
    if numbers.waist_drop_mm:
        tilted = tilted_waist_mm(numbers.waist_mm, numbers.waist_drop_mm)
        yield f"round the tilted waist it is {tilted:.1f} mm"
    front, side, back = (cloth.length_at(share) for share in (1.0, 0.5, 0.0))
    yield f"length: front {front:.1f}, side {side:.1f}, back {back:.1f} mm"


def _at_front(style: Style, count: int) -> str:
    if style == "knife":
        return "each pleat starts on the line where the one before it ends; all lie one way"
    where = "two pleats meet too" if count % 2 == 0 else "a pleat has its middle"
    alike = "box and inverted pleats are one strip"
    return f"{alike}: it closes where two pleats meet, and at centre front {where}"


def _over_suit(waist: float, under_mm: float | None) -> Iterator[str]:
    """Whether the waist goes over what is worn under it, where the body is known."""
    yield from over_suit(waist, under_mm)
    if under_mm is not None and 100.0 * (under_mm / waist - 1.0) > MOST_STRETCH_PERCENT:
        yield "pleats in three layers hardly stretch: make the waist larger"


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
