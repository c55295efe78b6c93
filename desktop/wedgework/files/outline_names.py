"""Ids and names of what an import makes."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import count

from wedgework.files.drawn import Group


def plain_id(text: str) -> str:
    """An id from outside as it may stand in a project: a leading `-` or `~` means something here.

    "" where nothing is left to call a thing by.
    """
    text = text.strip()
    return "_" + text[1:] if text.startswith(("-", "~")) else text


class Names:
    """Ids that are given, each once."""

    def __init__(self) -> None:
        self._given: set[str] = set()
        self._last: dict[str, int] = {}

    def give(self, stem: str) -> str:
        """`stem` if it is free, else `stem` with the first free number behind a dash."""
        if stem not in self._given:
            self._given.add(stem)
            return stem
        return self._numbered(f"{stem}-", 2)

    def next_numbered(self, stem: str) -> str:
        """`<stem>1`, or with the first free number."""
        return self._numbered(stem, 1)

    def _numbered(self, stem: str, first: int) -> str:
        # Numbers below the last one given are taken: asking them all again would cost n squared.
        for number in count(self._last.get(stem, first - 1) + 1):
            name = f"{stem}{number}"
            if name not in self._given:
                break
        self._last[stem] = number
        self._given.add(name)
        return name


def own_names(elements: Iterable[tuple[str, tuple[Group, ...]]]) -> list[str]:
    """For each piece its element's id, or else that of the group that holds no other piece.

    "" where it has neither. A group without an id is looked through to the one around it.
    """
    rows = list(elements)
    held: dict[int, int] = {}
    for _, groups in rows:
        for group in groups:
            held[id(group)] = held.get(id(group), 0) + 1
    return [plain_id(own) or _group_name(groups, held) for own, groups in rows]


def _group_name(groups: tuple[Group, ...], held: dict[int, int]) -> str:
    named = next((group for group in reversed(groups) if group.id), None)
    if named is None or held[id(named)] > 1:
        return ""
    return plain_id(named.id)
