"""Seams that are guessed, as edits that a maker may take or leave."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from wedgework.edits.seams import JoinEdges
from wedgework.pattern.document import Project, Run
from wedgework.pattern.guessing import guess_seams
from wedgework.pattern.lookup import piece_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A seam that may be meant: the edit that joins it, how sure that is (0 to 1), and why.

    `others` would be as good in its place, where there are equal twins.
    """

    edit: JoinEdges
    sureness: float
    why: str
    others: tuple[JoinEdges, ...] = ()


def offers(project: Project) -> tuple[Offer, ...]:
    """Seams that the open edges may be joined in, the surest first, each with a name of its own."""
    names: Counter[str] = Counter(seam.name for seam in project.seams.values())
    found: list[Offer] = []
    for guess in guess_seams(project):
        name = seam_name(project, guess.a, guess.b)
        names[name] += 1
        numbered = name if names[name] == 1 else f"{name} {names[name]}"
        found.append(
            Offer(
                edit=_join(numbered, guess.a, guess.b),
                sureness=guess.sureness,
                why=guess.why,
                others=tuple(_join(numbered, a, b) for a, b in guess.others),
            )
        )
    return tuple(found)


def _join(name: str, a: Run, b: Run) -> JoinEdges:
    return JoinEdges(name=name, a=tuple(map(str, a)), b=tuple(map(str, b)))


def seam_name(project: Project, a: Run, b: Run) -> str:
    """What to call a seam at first: `front to side`, or `front closing` within one piece."""
    pieces = (piece_of(project, run[0].edge) for run in (a, b))
    names = list(dict.fromkeys(piece.name or piece.id for piece in pieces))
    return " to ".join(names) if len(names) > 1 else f"{names[0]} closing"
