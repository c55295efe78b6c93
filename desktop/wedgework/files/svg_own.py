"""Pieces that an SVG says itself: a group a piece, its lines told apart by their classes.

What `svg_out` writes comes back bit by bit: edges and corners keep their ids where the file lists
them, else corners stand where the line turns. Cut lines are derived from the seam lines, and not
read.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any, Final, TypeAlias

import numpy as np

from wedgework.files.drawn import Chain, Group, Shape, Words
from wedgework.files.outline_clean import closed
from wedgework.files.outline_edges import edge_curves, turned_to
from wedgework.files.outline_names import Names, plain_id
from wedgework.files.outline_pairs import allowances_mm, pair_distance_mm
from wedgework.files.outline_tolerances import GAP_MM
from wedgework.files.problems import Problem
from wedgework.geometry.curve import Curve, Point
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.length import length_mm
from wedgework.geometry.nearest import Nearest, nearest
from wedgework.geometry.turning import tangents_at
from wedgework.pattern.document import (
    Cutout,
    Edge,
    Hole,
    Label,
    Level,
    Line,
    Notch,
    Piece,
    Ring,
    Spot,
)

MARK_REACH_MM: Final = 25.0
"""A mark further from every edge of its piece belongs to none of them."""

_KINDS: Final = ("style", "fold", "placement", "level", "grain")
_FINISHES: Final = ("hem", "fold", "open")
_CUTTINGS: Final = ("single", "pair", "fold")
_Told: TypeAlias = dict[str, Any]


@dataclass(slots=True, eq=False)
class OwnPiece:
    """A group of the file that is a piece, and what belongs to it."""

    group: Group
    shapes: list[Shape] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)

    def of(self, kind: str) -> list[Shape]:
        """Its shapes of a class."""
        return [shape for shape in self.shapes if kind in shape.classes]


@dataclass(slots=True, eq=False)
class OwnThings:
    """What was read beside pieces."""

    pieces: list[Piece] = field(default_factory=list)
    notches: dict[str, Notch] = field(default_factory=dict)
    holes: dict[str, Hole] = field(default_factory=dict)
    levels: dict[str, Level] = field(default_factory=dict)


def parted(
    shapes: Sequence[Shape], words: Sequence[Words]
) -> tuple[list[OwnPiece], list[Shape], list[Words]]:
    """Groups with an id and a closed line of class `seam` right in them; the rest."""
    own = {
        id(shape.groups[-1]): OwnPiece(shape.groups[-1])
        for shape in shapes
        if "seam" in shape.classes and shape.groups and shape.groups[-1].id and _ring_of(shape)
    }
    other_shapes = [one for one in shapes if not _taken(one.groups, own, "shapes", one)]
    other_words = [one for one in words if not _taken(one.groups, own, "words", one)]
    return list(own.values()), other_shapes, other_words


def _taken(groups: tuple[Group, ...], own: dict[int, OwnPiece], kind: str, thing: object) -> bool:
    """Give a thing to the innermost piece around it; whether there is one."""
    for group in reversed(groups):
        if id(group) in own:
            getattr(own[id(group)], kind).append(thing)
            return True
    return False


def _ring_of(shape: Shape) -> Chain | None:
    """The closed line of a shape; an open one whose ends meet is closed."""
    chain = shape.chains[0]
    if chain.closed:
        return chain
    start, end = chain.ends
    near = float(np.hypot(*(end - start))) <= GAP_MM and len(chain.segments) > 1
    return closed(chain) if near else None


class OwnReader:
    """Makes pieces of their groups; ids are given in the order of the file."""

    def __init__(self, names: Names, corner_rad: float, problems: list[Problem]) -> None:
        self.found = OwnThings()
        self._names = names
        self._corner_rad = corner_rad
        self._problems = problems

    def read(self, own: OwnPiece) -> None:
        """Read one piece with its marks."""
        name = self._names.give(plain_id(own.group.id))
        rings = [(shape, ring) for shape in own.of("seam") if (ring := _ring_of(shape)) is not None]
        # Of several closed seam lines the widest is the outline and the others are cut out.
        rings.sort(key=lambda row: -abs(ring_area_mm2([Curve(row[1].segments)])))
        edges = _with_measured_allowances(
            self._edges(*rings[0], name, left=True), rings[0][1], _drawn_cut(own)
        )
        piece = Piece(
            id=name,
            name=own.group.attributes.get("data-name") or own.group.name or name,
            edges=edges,
            cutouts=tuple(self._cutout(*row, name) for row in rings[1:]),
            lines=tuple(
                self._line(shape, chain, name)
                for shape in own.of("internal")
                if "derived" not in shape.said
                for chain in shape.chains
            ),
            labels=tuple(
                self._label(one, name)
                for one in own.words
                if "label" in one.classes and "derived" not in one.said
            ),
            **_cutting(own.group, edges),
        )
        self.found.pieces.append(piece)
        for shape in own.of("mark"):
            self._mark(shape, piece)

    def _edges(self, shape: Shape, ring: Chain, owner: str, *, left: bool) -> Ring:
        listed = _listed(shape, ring, left=left)
        if listed is None:
            curves = edge_curves(turned_to(ring, left=left), self._corner_rad)[0]
            ids = [(f"{owner}.e{n}", f"{owner}.c{n}") for n in range(1, len(curves) + 1)]
        else:
            curves, ids = listed
        more = _per_edge(shape, len(curves))
        return tuple(
            Edge(
                id=self._names.give(edge),
                name="",
                curve=curve,
                corner=self._names.give(corner),
                **row,
            )
            for curve, (edge, corner), row in zip(curves, ids, more, strict=True)
        )

    def _cutout(self, shape: Shape, ring: Chain, piece: str) -> Cutout:
        own = self._own_id(shape.id, f"{piece}.o")
        return Cutout(id=own, edges=self._edges(shape, ring, own, left=False))

    def _own_id(self, said: str, stem: str) -> str:
        name = plain_id(said)
        return self._names.give(name) if name else self._names.next_numbered(stem)

    def _line(self, shape: Shape, chain: Chain, piece: str) -> Line:
        kind = shape.said.get("kind", "style")
        level = shape.said.get("level") or None
        name = shape.said.get("name", shape.name)
        if level is not None and level not in self.found.levels:
            self.found.levels[level] = Level(id=self._names.give(level), name=name or level)
        return Line(
            id=self._own_id(shape.id, f"{piece}.l"),
            kind=kind if kind in _KINDS else "style",  # type: ignore[arg-type]
            curve=Curve(chain.segments),
            name=name,
            level=None if level is None else self.found.levels[level].id,
        )

    def _label(self, words: Words, piece: str) -> Label:
        return Label(
            id=self._own_id(words.id, f"{piece}.t"),
            text=words.text,
            at_mm=words.at_mm,
            height_mm=words.height_mm,
            angle_rad=words.angle_rad,
        )

    def _mark(self, shape: Shape, piece: Piece) -> None:
        place = _place_of(shape)
        edge, foot = _nearest_edge(piece, shape.said.get("edge", ""), place)
        if foot.distance_mm > MARK_REACH_MM:
            sentence = "A mark lies near no edge of its piece and was left out."
            self._problems.append(Problem("mark_left_out", sentence, shape.id))
            return
        spot = Spot(edge.id, _station(shape, edge, foot))
        own = plain_id(shape.said.get("mark", "") or shape.id)
        if shape.chains[0].closed:
            self._hole(own, spot, shape, _inside_mm(edge, place, foot))
        else:
            self._notch(own, spot, piece)

    def _notch(self, own: str, spot: Spot, piece: Piece) -> None:
        known = self.found.notches.get(own)
        if known is None:
            own = own if own else f"{piece.id}.n"
            name = self._names.give(own)
            self.found.notches[own if own == name else name] = Notch(id=name, at=spot)
        elif spot in (known.at, known.mate):
            self.found.notches[own] = Notch(id=known.id, at=known.at, mate=known.mate, double=True)
        else:
            self.found.notches[own] = Notch(
                id=known.id, at=known.at, mate=spot, double=known.double
            )

    def _hole(self, own: str, spot: Spot, shape: Shape, inset_mm: float) -> None:
        known = self.found.holes.get(own)
        if known is not None and abs(known.inset_mm - inset_mm) <= GAP_MM:
            self.found.holes[own] = replace(known, mate=spot)
            return
        # A hole through a lap lies on one side inside the seam line and on the other outside.
        # Which side lies over a drawing does not say, so each comes back as a hole of its own.
        other = "" if known is None else f".{spot.edge}"
        name = self._names.give((own or f"{spot.edge}.h") + other)
        # The ends of its arcs lie on the circle; between them cubics bulge a little.
        width_mm = float(np.ptp(shape.chains[0].segments[:, 0], axis=0).max())
        row = shape.said.get("row")
        self.found.holes[name if other else own or name] = Hole(
            id=name, at=spot, inset_mm=round(inset_mm, 6), diameter_mm=round(width_mm, 6),
            row=row + other if row else None,
        )  # fmt: skip


def _inside_mm(edge: Edge, place: Point, foot: Nearest) -> float:
    """How far inside its edge a hole lies, below 0 outside; 0 where it lies on it."""
    if foot.distance_mm <= GAP_MM:
        return 0.0
    along = tangents_at(edge.curve, [foot.station_mm])[0]
    off = place - foot.point
    is_left = along[0] * off[1] - along[1] * off[0] > 0.0
    return foot.distance_mm if is_left else -foot.distance_mm


def _drawn_cut(own: OwnPiece) -> Chain | None:
    """The cut line of a piece, where the file draws one of its own and not one that we derived."""
    shapes = [shape for shape in own.of("cut") if "derived" not in shape.said]
    return next((ring for shape in shapes if (ring := _ring_of(shape)) is not None), None)


def _with_measured_allowances(edges: Ring, seam: Chain, cut: Chain | None) -> Ring:
    """Edges with what lies between seam line and cut line, where the file lists no allowances."""
    if cut is None or any(edge.allowance_mm for edge in edges):
        return edges
    outer = turned_to(cut, left=True)
    usual_mm = pair_distance_mm(turned_to(seam, left=True), outer)
    if usual_mm is None:
        return edges
    found = allowances_mm([edge.curve for edge in edges], outer, usual_mm)
    return tuple(
        replace(edge, allowance_mm=allowance_mm)
        for edge, allowance_mm in zip(edges, found, strict=True)
    )


def _cutting(group: Group, edges: Ring) -> _Told:
    """How a piece is cut, as its group says it; what makes no sense is left at its default."""
    cutting = group.attributes.get("data-cutting", "single")
    quantity = group.attributes.get("data-quantity", "1")
    told: _Told = {"quantity": int(quantity)} if quantity.isdecimal() and int(quantity) > 0 else {}
    fold = group.attributes.get("data-fold-edge")
    if cutting == "fold" and any(edge.id == fold for edge in edges):
        return told | {"cutting": "fold", "fold_edge": fold}
    return told | {"cutting": "pair" if cutting == "pair" else "single"}


def _listed(
    shape: Shape, ring: Chain, *, left: bool
) -> tuple[list[Curve], list[tuple[str, str]]] | None:
    """Curves and ids of a ring's edges as the file lists them; None where the list does not fit."""
    edges, corners = shape.said.get("edges", "").split(), shape.said.get("corners", "").split()
    counts = shape.said.get("cubics", "").split()
    if not edges or not len(edges) == len(corners) == len(counts):
        return None
    if not all(one.isdecimal() and one != "0" for one in counts):
        return None
    cuts = np.cumsum([0, *map(int, counts)])
    is_left = ring_area_mm2([Curve(ring.segments)]) > 0
    if cuts[-1] != len(ring.segments) or is_left != left:
        return None
    curves = [Curve(ring.segments[start:end]) for start, end in pairwise(cuts.tolist())]
    return curves, [
        (plain_id(edge), plain_id(corner)) for edge, corner in zip(edges, corners, strict=True)
    ]


