"""Guess which edges are joined: by length, shape, corners, place on the table, and marks.

The surest guesses are taken first; then what they join is walked as one outline, so that an edge
that goes on over a seam is guessed as a whole, and a collar against several pieces. Only chains of
nearly one length are compared, and of those no more than RIVALS each, so the work grows with the
number of edges and not with its square.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from wedgework.geometry.curve import Floats
from wedgework.geometry.length import length_mm
from wedgework.pattern.boundary import Boundary, Corner, Side
from wedgework.pattern.document import Project, Ref, Run, Seam
from wedgework.pattern.instances import MadeSeam, has_mirror, is_own_mirror, made_seams
from wedgework.pattern.likeness import (
    Chain,
    Indices,
    Measures,
    length_reach_mm,
    likeness,
    measures_of,
)
from wedgework.pattern.lookup import piece_of

RIVALS: Final = 24
"""Chains of nearly one length that each is compared with, on either side of it."""

LONGEST_CHAIN: Final = 4
"""Sides in one run of a guess at the most."""

MOST_KINK_RAD: Final = math.radians(50.0)
"""A run does not turn by more than this where it goes over a seam."""

MOST_OWN_KINK_RAD: Final = math.radians(25.0)
"""Nor by more than this where it goes on along its own piece."""

ROUNDS: Final = ((6.0, False), (5.0, False), (4.2, False), (4.2, True), (3.4, False), (3.4, True))
"""Likeness that is asked for, round by round, and whether an equal twin may stand beside it."""

TWINS: Final = 0.35
"""Guesses whose likeness differs by less are equally good, and offered as a choice."""

EXACT_MM: Final = 0.1
"""Lengths that agree so well are seldom equal by chance."""

SLIT_RAD: Final = math.radians(290.0)
"""Edges that meet at an inner corner this wide close a slit, or a dart of up to 70 degrees."""

MOST_FOR_PIECES: Final = 2.0
"""The most that may speak for a pair from what its pieces are."""

SURE: Final = 4.0
"""Likeness at which a guess without a rival is as good as even, less its rivals'."""

SHORTEST_MM: Final = 12.0
"""Shorter edges are ends of strips and laps, whose lengths say nothing."""


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Guess:
    """Two runs that may be a seam, how sure that is (0 to 1), and why.

    `others` are runs that would be as good in its place, where there are such: equal twins.
    """

    a: Run
    b: Run
    sureness: float
    why: str
    others: tuple[tuple[Run, Run], ...] = ()


@dataclass(frozen=True, eq=False, slots=True)
class _Pairs:
    """Pairs of chains that may be joined, by index, the likeliest first."""

    chains: Sequence[Chain]
    i: Indices
    j: Indices
    scores: Floats
    cues: dict[str, Floats]


def guess_seams(project: Project) -> tuple[Guess, ...]:
    """Seams that the open edges of a project may be joined in, the surest first.

    Edges in seams, folds and hems are left alone. No edge is in two guesses; where several are
    equally good, the others are told with the first.
    """
    boundary = Boundary(project)
    boundary.join(made for made in made_seams(project) if not made.seam.laid_on)
    guesses: list[Guess] = []
    pairs: _Pairs | None = None
    for asked, with_twins in ROUNDS:
        # As long as nothing is joined the outlines are the same, and so are the pairs.
        pairs = pairs or _pairs(boundary)
        taken = list(_taken(project, pairs, asked, with_twins=with_twins))
        for guess, made in taken:
            guesses.append(guess)
            boundary.join(made)
        pairs = None if taken else pairs
    return tuple(sorted(guesses, key=lambda guess: -guess.sureness))


def name_of(project: Project, a: Run, b: Run) -> str:
    """What to call a seam that was guessed: the pieces that it joins."""
    sides = []
    for run in (a, b):
        pieces = dict.fromkeys(piece_of(project, ref.edge).id for ref in run)
        names = (project.pieces[own].name or own for own in pieces)
        sides.append(" and ".join(dict.fromkeys(names)))
    return sides[0] if sides[0] == sides[1] else f"{sides[0]} to {sides[1]}"


Taken = tuple[Guess, tuple[MadeSeam, ...]]


def _taken(project: Project, pairs: _Pairs, asked: float, *, with_twins: bool) -> Iterator[Taken]:
    """Guesses of one round that are good enough and do not get into each other's way."""
    table = _Table(project, pairs, asked - TWINS)
    used: set[Side] = set()
    for row in range(int(np.searchsorted(-pairs.scores, -asked, side="right"))):
        if table.sides[row] & used:
            continue
        rivals = table.rivals(row, used)
        margin = float(pairs.scores[row] - pairs.scores[rivals[0]]) if rivals else math.inf
        if margin < TWINS and not with_twins:
            continue
        used |= table.sides[row]
        others = [one for one in rivals if pairs.scores[row] - pairs.scores[one] < TWINS]
        made = table.made[row]
        yield _guess(pairs, row, margin, [table.made[one][0] for one in others], made[0]), made


