"""The block of a one-piece suit, drafted from measurements alone.

Front and back are drafted as halves about their centre lines. At every level twice the sum of the
half widths is the cut girth; the torso loop is walked on the draft and comes out as asked; both
sides of every seam are equally long. Heights and widths follow common practice for close-fitting
one-piece suits (no source) and plane geometry.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from wedgework.drafting.block_legs import LegHalf, leg_halves
from wedgework.drafting.block_numbers import BodyBlockNumbers, CutSizes, cut_sizes
from wedgework.drafting.block_pieces import LEVEL_NAMES, Block, block_piece, levels_of
from wedgework.drafting.block_shape import (
    ARM_MM,
    LEG_BELOW_HIP_MM,
    Frame,
    Half,
    armhole,
    crotch_height_mm,
    half_widths,
    leg_edge,
    with_neck_width,
    with_sides_agreeing,
    worn_neck,
)
from wedgework.drafting.block_strip import strip_half_mm, strip_piece, strip_seams
from wedgework.drafting.draft import APART_MM, Draft, Number
from wedgework.drafting.shape_body import GIRTHS, not_together
from wedgework.drafting.sleeves import (
    neck_piece,
    neck_seams,
    sleeve_notch,
    sleeve_piece,
    sleeve_seams,
)
from wedgework.drafting.solving import solved
from wedgework.geometry.length import length_mm
from wedgework.geometry.tolerances import STATION_MM
from wedgework.geometry.turning import curvatures_at
from wedgework.pattern.body import MEASURES
from wedgework.pattern.document import Level, Notch, Piece, Project, Ref, Seam
from wedgework.pattern.errors import DraftRefused
from wedgework.pattern.limbs import leg_path_mm

FULLNESS: Final = (0.05, 0.98)
"""Handles of an opening's edge by its box: from nearly straight to nearly square."""


LEAST_RISE_MM: Final = 10.0
"""A leg opening that nobody said anything of rises by so much at least; common practice, no
source."""

CLOSING_SEAMS: Final = {
    "back": "centre_back", "front": "centre_front", "side": "side", "none": None,
}  # fmt: skip
"""The seam that closes the suit, by where it closes."""

BENDS: Final = 200
"""The bend of a side is read at so many places: two or three millimetres apart."""


def draft_body_block(numbers: BodyBlockNumbers, project: Project) -> Draft:
    """Front and back of a one-piece suit with their seams and levels.

    `project` is not read. Raises DraftRefused where the measures contradict each other.
    """
    del project
    sizes = cut_sizes(numbers)
    block = _shaped(Frame(sizes=sizes, numbers=numbers))
    more = (_sleeve(block), _high_neck(block), _strip(block))
    body = [block_piece(block, name) for name in ("front", "back")]
    return Draft(
        pieces=(*body, *(piece for piece in more if piece is not None)),
        seams=tuple(_seams(block)),
        notches=tuple(_notches(block)),
        levels=tuple(
            Level(id=name, name=LEVEL_NAMES[name], measure=f"{name}_girth_mm")
            for name in levels_of(block)
        ),
        numbers=_numbers(block),
        steps=tuple(_steps(block)),
        body={name: sizes.body[name] for name in _taken(sizes)},
    )


def _sleeve(block: Block) -> Piece | None:
    numbers = block.frame.numbers
    if numbers.sleeves == "none":
        return None
    front, back = _armhole_parts_mm(block)
    return sleeve_piece(numbers, block.frame.sizes, front, back, np.array([_right_mm(block), 0.0]))


def _high_neck(block: Block) -> Piece | None:
    numbers, sizes = block.frame.numbers, block.frame.sizes
    if not numbers.high_neck_mm:
        return None
    base = sum(
        length_mm(worn_neck(block.frame, block.half(name), is_front=name == "front"))
        for name in ("front", "back")
    )
    top = sizes.body["neck_girth_mm"] * (1.0 - numbers.neck_reduction) / 2.0
    height = numbers.high_neck_mm * (1.0 - numbers.length_reduction)
    at = np.array([_right_mm(block), sizes.nape_height_mm])
    return neck_piece(height, base, top, at, fold=_neck_fold(block))


