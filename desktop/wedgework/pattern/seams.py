"""What a seam measures: both lengths, their difference, and the shaping that it puts in.

Shaping is the turning of A plus the turning of B, each seen from its own piece, over matching
stations. Source: Gauss-Bonnet; do Carmo, Differential Geometry of Curves and Surfaces, 4-5.
"""

from __future__ import annotations

import operator
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple, TypeAlias
from weakref import WeakKeyDictionary, ref

import numpy as np

from wedgework.geometry.curve import Floats
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Notch, Piece, Project, Seam
from wedgework.pattern.lookup import notches_by_edge
from wedgework.pattern.runs import WalkedRun, walked
from wedgework.pattern.table import Table
from wedgework.pattern.variation import dome_and_hollow

State: TypeAlias = Literal["agrees", "a_longer", "b_longer"]


@dataclass(frozen=True, eq=False, kw_only=True)
class SeamMeasure:
    """A seam, measured. `a` and `b` are its runs as walked; `matches` are matching stations.

    `matches` is (k, 2) mm: stations of A and B, first the start, last the end, and between them
    the notches that are mates. `shaping` is (m, 2): station along A in mm, and shaping gathered
    up to it in rad, a kink as two rows.
    """

    a: WalkedRun
    b: WalkedRun
    matches: Floats
    difference_mm: float
    state: State
    shaping: Floats
    shaping_rad: float
    dome_rad: float
    hollow_rad: float

    def b_of(self, station_a_mm: float) -> float:
        """The station of B that lies on a station of A, both in mm."""
        return float(np.interp(station_a_mm, self.matches[:, 0], self.matches[:, 1]))

    def a_of(self, station_b_mm: float) -> float:
        """The station of A that lies on a station of B, both in mm."""
        return float(np.interp(station_b_mm, self.matches[:, 1], self.matches[:, 0]))

    def shaping_between(self, from_mm: float, to_mm: float) -> float:
        """Shaping in rad between two stations of A, kinks at `from_mm` left out."""
        at = np.interp([from_mm, to_mm], self.shaping[:, 0], self.shaping[:, 1])
        return float(at[1] - at[0])


class _Known(NamedTuple):
    """A measure, what it was read from, and in which tables that was last found the same."""

    read: tuple[Any, ...]
    measure: SeamMeasure
    # Weak: a table of some thousand pieces must not live as long as a seam that nobody edits.
    pieces: ref[Table[Piece]]
    notches: ref[Table[Notch]]


_measured: WeakKeyDictionary[Seam, _Known] = WeakKeyDictionary()


def measure_seam(project: Project, seam: Seam) -> SeamMeasure:
    """Measure a seam or dart; remembered while its pieces' edges and its notches are the same.

    Raises EditRefused where a run names an edge that is not there.
    """
    known = _measured.get(seam)
    # In the tables where it was found last, a dozen checks need not walk the seam again.
    if known and known.pieces() is project.pieces and known.notches() is project.notches:
        return known.measure
    a, b = walked(project, seam.a), walked(project, seam.b)
    notches = notches_of(project, seam)
    read = _what_is_read(a, b, notches)
    is_same = known is not None and _all_the_same(known.read, read)
    measure = known.measure if known and is_same else _measure(seam, a, b, notches)
    _measured[seam] = _Known(read, measure, ref(project.pieces), ref(project.notches))
    return measure


def _all_the_same(old: tuple[Any, ...], new: tuple[Any, ...]) -> bool:
    return len(old) == len(new) and all(map(operator.is_, old, new))


def _what_is_read(a: WalkedRun, b: WalkedRun, notches: tuple[Notch, ...]) -> tuple[Any, ...]:
    stretches = (*a.stretches, *b.stretches)
    edges = tuple(one.edge for one in stretches)
    # Angles at joints inside a run read the neighbours of its edges, so the piece decides there.
    joined = tuple(one.piece for run in (a, b) if len(run.stretches) > 1 for one in run.stretches)
    return (*edges, *joined, *notches)


