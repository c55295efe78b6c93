"""Lines and texts of a drawing, of whatever format, made into pieces."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely

from wedgework.files.drawn import Chain, Shape, Words
from wedgework.files.outline_clean import Drawing, cleaned, each_once, rings_and_lines
from wedgework.files.outline_edges import (
    Fitting,
    edge_curves,
    smooth_curve,
    turned_to,
)
from wedgework.files.outline_inset import inset_curves
from wedgework.files.outline_join import joined_lines
from wedgework.files.outline_names import Names, own_names, plain_id
from wedgework.files.outline_nest import Box, Ring, is_frame, nested, without
from wedgework.files.outline_notches import Whole, slit_place, whole_ring
from wedgework.files.outline_pairs import allowances_mm, pair_distance_mm
from wedgework.files.outline_tolerances import GAP_MM, REGION_ERROR_MM
from wedgework.files.problems import Problem, told_to_nobody
from wedgework.geometry.curve import Curve, Floats, Point, Points
from wedgework.geometry.flatten import flattened
from wedgework.geometry.nearest import nearest
from wedgework.pattern.document import Cutout, Edge, Label, Line, Notch, Piece, Spot
from wedgework.pattern.document import Ring as EdgeRing


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What the maker said of the file: a joint that turns by `corner_rad` is a corner."""

    corner_rad: float
    notches: bool = False
    cut_outside_mm: float | None = None
    progress: Callable[[float], None] = told_to_nobody


@dataclass(slots=True, eq=False)
class _Draft:
    """A piece in the making: its ring, or its seam line, with the `cut` line around it."""

    ring: Ring
    cut: Ring | None = None
    allowance_mm: float = 0.0
    cutouts: list[Ring] = field(default_factory=list)
    lines: list[Drawing] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    slits: list[Point] = field(default_factory=list)

    @property
    def outer(self) -> Ring:
        """Its outermost ring, after which it is called."""
        return self.cut or self.ring

    @property
    def shape(self) -> Shape:
        """The element that it is called after."""
        return self.outer.drawing.shape


@dataclass(slots=True, eq=False)
class Assembled:
    """What a drawing became."""

    pieces: list[Piece] = field(default_factory=list)
    notches: list[Notch] = field(default_factory=list)


