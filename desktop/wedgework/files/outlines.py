"""Lines and texts of a drawing, of whatever format, made into pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely

from wedgework.files.drawn import Shape, Words
from wedgework.files.outline_clean import Drawing, cleaned, each_once, rings_and_lines
from wedgework.files.outline_edges import (
    Fitting,
    edge_curves,
    merged_straight,
    smooth_curve,
    turned_to,
)
from wedgework.files.outline_join import joined_lines
from wedgework.files.outline_names import Names, own_names, plain_id
from wedgework.files.outline_nest import Box, Ring, is_frame, nested, without
from wedgework.files.outline_tolerances import REGION_ERROR_MM
from wedgework.files.problems import Problem
from wedgework.geometry.curve import Curve
from wedgework.geometry.flatten import flattened
from wedgework.pattern.document import Cutout, Edge, Label, Line, Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What the maker said of the file: a joint that turns by `corner_rad` is a corner."""

    corner_rad: float
    notches: bool = False
    cut_outside_mm: float | None = None


@dataclass(slots=True, eq=False)
class _Draft:
    """A piece in the making."""

    ring: Ring
    cutouts: list[Ring] = field(default_factory=list)
    lines: list[Drawing] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)


class Assembly:
    """Makes pieces of a drawing; `problems` tells what was repaired and left out."""

    def __init__(self, wishes: Wishes, names: Names, problems: list[Problem]) -> None:
        self._wishes = wishes
        self._names = names
        self._problems = problems

    def pieces(
        self, shapes: Sequence[Shape], words: Sequence[Words], borders: tuple[Box, ...]
    ) -> list[Piece]:
        """Pieces in document order."""
        drawings = list(each_once(cleaned(tuple(shapes), self._problems), self._problems))
        rings, lines = rings_and_lines(drawings)
        more, lines = joined_lines(lines, self._problems)
        rings = sorted([*rings, *more], key=lambda one: one.order)
        drafts = _drafts(self._without_frame(nested(rings), borders))
        self._place_lines(drafts, lines)
        self._place_words(drafts, words)
        named = own_names(
            (draft.ring.drawing.shape.id, draft.ring.drawing.shape.groups) for draft in drafts
        )
        ids = [self._names.give(name) if name else "" for name in named]
        ids = [name or self._names.next_numbered("p") for name in ids]
        return [self._piece(draft, own) for draft, own in zip(drafts, ids, strict=True)]

    def _tell(self, code: str, sentence: str, element: str) -> None:
        self._problems.append(Problem(code, sentence, element))

    def _without_frame(self, rings: list[Ring], borders: tuple[Box, ...]) -> list[Ring]:
        """Rings but for frames; a lone rectangle as large as its page is what the page is for."""
        frames = [ring for ring in rings if is_frame(ring.chain, borders)]
        if len(frames) == len(rings):
            return rings
        for ring in frames:
            self._tell(
                "frame_left_out",
                "A rectangle on the page's own border is a frame, and was left out.",
                ring.drawing.shape.id,
            )
        return without(rings, {id(ring) for ring in frames})

    def _place_lines(self, drafts: list[_Draft], lines: list[Drawing]) -> None:
        middles = [_places(line.chain.segments) for line in lines]
        for line, points in zip(lines, middles, strict=True):
            draft = _around(drafts, points)
            if draft is not None:
                draft.lines.append(line)
                continue
            start, end = line.chain.ends
            gap_mm = float(np.hypot(*(end - start)))
            self._tell(
                "open_line",
                "An open line outside all pieces was left out "
                f"(its ends lie {gap_mm:.1f} mm apart).",
                line.shape.id,
            )

    def _place_words(self, drafts: list[_Draft], words: Sequence[Words]) -> None:
        for one in words:
            draft = _around(drafts, one.at_mm[None])
            if draft is not None:
                draft.words.append(one)
            else:
                sentence = f"The text “{one.text[:40]}” stands in no piece and was left out."
                self._tell("text_left_out", sentence, one.id)

    def _piece(self, draft: _Draft, own: str) -> Piece:
        shape = draft.ring.drawing.shape
        edges = self._edges(draft.ring, own, left=True)
        return Piece(
            id=own,
            name=shape.name or own,
            edges=edges,
            cutouts=tuple(self._cutout(ring, own) for ring in draft.cutouts),
            lines=tuple(self._line(line, own) for line in draft.lines),
            labels=tuple(self._label(one, own) for one in draft.words),
        )

    def _edges(self, ring: Ring, own: str, *, left: bool) -> tuple[Edge, ...]:
        chain = merged_straight(turned_to(ring.chain, left=left))
        curves, fitting = edge_curves(chain, self._wishes.corner_rad)
        self._tell_fitting(fitting, ring.drawing.shape.id)
        return tuple(
            Edge(
                id=self._names.give(f"{own}.e{n}"),
                name="",
                curve=curve,
                corner=self._names.give(f"{own}.c{n}"),
            )
            for n, curve in enumerate(curves, 1)
        )

    def _tell_fitting(self, fitting: Fitting, element: str) -> None:
        if fitting.chords:
            curves = "one curve" if fitting.cubics == 1 else f"{fitting.cubics} curves"
            sentence = f"{fitting.chords} short chords were made smooth, as {curves}."
            self._tell("chords_fitted", sentence, element)

    def _cutout(self, ring: Ring, piece: str) -> Cutout:
        name = plain_id(ring.drawing.shape.id)
        own = self._names.give(name) if name else self._names.next_numbered(f"{piece}.o")
        return Cutout(id=own, edges=self._edges(ring, own, left=False))

    def _line(self, drawing: Drawing, piece: str) -> Line:
        name = plain_id(drawing.shape.id)
        own = self._names.give(name) if name else self._names.next_numbered(f"{piece}.l")
        curve, fitting = smooth_curve(merged_straight(drawing.chain), self._wishes.corner_rad)
        self._tell_fitting(fitting, drawing.shape.id)
        return Line(id=own, kind="style", curve=curve, name=drawing.shape.name)

    def _label(self, words: Words, piece: str) -> Label:
        name = plain_id(words.id)
        own = self._names.give(name) if name else self._names.next_numbered(f"{piece}.t")
        return Label(
            id=own,
            text=words.text,
            at_mm=words.at_mm,
            height_mm=words.height_mm,
            angle_rad=words.angle_rad,
        )


def _drafts(rings: list[Ring]) -> list[_Draft]:
    """Pieces are rings with an even number of rings around them; those just inside are cut out."""
    drafts = {id(ring): _Draft(ring) for ring in rings if ring.depth % 2 == 0}
    for ring in rings:
        if ring.depth % 2 == 1:
            drafts[id(ring.parent)].cutouts.append(ring)
    return list(drafts.values())


def _places(segments: np.ndarray) -> np.ndarray:
    """Points along a line, (k, 2) mm, no two chords of very different length."""
    return np.asarray(
        shapely.get_coordinates(
            shapely.segmentize(shapely.LineString(flattened(Curve(segments), REGION_ERROR_MM)), 1.0)
        )
    )


def _around(drafts: list[_Draft], points: np.ndarray) -> _Draft | None:
    """The innermost piece that holds at least half of the points."""
    holding = [
        draft
        for draft in drafts
        if shapely.intersects_xy(draft.ring.region, points[:, 0], points[:, 1]).mean() >= 0.5
    ]
    return min(holding, key=lambda draft: float(draft.ring.region.area), default=None)