def _strip(block: Block) -> Piece | None:
    numbers = block.frame.numbers
    if not numbers.crotch_strip_mm:
        return None
    low_mm = crotch_height_mm(block.frame, block.front) - APART_MM - numbers.crotch_strip_mm
    return strip_piece(block.frame, 0.0, low_mm)


def _neck_fold(block: Block) -> str:
    """A high neck is cut on the fold opposite to where the suit closes."""
    return "back" if block.frame.numbers.closing == "front" else "front"


def _right_mm(block: Block) -> float:
    """Clear of front and back on the table."""
    fullest = sum(max(half.width.values()) for half in (block.front, block.back))
    return fullest + 4.0 * APART_MM + 0.5 * fullest


def _armhole_parts_mm(block: Block) -> tuple[float, float]:
    """Length of the armhole on the front, and on the back."""
    parts = [length_mm(armhole(block.frame, half, block.arm)) for half in (block.front, block.back)]
    return parts[0], parts[1]


def _taken(sizes: CutSizes) -> Iterator[str]:
    return (name for name in sizes.body if name in MEASURES and name not in sizes.filled_in)


def _shaped(frame: Frame) -> Block:
    """Both halves with everything that has to agree made to agree."""
    _refuse_widths(frame)
    front, back = with_neck_width(frame, [_half(frame, "front"), _half(frame, "back")])
    if frame.numbers.legs == "none":
        return _brief_shaped(frame, front, back)
    legs = leg_halves(frame, front, back)
    halves = [replace(half, side=leg.side) for half, leg in zip((front, back), legs, strict=True)]
    return _armed(Block(frame=frame, front=halves[0], back=halves[1], legs=legs))


def _brief_shaped(frame: Frame, front: Half, back: Half) -> Block:
    """A suit without legs, its leg opening where its edge comes out as long as it should be.

    Where it was said how far it rises, or no place gives that length, as near to it as can be.
    """
    tried: list[tuple[float, Block]] = []
    for below_mm in LEG_BELOW_HIP_MM[: 1 if frame.numbers.leg_rise_mm is not None else None]:
        halves = with_sides_agreeing(frame, front, back, below_mm)
        block = Block(frame=frame, front=halves[0], back=halves[1])
        if _rise_mm(block) > LEAST_RISE_MM or not tried:
            block = _with_leg(block)
            tried.append((abs(_leg_mm(block, block.leg) - _leg_wanted_mm(block)), block))
        if tried[-1][0] < STATION_MM:
            break
    return _armed(min(tried, key=lambda one: one[0])[1])


def _armed(block: Block) -> Block:
    """The block with its armholes as long as they were measured."""
    numbers = block.frame.numbers
    if numbers.armscye_girth_mm is None:
        return block
    return _with_armhole(block, numbers.armscye_girth_mm * (1.0 - numbers.edge_reduction))


def _refuse_widths(frame: Frame) -> None:
    """What lies beside the centre line has to lie within the piece."""
    sizes, crotch_mm = frame.sizes, frame.numbers.crotch_width_mm
    narrowest_mm = min(*sizes.front.values(), *sizes.back.values())
    if sizes.bust_point_mm >= 0.9 * narrowest_mm:
        raise not_together("The bust points would lie beyond the side", sizes.taken)
    most_mm = 1.4 * min(sizes.front["hip"], sizes.back["hip"])
    if crotch_mm >= most_mm:
        raise DraftRefused(
            f"A crotch width of {crotch_mm:.0f} mm leaves no leg opening beside it: with this hip "
            f"girth it is less than {most_mm:.0f} mm."
        )


