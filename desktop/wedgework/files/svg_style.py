"""What style sheets, style attributes and plain attributes say of an element.

Of CSS: rules whose selectors are made of names, classes and ids, with a space or `>` between;
any other selector matches nothing. Rules inside `@media` and the like are not read.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Final

from wedgework.files.xml_guard import Node

_COMMENT: Final = re.compile(r"/\*.*?\*/|<!--|-->", re.DOTALL)
_COMPOUND: Final = re.compile(r"(\*|[\w-]+)?((?:[.#][\w-]+)*)")
_PART: Final = re.compile(r"([.#])([\w-]+)")
_JOINT: Final = re.compile(r"\s*(>)\s*|\s+")

PROPERTIES: Final = ("display", "visibility", "opacity", "font-size")
"""All that an import asks of a style."""


@dataclass(frozen=True, slots=True)
class _Compound:
    """One step of a selector: what an element must be; `child`: directly inside the step before."""

    tag: str
    ids: frozenset[str]
    classes: frozenset[str]
    child: bool

    def matches(self, node: Node, classes: frozenset[str]) -> bool:
        """Whether an element of these classes is one."""
        named = self.tag in ("", "*", node.tag)
        return named and self.classes <= classes and all(one == node.id for one in self.ids)


@dataclass(frozen=True, slots=True)
class _Rule:
    steps: tuple[_Compound, ...]
    rank: tuple[int, int, int, int]
    said: dict[str, tuple[str, bool]]


@dataclass(slots=True, eq=False)
class StyleSheet:
    """Rules by what their last step asks for, so that an element looks at few of them."""

    _rules: dict[str, list[_Rule]] = field(default_factory=dict)
    _count: int = 0

    def read(self, text: str) -> None:
        """Take in the text of one `style` element."""
        for selectors, said in _blocks(_COMMENT.sub(" ", text)):
            declared = declarations(said)
            if declared:
                for selector in selectors.split(","):
                    self._add(selector.strip(), declared)

    def _add(self, selector: str, said: dict[str, tuple[str, bool]]) -> None:
        steps = _steps(selector)
        if not steps:
            return
        self._count += 1
        ids = sum(len(step.ids) for step in steps)
        classes = sum(len(step.classes) for step in steps)
        tags = sum(step.tag not in ("", "*") for step in steps)
        rule = _Rule(steps, (ids, classes, tags, self._count), said)
        self._rules.setdefault(_key(steps[-1]), []).append(rule)

    def said_of(self, lineage: tuple[Node, ...]) -> dict[str, str]:
        """Properties of the last element of `lineage`, which stands in the ones before it.

        Plain attributes give way to rules, these to the style attribute, all to `!important`.
        """
        node = lineage[-1]
        found: dict[str, str] = {
            name: node.attributes[name] for name in PROPERTIES if name in node.attributes
        }
        own = declarations(node.attributes.get("style", ""))
        urgent: dict[str, str] = {}
        for said in (*self._matching(lineage), own):
            for name, (value, important) in said.items():
                (urgent if important else found)[name] = value
        return found | urgent

    def _matching(self, lineage: tuple[Node, ...]) -> Iterator[dict[str, tuple[str, bool]]]:
        if not self._rules:
            return
        node = lineage[-1]
        keys = ["", node.tag, f"#{node.id}", *(f".{one}" for one in classes_of(node))]
        rules = [rule for key in keys for rule in self._rules.get(key, ())]
        for rule in sorted(rules, key=lambda rule: rule.rank):
            if _matches(rule.steps, lineage):
                yield rule.said


def classes_of(node: Node) -> frozenset[str]:
    """The element's classes."""
    return frozenset(node.attributes.get("class", "").split())


def declarations(text: str) -> dict[str, tuple[str, bool]]:
    """Of `name: value; ...` those that an import asks for, and whether each is important."""
    found = {}
    for one in text.split(";"):
        name, colon, value = one.partition(":")
        name = name.strip().lower()
        if colon and name in PROPERTIES:
            value, important, _ = value.partition("!")
            found[name] = (value.strip(), bool(important))
    return found


def _blocks(text: str) -> Iterator[tuple[str, str]]:
    """Selector and declarations of each rule at the top level."""
    at = 0
    while (brace := text.find("{", at)) >= 0:
        selector = text[at:brace].rpartition(";")[2].strip()
        end = _block_end(text, brace)
        if not selector.startswith("@"):
            yield selector, text[brace + 1 : end]
        at = end + 1


def _block_end(text: str, brace: int) -> int:
    depth = 0
    for match in re.compile(r"[{}]").finditer(text, brace):
        depth += 1 if match[0] == "{" else -1
        if depth == 0:
            return match.start()
    return len(text)


def _steps(selector: str) -> tuple[_Compound, ...]:
    """Steps of a selector; none where it asks for more than is read here."""
    steps, at, child = [], 0, False
    while at < len(selector):
        match = _COMPOUND.match(selector, at)
        if match is None or match.end() == at:
            return ()
        steps.append(_compound(match[1] or "", match[2], child=child))
        joint = _JOINT.match(selector, match.end())
        if joint is None:
            return tuple(steps) if match.end() == len(selector) else ()
        at, child = joint.end(), joint[1] is not None
    return ()


def _compound(tag: str, rest: str, *, child: bool) -> _Compound:
    parts = _PART.findall(rest)
    ids = frozenset(name for mark, name in parts if mark == "#")
    classes = frozenset(name for mark, name in parts if mark == ".")
    return _Compound(tag, ids, classes, child)


def _key(step: _Compound) -> str:
    if step.ids:
        return f"#{min(step.ids)}"
    if step.classes:
        return f".{min(step.classes)}"
    return "" if step.tag == "*" else step.tag


def _matches(steps: tuple[_Compound, ...], lineage: tuple[Node, ...]) -> bool:
    """Whether the last element matches the last step, and elements around it the others.

    From the outside in, for each step all the elements where it may stand: no going back.
    """
    if not steps[-1].matches(lineage[-1], classes_of(lineage[-1])):
        return False
    reached = [True] * (len(lineage) + 1)
    for step in steps:
        found = [False]
        for index, node in enumerate(lineage):
            stands = reached[index] if step.child else any(reached[: index + 1])
            found.append(stands and step.matches(node, classes_of(node)))
        reached = found
    return reached[-1]


def sheet_of(styles: Iterable[Node]) -> StyleSheet:
    """One sheet of all `style` elements."""
    sheet = StyleSheet()
    for node in styles:
        sheet.read(node.words())
    return sheet
