"""Hold a seam, so that its mate follows whatever is done to either side, and let it go again."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from wedgework.edits.base import Edit, Id, Mm
from wedgework.edits.imaging import is_image
from wedgework.edits.places import Naming
from wedgework.pattern.changes import with_seams
from wedgework.pattern.document import Hold, HoldKind, Project, Seam
from wedgework.pattern.ends import is_of_one_outline
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import hold_of, the_seam
from wedgework.pattern.runs import walked


class HoldSeam(Edit, frozen=True, kw_only=True):
    """Hold a seam: when one side is changed, its mate follows, by its length or its whole shape.

    Side B follows at once where the sides do not agree yet.
    """

    seam: Annotated[Id, Meta(description="seam or dart")]
    kind: Annotated[
        HoldKind, Meta(description="whether the mate follows in length, or becomes the same curve")
    ] = "length"
    wanted_mm: Annotated[
        Mm | UnsetType, Meta(description="how much longer A is meant to be than B, from now on")
    ] = UNSET

    def change(self, project: Project) -> Project:
        """EditRefused where the sides cannot be held so."""
        seam = the_seam(project, self.seam)
        if self.wanted_mm is not UNSET and self.wanted_mm != seam.wanted_mm:
            seam = replace(seam, wanted_mm=self.wanted_mm)
            project = with_seams(project, seam)
        _refuse_unholdable(project, seam, self.kind)
        was = hold_of(project, seam.id)
        if was is not None and was.kind == self.kind:
            return project
        own = was.id if was else Naming(project).fresh(f"{seam.id}.hold")
        hold = Hold(id=own, seam=seam.id, kind=self.kind)
        return replace(project, holds=project.holds.with_rows({own: hold}))


def _refuse_unholdable(project: Project, seam: Seam, kind: HoldKind) -> None:
    name = seam.name or seam.id
    if is_of_one_outline(seam):
        raise EditRefused(
            f"Both sides of seam “{name}” are cut from one outline, so they agree of themselves.",
            culprit=seam.id,
        )
    for run in (seam.a, seam.b):
        line = next((one for one in walked(project, run).stretches if one.is_line), None)
        if line is not None:  # no end of it can follow
            raise EditRefused(f"“{line.edge.id}” is no edge.", culprit=line.edge.id)
    if kind == "shape":
        is_image(project, seam)  # refuses a side that is not one line
        if seam.wanted_mm != 0.0:
            raise EditRefused(
                f"Sides of one shape are equally long, but seam “{name}” wants a difference of "
                f"{seam.wanted_mm:.1f} mm.",
                culprit=seam.id,
            )


class LetGo(Edit, frozen=True, kw_only=True):
    """Let a held seam go: its sides no longer follow each other."""

    seam: Annotated[Id, Meta(description="seam or dart that is held")]

    def change(self, project: Project) -> Project:
        """The same project where the seam is not held; EditRefused where there is no such seam."""
        hold = hold_of(project, the_seam(project, self.seam).id)
        if hold is None:
            return project
        return replace(project, holds=project.holds.with_rows({}, [hold.id]))