def _half(frame: Frame, name: str) -> Half:
    sizes, numbers = frame.sizes, frame.numbers
    return Half(
        width=half_widths(dict(sizes.front if name == "front" else sizes.back), numbers.side_share),
        loop_up_mm=sizes.loop[f"shoulder_to_waist_{name}_mm"],
        loop_down_mm=sizes.loop[f"waist_to_crotch_{name}_mm"] - strip_half_mm(frame),
        nape_mm=None if name == "front" else sizes.nape_height_mm,
        arm_mm=sizes.bust_height_mm + ARM_MM,
    )


def _rise_mm(block: Block) -> float:
    """How much higher the leg opening is at the side than at the crotch, on the body.

    Read off the front: the back runs on under the body before it meets the crotch.
    """
    side_mm = float(block.front.side.start[1])
    crotch_mm = crotch_height_mm(block.frame, block.front) - strip_half_mm(block.frame)
    drawn_mm = side_mm - crotch_mm
    return drawn_mm / (1.0 - block.frame.numbers.length_reduction)


def _with_armhole(block: Block, wanted_mm: float) -> Block:
    """The block with both armholes together so long; DraftRefused where they cannot be."""
    found = solved(lambda full: _armhole_mm(block, full) - wanted_mm, *FULLNESS)
    if found is None:
        shortest, longest = (_armhole_mm(block, full) for full in FULLNESS)
        part = 1.0 - block.frame.numbers.edge_reduction
        raise DraftRefused(
            f"An armscye girth of {block.frame.numbers.armscye_girth_mm:.0f} mm does not go with "
            f"the other measures: with them it lies between {shortest / part:.0f} and "
            f"{longest / part:.0f} mm."
        )
    return replace(block, arm=found)


def _armhole_mm(block: Block, fullness: float) -> float:
    return sum(_armhole_parts_mm(replace(block, arm=fullness)))


def _with_leg(block: Block) -> Block:
    """The block with its leg opening as near to its wanted length as its places allow."""
    wanted_mm = _leg_wanted_mm(block)
    found = solved(lambda full: _leg_mm(block, full) - wanted_mm, *FULLNESS)
    if found is None:
        found = min(FULLNESS, key=lambda full: abs(_leg_mm(block, full) - wanted_mm))
    return replace(block, leg=found)


def _leg_wanted_mm(block: Block) -> float:
    """How long the edge of a leg opening is to be cut."""
    path_mm = leg_path_mm(block.frame.sizes.body["thigh_girth_mm"], _rise_mm(block))
    return path_mm * (1.0 - block.frame.numbers.edge_reduction)


def _leg_mm(block: Block, fullness: float) -> float:
    strip_mm = block.frame.numbers.crotch_strip_mm
    return strip_mm + sum(
        length_mm(leg_edge(block.frame, half, fullness)) for half in (block.front, block.back)
    )


def _seams(block: Block) -> Iterator[Seam]:
    numbers = block.frame.numbers
    between = ["crotch"] if block.legs is None else ["inseam"]
    if numbers.crotch_strip_mm:
        between = []
        yield from strip_seams()
    for name in ("shoulder", "side", *between):
        yield Seam(
            id=name, name=name, a=(Ref(f"front.{name}"),), b=(Ref(f"back.{name}", backward=True),)
        )
    for half in ("front", "back"):
        if block.legs is not None or numbers.closing == half:
            own = f"{half}.centre"
            yield Seam(
                id=f"centre_{half}", name=f"centre {half}", a=(Ref(own),),
                b=(Ref(own, mirrored=True),),
            )  # fmt: skip
    if numbers.sleeves != "none":
        yield from sleeve_seams()
    if numbers.high_neck_mm:
        yield from neck_seams(fold=_neck_fold(block))


def _notches(block: Block) -> Iterator[Notch]:
    if block.frame.numbers.sleeves != "none":
        front, back = _armhole_parts_mm(block)
        yield sleeve_notch(front, back)


