"""What a maker makes of guessed seams: taken or not, in which way, which way round. No Qt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import msgspec

from wedgework.bench.offers import Offer
from wedgework.edits.seams import JoinEdges
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Project, Run, Seam, parse_ref
from wedgework.pattern.instances import flipped, has_mirror, reversed_run
from wedgework.pattern.lookup import the_edge

TICKED_FROM: Final = 0.4
"""Surer guesses are taken at first; the maker takes away what is wrong."""

SURE_WORDS: Final = ((0.9, "nearly certain"), (0.7, "likely"), (0.4, "may well be"), (0.0, "a try"))


@dataclass(slots=True)
class Choice:
    """One guess as the maker has it at this moment."""

    offer: Offer
    name: str
    taken: bool
    way: int = 0
    turned: bool = False

    @property
    def edit(self) -> JoinEdges:
        """The join that it stands for."""
        edit = (self.offer.edit, *self.offer.others)[self.way]
        b = tuple(map(str, reversed_run(runs_of(edit)[1]))) if self.turned else edit.b
        return msgspec.structs.replace(edit, name=self.name, b=b)


class Choices:
    """All guesses. Of two that take the same edge only one is taken: the one ticked last."""

    def __init__(self, project: Project, found: Sequence[Offer]) -> None:
        self._project = project
        self.rows = [
            Choice(offer=offer, name=offer.edit.name, taken=offer.sureness >= TICKED_FROM)
            for offer in found
        ]

    @property
    def edits(self) -> tuple[JoinEdges, ...]:
        """The joins that are taken."""
        return tuple(row.edit for row in self.rows if row.taken)

    def take(self, row: int, *, taken: bool) -> list[int]:
        """Take a guess or leave it; the rows that had to be left for it."""
        self.rows[row].taken = taken
        return self._leave_others(row)

    def go_way(self, row: int, way: int) -> list[int]:
        """Another of the ways that are as good; the rows that had to be left for it."""
        self.rows[row].way = way
        return self._leave_others(row)

    def lengths_mm(self, row: int) -> tuple[float, float]:
        """Lengths of both runs."""
        a, b = (
            sum(length_mm(the_edge(self._project, ref.edge).curve) for ref in run)
            for run in runs_of(self.rows[row].edit)
        )
        return a, b

    def _leave_others(self, row: int) -> list[int]:
        if not self.rows[row].taken:
            return []
        mine = set(self._sides(row))
        left = [
            index
            for index, other in enumerate(self.rows)
            if index != row and other.taken and mine.intersection(self._sides(index))
        ]
        for index in left:
            self.rows[index].taken = False
        return left

    def _sides(self, row: int) -> Iterator[tuple[str, bool]]:
        """Edges that a join takes, and those of its mirror image where it stands for that too."""
        a, b = runs_of(self.rows[row].edit)
        refs = (*a, *b)
        both = has_mirror(self._project, Seam(id="", name="", a=a, b=b))
        yield from ((ref.edge, ref.mirrored) for ref in ((*refs, *flipped(refs)) if both else refs))


def runs_of(edit: JoinEdges) -> tuple[Run, Run]:
    """Runs A and B of a join."""
    return tuple(map(parse_ref, edit.a)), tuple(map(parse_ref, edit.b))


def sure_words(sureness: float) -> str:
    """How sure a guess is, in words."""
    return next(words for least, words in SURE_WORDS if sureness >= least)