class _Table:
    """The pairs down to a likeness: what each would make, and which get into each other's way."""

    def __init__(self, project: Project, pairs: _Pairs, least: float) -> None:
        count = int(np.searchsorted(-pairs.scores, -least, side="right"))
        ends = zip(pairs.i[:count], pairs.j[:count], strict=True)
        self.made = [_made(project, pairs.chains[a], pairs.chains[b]) for a, b in ends]
        self.sides = [_sides(one) for one in self.made]
        self._keys = [_key(one) for one in self.made]
        self._by_side: defaultdict[Side, list[int]] = defaultdict(list)
        for row, sides in enumerate(self.sides):
            for side in sides:
                self._by_side[side].append(row)

    def rivals(self, row: int, used: set[Side]) -> list[int]:
        """Rows that would join a side of this one to something else, the likeliest first."""
        beside = {one for side in self.sides[row] for one in self._by_side[side]}
        return sorted(
            one
            for one in beside
            if self._keys[one] != self._keys[row] and not self.sides[one] & used
        )


def _sides(made: tuple[MadeSeam, ...]) -> frozenset[Side]:
    return frozenset(Side(ref.edge, ref.mirrored) for one in made for ref in (*one.a, *one.b))


def _key(made: tuple[MadeSeam, ...]) -> frozenset[frozenset[tuple[Side, ...]]]:
    """What is joined to what, whichever side is told first and whichever half is drawn."""
    return frozenset(frozenset((_left_walk(one.a), _left_walk(one.b))) for one in made)


def _left_walk(run: Run) -> tuple[Side, ...]:
    sides = tuple(Side(ref.edge, ref.mirrored) for ref in run)
    return sides if run[0].on_left else sides[::-1]


def _guess(
    pairs: _Pairs, row: int, margin: float, others: Sequence[MadeSeam], made: MadeSeam
) -> Guess:
    alone = 1.0 / (1.0 + math.exp(-(float(pairs.scores[row]) - SURE)))
    # Of two that are alike each is even; of one far ahead of all others there is no doubt.
    ahead = 0.5 + 0.5 * math.tanh(margin)
    return Guess(
        a=made.a,
        b=made.b,
        sureness=alone * ahead,
        why=_why(pairs, row),
        others=tuple((one.a, one.b) for one in others),
    )


_WORDS: Final = {
    "shape": (0.5, "of one shape"),
    "corners": (0.8, "their corners make a line"),
    "place": (0.5, "they lie side by side"),
    "levels": (1.0, "levels meet on them"),
    "notches": (0.7, "notches meet on them"),
    "fold": (0.5, "both start on a fold"),
}


def _why(pairs: _Pairs, row: int) -> str:
    """What speaks for a guess, in words."""
    chain = pairs.chains[pairs.i[row]]
    said = [words for cue, (least, words) in _WORDS.items() if pairs.cues[cue][row] >= least]
    return "; ".join([f"both {chain.length_mm:.1f} mm long", *said])


def _chains(boundary: Boundary) -> Iterator[Chain]:
    """Every chain of open sides, one of two that are mirror images of each other."""
    sides = [side for side in boundary.sides() if _may_join(boundary, side)]
    after = {side: boundary.after(side) for side in sides}
    before = {found[0]: found[1] for found in after.values() if found is not None}
    for side in sides:
        walked, kinks = [side], 0.0
        whole = length_mm(boundary.edge_of(side).curve)
        while len(walked) <= LONGEST_CHAIN:
            following = after[walked[-1]]
            last = following[1] if following else None
            yield Chain(
                sides=tuple(walked),
                first=before.get(side),
                last=last,
                after=following[0] if following else None,
                kinks_rad=kinks,
                length_mm=whole,
            )
            if following is None or following[0] in walked or following[0] not in after:
                break
            kink = abs(math.pi - following[1].angle_rad)
            if following[1].over_fold or kink > _most_kink(following[1]):
                break
            kinks += kink
            walked.append(following[0])
            whole += length_mm(boundary.edge_of(following[0]).curve)


def _most_kink(corner: Corner) -> float:
    return MOST_KINK_RAD if corner.over_seam else MOST_OWN_KINK_RAD


def _may_join(boundary: Boundary, side: Side) -> bool:
    edge = boundary.edge_of(side)
    return boundary.is_open(side) and edge.finish == "open" and length_mm(edge.curve) >= SHORTEST_MM


