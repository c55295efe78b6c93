"""Which commands answer what a maker types: a name, another word for it, or a whole sentence.

No word of a sentence has to fit; what few commands answer says more than what many do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cached_property
from math import log1p
from typing import Final

from PySide6.QtGui import QAction

FIRST: Final = 5
"""What stands first among other words for a command is the nearest of them."""

WORTH: Final = 0.5
"""A command that leaves a word of a sentence without an answer is shown down to this share of the
nearest one."""

BEGUN: Final = 300
"""A command whose name begins with the words that are typed comes before all others."""

_FILLERS: Final = """
    a an and are as at be by can do does each every for from get give have how i in into is
    it its let make me my not of on onto or over please put set should so take that the
    their them these they thing this those through to too up want way what when where which
    with
"""
FILLERS: Final = frozenset(_FILLERS.split())
"""Words that say nothing about which command is meant, where there is another word."""

ENDINGS: Final = ("ings", "ing", "ches", "shes", "ed", "s")
ROOT: Final = 3
"""Letters that a word keeps when its ending goes."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Command:
    """Something that can be found: `place` says where it stands, `shows` an edit's example."""

    words: str
    says: str
    key: str
    place: str
    also: str
    shows: str
    action: QAction

    @cached_property
    def ranked(self) -> tuple[tuple[list[str], int, int, int], ...]:
        """What can be found: words, how near each is when typed whole, when begun, when first."""
        return (
            (words_in(self.words), 60, 40, 0),
            (words_in(self.also), 40, 25, FIRST),
            (words_in(self.place), 8, 6, 0),
            (words_in(self.says), 10, 4, 0),
        )


def found(commands: Sequence[Command], typed: str) -> list[Command]:
    """The commands that answer what is typed, the nearest first; all of them where nothing is.

    A word that no command knows is read as the one that is spelt most like it.
    """
    asked = _asked(typed)
    if not asked:
        return list(commands) if not typed.strip() else []
    rows = _scored(commands, asked, typed.strip().lower())
    least = WORTH * max(score for _, score, _ in rows)
    shown = [(one, score) for one, score, is_whole in rows
             if is_whole or score >= least > 0]  # fmt: skip
    return [one for one, _ in sorted(shown, key=lambda row: -row[1])]


def _scored(
    commands: Sequence[Command], asked: Sequence[str], typed: str
) -> list[tuple[Command, float, bool]]:
    """Each command, how well it answers, and whether it answers every word."""
    answers = zip(*(_answers(commands, word) for word in asked), strict=True)
    rows = []
    for one, parts in zip(commands, answers, strict=True):
        share = sum(map(bool, parts)) / len(asked)
        is_begun = " " in typed and one.words.lower().startswith(typed)
        rows.append((one, sum(parts) * share + BEGUN * is_begun, share == 1))
    return rows


def words_in(text: str) -> list[str]:
    """The words of a text, small, without what stands between them."""
    return "".join(c if c.isalnum() else " " for c in text.lower()).split()


def _asked(typed: str) -> list[str]:
    words = list(dict.fromkeys(words_in(typed)))
    return [word for word in words if word not in FILLERS] or words


def _answers(commands: Sequence[Command], word: str) -> list[float]:
    """How well each command answers a word: the fewer do, the more it counts."""
    near = [_nearness(one, word) for one in commands]
    if not any(near):
        known = sorted({w for one in commands for w in words_in(f"{one.words} {one.also}")})
        near = [_nearness(one, *get_close_matches(word, known, 1, 0.7)) for one in commands]
    weight = log1p(len(near) / (1 + sum(map(bool, near))))
    return [weight * one for one in near]


def _nearness(command: Command, word: str = "") -> int:
    """How well a command answers one word; 0 where it does not."""
    if not word:
        return 0
    root = _root(word)
    best = 0
    for words, whole, begun, first in command.ranked:
        roots = [_root(one) for one in words]
        near = begun * any(one.startswith((word, root)) for one in words)
        if root in roots:
            near = whole + first * (roots[0] == root)
        best = max(best, near)
    return best


def _root(word: str) -> str:
    """A word without the ending that its use gives it: `notches` and `notched` are `notch`."""
    for ending in ENDINGS:
        kept = word.removesuffix(ending)
        if kept != word and len(kept) >= ROOT and not word.endswith("ss"):
            return f"{kept}{ending[:2]}" if ending in {"ches", "shes"} else kept
    return word
