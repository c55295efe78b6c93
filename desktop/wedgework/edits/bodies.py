"""Several bodies in one project, which of them the pieces are for, and how much smaller to cut."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, TypeAlias

from msgspec import UNSET, Meta, UnsetType

from wedgework.edits.base import Edit, Id, Name
from wedgework.edits.places import Naming
from wedgework.edits.seams import id_from
from wedgework.pattern.document import Body, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.reductions import MOST
from wedgework.pattern.table import Table

UNNAMED = "Unnamed"
"""What a body is called that was measured before there were several."""

Share: TypeAlias = Annotated[float, Meta(ge=0, le=MOST)]


class AddBody(Edit, frozen=True, kw_only=True):
    """Add a body to the project and write its measures from now on; the others are kept."""

    name: Annotated[Name, Meta(min_length=1, description="who was measured")]
    like_worn: Annotated[
        bool, Meta(description="begin with the measures of the body that is worn now")
    ] = False

    def change(self, project: Project) -> Project:
        """EditRefused where a body of this name is there already."""
        if any(one.name == self.name for one in project.bodies.values()):
            raise EditRefused(f"There is a body called “{self.name}” already.", culprit=self.name)
        kept = with_worn_named(project)
        measures: Table[float] = kept.body if self.like_worn else Table()
        own = Naming(kept).fresh(id_from(self.name, "body"))
        body = Body(id=own, name=self.name, measures=measures)
        return _worn(replace(kept, bodies=kept.bodies.with_rows({own: body})), body)


def with_worn_named(project: Project) -> Project:
    """The project whose measures belong to a body of its own, so that none of them is lost."""
    if project.wearer or not project.body:
        return project
    own = Naming(project).fresh(id_from(UNNAMED, "body"))
    body = Body(id=own, name=UNNAMED, measures=project.body)
    return replace(project, bodies=project.bodies.with_rows({own: body}), wearer=own)


def _worn(project: Project, body: Body) -> Project:
    return replace(project, body=body.measures, wearer=body.id)


def the_body(project: Project, own: str) -> Body:
    """The body of an id; EditRefused where there is none."""
    if own not in project.bodies:
        raise EditRefused(f"There is no body “{own}” in this project.", culprit=own)
    return project.bodies[own]


def with_measures(project: Project, measures: Table[float]) -> Project:
    """The project with other measures of the worn body, whose own row keeps step."""
    changed = replace(project, body=measures)
    if not project.wearer:
        return changed
    row = replace(project.bodies[project.wearer], measures=measures)
    return replace(changed, bodies=project.bodies.with_rows({row.id: row}))


class WearBody(Edit, frozen=True, kw_only=True):
    """Make the pieces for another body: levels, openings and intakes are held against it."""

    body: Annotated[Id, Meta(description="body that the pieces are for")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such body."""
        body = the_body(project, self.body)
        if project.wearer == body.id:
            return project
        return _worn(with_worn_named(project), body)


class RemoveBody(Edit, frozen=True, kw_only=True):
    """Take a body out of the project; if it was worn, the first of the others is worn."""

    body: Annotated[Id, Meta(description="body that goes")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such body."""
        the_body(project, self.body)
        after = replace(project, bodies=project.bodies.with_rows({}, [self.body]))
        if project.wearer != self.body:
            return after
        first = next(iter(after.bodies.values()), None)
        return replace(after, body=Table(), wearer="") if first is None else _worn(after, first)


class SetReductions(Edit, frozen=True, kw_only=True):
    """Set by which share the sheet is cut smaller than the body; null: as is usual there."""

    girth: Annotated[
        Share | UnsetType | None, Meta(description="share by which girths of the trunk are smaller")
    ] = UNSET
    length: Annotated[
        Share | UnsetType | None, Meta(description="share by which its lengths are smaller")
    ] = UNSET
    limb: Annotated[
        Share | UnsetType | None, Meta(description="share by which arms and legs are smaller")
    ] = UNSET
    neck: Annotated[
        Share | UnsetType | None, Meta(description="share by which the neck is smaller")
    ] = UNSET
    edge: Annotated[
        Share | UnsetType | None,
        Meta(description="share by which leg openings and armholes are smaller than their path"),
    ] = UNSET

    def change(self, project: Project) -> Project:
        """The same project where nothing becomes another."""
        said = {name: getattr(self, name) for name in self.__struct_fields__}
        known = {
            name: share
            for name, share in said.items()
            if isinstance(share, float | int) and project.reductions.get(name) != share
        }
        gone = [
            name for name, share in said.items() if share is None and name in project.reductions
        ]
        if not known and not gone:
            return project
        return replace(project, reductions=project.reductions.with_rows(known, gone))