def notches_of(project: Project, seam: Seam) -> tuple[Notch, ...]:
    """Notches that lie on any edge of the seam, each once, in the order of the table."""
    by_edge = notches_by_edge(project.notches)
    if not by_edge:
        return ()
    edges = (one.edge for one in (*seam.a, *seam.b))
    found = {notch.id: notch for edge in edges for notch in by_edge.get(edge, ())}
    return tuple(found.values())


def _measure(seam: Seam, a: WalkedRun, b: WalkedRun, notches: tuple[Notch, ...]) -> SeamMeasure:
    difference_mm = a.length_mm - b.length_mm - seam.wanted_mm
    matches = _matches(a, b, notches)
    shaping = _shaping_along(a, b, matches)
    dome_rad, hollow_rad = dome_and_hollow(shaping[:, 0], shaping[:, 1])
    return SeamMeasure(
        a=a,
        b=b,
        matches=matches,
        difference_mm=difference_mm,
        state=_state(difference_mm, seam.allowed_mm),
        shaping=shaping,
        shaping_rad=float(shaping[-1, 1]),
        dome_rad=dome_rad,
        hollow_rad=hollow_rad,
    )


def _state(difference_mm: float, allowed_mm: float) -> State:
    if abs(difference_mm) <= allowed_mm:
        return "agrees"
    return "a_longer" if difference_mm > 0 else "b_longer"


def _matches(a: WalkedRun, b: WalkedRun, notches: tuple[Notch, ...]) -> Floats:
    """Matching stations, (k, 2) mm, strictly rising in both columns."""
    pairs = [(0.0, 0.0), (a.length_mm, b.length_mm)]
    for notch in notches:
        if notch.mate is not None:
            pair = _stations_of_mates(a, b, notch)
            pairs += [pair] if pair else []
    return np.array(_rising(sorted(pairs)))


def _stations_of_mates(a: WalkedRun, b: WalkedRun, notch: Notch) -> tuple[float, float] | None:
    if notch.mate is None:
        return None
    for one, other in ((notch.at, notch.mate), (notch.mate, notch.at)):
        on_a, on_b = a.station_of(one), b.station_of(other)
        if on_a is not None and on_b is not None:
            return on_a, on_b
    return None


def _rising(pairs: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Pairs that rise on both sides; a mark that stands against the walk tells nothing."""
    end = pairs[-1]
    kept = pairs[:1]
    for pair in pairs[1:-1]:
        if all(low < here < high for low, here, high in zip(kept[-1], pair, end, strict=True)):
            kept.append(pair)
    return [*kept, end]


def _shaping_along(a: WalkedRun, b: WalkedRun, matches: Floats) -> Floats:
    """(m, 2): station along A, mm, and turning of A plus B gathered up to it, rad."""
    at_a, turned_a = a.turning_profile()
    at_b, turned_b = b.turning_profile()
    at = _on_one_grid(np.concatenate([at_a, np.interp(at_b, matches[:, 1], matches[:, 0])]))
    at_a, at_b = at[: len(at_a)], at[len(at_a) :]
    summed_at_a = turned_a + _turned_before(at_a, at_b, turned_b)
    # Of rows at one station `np.interp` takes the last: a kink at the very place is passed.
    summed_at_b = turned_b + np.interp(at_b, at_a, turned_a)
    summed = np.concatenate([summed_at_a, summed_at_b])
    # At one station rows of A come first, so A's kink is passed before B's.
    order = at.argsort(kind="stable")
    return np.array([at[order], summed[order]]).T


def _on_one_grid(at: Floats) -> Floats:
    """Stations, those that differ only by rounding made one: a kink of A and its mate on B."""
    order = at.argsort(kind="stable")
    ordered = at[order]
    is_first = np.ones(len(at), dtype=bool)
    np.greater(ordered[1:] - ordered[:-1], SAME_STATION_MM, out=is_first[1:])
    made_one = np.empty_like(at)
    made_one[order] = ordered[is_first][is_first.cumsum() - 1]
    return made_one


def _turned_before(at: Floats, stations: Floats, turned: Floats) -> Floats:
    """Turning at `at`, (k,), a kink at the very place not passed yet: seen from the other end."""
    return np.asarray(np.interp(-at, -stations[::-1], turned[::-1]))
