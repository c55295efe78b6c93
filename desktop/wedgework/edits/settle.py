"""After an edit, bring the two sides of every held seam into agreement again.

No edit knows holds: what each of them has changed is found by identity, and the mate of every
changed side follows. Its truing may move an edge of the next held seam, whose mate then follows,
and so on, each seam once: where that would have to go round a ring twice, or a mate cannot follow,
the hold at fault is let go. Alike for the same two projects, every time.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from wedgework.edits.fitting import with_corner_fitted
from wedgework.edits.imaging import is_image, with_image
from wedgework.edits.lengthening import over_mm, with_ends_lengthened
from wedgework.edits.mates import with_mates_placed
from wedgework.geometry.memo import memoised
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import (
    CornerId,
    Edge,
    EdgeId,
    Hold,
    Piece,
    Project,
    Seam,
    SeamId,
    Side,
)
from wedgework.pattern.ends import End, RunEnd, movable_ends, run_end, run_of
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import hold_of, holds_by_seam, seams_of
from wedgework.pattern.runs import walked
from wedgework.pattern.table import Table, differing

OTHER: Final[dict[Side, Side]] = {"a": "b", "b": "a"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Released:
    """A hold that was let go since a mate could not follow; `why` is a sentence."""

    hold: str
    seam: SeamId
    name: str
    why: str

    @property
    def sentence(self) -> str:
        """What a maker is told."""
        return f"The hold on “{self.name}” was let go. {self.why}"


@dataclass(frozen=True, eq=False, slots=True)
class Settled:
    """A project in which every held seam agrees, and the holds that had to be let go for that.

    `told` are sentences about what else a maker may not expect of the edit.
    """

    project: Project
    released: tuple[Released, ...] = ()
    told: tuple[str, ...] = ()

    def then(self, later: Settled) -> Settled:
        """What came of this edit and of a later one on its project."""
        return Settled(later.project, (*self.released, *later.released), (*self.told, *later.told))


def settled(before: Project, after: Project) -> Settled:
    """What an edit has left, with the mates of held edges trued; `after` itself without holds."""
    if after is before or not after.holds:
        return Settled(after)
    project = after if after.seams is before.seams else _without_holds_of_nothing(after)
    released: list[Released] = []
    while (fault := (attempt := _Attempt(before, project)).fault()) is not None:
        # From the start again, since without that hold its neighbours may go other ways.
        released.append(fault)
        project = replace(project, holds=project.holds.with_rows({}, [fault.hold]))
    return Settled(attempt.project, tuple(released))


def _without_holds_of_nothing(project: Project) -> Project:
    """The project without the holds of seams that are gone: a hold goes with its seam."""
    gone = [hold.id for hold in project.holds.values() if hold.seam not in project.seams]
    return replace(project, holds=project.holds.with_rows({}, gone)) if gone else project


@memoised
def _held_by_edge(holds: Table[Hold], seams: Table[Seam]) -> dict[EdgeId, tuple[SeamId, ...]]:
    """Held seams that walk each edge, in the order of the holds."""
    rows: dict[EdgeId, tuple[SeamId, ...]] = {}
    for key in holds_by_seam(holds):
        for edge in dict.fromkeys(ref.edge for ref in (*seams[key].a, *seams[key].b)):
            rows[edge] = (*rows.get(edge, ()), key)
    return rows


@dataclass(frozen=True, slots=True)
class _Changes:
    """Edges that got other curves, and corners that moved."""

    edges: frozenset[EdgeId]
    corners: frozenset[CornerId]


def _changes(before: Project, after: Project) -> _Changes:
    pieces = tuple(differing(before.pieces, after.pieces))
    old = {
        edge.id: edge
        for key in pieces
        if key in before.pieces
        for edge in before.pieces[key].all_edges()
    }
    edges: set[EdgeId] = set()
    corners: set[CornerId] = set()
    for key in pieces:
        for edge, next_corner in _edges_and_ends(after.pieces.get(key)):
            was = old.get(edge.id)
            if was is None or was.curve is not edge.curve:
                edges.add(edge.id)
                corners.update(_moved_corners(was, edge, next_corner))
    return _Changes(frozenset(edges), frozenset(corners))


def _edges_and_ends(piece: Piece | None) -> Iterator[tuple[Edge, CornerId]]:
    """Each edge of a piece, with the corner where it ends."""
    if piece is not None:
        for ring in (piece.edges, *(cutout.edges for cutout in piece.cutouts)):
            yield from zip(ring, (edge.corner for edge in (*ring[1:], ring[0])), strict=True)


def _moved_corners(was: Edge | None, edge: Edge, next_corner: CornerId) -> Iterator[CornerId]:
    if was is not None:
        if was.curve.start.tolist() != edge.curve.start.tolist():
            yield edge.corner
        if was.curve.end.tolist() != edge.curve.end.tolist():
            yield next_corner


@dataclass(frozen=True, slots=True)
class _Way:
    """A way for a side to follow: the corner at which of its ends, and which edges that changes.

    `partner` is another held seam that the corner keeps in agreement as well; without one the
    corner slides along the side's own edge. `rank`: the least first.
    """

    side: Side
    end: End
    corner: CornerId
    edges: frozenset[EdgeId]
    partner: SeamId | None
    rank: tuple[int, ...]


class _Attempt:
    """One walk from what an edit changed over all held seams that hang on it."""

    def __init__(self, before: Project, after: Project) -> None:
        self.project = after
        self._before = before
        by_hand = _changes(before, after)
        self._by_hand = by_hand
        self._changed, self._moved = set(by_hand.edges), set(by_hand.corners)
        self._trued: set[SeamId] = set()
        self._waiting = dict.fromkeys((*self._newly_held(), *self._held_on(by_hand.edges)))

    def fault(self) -> Released | None:
        """True mates until all agree; the hold that cannot be kept, if there is one."""
        while self._waiting:
            key = self._next()
            del self._waiting[key]
            hold = holds_by_seam(self.project.holds)[key]
            seam = self.project.seams[key]
            try:
                self._keep(hold, seam)
            except EditRefused as refusal:
                name = seam.name or seam.id
                return Released(hold=hold.id, seam=key, name=name, why=refusal.sentence)
        return None

    def _newly_held(self) -> Iterator[SeamId]:
        """Held seams that the edit itself changed, or whose hold is new."""
        before, after = self._before, self.project
        if before.seams is not after.seams or before.holds is not after.holds:
            for key, hold in holds_by_seam(after.holds).items():
                is_same_seam = before.seams.get(key) is after.seams[key]
                if not is_same_seam or before.holds.get(hold.id) is not hold:
                    yield key

    def _held_on(self, edges: Iterable[EdgeId]) -> Iterator[SeamId]:
        held = _held_by_edge(self.project.holds, self.project.seams)
        return (key for edge in sorted(edges) for key in held.get(edge, ()))

    def _next(self) -> SeamId:
        """The first seam that waits and is not disturbed by the mate of another one that waits."""
        waiting = tuple(self._waiting)
        if len(waiting) == 1:
            return waiting[0]
        disturbed = {
            key: {own for own in self._held_on(self._likely_edges(key)) if own != key}
            for key in waiting
        }
        return next(
            (key for key in waiting if not any(key in disturbed[other] for other in waiting)),
            waiting[0],
        )

    def _likely_edges(self, key: SeamId) -> frozenset[EdgeId]:
        """Edges that change if a seam is trued in the first of its ways."""
        hold, seam = holds_by_seam(self.project.holds)[key], self.project.seams[key]
        try:
            if self._agrees(hold, seam):
                return frozenset()
            return next((way.edges for way in self._ways(seam)), frozenset())
        except EditRefused:
            return frozenset()

    def _agrees(self, hold: Hold, seam: Seam) -> bool:
        if abs(over_mm(self.project, seam)) >= SAME_STATION_MM:
            return False
        return hold.kind == "length" or is_image(self.project, seam)

    def _keep(self, hold: Hold, seam: Seam) -> None:
        if hold.kind == "shape" and seam.wanted_mm != 0.0:
            raise EditRefused("Sides of one shape are equally long, and it wants a difference now.")
        if self._agrees(hold, seam):
            self._place_marks(seam)
            return
        if hold.kind == "shape":
            self._keep_shape(seam)
        else:
            self._keep_length(seam)

    def _keep_length(self, seam: Seam) -> None:
        refusal: EditRefused | None = None
        for way in self._ways(seam):
            try:
                after = self._along(seam, way)
            except EditRefused as error:
                refusal = refusal or error
            else:
                self._take(after, {seam.id: OTHER[way.side]} | self._leads_of(way))
                return
        raise refusal or EditRefused(self._no_way_words(seam))

    def _no_way_words(self, seam: Seam) -> str:
        sides = self._followers(seam)
        if any(movable_ends(self.project, seam, side) for side in sides):
            return "Its mate cannot follow without undoing what was dragged, or another hold."
        return f"Side {sides[0].upper()} has no end that could follow."

    def _along(self, seam: Seam, way: _Way) -> Project:
        if way.partner is None:
            return with_ends_lengthened(self.project, seam, ((way.side, way.end),))
        partner = self.project.seams[way.partner]
        return with_corner_fitted(self.project, (seam, partner), way.corner)

    def _leads_of(self, way: _Way) -> dict[SeamId, Side]:
        """The partner of a way, with the side whose marks stay."""
        if way.partner is None:
            return {}
        run = (ref.edge for ref in self.project.seams[way.partner].a)
        return {way.partner: "a" if way.edges.isdisjoint(run) else "b"}

    def _keep_shape(self, seam: Seam) -> None:
        by_hand = self._sides_changed(seam, self._by_hand.edges)
        if by_hand == ["a", "b"] and not seam.is_dart:
            raise EditRefused("Both of its sides were given shapes of their own.")
        side = self._followers(seam)[0]
        known = self._before if self._is_same_seam(seam) else self.project
        after = with_image(known, self.project, seam, side)
        locked = _changes(self.project, after).edges.intersection(self._locked(seam))
        if locked:
            raise EditRefused("Its mate cannot follow without undoing another hold.")
        self._take(after, {seam.id: OTHER[side]})

    def _take(self, after: Project, leads: dict[SeamId, Side]) -> None:
        """Go on from a project in which these seams were trued, with their leading sides."""
        changes = _changes(self.project, after)
        for key, lead in leads.items():
            seam = after.seams[key]
            known = self._before if self._is_same_seam(seam) else self.project
            after = with_mates_placed(known, after, seam, lead)
            self._trued.add(key)
            self._waiting.pop(key, None)
        self.project = after
        self._changed |= changes.edges
        self._moved |= changes.corners
        for key in self._held_on(changes.edges):
            if key not in self._trued:
                self._waiting[key] = None

    def _place_marks(self, seam: Seam) -> None:
        """Bring marks of the other side along where one side was reshaped and is as long still."""
        sides = self._sides_changed(seam, self._changed)
        if len(sides) == 1 and self._is_same_seam(seam):
            self.project = with_mates_placed(self._before, self.project, seam, sides[0])

    def _is_same_seam(self, seam: Seam) -> bool:
        return self._before.seams.get(seam.id) is seam

    def _sides_changed(self, seam: Seam, changed: Iterable[EdgeId]) -> list[Side]:
        known = frozenset(changed)
        sides: tuple[Side, ...] = ("a", "b")
        return [
            side for side in sides if not known.isdisjoint(ref.edge for ref in run_of(seam, side))
        ]

    def _followers(self, seam: Seam) -> tuple[Side, ...]:
        """Sides that may follow: the one that was not touched, else either, B first."""
        for changed in (self._by_hand.edges, self._changed):
            sides = self._sides_changed(seam, changed)
            if len(sides) == 1:
                return (OTHER[sides[0]],)
        return ("b", "a")

    def _locked(self, seam: Seam) -> frozenset[EdgeId]:
        """Edges of other seams that have been trued already, and may not change again."""
        trued = (self.project.seams[key] for key in self._trued if key != seam.id)
        return frozenset(ref.edge for one in trued for ref in (*one.a, *one.b))

    def _ways(self, seam: Seam) -> list[_Way]:
        """Ways for a side to follow, the best first."""
        ways = [
            way
            for place, side in enumerate(self._followers(seam))
            for end in movable_ends(self.project, seam, side)
            for way in self._ways_at(seam, side, end, place)
        ]
        return sorted(ways, key=lambda way: way.rank)

    def _ways_at(self, seam: Seam, side: Side, end: End, place: int) -> Iterator[_Way]:
        there = run_end(walked(self.project, run_of(seam, side)), end)
        lead = run_end(walked(self.project, run_of(seam, OTHER[side])), end)
        edges = frozenset((there.stretch.edge.id, there.neighbour.id))
        others = {one.id for edge in edges for one in seams_of(self.project, edge)} - {seam.id}
        held = sorted(key for key in others if hold_of(self.project, key) is not None)
        for partner in (*(held if len(held) == 1 else ()), None):
            if self._may_move(there, partner, held):
                rank = (
                    int(there.is_on_fold),
                    len(others) - len(held),
                    place,
                    int(lead.corner not in self._moved),
                    0 if partner else len(held),
                )
                yield _Way(side, end, there.corner, edges, partner, rank)

    def _may_move(self, there: RunEnd, partner: SeamId | None, held: list[SeamId]) -> bool:
        if partner is None:
            return there.corner not in self._moved and self._trued.isdisjoint(held)
        if there.corner in self._by_hand.corners:
            return False
        if holds_by_seam(self.project.holds)[partner].kind == "shape":
            return False
        is_settled = partner in self._trued or partner not in self._waiting
        return is_settled or self._follows(self.project.seams[partner], there.neighbour.id)

    def _follows(self, seam: Seam, edge: EdgeId) -> bool:
        """Whether an edge is on a side of a seam that is to follow."""
        runs = (run_of(seam, side) for side in self._followers(seam))
        return any(ref.edge == edge for run in runs for ref in run)