def _numbers(block: Block) -> dict[str, Number]:
    """Everything that was used and computed; lengths of the sheet unless `body` is said."""
    frame, numbers = block.frame, block.frame.numbers
    sizes = frame.sizes
    fullest = sizes.cut["bust"]
    told: dict[str, Number] = {**sizes.body}
    told |= {f"{name}_cut_mm": sizes.cut[name] for name in GIRTHS}
    told |= {
        "torso_loop_cut_mm": sum(sizes.loop.values()),
        "neck_edge_mm": sizes.neck_mm,
        "shoulder_cut_mm": sizes.shoulder_mm,
        "armhole_mm": _armhole_mm(block, block.arm),
        "side_radius_mm": _side_radius_mm(block),
        "intake_under_bust_mm": fullest - sizes.cut["under_bust"],
        "intake_waist_mm": fullest - sizes.cut["waist"],
        "left_to_shape_under_bust_mm": (1 - numbers.side_share)
        * (fullest - sizes.cut["under_bust"]),
        "left_to_shape_waist_mm": (1 - numbers.side_share) * (fullest - sizes.cut["waist"]),
    }
    said_ratios = ("girth_reduction", "length_reduction", "neck_reduction", "edge_reduction",
        "side_share", "crotch_width_mm", "crotch_strip_mm")  # fmt: skip
    told |= {name: getattr(numbers, name) for name in said_ratios}
    told["closing_seam"] = CLOSING_SEAMS[numbers.closing]
    told |= _brief(block) if block.legs is None else _legs(block.legs)
    return told | {"filled_in": list(sizes.filled_in)}


def _side_radius_mm(block: Block) -> float | None:
    """Radius of the tightest bend of both side seams; None where neither bends."""
    sides = [half.side for half in (block.front, block.back)]
    tightest = max(
        float(np.abs(curvatures_at(one, np.linspace(0.0, length_mm(one), BENDS))).max())
        for one in sides
    )
    return 1.0 / tightest if tightest > 0.0 else None


def _brief(block: Block) -> dict[str, Number]:
    """Numbers of a leg opening."""
    rise_mm = _rise_mm(block)
    return {
        "leg_edge_mm": _leg_mm(block, block.leg),
        "leg_path_mm": leg_path_mm(block.frame.sizes.body["thigh_girth_mm"], rise_mm),
        "leg_rise_mm": rise_mm,
    }


def _legs(legs: tuple[LegHalf, LegHalf]) -> dict[str, Number]:
    """Numbers of legs."""
    return {
        "inseam_mm": length_mm(legs[0].inseam),
        "leg_hem_mm": sum(length_mm(leg.hem) for leg in legs),
        "crotch_curve_mm": sum(length_mm(leg.crotch) for leg in legs),
    }


def _steps(block: Block) -> Iterator[str]:
    """The calculation, a line each."""
    sizes, numbers = block.frame.sizes, block.frame.numbers
    part = 1.0 - numbers.girth_reduction
    for name in GIRTHS:
        body, front, back = sizes.body[f"{name}_girth_mm"], sizes.front[name], sizes.back[name]
        yield (
            f"{LEVEL_NAMES[name]}: {body:.1f} x {part:.3f} = {sizes.cut[name]:.1f}; "
            f"half front {front:.1f} + half back {back:.1f}, twice"
        )
    parts = " + ".join(f"{one:.1f}" for one in sizes.loop.values())
    yield f"torso loop: {parts} = {sum(sizes.loop.values()):.1f}"
    yield (
        f"neck: {sizes.body['neck_base_girth_mm']:.1f} x {1 - numbers.neck_reduction:.3f} = "
        f"{sizes.neck_mm:.1f}"
    )
    radius_mm = _side_radius_mm(block)
    if radius_mm is not None:
        share = f"{numbers.side_share:.0%} of the intake"
        yield f"side: takes {share}, bends to a radius of {radius_mm:.0f}"
    if block.legs is not None:
        return
    path_mm = leg_path_mm(sizes.body["thigh_girth_mm"], _rise_mm(block))
    yield (
        f"leg opening: path {path_mm:.1f} x {1 - numbers.edge_reduction:.3f} = "
        f"{path_mm * (1 - numbers.edge_reduction):.1f}, drawn {_leg_mm(block, block.leg):.1f}"
    )
