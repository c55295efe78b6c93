"""Mark the rings of edges that the body has to pass."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from wedgework.edits.base import Edit, Id, Name, NotNegativeMm
from wedgework.edits.places import Naming
from wedgework.edits.seams import RefText, id_from
from wedgework.pattern.body import refuse_unknown
from wedgework.pattern.document import Opening, Project, parse_ref
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import the_edge


class MarkOpening(Edit, frozen=True, kw_only=True):
    """Mark an opening: a ring of edges that a part of the body has to pass."""

    name: Annotated[Name, Meta(min_length=1, description="what it is called")]
    edges: Annotated[
        tuple[RefText, ...], Meta(min_length=1, description="the ring that the body passes")
    ]
    measure: Annotated[str, Meta(description="girth that passes, as `set_body` names it")]
    allowed_stretch: Annotated[
        float, Meta(ge=0, le=10, description="share of its length by which it may stretch")
    ] = 0.4
    rise_mm: Annotated[
        NotNegativeMm,
        Meta(description="how much higher it lies outside than inside on a limb, on the body"),
    ] = 0.0

    def change(self, project: Project) -> Project:
        """EditRefused where an edge is not there or named twice, or the measure is not known."""
        refuse_unknown(self.measure)
        edges = tuple(parse_ref(text) for text in self.edges)
        for ref in edges:
            the_edge(project, ref.edge)
        if len({(ref.edge, ref.mirrored) for ref in edges}) != len(edges):
            raise EditRefused("An opening passes each edge once; one is named twice.")
        own = Naming(project).fresh(id_from(self.name, "opening"))
        row = Opening(
            id=own,
            name=self.name,
            edges=edges,
            measure=self.measure,
            allowed_stretch=self.allowed_stretch,
            rise_mm=self.rise_mm,
        )
        return replace(project, openings=project.openings.with_rows({own: row}))


class SetOpening(Edit, frozen=True, kw_only=True):
    """Set what passes an opening, how far it may stretch, and how it lies round a limb."""

    opening: Annotated[Id, Meta(description="opening")]
    measure: Annotated[
        str | UnsetType, Meta(description="girth that passes, as `set_body` names it")
    ] = UNSET
    allowed_stretch: Annotated[
        Annotated[float, Meta(ge=0, le=10)] | UnsetType,
        Meta(description="share of its length by which it may stretch"),
    ] = UNSET
    rise_mm: Annotated[
        NotNegativeMm | UnsetType, Meta(description="how much higher it lies outside than inside")
    ] = UNSET

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such opening, or the measure is not known."""
        if self.opening not in project.openings:
            raise EditRefused(f"There is no opening “{self.opening}”.", culprit=self.opening)
        old = project.openings[self.opening]
        names = ("measure", "allowed_stretch", "rise_mm")
        said = {name: value for name in names if (value := getattr(self, name)) is not UNSET}
        refuse_unknown(said.get("measure", old.measure))
        if all(getattr(old, name) == value for name, value in said.items()):
            return project
        row = replace(old, **said)
        return replace(project, openings=project.openings.with_rows({row.id: row}))


class RemoveOpening(Edit, frozen=True, kw_only=True):
    """Take an opening's mark away; its edges stay."""

    opening: Annotated[Id, Meta(description="opening")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such opening."""
        if self.opening not in project.openings:
            raise EditRefused(f"There is no opening “{self.opening}”.", culprit=self.opening)
        return replace(project, openings=project.openings.with_rows({}, [self.opening]))
