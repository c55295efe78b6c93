"""Numbers or pieces in, new pieces out: the one table of what can be drafted.

To add a kind, write its struct of numbers and its `draft` in a module of its own and its row here:
command line, number form, help and recipe are built from the row and the fields.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

import msgspec

from wedgework.drafting.bands import (
    BandNumbers,
    BindingNumbers,
    FacingNumbers,
    FlapNumbers,
    StripNumbers,
    draft_band,
    draft_binding,
    draft_facing,
    draft_flap,
    draft_strip,
)
from wedgework.drafting.block_numbers import BodyBlockNumbers
from wedgework.drafting.body_block import draft_body_block
from wedgework.drafting.bow import BowNumbers, draft_bow
from wedgework.drafting.collar import CollarNumbers, draft_collar
from wedgework.drafting.draft import Draft
from wedgework.drafting.flare import FlaredSkirtNumbers, draft_flared_skirt
from wedgework.drafting.numbers import Numbers, said
from wedgework.drafting.pleats import PleatedSkirtNumbers, draft_pleated_skirt
from wedgework.drafting.small_parts import (
    CuffNumbers,
    GussetNumbers,
    draft_cuff,
    draft_gusset,
)
from wedgework.drafting.sources import measured_sources, sources_of
from wedgework.drafting.tube import TubeNumbers, draft_tube
from wedgework.geometry.crossing import crosses_itself
from wedgework.pattern.arguments import arguments_of, first_paragraph
from wedgework.pattern.body import MEASURES
from wedgework.pattern.document import Project
from wedgework.pattern.errors import DraftRefused, EditRefused
from wedgework.pattern.plain import did_you_mean, refuse_not_finite
from wedgework.pattern.wording import plain_words

__all__ = ["KINDS", "Draft", "Kind", "draft_docs", "drafted", "kind_named", "numbers_of", "said"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of piece that can be drafted: its name, its numbers, and how it is done."""

    name: str
    numbers: type[Numbers]
    draft: Callable[[Any, Project], Draft]

    @property
    def first(self) -> tuple[str, ...]:
        """Numbers that a form shows at once, besides those that are needed."""
        return tuple(FIRST.get(self.name, "").split())


KINDS: Final[tuple[Kind, ...]] = (
    Kind(name="body_block", numbers=BodyBlockNumbers, draft=draft_body_block),
    Kind(name="collar", numbers=CollarNumbers, draft=draft_collar),
    Kind(name="pleated_skirt", numbers=PleatedSkirtNumbers, draft=draft_pleated_skirt),
    Kind(name="flared_skirt", numbers=FlaredSkirtNumbers, draft=draft_flared_skirt),
    Kind(name="tube", numbers=TubeNumbers, draft=draft_tube),
    Kind(name="band", numbers=BandNumbers, draft=draft_band),
    Kind(name="facing", numbers=FacingNumbers, draft=draft_facing),
    Kind(name="flap", numbers=FlapNumbers, draft=draft_flap),
    Kind(name="strip", numbers=StripNumbers, draft=draft_strip),
    Kind(name="binding", numbers=BindingNumbers, draft=draft_binding),
    Kind(name="bow", numbers=BowNumbers, draft=draft_bow),
    Kind(name="gusset", numbers=GussetNumbers, draft=draft_gusset),
    Kind(name="cuff", numbers=CuffNumbers, draft=draft_cuff),
)

FIRST: Final[Mapping[str, str]] = {
    "body_block": (
        "under_bust_girth_mm waist_girth_mm hip_girth_mm neck_base_girth_mm "
        "shoulder_length_mm back_waist_length_mm torso_loop_mm thigh_girth_mm "
        "neckline legs sleeves closing"
    ),
    "collar": "width_mm stand_mm overlap_mm lean_deg",
    "pleated_skirt": "style pleats visible_mm underlay_mm thickness_mm",
    "flared_skirt": "turn_deg hem_mm",
    "tube": "opening length_mm thickness_mm lap_mm",
    "band": "along length_mm",
    "facing": "width_mm",
    "flap": "width_mm",
    "strip": "quantity",
    "binding": "along length_mm depth_mm",
    "bow": "tail_mm lap_mm",
    "cuff": "turned_back",
}
"""Numbers that a form of the kind shows at once, besides those that are needed."""

