"""The joined surface, counted and measured from curves and seam table alone.

For each surface of the made-up garment: how much curvature its seams, darts and inner corners put
in, how much its open boundary turns, and its Euler number. The first two add up to 2 pi times the
third (Gauss-Bonnet; do Carmo, Differential Geometry of Curves and Surfaces, 4-5), whatever the
pieces look like, which makes it the test of everything in this room.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Hashable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from wedgework.pattern.angles import angle_between_edges, edge_turning
from wedgework.pattern.document import Cutout, Edge, Piece, Project, Ref, Ring, Run
from wedgework.pattern.instances import Half, MadeSeam, halves_of, made_seams
from wedgework.pattern.lookup import end_corner, piece_of
from wedgework.pattern.runs import walked


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Surface:
    """One joined surface: `shaping_rad` + `boundary_rad` = 2 pi `euler`."""

    pieces: tuple[str, ...]
    shaping_rad: float
    boundary_rad: float
    euler: int


class _Classes:
    """Union-find over anything that can be a key."""

    def __init__(self) -> None:
        self._above: dict[Hashable, Hashable] = {}

    def find(self, key: Hashable) -> Hashable:
        while (above := self._above.setdefault(key, key)) != key:
            self._above[key] = key = self._above[above]
        return key

    def union(self, one: Hashable, other: Hashable) -> None:
        self._above[self.find(one)] = self.find(other)


@dataclass(frozen=True, slots=True)
class _Corner:
    half: Half
    corner: str


@dataclass(frozen=True, slots=True)
class _Side:
    half: Half
    edge: str


def surfaces(project: Project) -> tuple[Surface, ...]:
    """Every joined surface of the made-up garment; laid-on seams do not join surfaces."""
    return _Garment(project).surfaces()


class _Garment:
    """Halves of pieces, glued along skin seams and fold edges."""

    def __init__(self, project: Project) -> None:
        self.project = project
        self.seams = [made for made in made_seams(project) if not made.seam.laid_on]
        self.corners = _Classes()
        self.parts = _Classes()
        self.inside_a_run: set[Hashable] = set()
        self.glued: set[_Side] = set()
        self._glue_folds()
        for made in self.seams:
            self._glue(made.a, made.b)
        for made in self.seams:
            self._note_joints(made.a)
            self._note_joints(made.b)

    def _glue_folds(self) -> None:
        for piece in self.project.pieces.values():
            if piece.fold_edge is not None:
                self._glue((Ref(piece.fold_edge),), (Ref(piece.fold_edge, mirrored=True),))

    def _glue(self, a: Run, b: Run) -> None:
        self.corners.union(self._first(a[0]), self._first(b[0]))
        self.corners.union(self._last(a[-1]), self._last(b[-1]))
        for ref in (*a, *b):
            side = self._side(ref)
            self.glued.add(side)
            self.parts.union(side.half, self._side(a[0]).half)
        for run in (a, b):
            for before, after in pairwise(run):
                self.corners.union(self._last(before), self._first(after))

    def _note_joints(self, run: Run) -> None:
        self.inside_a_run |= {self.corners.find(self._last(ref)) for ref in run[:-1]}

    def _side(self, ref: Ref) -> _Side:
        piece = piece_of(self.project, ref.edge)
        return _Side(Half(piece.id, ref.mirrored), ref.edge)

    def _first(self, ref: Ref) -> _Corner:
        return self._corner(ref, at_start=not ref.backward)

    def _last(self, ref: Ref) -> _Corner:
        return self._corner(ref, at_start=ref.backward)

    def _corner(self, ref: Ref, *, at_start: bool) -> _Corner:
        piece = piece_of(self.project, ref.edge)
        edges = {edge.id: edge for edge in piece.all_edges()}
        corner = edges[ref.edge].corner if at_start else end_corner(piece, ref.edge)
        return _Corner(Half(piece.id, ref.mirrored), corner)

    def surfaces(self) -> tuple[Surface, ...]:
        groups: defaultdict[Hashable, list[Half]] = defaultdict(list)
        for piece in self.project.pieces.values():
            for half in halves_of(piece):
                groups[self.parts.find(half)].append(half)
        return tuple(self._surface(halves) for halves in groups.values())

    def _surface(self, halves: list[Half]) -> Surface:
        pieces = tuple(dict.fromkeys(half.piece for half in halves))
        seams = [m for m in self.seams if self._side(m.a[0]).half in halves]
        folds = sum(self.project.pieces[name].fold_edge is not None for name in pieces)
        angles, on_boundary = self._corner_classes(halves)
        open_sides = [edge for half in halves for edge in self._open_edges(half)]
        shaping = sum(self._seam_shaping(made) for made in seams)
        shaping += sum(2 * math.pi - a for c, a in angles.items() if c not in on_boundary)
        boundary = sum(math.pi - a for c, a in angles.items() if c in on_boundary)
        boundary += sum(edge_turning(edge) for edge in open_sides)
        cutouts = sum(len(self.project.pieces[half.piece].cutouts) for half in halves)
        # A joint inside a run is a point of the seam, counted with it as a kink: as a corner it
        # would split the seam in two, one corner and one seam more, which changes nothing.
        euler = len(angles) - (len(seams) + folds + len(open_sides)) + len(halves) - cutouts
        return Surface(pieces=pieces, shaping_rad=shaping, boundary_rad=boundary, euler=euler)

    def _corner_classes(self, halves: list[Half]) -> tuple[dict[Hashable, float], set[Hashable]]:
        angles: defaultdict[Hashable, float] = defaultdict(float)
        on_boundary: set[Hashable] = set()
        for half in halves:
            for before, after in _corners(self.project.pieces[half.piece]):
                corner = self.corners.find(_Corner(half, after.corner))
                if corner in self.inside_a_run:
                    continue
                angles[corner] += angle_between_edges(before, after)
                if not {_Side(half, before.id), _Side(half, after.id)} <= self.glued:
                    on_boundary.add(corner)
        return dict(angles), on_boundary

    def _open_edges(self, half: Half) -> Iterator[Edge]:
        for edge in self.project.pieces[half.piece].all_edges():
            if _Side(half, edge.id) not in self.glued:
                yield edge

    def _seam_shaping(self, made: MadeSeam) -> float:
        total = 0.0
        for run in (made.a, made.b):
            laid_out = walked(self.project, run)
            total += sum(edge_turning(one.edge) for one in laid_out.stretches)
            total += sum(turning for _, turning in laid_out.joint_turnings())
        return total


def _corners(piece: Piece) -> Iterator[tuple[Edge, Edge]]:
    rings: list[Ring] = [piece.edges, *(_ring(cutout) for cutout in piece.cutouts)]
    for ring in rings:
        yield from zip((ring[-1], *ring[:-1]), ring, strict=True)


def _ring(cutout: Cutout) -> Ring:
    return cutout.edges