def _per_edge(shape: Shape, count: int) -> list[_Told]:
    """Allowance and finish of each edge, where the file lists them."""
    allowances = shape.said.get("allowances", "").split()
    finishes = shape.said.get("finishes", "").split()
    rows: list[_Told] = [{} for _ in range(count)]
    if len(allowances) == count:
        for row, text in zip(rows, allowances, strict=True):
            row["allowance_mm"] = _allowance(text)
    if len(finishes) == count:
        for row, text in zip(rows, finishes, strict=True):
            row["finish"] = text if text in _FINISHES else "open"
    return rows


def _allowance(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        return 0.0
    return value if 0.0 <= value < np.inf else 0.0


def _place_of(shape: Shape) -> Point:
    """Where a mark is: its middle."""
    ends = shape.chains[0].segments[:, [0, 3]].reshape(-1, 2)
    return np.asarray((ends.min(axis=0) + ends.max(axis=0)) / 2)


def _nearest_edge(piece: Piece, said: str, place: Point) -> tuple[Edge, Nearest]:
    """The edge that a mark names, else the nearest, and the mark's foot on it."""
    edges: Iterable[Edge] = list(piece.all_edges())
    named = [edge for edge in edges if edge.id == said]
    rows: Iterator[tuple[Edge, Nearest]] = (
        (edge, nearest(edge.curve, place)) for edge in named or edges
    )
    return min(rows, key=lambda row: row[1].distance_mm)


def _station(shape: Shape, edge: Edge, foot: Nearest) -> float:
    """How far along its edge a mark is, in mm: as the file says it, else at its foot."""
    try:
        said = float(shape.said["at-mm"])
    except (KeyError, ValueError):
        return foot.station_mm
    near = shape.said.get("edge") == edge.id and 0.0 <= said <= length_mm(edge.curve) + GAP_MM
    return said if near else foot.station_mm