def _pairs(boundary: Boundary) -> _Pairs:
    chains = list(_chains(boundary))
    if len(chains) < 2:
        nothing = np.zeros(0)
        return _Pairs(chains, nothing.astype(np.intp), nothing.astype(np.intp), nothing, {})
    measures = measures_of(boundary, chains)
    i, j = _of_one_length(measures, chains)
    scores, cues = likeness(measures, i, j)
    # Asking each pair about its pieces costs most, so it is asked of those alone that may be good.
    least = ROUNDS[-1][0] - TWINS - MOST_FOR_PIECES
    good = scores >= least
    i, j, scores, cues = i[good], j[good], scores[good], {k: v[good] for k, v in cues.items()}
    scores = scores + np.array(
        [_own_piece(boundary, chains[a], chains[b]) for a, b in zip(i, j, strict=True)]
    )
    # Of equal twins the one that was drawn first stands first, whatever the last digits say.
    order = np.lexsort((np.maximum(i, j), np.minimum(i, j), -scores.round(3)))
    return _Pairs(chains, i[order], j[order], scores[order], {k: v[order] for k, v in cues.items()})


def _of_one_length(measures: Measures, chains: Sequence[Chain]) -> tuple[Indices, Indices]:
    """Pairs of chains of nearly one length, each with its RIVALS next ones in order of length."""
    order = np.argsort(measures.lengths, kind="stable")
    lengths = measures.lengths[order]
    pairs = [
        (order[:-step][near], order[step:][near])
        for step in range(1, min(RIVALS, len(order) - 1) + 1)
        if (near := lengths[step:] - lengths[:-step] <= length_reach_mm(lengths[:-step])).any()
    ]
    i = np.concatenate([pair[0] for pair in pairs]) if pairs else np.zeros(0, dtype=np.intp)
    j = np.concatenate([pair[1] for pair in pairs]) if pairs else np.zeros(0, dtype=np.intp)
    fit = [_may_meet(chains[a], chains[b]) for a, b in zip(i, j, strict=True)]
    return i[fit], j[fit]


def _may_meet(a: Chain, b: Chain) -> bool:
    """Whether two chains are different sides; told once for a pair and its mirror image."""
    if set(a.sides) & set(b.sides):
        return False
    edges_a, edges_b = ({side.edge for side in one.sides} for one in (a, b))
    if edges_a & edges_b and b.sides != a.twin:
        return False
    # Of a pair and its mirror image, that with side A as drawn is told.
    return not (a.sides[0].mirrored and b.sides[0].mirrored)


def _own_piece(boundary: Boundary, a: Chain, b: Chain) -> float:
    """What speaks against a piece joined to itself, and for the closing of a slit or a dart.

    Opposite edges of a strip, and an edge and its mirror image, are as long as each other anyway.
    """
    corners = [
        one.last.angle_rad
        for one, other in ((a, b), (b, a))
        if one.last is not None and one.after == other.sides[0]
    ]
    if corners:
        return MOST_FOR_PIECES if max(corners) >= SLIT_RAD else -6.0
    pieces = ({boundary.piece_of(side).id for side in one.sides} for one in (a, b))
    if not set.intersection(*pieces):
        return _whole_against_parts(a, b)
    return -3.5 if b.sides == a.twin and _has_hem(boundary, a.sides[0]) else -7.0


def _has_hem(boundary: Boundary, side: Side) -> bool:
    """Whether somebody has said which edges of a pair are hems: the others are joined then."""
    piece = boundary.piece_of(side)
    return piece.cutting == "pair" and any(edge.finish == "hem" for edge in piece.edges)


def _whole_against_parts(a: Chain, b: Chain) -> float:
    """Parts that add up to a whole exactly do so by design."""
    apart = abs(a.length_mm - b.length_mm)
    return 1.0 if len(a.sides) != len(b.sides) and apart <= EXACT_MM else 0.0


def _made(project: Project, a: Chain, b: Chain) -> tuple[MadeSeam, ...]:
    """The seam of two chains as often as it would be made, A first as it is told."""
    run_a, run_b = _runs(a, b)
    seam = Seam(id="", name="", a=run_a, b=run_b)
    if has_mirror(project, seam) and not is_own_mirror(seam):
        return (MadeSeam(seam), MadeSeam(seam, mirrored=True))
    return (MadeSeam(seam),)


def _runs(a: Chain, b: Chain) -> tuple[Run, Run]:
    """Run A on the left of its walk and run B on the right, as few mirror images as can be."""
    if a.sides[0].mirrored and not b.sides[0].mirrored:
        a, b = b, a
    run_a = tuple(side.ref for side in a.sides)
    run_b = tuple(_backward(side) for side in reversed(b.sides))
    return run_a, run_b


def _backward(side: Side) -> Ref:
    return Ref(side.edge, backward=not side.mirrored, mirrored=side.mirrored)
