"""The flap behind a closing: a strip on the under side's edge, drafted with its closing."""

from __future__ import annotations

from wedgework.edits.drafted import freshly_made, with_made
from wedgework.edits.pieces import RemovePiece
from wedgework.edits.redraft import DraftAgain
from wedgework.pattern.closings import flaps_of
from wedgework.pattern.document import Closing, Project


def with_flap(project: Project, closing: Closing) -> Project:
    """The project with a flap as wide as the closing says, none where that is nothing.

    One that is there is drafted again, with what was changed on it by hand. EditRefused where none
    can be drafted along the edge.
    """
    if closing.flap_mm <= 0.0:
        return without_flap(project, closing)
    for piece in flaps_of(project, closing):
        wider = DraftAgain(piece=piece, numbers={"width_mm": closing.flap_mm})
        return wider.change(project)
    seam = project.seams[closing.seam]
    under = seam.b if seam.over == "a" else seam.a
    numbers = {"along": [str(ref) for ref in under], "width_mm": closing.flap_mm}
    return with_made(project, "flap", freshly_made(project, "flap", numbers))


def without_flap(project: Project, closing: Closing) -> Project:
    """The project without the flap of a closing."""
    for piece in flaps_of(project, closing):
        project = RemovePiece(piece=piece).change(project)
    return project
