"""The page of an SVG: how one user unit becomes millimetres, and where the page's corner is."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, TypeAlias

import numpy as np

from wedgework.files.problems import UnitUnknown
from wedgework.files.svg_numbers import (
    BadNumber,
    Length,
    ViewBox,
    fitted_box,
    parse_length,
    parse_view_box,
)
from wedgework.files.xml_guard import Node
from wedgework.geometry.motion import Affine
from wedgework.pattern.errors import FileRefused
from wedgework.units.scale import Unit

_PX_MM: Final = Unit.PX.exact_mm
_ONE: Final = Fraction(1)
_ZERO: Final = Fraction(0)
_Laid: TypeAlias = tuple[Fraction, Fraction, Fraction, Fraction]


@dataclass(frozen=True, slots=True, eq=False)
class Page:
    """From user units to mm with y up, page's top left at (0, 0).

    `frames_mm` are the borders that a frame may stand on: (k, 4), least and greatest x and y.
    `view` is the size, in user units, that percentages are taken of.
    """

    motion: Affine
    frames_mm: tuple[tuple[float, float, float, float], ...]
    view: tuple[float, float]


def page_of(root: Node, unit: Unit | None) -> Page:
    """The page of a root element.

    A width or height of true size decides; else `unit` says what one user unit is. Raises
    UnitUnknown where neither does, FileRefused where the page has no size.
    """
    width, height = _size(root, "width"), _size(root, "height")
    box = _view_box(root)
    if any(length is not None and length.is_true for length in (width, height)):
        return _true_page(root, width, height, box)
    if unit is None:
        raise UnitUnknown(
            "The file does not say how large it is: its size is given in pixels or not at all."
        )
    return _page_of_units(root, _px(width), _px(height), box, unit)


def _size(root: Node, name: str) -> Length | None:
    """The root's width or height, None where it says none that can be used."""
    try:
        length = parse_length(root.attributes.get(name, ""))
    except BadNumber:
        return None
    if length.exact_px is None:
        return None
    if length.value <= 0:
        raise FileRefused(f"The page's {name} is nothing, so there is nothing to show.")
    return length


def _view_box(root: Node) -> ViewBox | None:
    return parse_view_box(root.attributes.get("viewBox", ""))


def _px(length: Length | None) -> Fraction | None:
    return None if length is None else length.exact_px


def _true_page(
    root: Node, width: Length | None, height: Length | None, box: ViewBox | None
) -> Page:
    wide, high = _px(width), _px(height)
    if box is None:
        return _page((_PX_MM, _PX_MM, _ZERO, _ZERO), (wide, high), None)
    # A side that is not said follows from the other by the view box's own shape.
    if wide is None and high is not None:
        wide = high * box.width / box.height
    if high is None and wide is not None:
        high = wide * box.height / box.width
    assert wide is not None  # noqa: S101 - one of them is a true size
    assert high is not None  # noqa: S101
    laid = fitted_box(box, wide, high, root.attributes.get("preserveAspectRatio", ""))
    scale_x, scale_y, left, top = (part * _PX_MM for part in laid)
    return _page((scale_x, scale_y, left, top), (wide, high), box)


def _page_of_units(
    root: Node, wide: Fraction | None, high: Fraction | None, box: ViewBox | None, unit: Unit
) -> Page:
    scale = unit.exact_mm
    if box is None:
        sides = (side and side * scale / _PX_MM for side in (wide, high))
        return _page((scale, scale, _ZERO, _ZERO), tuple(sides), None)
    left, top = -box.x, -box.y
    size = (box.width, box.height)
    align = root.attributes.get("preserveAspectRatio", "")
    if wide is not None and high is not None and align.strip() != "none":
        scale_px, _, shift_x, shift_y = fitted_box(box, wide, high, align)
        left, top = shift_x / scale_px, shift_y / scale_px
        size = (wide / scale_px, high / scale_px)
    sides = (side * scale / _PX_MM for side in size)
    return _page((scale, scale, left * scale, top * scale), tuple(sides), box)


def _page(laid: _Laid, size_px: tuple[Fraction | None, ...], box: ViewBox | None) -> Page:
    """`laid`: scale x and y, then where the origin of user units lies, in mm, y down."""
    scale_x, scale_y, left, top = laid
    linear = np.diag([float(scale_x), -float(scale_y)])
    motion = Affine(linear, np.array([float(left), -float(top)]))
    frames = []
    if all(side is not None for side in size_px):
        wide, high = (float(side * _PX_MM) for side in size_px if side is not None)
        frames.append((0.0, -high, wide, 0.0))
    if box is not None:
        x, y = left + box.x * scale_x, -(top + box.y * scale_y)
        x1, y1 = x + box.width * scale_x, y - box.height * scale_y
        frames.append((float(x), float(y1), float(x1), float(y)))
        return Page(motion, tuple(frames), (float(box.width), float(box.height)))
    wide_units, high_units = (float((side or _ONE) * _PX_MM / scale_x) for side in size_px)
    return Page(motion, tuple(frames), (wide_units, high_units))
