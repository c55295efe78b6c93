"""One letter for each entry of a menu: no two entries of one menu answer to the same."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtGui import QAction


def give_letters(actions: Iterable[QAction]) -> None:
    """Mark a letter in every entry; one that is marked already keeps it where it is free."""
    entries = [one for one in actions if not one.isSeparator()]
    held: dict[str, int] = {}
    wishes = [_wishes(one.text()) for one in entries]
    for place in range(len(entries)):
        _seat(place, wishes, held)
    for letter, place in held.items():
        entries[place].setText(_marked(entries[place].text(), letter))


def letter_of(words: str) -> str:
    """The letter that is marked, small; nothing where none is."""
    return words.partition("&")[2][:1].lower()


def _wishes(words: str) -> list[str]:
    """Letters that would do: the marked one, those that begin a word, then the others."""
    begun = [word[0] for word in words.replace("&", "").lower().split()]
    found = dict.fromkeys([letter_of(words), *begun, *words.lower()])
    return [letter for letter in found if letter.isalnum()]


def _seat(
    place: int,
    wishes: Sequence[Sequence[str]],
    held: dict[str, int],
    tried: frozenset[str] = frozenset(),
) -> bool:
    """Give an entry a free letter, else one whose holder can do with another."""
    free = next((letter for letter in wishes[place] if letter not in held), None)
    if free is not None:
        held[free] = place
        return True
    for letter in wishes[place]:
        if letter not in tried and _seat(held[letter], wishes, held, tried | {*wishes[place]}):
            held[letter] = place
            return True
    return False


def _marked(words: str, letter: str) -> str:
    plain = words.replace("&", "")
    begun = f" {plain}".lower().find(f" {letter}")
    at = begun if begun >= 0 else plain.lower().find(letter)
    return words if letter_of(words) == letter else f"{plain[:at]}&{plain[at:]}"
