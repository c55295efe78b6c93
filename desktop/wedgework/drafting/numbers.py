"""What the numbers of a draft are: a struct a kind, with a unit, a limit and a meaning a field."""

from __future__ import annotations

from typing import Annotated, Any, TypeAlias

import msgspec
from msgspec import Meta

MOST_MM = 1e5
"""No measure of a garment is longer: a hundred metres of strip."""

Mm: TypeAlias = Annotated[float, Meta(ge=-MOST_MM, le=MOST_MM, extra_json_schema={"unit": "mm"})]
"""A length that may be negative."""

PositiveMm: TypeAlias = Annotated[float, Meta(gt=0, le=MOST_MM, extra_json_schema={"unit": "mm"})]
"""A length above 0."""

NotNegativeMm: TypeAlias = Annotated[
    float, Meta(ge=0, le=MOST_MM, extra_json_schema={"unit": "mm"})
]
"""A length of 0 or more."""

Ratio: TypeAlias = Annotated[float, Meta(ge=0, lt=1)]
"""A share of a whole, 0 or more and below 1."""

Reduction: TypeAlias = Annotated[
    float, Meta(ge=0, le=0.5, description="share by which the sheet is cut smaller than the body")
]
"""A reduction: cut = body * (1 - reduction). It is not the stretch, which is r / (1 - r)."""

Degrees: TypeAlias = Annotated[float, Meta(ge=-3600, le=3600, extra_json_schema={"unit": "deg"})]
"""An angle as a person types it."""


class Numbers(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a maker says of a drafted piece; a subclass a kind.

    A field that is None was not said: the draft computes it.
    """


Plain: TypeAlias = dict[str, Any]
"""What JSON calls an object."""


def said(numbers: Numbers) -> Plain:
    """The numbers as plain data, those that were not said left out."""
    plain: Plain = msgspec.to_builtins(numbers)
    return {name: value for name, value in plain.items() if value is not None}
