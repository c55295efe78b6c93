"""Places that a hand may press on: corners, edges, apexes, and the table between."""

from __future__ import annotations

from hypothesis import strategies as st

from tests import small
from wedgework.geometry.length import length_mm, point_at
from wedgework.pattern.document import Project


@st.composite
def places_of(draw: st.DrawFn, project: Project) -> tuple[float, float]:
    """A place on or near an edge of any piece of a project, its corners above all."""
    piece = project.pieces[draw(st.sampled_from(list(project.pieces)))]
    curve = draw(st.sampled_from([edge.curve for edge in piece.all_edges()]))
    ratio = draw(st.sampled_from([0.0, 0.0, 0.3, 0.5, 1.0]))
    x, y = point_at(curve, ratio * length_mm(curve))
    away = small.millimetres(-3, 3) | small.millimetres(-40, 40) | st.just(0.0)
    return float(x) + draw(away), float(y) + draw(away)
