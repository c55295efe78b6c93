"""Drafted pieces that come in a row, as strips of pleats do: what hangs on them follows the row.

Drafted again with other numbers there may be more of them, or fewer. A seam that walks one edge of
all of them in order then walks that edge of all there are now, and what hangs on the end of the
last one goes over to the one that is the last now.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeVar

from wedgework.edits.hanging import Kept
from wedgework.pattern.document import Hole, Notch, Piece, Ref, Run, Spot

Mark = TypeVar("Mark", Notch, Hole)

_NUMBERED: Final = re.compile(r"(.+)_(\d+)")
START: Final = "first"
END: Final = "last"
"""Roles of the edges at which a row starts and ends; all others run along it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Pieces in a row: ids of their edges, a list a role, and roles of those that run along it."""

    edges: Mapping[str, tuple[str, ...]]
    ahead: frozenset[str]

    def end(self) -> str | None:
        """The edge at which the row ends."""
        ends = self.edges.get(END)
        return ends[-1] if ends else None


def row_of(pieces: Iterable[Piece]) -> Row | None:
    """Pieces as a row, by their numbers; None where they are none, or have been cut since."""
    found = [(_NUMBERED.fullmatch(piece.id), piece) for piece in pieces]
    numbered = [(int(match[2]), match[1], piece) for match, piece in found if match is not None]
    numbered.sort(key=lambda one: one[0])
    if len(numbered) < len(found) or len({name for _, name, _ in numbered}) != 1:
        return None
    edges: dict[str, tuple[str, ...]] = {}
    for _, _, piece in numbered:
        for edge in piece.edges:
            role = edge.id.removeprefix(f"{piece.id}.")
            edges[role] = (*edges.get(role, ()), edge.id)
    return Row(edges=edges, ahead=_ahead([*edges]))


def _ahead(roles: Sequence[str]) -> frozenset[str]:
    """Roles, in the order of the outline, of edges that go from the start of a row to its end."""
    if START not in roles or END not in roles:
        return frozenset()
    at = roles.index(START)
    around = [*roles[at:], *roles[:at]]
    return frozenset(around[1 : around.index(END)])


def following(kept: Kept, before: Iterable[Piece], after: Iterable[Piece]) -> Kept:
    """What hung on a row of pieces, aimed at the row that there is now."""
    old, new = row_of(before), row_of(after)
    if old is None or new is None or old.edges == new.edges:
        return kept
    end, now = old.end(), new.end()
    ends = {} if end is None or now is None else {end: now}
    return replace(
        kept,
        seams=tuple(
            replace(seam, a=_run(seam.a, old, new, ends), b=_run(seam.b, old, new, ends))
            for seam in kept.seams
        ),
        openings=tuple(
            replace(one, edges=_run(one.edges, old, new, ends)) for one in kept.openings
        ),
        notches=tuple(_mark(one, ends) for one in kept.notches),
        holes=tuple(_mark(one, ends) for one in kept.holes),
        lengths_mm={**kept.lengths_mm, **_lengths(kept.lengths_mm, ends)},
    )


def _lengths(lengths_mm: Mapping[str, float], ends: Mapping[str, str]) -> dict[str, float]:
    return {now: lengths_mm[end] for end, now in ends.items()}


def _run(run: Run, old: Row, new: Row, ends: Mapping[str, str]) -> Run:
    """A run with one edge of all pieces of the old row led along all of the new one."""
    for role, edges in old.edges.items():
        if role in {START, END} or role not in new.edges:
            continue
        if (at := _found(run, edges)) is not None:
            first = run[at]
            way = 1 if (role in old.ahead) != first.backward else -1
            refs = [Ref(own, first.backward, first.mirrored) for own in new.edges[role][::way]]
            return (*run[:at], *refs, *run[at + len(edges) :])
    return tuple(replace(ref, edge=ends.get(ref.edge, ref.edge)) for ref in run)


def _found(run: Run, edges: Sequence[str]) -> int | None:
    """Where in a run all of some edges stand one after the other, in either order, walked alike."""
    for at in range(len(run) - len(edges) + 1):
        part = run[at : at + len(edges)]
        walked = [ref.edge for ref in part]
        alike = len({(ref.backward, ref.mirrored) for ref in part}) == 1
        if alike and (walked == list(edges) or walked == list(edges)[::-1]):
            return at
    return None


def _mark(mark: Mark, ends: Mapping[str, str]) -> Mark:
    return replace(mark, at=_spot(mark.at, ends), mate=mark.mate and _spot(mark.mate, ends))


def _spot(spot: Spot, ends: Mapping[str, str]) -> Spot:
    return replace(spot, edge=ends.get(spot.edge, spot.edge))