class Assembly:
    """Makes pieces of a drawing; `problems` tells what was repaired and left out."""

    def __init__(self, wishes: Wishes, names: Names, problems: list[Problem]) -> None:
        self._wishes = wishes
        self._names = names
        self._problems = problems

    def made(
        self, shapes: Sequence[Shape], words: Sequence[Words], borders: tuple[Box, ...]
    ) -> Assembled:
        """Pieces, in document order, and their notches."""
        drawings = list(each_once(cleaned(tuple(shapes), self._problems), self._problems))
        rings, lines = rings_and_lines(drawings)
        more, lines = joined_lines(lines, self._problems)
        rings = sorted([*rings, *more], key=lambda one: one.order)
        drafts = self._drafts(self._without_frame(nested(rings), borders))
        self._place_lines(drafts, lines)
        self._place_words(drafts, words)
        named = own_names((draft.shape.id, draft.shape.groups) for draft in drafts)
        ids = [self._names.give(name) if name else "" for name in named]
        ids = [name or self._names.next_numbered("p") for name in ids]
        out = Assembled()
        for index, (draft, own) in enumerate(zip(drafts, ids, strict=True)):
            self._wishes.progress(index / len(drafts))
            piece = self._piece(draft, own)
            out.pieces.append(piece)
            out.notches += self._notches(draft, piece)
        return out

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

    def _drafts(self, rings: list[Ring]) -> list[_Draft]:
        """Pieces: rings with an even number of others around them, seam lines not counted.

        Those just inside a piece are cut out of it.
        """
        for ring in rings:
            ring.whole = self._whole(turned_to(ring.chain, left=True))
        pairs = self._pairs(rings)
        rings = without(rings, set(pairs))
        drafts = {id(ring): _Draft(ring) for ring in rings if ring.depth % 2 == 0}
        for ring in rings:
            if ring.depth % 2 == 1:
                drafts[id(ring.parent)].cutouts.append(ring)
        for cut, seam, allowance_mm in pairs.values():
            draft = drafts.get(id(seam))
            if draft is not None:
                draft.cut, draft.allowance_mm = cut, allowance_mm
        return sorted(drafts.values(), key=lambda draft: draft.outer.drawing.order)

    def _whole(self, chain: Chain) -> Whole:
        return whole_ring(chain) if self._wishes.notches else Whole(chain)

    def _pairs(self, rings: list[Ring]) -> dict[int, tuple[Ring, Ring, float]]:
        """Cut lines, by `id`, each with the seam line inside it and their distance in mm."""
        found: dict[int, tuple[Ring, Ring, float]] = {}
        for ring in rings:
            outer = ring.parent
            if outer is None or outer.depth % 2 == 1 or id(outer) in found:
                continue
            distance_mm = pair_distance_mm(ring.whole.chain, outer.whole.chain)
            if distance_mm is not None:
                found[id(outer)] = (outer, ring, distance_mm)
        return found

    def _place_lines(self, drafts: list[_Draft], lines: list[Drawing]) -> None:
        regions = _Regions(drafts)
        for line in lines:
            points = _places(line.chain.segments)
            draft = regions.around(points)
            if draft is not None:
                self._place_line(draft, line, points)
                continue
            start, end = line.chain.ends
            gap_mm = float(np.hypot(*(end - start)))
            self._tell(
                "open_line",
                "An open line outside all pieces was left out "
                f"(its ends lie {gap_mm:.1f} mm apart).",
                line.shape.id,
            )

    def _place_line(self, draft: _Draft, line: Drawing, points: Points) -> None:
        """A line in a piece is an internal line, or a slit that marks a notch.

        One that lies on the outline all along says nothing new.
        """
        if _lies_on(draft.outer, points):
            sentence = "It lies on an outline that is there already: left out."
            self._tell("drawn_twice", sentence, line.shape.id)
            return
        place = slit_place(line.chain, draft.outer.whole.chain) if self._wishes.notches else None
        if place is None:
            draft.lines.append(line)
        else:
            draft.slits.append(place)

    def _place_words(self, drafts: list[_Draft], words: Sequence[Words]) -> None:
        regions = _Regions(drafts)
        for one in words:
            draft = regions.around(one.at_mm[None])
            if draft is not None:
                draft.words.append(one)
            else:
                sentence = f"The text “{one.text[:40]}” stands in no piece and was left out."
                self._tell("text_left_out", sentence, one.id)

    def _piece(self, draft: _Draft, own: str) -> Piece:
        return Piece(
            id=own,
            name=draft.shape.name or own,
            edges=self._outline(draft, own),
            cutouts=tuple(self._cutout(ring, own) for ring in draft.cutouts),
            lines=tuple(self._line(line, own) for line in draft.lines),
            labels=tuple(self._label(one, own) for one in draft.words),
        )

    def _outline(self, draft: _Draft, own: str) -> EdgeRing:
        """Edges of a piece's seam line, with what is cut outside them."""
        curves = self._curves(draft.ring.whole.chain, draft.ring.drawing.shape.id)
        inset_mm = self._wishes.cut_outside_mm
        if draft.cut is not None:
            more = allowances_mm(curves, draft.cut.whole.chain, draft.allowance_mm)
            return self._named(curves, own, more)
        if not inset_mm:
            return self._named(curves, own, [0.0] * len(curves))
        inner = None if draft.ring.crosses_itself else inset_curves(curves, inset_mm)
        if inner is not None:
            return self._named(inner, own, [inset_mm] * len(inner))
        if draft.ring.crosses_itself:
            sentence = "It crosses itself, so it has no seam line inside: kept as drawn."
            self._tell("crosses_itself", sentence, draft.shape.id)
        else:
            sentence = f"It is too narrow for a seam line {inset_mm:g} mm inside: kept as drawn."
            self._tell("too_narrow", sentence, draft.shape.id)
        return self._named(curves, own, [0.0] * len(curves))

    def _curves(self, chain: Chain, element: str) -> list[Curve]:
        curves, fitting = edge_curves(chain, self._wishes.corner_rad)
        self._tell_fitting(fitting, element)
        return curves

    def _named(self, curves: list[Curve], own: str, allowances: list[float]) -> EdgeRing:
        return tuple(
            Edge(
                id=self._names.give(f"{own}.e{n}"),
                name="",
                curve=curve,
                corner=self._names.give(f"{own}.c{n}"),
                allowance_mm=allowance_mm,
            )
            for n, (curve, allowance_mm) in enumerate(zip(curves, allowances, strict=True), 1)
        )

    def _notches(self, draft: _Draft, piece: Piece) -> list[Notch]:
        """A notch on the nearest edge for each cut into the drawn line."""
        in_cut = draft.cut.whole.notches if draft.cut is not None else ()
        places = [*draft.ring.whole.notches, *in_cut, *draft.slits]
        return [
            Notch(id=self._names.next_numbered(f"{piece.id}.n"), at=spot_near(piece.edges, place))
            for place in places
        ]

    def _tell_fitting(self, fitting: Fitting, element: str) -> None:
        if fitting.chords:
            curves = "one curve" if fitting.cubics == 1 else f"{fitting.cubics} curves"
            sentence = f"{fitting.chords} short chords were made smooth, as {curves}."
            self._tell("chords_fitted", sentence, element)

    def _own_id(self, said: str, piece: str, letter: str) -> str:
        """The element's id, unless it has none or is the piece's own: then one numbered in it."""
        name = plain_id(said)
        if name and name != piece:
            return self._names.give(name)
        return self._names.next_numbered(f"{piece}.{letter}")

    def _cutout(self, ring: Ring, piece: str) -> Cutout:
        own = self._own_id(ring.drawing.shape.id, piece, "o")
        curves = self._curves(turned_to(ring.chain, left=False), ring.drawing.shape.id)
        return Cutout(id=own, edges=self._named(curves, own, [0.0] * len(curves)))

    def _line(self, drawing: Drawing, piece: str) -> Line:
        own = self._own_id(drawing.shape.id, piece, "l")
        curve, fitting = smooth_curve(drawing.chain, self._wishes.corner_rad)
        self._tell_fitting(fitting, drawing.shape.id)
        return Line(id=own, kind="style", curve=curve, name=drawing.shape.name)

    def _label(self, words: Words, piece: str) -> Label:
        own = self._own_id(words.id, piece, "t")
        return Label(
            id=own,
            text=words.text,
            at_mm=words.at_mm,
            height_mm=words.height_mm,
            angle_rad=words.angle_rad,
        )


