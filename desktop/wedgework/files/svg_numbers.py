"""Numbers, lengths, transforms and view boxes as SVG writes them."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Final

import numpy as np

from wedgework.geometry.motion import Affine, rotation, translation
from wedgework.pattern.errors import FileRefused
from wedgework.units.scale import Unit

NUMBER: Final = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
_LENGTH: Final = re.compile(rf"\s*({NUMBER.pattern})\s*([a-zA-Z%]*)\s*")
_NOT_A_NUMBER: Final = re.compile(r"nan|inf", re.IGNORECASE)
_FRACTION: Final = re.compile(r"\.(\d+)(?:[eE]([+-]?\d+))?")
_STEP: Final = re.compile(r"\s*,?\s*(\w+)\s*\(([^()]*)\)")
_UNITS: Final = {unit.value.lower(): unit for unit in Unit if unit is not Unit.M}
_LARGEST_EXPONENT: Final = 100

LARGEST: Final = 1e100
"""A number beyond this is as good as not finite: its square may be none."""

EM_PX: Final = 16.0
"""Size of a letter where nothing is said [what browsers use]."""


class BadNumber(ValueError):
    """A text that is no number, length or transform."""


def finite(text: str, element: str = "") -> float:
    """The number of a text; BadNumber where it is none, FileRefused where it is not finite."""
    refuse_not_finite(text, element)
    try:
        value = float(text)
    except ValueError:
        raise BadNumber(text) from None
    if not abs(value) <= LARGEST:
        raise_not_finite(element)
    return value


def refuse_not_finite(text: str, element: str = "") -> None:
    """FileRefused where a text says nan or infinity in words."""
    if _NOT_A_NUMBER.search(text):
        raise_not_finite(element)


def raise_not_finite(element: str) -> None:
    """FileRefused, naming the element."""
    where = f"“{element}” holds" if element else "The file holds"
    raise FileRefused(f"{where} a number that is not finite.", culprit=element or None)


def numbers(text: str, element: str = "") -> list[float]:
    """Every number of a list with spaces or commas between; BadNumber where it holds more."""
    refuse_not_finite(text, element)
    if NUMBER.sub("", text).strip(" \t\r\n\f,"):
        raise BadNumber(text)
    return [finite(one, element) for one in NUMBER.findall(text)]


def decimals_written(text: str) -> int | None:
    """Decimals of the number with the most of them; None where none has any."""
    found = (len(digits) - int(power or 0) for digits, power in _FRACTION.findall(text))
    most = max(found, default=0)
    return most if most > 0 else None


@dataclass(frozen=True, slots=True)
class Length:
    """A number and its unit: a `Unit`, "%", "em", "ex", or None for a bare number."""

    value: Fraction
    unit: Unit | str | None

    @property
    def is_true(self) -> bool:
        """Whether it is a true size: mm, cm, in, pt, pc or Q."""
        return isinstance(self.unit, Unit) and self.unit is not Unit.PX

    @property
    def exact_px(self) -> Fraction | None:
        """In px; None for what is relative to something else."""
        if self.unit is None:
            return self.value
        return self.value * self.unit.exact_mm / _PX if isinstance(self.unit, Unit) else None


_PX: Final = Unit.PX.exact_mm


def parse_length(text: str, element: str = "") -> Length:
    """A length; BadNumber where it is none or of an unknown unit."""
    refuse_not_finite(text, element)
    match = _LENGTH.fullmatch(text)
    if match is None:
        raise BadNumber(text)
    number = Decimal(match[1])
    if number and abs(number.adjusted()) > _LARGEST_EXPONENT:
        raise_not_finite(element)
    name = match[2].lower()
    if name in ("", "%", "em", "ex", "rem"):
        return Length(Fraction(number), name or None)
    if name not in _UNITS:
        raise BadNumber(text)
    return Length(Fraction(number), _UNITS[name])


def length_px(text: str, of_px: float, element: str = "") -> float:
    """A length in user units (px), a percentage taken of `of_px`; BadNumber where it is none."""
    if NUMBER.fullmatch(text):
        return finite(text, element)
    length = parse_length(text, element)
    exact = length.exact_px
    if exact is not None:
        return float(exact)
    relative = {"%": of_px / 100.0, "em": EM_PX, "rem": EM_PX, "ex": EM_PX / 2}
    return float(length.value) * relative[str(length.unit)]


@dataclass(frozen=True, slots=True)
class ViewBox:
    """The part of the drawing that fills its viewport, in user units."""

    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction


def parse_view_box(text: str) -> ViewBox | None:
    """The four numbers of a viewBox; None where it says none that can be used."""
    refuse_not_finite(text)
    found = NUMBER.findall(text)
    if len(found) != 4 or NUMBER.sub("", text).strip(" \t\r\n\f,"):
        return None
    if any(n and abs(n.adjusted()) > _LARGEST_EXPONENT for n in map(Decimal, found)):
        raise_not_finite("")
    x, y, width, height = (Fraction(Decimal(one)) for one in found)
    return ViewBox(x, y, width, height) if width > 0 and height > 0 else None


_ALIGN: Final = re.compile(
    r"\s*(?:defer\s+)?(none|x(Min|Mid|Max)Y(Min|Mid|Max))(?:\s+(meet|slice))?\s*"
)
_SHARE: Final = {"Min": Fraction(0), "Mid": Fraction(1, 2), "Max": Fraction(1)}


def fitted_box(
    box: ViewBox, width: Fraction, height: Fraction, align: str
) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    """Scale x and y, shift x and y that lay a view box into a viewport.

    Source: SVG 2, 8.2 "Computing the equivalent transform of an SVG viewport".
    """
    match = _ALIGN.fullmatch(align or "xMidYMid meet")
    scale_x, scale_y = width / box.width, height / box.height
    share_x = share_y = Fraction(1, 2)
    if match is not None and match[1] == "none":
        return scale_x, scale_y, -box.x * scale_x, -box.y * scale_y
    if match is not None:
        share_x, share_y = _SHARE[match[2]], _SHARE[match[3]]
    pick = max if match is not None and match[4] == "slice" else min
    scale = pick(scale_x, scale_y)
    left = -box.x * scale + (width - box.width * scale) * share_x
    top = -box.y * scale + (height - box.height * scale) * share_y
    return scale, scale, left, top


def scaling(x: float, y: float) -> Affine:
    """Stretch by `x` and `y` about the origin."""
    return Affine(np.diag([x, y]), np.zeros(2))


IDENTITY: Final = Affine(np.eye(2), np.zeros(2))


def parse_transform(text: str, element: str = "") -> Affine:
    """All steps of a transform as one, the first of them done last; BadNumber where it is none."""
    total, at = IDENTITY, 0
    text = text.strip()
    if text in ("", "none"):
        return total
    for match in _STEP.finditer(text):
        if match.start() != at or match[1] not in _STEPS:
            break
        at = match.end()
        fewest, most, make = _STEPS[match[1]]
        values = numbers(match[2], element)
        if not fewest <= len(values) <= most:
            raise BadNumber(text)
        total = total.after(make(*values))
    if text[at:].strip(" ,"):
        refuse_not_finite(text, element)
        raise BadNumber(text)
    return total


def _matrix(*values: float) -> Affine:
    a, b, c, d, e, f = values
    return Affine(np.array([[a, c], [b, d]]), np.array([e, f]))


def _scale(x: float, y: float | None = None) -> Affine:
    return scaling(x, x if y is None else y)


def _rotate(degrees: float, x: float = 0.0, y: float = 0.0) -> Affine:
    return rotation(math.radians(degrees), (x, y))


def _skew_x(degrees: float) -> Affine:
    return _matrix(1, 0, math.tan(math.radians(degrees)), 1, 0, 0)


def _skew_y(degrees: float) -> Affine:
    return _matrix(1, math.tan(math.radians(degrees)), 0, 1, 0, 0)


def _translate(x: float, y: float = 0.0) -> Affine:
    return translation((x, y))


_STEPS: Final[dict[str, tuple[int, int, Callable[..., Affine]]]] = {
    "matrix": (6, 6, _matrix),
    "translate": (1, 2, _translate),
    "scale": (1, 2, _scale),
    "rotate": (1, 3, _rotate),
    "skewX": (1, 1, _skew_x),
    "skewY": (1, 1, _skew_y),
}