SIGNS: Final = ((" x ", " × "), ("pi ", "π "), ("pi/", "π/"), (" - ", " − "))
"""How signs of a calculation are written in code, and how they are shown."""

_BY_NAME: Final = {kind.name: kind for kind in KINDS}


def kind_named(name: str) -> Kind:
    """The kind of a name; DraftRefused, with the nearest name, where there is none."""
    kind = _BY_NAME.get(name)
    if kind is None:
        raise DraftRefused(f"Nothing called “{name}” can be drafted.{did_you_mean(name, _BY_NAME)}")
    return kind


def numbers_of(kind: Kind, plain: object) -> Numbers:
    """The numbers of a kind from plain data.

    DraftRefused by name for an unknown number, one that is missing, of a wrong type, not finite or
    beyond its limits.
    """
    if not isinstance(plain, Mapping):
        raise DraftRefused('Numbers come by name: {"width_mm": 75, …}.')
    known = kind.numbers.__struct_encode_fields__
    for name in plain:
        if name not in known:
            raise DraftRefused(
                f"“{name}” is no number of “{kind.name}”.{did_you_mean(str(name), known)}"
            )
    try:
        refuse_not_finite(dict(plain))
        return msgspec.convert(plain, kind.numbers)
    except EditRefused as refusal:
        raise DraftRefused(f"{kind.name}: {refusal.sentence}") from None
    except msgspec.ValidationError as error:
        raise DraftRefused(_plainly(kind, plain, plain_words(str(error)))) from None


def _plainly(kind: Kind, plain: Mapping[str, object], told: str) -> str:
    """What is wrong with a number, by name, and what it may be."""
    name = told.partition(": ")[0]
    row = next((one for one in arguments_of(kind.numbers) if one["name"] == name), None)
    if row is not None and " | " in row["type"]:
        choices = row["type"].replace(" | ", ", ")
        return f"{kind.name}: {name}: is one of {choices}, not “{plain[name]}”."
    return f"{kind.name}: {told}"


def drafted(project: Project, kind: str, plain: object) -> tuple[Numbers, Draft]:
    """Numbers of a kind, read, and what is drafted from them; DraftRefused in words."""
    row = kind_named(kind)
    numbers = numbers_of(row, plain)
    draft = row.draft(numbers, project)
    for piece in draft.pieces:
        if crosses_itself([edge.curve for edge in piece.edges]):
            raise DraftRefused(
                f"With these numbers the outline of “{piece.name or piece.id}” would cross itself: "
                "one of them does not go with the others."
            )
    return numbers, replace(
        draft,
        measured=measured_sources(project, sources_of(numbers)),
        steps=tuple(map(typeset, draft.steps)),
    )


def typeset(line: str) -> str:
    """A line of a calculation with the signs that a maker knows: 3 π × 0.40."""
    for plain, sign in SIGNS:
        line = line.replace(plain, sign)
    return line


def draft_docs() -> list[dict[str, Any]]:
    """Each kind as plain data: its name, meaning and numbers, each as `arguments_of` says."""
    return [
        {
            "kind": kind.name,
            "meaning": first_paragraph(kind.numbers.__doc__ or ""),
            "numbers": [_with_meaning(row) for row in arguments_of(kind.numbers)],
        }
        for kind in KINDS
    ]


def _with_meaning(row: dict[str, Any]) -> dict[str, Any]:
    """A number that is a measure of the body says where that is taken."""
    return row | {"meaning": row["meaning"] or MEASURES.get(row["name"], "")}
