"""A line over several pieces as it is seen and drawn: its pieces laid together at one of them.

An edit tells places of a line on its first piece; a hand works on the piece that it has pressed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from wedgework.bench.gestures import Mm2, Pointer
from wedgework.geometry.curve import Curve
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.motion import Affine, inverse, moved
from wedgework.geometry.nearest import nearest
from wedgework.pattern.document import EdgeId, Piece, Project, Run, parse_ref
from wedgework.pattern.laying import (
    Laid,
    is_walked_back,
    laid_pieces,
    laid_together,
    line_at_seam,
    line_through,
)
from wedgework.pattern.lookup import skin_seam_of


@dataclass(frozen=True, eq=False, slots=True, weakref_slot=True, kw_only=True)
class JoinedLine:
    """A line laid together in the place of one of its pieces, the one that holds `frame`.

    `edges` are its edges as an edit names them; `line` runs as they are named.
    """

    edges: tuple[str, ...]
    frame: EdgeId
    line: Curve
    laid: tuple[Laid, ...]
    project: Project
    to_first: Affine

    @property
    def pieces(self) -> Iterator[tuple[Piece, Affine]]:
        """Each piece of the line but the one that lies there itself, and where it is laid."""
        here = inverse(self.to_first)
        for piece, motion in laid_pieces(self.project, self.laid):
            if motion is not self.to_first:
                yield piece, here.after(motion)

    @property
    def names(self) -> str:
        """Names of the line's pieces, in its order."""
        pieces = {one.piece.id: one.piece.name or one.piece.id for one in self.laid}
        return ", ".join(pieces.values())

    def station_of(self, at_mm: Mm2) -> tuple[float, float]:
        """Station along the line and distance from it, in mm, of a place on the table."""
        foot = nearest(self.line, at_mm)
        return foot.station_mm, foot.distance_mm

    def on_first(self, at_mm: Mm2) -> Mm2:
        """A place on the table as an edit tells it: in the place of the line's first piece."""
        x, y = self.to_first.points(at_mm).tolist()
        return x, y

    def way_on_first(self, by_mm: Mm2) -> Mm2:
        """A way on the table as an edit tells it."""
        x, y = (self.to_first.linear @ np.array(by_mm)).tolist()
        return x, y

    def end(self, station_mm: float) -> Mm2:
        """The place on the table of a station."""
        x, y = point_at(self.line, station_mm).tolist()
        return x, y

    @property
    def length_mm(self) -> float:
        """Length of the line."""
        return length_mm(self.line)

    def is_near(self, pointer: Pointer, reach_px: float) -> bool:
        """Whether a pointer lies on the line, as far as a hand can tell."""
        return self.station_of(pointer.at_mm)[1] <= reach_px * pointer.px_mm


def joined_line(project: Project, edges: tuple[str, ...], frame: EdgeId) -> JoinedLine:
    """A line laid together at the piece of one of its edges; EditRefused where it is no line."""
    run: Run = tuple(parse_ref(text) for text in edges)
    laid = laid_together(project, run)
    own = min((one for one in laid if one.edge.id == frame), key=lambda one: one.side.mirrored)
    to_first = own.motion
    segments = np.concatenate([one.curve.segments for one in laid])
    segments[1:, 0] = segments[:-1, 3]
    if is_walked_back(project, run):
        segments = segments[::-1, ::-1]
    line = moved(Curve(segments), inverse(to_first))
    return JoinedLine(
        edges=edges, frame=frame, line=line, laid=laid, project=project, to_first=to_first
    )


def line_of(project: Project, own: str) -> JoinedLine | None:
    """The line that an open edge is part of, or that runs over the end of a seam; None if none."""
    run, frame = line_through(project, own), own
    if not run and (seam := project.seams.get(own) or skin_seam_of(project, own)):
        run, frame = line_at_seam(project, seam)
    if not run:
        return None
    return joined_line(project, tuple(map(str, run)), frame)
