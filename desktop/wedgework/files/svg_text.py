"""Texts of an SVG: the words of each line, where they start, and how tall they are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wedgework.files.svg_numbers import BadNumber, length_px
from wedgework.files.svg_style import declarations
from wedgework.files.xml_guard import Node

_RUNS: Final = frozenset({"tspan", "a", "textPath", "text"})


def words_in(
    text: Node, view: tuple[float, float], em_px: float
) -> Iterator[tuple[str, tuple[float, float], float]]:
    """Words, place (user units) and height of a text; its lines are put in one with a space.

    Words that come after a `tspan` belong to it as well, and the first place that is said counts.
    """
    words = " ".join(_said(text).split())
    if not words:
        return
    place = [_first(text, name, side) for name, side in (("x", view[0]), ("y", view[1]))]
    yield words, (place[0], place[1]), _height(text, em_px)


def _said(node: Node) -> str:
    """Characters of a text; a `tspan` with a place of its own starts another line."""
    if node.tag == "#text":
        return node.text
    if node.tag not in _RUNS:
        return ""
    inner = "".join(map(_said, node.children))
    is_line = node.tag == "tspan" and bool({"x", "y", "dy"} & node.attributes.keys())
    return f" {inner} " if is_line else inner


def _first(node: Node, name: str, side: float) -> float:
    """The first number of a place, in the text itself or else in a `tspan`; 0 if none is said."""
    for one in node.walk():
        said = one.attributes.get(name, "").replace(",", " ").split()
        if one.tag in _RUNS and said:
            try:
                return length_px(said[0], side, node.id)
            except BadNumber:
                continue
    return 0.0


def _height(text: Node, em_px: float) -> float:
    """Size of its letters: of the first `tspan` that says one, where the text does not."""
    for one in text.walk():
        style = declarations(one.attributes.get("style", "")).get("font-size", ("", False))[0]
        said = style or one.attributes.get("font-size", "")
        if one is not text and said:
            try:
                return length_px(said, em_px, text.id)
            except BadNumber:
                continue
    return em_px
