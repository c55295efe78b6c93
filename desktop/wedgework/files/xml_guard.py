"""XML from outside to a plain tree of elements, or a refusal: nothing is expanded or fetched.

expat with handlers of our own. A document type of the W3C's SVG is passed over unread, since many
writers still put one on top; entities, any other document type, and what is too large or too deep
are refused before a tree of it exists.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final
from xml.parsers import expat

from wedgework.pattern.errors import FileRefused

LARGEST_BYTES: Final = 64 * 2**20
"""Pieces traced as a hundred thousand chords are 5 MB; beyond this it is no pattern."""

DEEPEST: Final = 200
"""Groups in groups: drawing programs nest some ten deep, and each costs two calls to walk."""

MOST_ELEMENTS: Final = 500_000

SVG_SPACE: Final = "http://www.w3.org/2000/svg"
_W3C: Final = ("http://www.w3.org/", "https://www.w3.org/")
_TEXT_BEARING: Final = {"text", "tspan", "textPath", "a", "title", "style"}


@dataclass(slots=True, eq=False)
class Node:
    """One element of SVG: its name without prefix, attributes, and what is in it, in order.

    `text` of an element named "#text" is characters; any other has none. Attributes keep their
    prefix, but for `href`.
    """

    tag: str
    attributes: dict[str, str]
    children: list[Node] = field(default_factory=list)
    text: str = ""

    @property
    def id(self) -> str:
        """The element's id, or ""."""
        return self.attributes.get("id", "").strip()

    def words(self) -> str:
        """All characters in it, in order."""
        return self.text + "".join(child.words() for child in self.children)

    def walk(self) -> Iterator[Node]:
        """The element and all in it, in document order."""
        waiting = [self]
        while waiting:
            node = waiting.pop()
            yield node
            waiting.extend(reversed(node.children))


def read_xml(data: bytes) -> Node:
    """The root element of `data` (any encoding that expat knows).

    Elements of other name spaces are left out with all that is in them. FileRefused, with a
    sentence, where it is no well-formed XML or could do harm.
    """
    if len(data) > LARGEST_BYTES:
        raise FileRefused(f"The file is larger than {LARGEST_BYTES // 2**20} MB: too much to read.")
    if not data.strip(b" \t\r\n\0\xef\xbb\xbf\xfe\xff"):
        raise FileRefused("The file is empty.")
    reader = _Reader()
    try:
        reader.parse(data)
    except expat.ExpatError as error:
        raise FileRefused(_sentence(error)) from None
    except (LookupError, UnicodeError, ValueError):
        raise FileRefused("The file is written in an encoding that cannot be read.") from None
    return reader.root


def _sentence(error: expat.ExpatError) -> str:
    if error.code == expat.errors.codes[expat.errors.XML_ERROR_NO_ELEMENTS]:
        return "The file holds no drawing: it ends before anything is drawn."
    return (
        f"The file is no sound SVG: line {error.lineno}, column {error.offset + 1} "
        f"cannot be read ({expat.ErrorString(error.code)})."
    )


class _Reader:
    """Handlers for expat, and the elements that are open."""

    def __init__(self) -> None:
        self._open: list[Node] = []
        self._spaces: list[dict[str, str]] = [{}]
        self._foreign = 0
        self._count = 0
        self._root: Node | None = None
        self._parser = parser = expat.ParserCreate()
        parser.buffer_text = True
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._characters
        parser.StartDoctypeDeclHandler = self._doctype
        parser.EntityDeclHandler = self._entity
        parser.SkippedEntityHandler = self._skipped
        parser.ExternalEntityRefHandler = self._external

    @property
    def root(self) -> Node:
        """The root; FileRefused where it is no `svg`."""
        if self._root is None or self._root.tag != "svg":
            raise FileRefused("The file is XML, but no SVG drawing.")
        return self._root

    def parse(self, data: bytes) -> None:
        """Read all of it."""
        self._parser.Parse(data, True)  # noqa: FBT003 - expat takes no keyword here

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        self._count += 1
        if self._count > MOST_ELEMENTS:
            raise FileRefused(f"The file holds more than {MOST_ELEMENTS} elements.")
        if len(self._spaces) > DEEPEST:
            raise FileRefused(f"The file's groups lie more than {DEEPEST} deep in each other.")
        spaces = _spaces_after(self._spaces[-1], attributes)
        self._spaces.append(spaces)
        tag = _svg_name(name, spaces)
        if self._foreign or tag is None:
            self._foreign += 1
            return
        node = Node(tag, _plain_attributes(attributes))
        if self._open:
            self._open[-1].children.append(node)
        else:
            self._root = node
        self._open.append(node)

    def _end(self, _name: str) -> None:
        self._spaces.pop()
        if self._foreign:
            self._foreign -= 1
        else:
            self._open.pop()

    def _characters(self, text: str) -> None:
        if not self._foreign and self._open and self._open[-1].tag in _TEXT_BEARING:
            self._open[-1].children.append(Node("#text", {}, text=text))

    def _doctype(
        self, _name: str, system: str | None, public: str | None, has_internal: int
    ) -> None:
        known = (public or "").startswith("-//W3C//") or (system or "").startswith(_W3C)
        if not known and (system or public):
            raise FileRefused(
                "The file refers to a document type of its own, which is not read. "
                "Save it as plain SVG and try again."
            )
        del has_internal  # what it declares is asked of the entity handler

    def _entity(self, *_declared: object) -> None:
        raise FileRefused(
            "The file declares entities, which are not read. Save it as plain SVG and try again."
        )

    def _skipped(self, name: str, _is_parameter: object) -> None:
        raise FileRefused(f"The file uses an entity “{name}” that it does not hold.")

    def _external(self, *_reference: object) -> int:
        raise FileRefused("The file refers to another file, which is not read.")


def _spaces_after(outer: dict[str, str], attributes: dict[str, str]) -> dict[str, str]:
    """Name spaces by prefix inside an element with these attributes."""
    said = {key: value for key, value in attributes.items() if key.startswith("xmlns")}
    if not said:
        return outer
    return outer | {key[5:].removeprefix(":"): value.strip() for key, value in said.items()}


def _svg_name(name: str, spaces: dict[str, str]) -> str | None:
    """The element's own name if it is of SVG (said, or plain with no name space at all)."""
    prefix, _, own = name.rpartition(":")
    space = spaces.get(prefix)
    if space == SVG_SPACE or (not space and prefix in ("", "svg")):
        return own
    return None


def _plain_attributes(attributes: dict[str, str]) -> dict[str, str]:
    href = attributes.get("href", attributes.get("xlink:href"))
    return attributes if href is None else attributes | {"href": href}