def spot_near(edges: EdgeRing, place: Point) -> Spot:
    """The place on the nearest of some edges."""
    rows = ((nearest(edge.curve, place), edge.id) for edge in edges)
    foot, edge = min(rows, key=lambda row: row[0].distance_mm)
    return Spot(edge, foot.station_mm)


def _places(segments: Floats) -> Points:
    """Points along a line, (k, 2) mm, no two chords of very different length."""
    return np.asarray(
        shapely.get_coordinates(
            shapely.segmentize(shapely.LineString(flattened(Curve(segments), REGION_ERROR_MM)), 1.0)
        )
    )


def _lies_on(ring: Ring, points: Points) -> bool:
    """Whether all points, (k, 2) mm, lie on a ring; the ends are asked first: they are few."""
    border = ring.region.boundary
    return all(
        (shapely.distance(shapely.points(some), border) <= GAP_MM).all()
        for some in (points[[0, -1]], points)
    )


class _Regions:
    """What pieces enclose, with a tree to find those near a place."""

    def __init__(self, drafts: list[_Draft]) -> None:
        self._drafts = drafts
        self._regions = [draft.outer.region for draft in drafts]
        shapely.prepare(self._regions)
        self._tree = shapely.STRtree(self._regions)

    def around(self, points: Points) -> _Draft | None:
        """The innermost piece that holds at least half of the points, (k, 2) mm."""
        near = self._tree.query(shapely.box(*points.min(axis=0), *points.max(axis=0)))
        holding = [
            index
            for index in near.tolist()
            if shapely.intersects_xy(self._regions[index], *points.T).mean() >= 0.5
        ]
        best = min(holding, key=lambda index: float(self._regions[index].area), default=None)
        return None if best is None else self._drafts[best]
