"""What every edit is: a frozen value that JSON can hold, with one pure `apply`."""

from __future__ import annotations

import math
import re
from abc import ABCMeta, abstractmethod
from dataclasses import replace
from typing import Annotated, ClassVar, TypeAlias, TypeVar

import msgspec
from msgspec import Meta, StructMeta

from wedgework.edits.settle import Settled, settled
from wedgework.edits.since import lost_words, not_again_words, with_edit_noted
from wedgework.pattern.document import Project, Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.pins import without_lost_pins
from wedgework.pattern.pins_bare import with_bare_places_carried
from wedgework.pattern.plain import numbers_in
from wedgework.pattern.wording import plain_words

MOST_MM = 1e6
"""No number of millimetres is larger: a kilometre; beyond it float64 has no micrometre left."""

Mm: TypeAlias = Annotated[float, Meta(ge=-MOST_MM, le=MOST_MM, extra_json_schema={"unit": "mm"})]
"""A length or a coordinate that may be negative."""

NotNegativeMm: TypeAlias = Annotated[
    float, Meta(ge=0, le=MOST_MM, extra_json_schema={"unit": "mm"})
]
"""A length of 0 or more."""

PositiveMm: TypeAlias = Annotated[float, Meta(gt=0, le=MOST_MM, extra_json_schema={"unit": "mm"})]
"""A length above 0."""

Degrees: TypeAlias = Annotated[float, Meta(ge=-3600, le=3600, extra_json_schema={"unit": "deg"})]
"""An angle as a person types it."""

PointMm: TypeAlias = tuple[Mm, Mm]
"""x and y in mm."""

Name: TypeAlias = Annotated[str, Meta(max_length=200)]
"""What a person calls a thing."""

Id: TypeAlias = Annotated[str, Meta(min_length=1, max_length=400)]
"""Id of a thing in the project."""


class _EditMeta(StructMeta, ABCMeta):
    """Structs that may have an abstract method."""


def snake(name: str) -> str:
    """The name of an edit in JSON: `MoveCorner` is `move_corner`."""
    return re.sub(r"(?<!^)(?=[A-Z])", "_", name).lower()


class Place(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A place on an edge, `at_mm` of arc length from the edge's start."""

    edge: Annotated[Id, Meta(description="edge that the place is on")]
    at_mm: Annotated[NotNegativeMm, Meta(description="distance along it from its start")]

    @property
    def spot(self) -> Spot:
        """The same as the document says it."""
        return Spot(self.edge, self.at_mm)


class Edit(
    msgspec.Struct,
    frozen=True,
    kw_only=True,
    tag_field="edit",
    tag=snake,
    forbid_unknown_fields=True,
    metaclass=_EditMeta,
):
    """Something that a maker does. The class's docstring is the meaning that help shows.

    Its fields are what JSON holds. `kw_only` is not inherited: each edit says it again.
    """

    remakes: ClassVar[bool] = False
    """Whether it makes drafted pieces, and so is no change of one by hand."""

    @abstractmethod
    def change(self, project: Project) -> Project:
        """The changed project, the same object if nothing changes; EditRefused if it cannot be.

        Numbers are finite and within their limits here: `apply` has looked.
        """

    def apply(self, project: Project) -> Project:
        """The project after this edit; raises EditRefused before anything has changed."""
        return self.settled(project).project

    def settled(self, project: Project) -> Settled:
        """As `apply`, the mates of held edges having followed; tells what was let go."""
        edit = checked(self)
        after = with_bare_places_carried(project, edit.change(project))
        done = settled(project, _without_what_is_lost(after))
        if self.remakes:
            return replace(done, told=not_again_words(project, done.project))
        noted = with_edit_noted(project, done.project, edit.as_json)
        told = lost_words(project, done.project)
        if noted is done.project and not told:
            return done
        return replace(done, project=noted, told=told)

    def as_json(self) -> str:
        """The edit as JSON holds it, on one line."""
        return msgspec.json.encode(self).decode()


def _without_what_is_lost(project: Project) -> Project:
    """The project without pins whose places are gone and closings whose seam is."""
    after = without_lost_pins(project) if project.pins else project
    gone = [one.id for one in after.closings.values() if one.seam not in after.seams]
    return replace(after, closings=after.closings.with_rows({}, gone)) if gone else after


def edit_name(edit: Edit | type[Edit]) -> str:
    """The edit's name in JSON."""
    return str(edit.__struct_config__.tag)


EditKind = TypeVar("EditKind", bound=Edit)


def checked(edit: EditKind) -> EditKind:
    """The same edit with every number of the type that its field says.

    EditRefused where a number is not finite or breaks a limit that its field names: msgspec looks
    at these on decoding only, so an edit made in the program is looked at here.
    """
    plain = msgspec.to_builtins(edit)
    for path, number in numbers_in(plain):
        if not math.isfinite(number):
            raise EditRefused(f"{edit_name(edit)}: {path} is {number}, which is no finite number.")
    try:
        return msgspec.convert(plain, type(edit))
    except msgspec.ValidationError as error:
        raise EditRefused(f"{edit_name(edit)}: {plain_words(str(error))}") from None
