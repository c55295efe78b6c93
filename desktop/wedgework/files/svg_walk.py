"""The tree of an SVG to what it shows: shapes and texts in mm, each with its id and groups."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

import numpy as np

from wedgework.files.drawn import Chain, Group, Shape, Words, evened
from wedgework.files.problems import Problem
from wedgework.files.svg_numbers import (
    EM_PX,
    BadNumber,
    ViewBox,
    decimals_written,
    fitted_box,
    length_px,
    parse_transform,
    parse_view_box,
    raise_not_finite,
)
from wedgework.files.svg_page import Page
from wedgework.files.svg_path import Subpath
from wedgework.files.svg_shapes import DRAWN, Measure, subpaths_of
from wedgework.files.svg_style import StyleSheet, classes_of, sheet_of
from wedgework.files.svg_text import words_in
from wedgework.files.xml_guard import DEEPEST, Node
from wedgework.geometry.curve import Floats
from wedgework.geometry.motion import Affine, translation
from wedgework.pattern.errors import FileRefused

ARC_ERROR_MM: Final = 1e-4
"""How far cubics may lie off an arc: a hundredth of what an import may, since it costs nothing."""

FURTHEST_MM: Final = 1e6
"""A kilometre from the page's corner nothing is a piece; the file's numbers are wrong."""

MOST_COPIES: Final = 50_000
"""More elements than this in copies come only from `use` that doubles itself over and over."""

_GROUPS: Final = frozenset({"g", "a", "switch"})


@dataclass(frozen=True, slots=True, eq=False)
class _State:
    """What holds for an element: what is around it, and what it inherits."""

    motion: Affine
    lineage: tuple[Node, ...]
    view: tuple[float, float]
    groups: tuple[Group, ...] = ()
    hidden: bool = False
    em_px: float = EM_PX
    used: tuple[str, ...] = ()
    # The nearest `use` around, whose id goes before that of what it uses.
    user: Node | None = None


class Walker:
    """Walks a tree once; what it finds is in `shapes`, `words` and `problems`."""

    def __init__(self, root: Node, page: Page) -> None:
        self.shapes: list[Shape] = []
        self.words: list[Words] = []
        self.problems: list[Problem] = []
        self._by_id: dict[str, Node] = {}
        for node in root.walk():
            if node.id:
                self._by_id.setdefault(node.id, node)
        self._sheet: StyleSheet = sheet_of(node for node in root.walk() if node.tag == "style")
        self._copies = 0
        state = _State(page.motion, (), page.view)
        # What overflows is refused by the element that it stands in.
        with np.errstate(over="ignore", invalid="ignore"):
            inside = self._inherited(root, state)
            if inside is not None:
                self._children(root, inside)

    def tell(self, code: str, sentence: str, node: Node) -> None:
        """Note a problem of an element."""
        self.problems.append(Problem(code, sentence, node.id))

    def _children(self, node: Node, state: _State) -> None:
        for child in node.children:
            self._visit(child, state)

    def _visit(self, node: Node, around: _State) -> None:
        tag = node.tag
        if tag not in _VISITED:
            self._unread(node, around)
            return
        self._copies += bool(around.used)
        if self._copies > MOST_COPIES:
            raise FileRefused(f"The file's copies draw more than {MOST_COPIES} shapes.")
        state = self._inherited(node, around)
        if state is None:
            return
        if tag in _GROUPS:
            self._children(node, replace(state, groups=(*state.groups, _group(node))))
        elif tag == "svg":
            self._nested(node, state)
        elif tag == "use":
            self._use(node, state)
        elif tag == "text":
            self._text(node, state)
        else:
            self._shape(node, state)

    def _unread(self, node: Node, around: _State) -> None:
        if node.tag == "image" and not around.hidden:
            self.tell("picture_left_out", "A picture inside the file was left out.", node)
        elif node.tag == "foreignObject" and not around.hidden:
            self.tell("foreign_left_out", "A part that is no SVG was left out.", node)

    def _inherited(self, node: Node, around: _State) -> _State | None:
        """What holds inside an element; None where nothing of it is shown."""
        lineage = (*around.lineage, node)
        if len(lineage) > DEEPEST:
            raise FileRefused(f"The file's groups lie more than {DEEPEST} deep in each other.")
        said = self._sheet.said_of(lineage)
        if said.get("display") == "none" or _is_nothing(said.get("opacity", "")):
            if not around.hidden:
                self.tell("hidden", "It is not shown, so it was left out.", node)
            return None
        visibility = said.get("visibility", "inherit")
        hidden = around.hidden if visibility == "inherit" else visibility != "visible"
        motion = around.motion
        if "transform" in node.attributes:
            motion = motion.after(self._transform(node))
            if not (np.isfinite(motion.linear).all() and np.isfinite(motion.shift).all()):
                raise_not_finite(node.id)
        em_px = self._font_size(said.get("font-size", ""), around.em_px, node)
        return replace(around, motion=motion, lineage=lineage, hidden=hidden, em_px=em_px)

    def _transform(self, node: Node) -> Affine:
        try:
            return parse_transform(node.attributes["transform"], node.id)
        except BadNumber:
            self.tell("transform_unread", "Its transform cannot be read and was left out.", node)
            return translation((0.0, 0.0))

    def _font_size(self, text: str, em_px: float, node: Node) -> float:
        try:
            size = length_px(text, em_px, node.id) if text else em_px
        except BadNumber:
            return em_px
        return size * em_px / EM_PX if text.strip().endswith(("em", "ex")) else size

    def _nested(self, node: Node, state: _State) -> None:
        measure = Measure(node, state.view)
        try:
            x, y = measure.x("x"), measure.y("y")
            wide, high = measure.maybe_x("width"), measure.maybe_y("height")
        except BadNumber:
            self.tell("size_unread", "Its size cannot be read, so it was left out.", node)
            return
        self._viewport(node, state, (x, y), (wide, high))

    def _viewport(
        self,
        node: Node,
        state: _State,
        at: tuple[float, float],
        size: tuple[float | None, float | None],
    ) -> None:
        """What is inside a nested `svg` or a used `symbol`."""
        wide, high = (
            full if side is None else side for side, full in zip(size, state.view, strict=True)
        )
        if wide <= 0 or high <= 0:
            return
        motion, view = state.motion.after(translation(at)), (wide, high)
        box = parse_view_box(node.attributes.get("viewBox", ""))
        if box is not None:
            motion = motion.after(_box_motion(box, wide, high, node))
            view = (float(box.width), float(box.height))
        inner = replace(state, motion=motion, view=view)
        self._children(node, replace(inner, groups=(*inner.groups, _group(node))))

    def _use(self, node: Node, state: _State) -> None:
        href = node.attributes.get("href", "").strip()
        target = self._by_id.get(href[1:]) if href.startswith("#") else None
        if target is None:
            self.tell("use_of_nothing", f"It uses “{href}”, which the file does not hold.", node)
            return
        if target.id in state.used or target in state.lineage:
            self.tell("use_of_itself", f"It uses “{href}”, which is itself inside it.", node)
            return
        measure = Measure(node, state.view)
        try:
            at = measure.x("x"), measure.y("y")
            size = measure.maybe_x("width"), measure.maybe_y("height")
        except BadNumber:
            self.tell("size_unread", "Its place cannot be read, so it was left out.", node)
            return
        user = state.user or (node if node.id else None)
        state = replace(state, used=(*state.used, target.id), user=user)
        if target.tag in ("symbol", "svg"):
            self._used_viewport(target, state, at, size)
        else:
            self._visit(target, replace(state, motion=state.motion.after(translation(at))))

    def _used_viewport(
        self,
        target: Node,
        state: _State,
        at: tuple[float, float],
        size: tuple[float | None, float | None],
    ) -> None:
        inner = self._inherited(target, state)
        if inner is None:
            return
        measure = Measure(target, state.view)
        try:
            own = measure.maybe_x("width"), measure.maybe_y("height")
            at = at[0] + measure.x("x"), at[1] + measure.y("y")
        except BadNumber:
            own = (None, None)
        wide, high = (mine if said is None else said for said, mine in zip(size, own, strict=True))
        self._viewport(target, inner, at, (wide, high))

    def _shape(self, node: Node, state: _State) -> None:
        if state.hidden:
            self.tell("hidden", "It is not shown, so it was left out.", node)
            return
        scale = _stretch(state.motion)
        if scale == 0.0:
            return
        paths, sound = subpaths_of(node, state.view, ARC_ERROR_MM / scale)
        if not sound:
            self.tell("path_unread", "It cannot be read to its end; the rest was left out.", node)
        step = _rounding(node)
        chains = tuple(_chain(path, state.motion, step * scale, node) for path in paths)
        if chains:
            self.shapes.append(_shape_of(node, chains, state))

    def _text(self, node: Node, state: _State) -> None:
        if state.hidden:
            return
        for text, at, own in words_in(node, state.view, state.em_px):
            linear = state.motion.linear
            place = state.motion.points(np.array(at))
            _refuse_far(place, node)
            x, y = linear[:, 0]
            height = own * float(np.hypot(*linear[:, 1]))
            angle = math.atan2(y, x)
            self.words.append(
                Words(
                    _id_of(node, state), text, place, height, angle, state.groups,
                    classes_of(node), _said(node),
                )
            )  # fmt: skip


_VISITED: Final = _GROUPS | DRAWN | {"svg", "use", "text"}


def _is_nothing(opacity: str) -> bool:
    try:
        return bool(opacity) and float(opacity.strip().rstrip("%")) <= 0.0
    except ValueError:
        return False


def _group(node: Node) -> Group:
    return Group(node.id, _name(node), node.attributes)


def _name(node: Node) -> str:
    """What the file calls an element: its title, or the label that drawing programs give."""
    title = next((child.words().strip() for child in node.children if child.tag == "title"), "")
    return title or node.attributes.get("inkscape:label", "").strip()


def _id_of(node: Node, state: _State) -> str:
    return state.user.id if state.user is not None and state.user.id else node.id


def _said(node: Node) -> dict[str, str]:
    return {
        key.removeprefix("data-"): value
        for key, value in node.attributes.items()
        if key.startswith("data-")
    }


def _shape_of(node: Node, chains: tuple[Chain, ...], state: _State) -> Shape:
    own = _id_of(node, state)
    return Shape(own, chains, state.groups, _name(node), classes_of(node), _said(node))


def _box_motion(box: ViewBox, wide: float, high: float, node: Node) -> Affine:
    align = node.attributes.get("preserveAspectRatio", "")
    x, y, left, top = map(float, fitted_box(box, Fraction(wide), Fraction(high), align))
    return Affine(np.diag([x, y]), np.array([left, top]))


def _stretch(motion: Affine) -> float:
    """How much longer a line can become: the greater singular value, in closed form."""
    a, b, c, d = motion.linear.ravel().tolist()
    return (math.hypot(a + d, b - c) + math.hypot(a - d, b + c)) / 2


def _rounding(node: Node) -> float:
    """Half a step of the last decimal that a shape was written with, in its own units."""
    text = node.attributes.get("d") or node.attributes.get("points") or ""
    decimals = decimals_written(text)
    return 0.0 if decimals is None else 0.5 * 10.0**-decimals


def _chain(path: Subpath, motion: Affine, rounding_mm: float, node: Node) -> Chain:
    points = np.array(path.points, dtype=np.complex128).view(np.float64).reshape(-1, 2)
    moved = motion.points(points)
    _refuse_far(moved, node)
    segments = moved.reshape(-1, 4, 2)
    straight = np.array(path.straight, dtype=bool)
    # The same point moved in another batch may differ in its last bit.
    segments[1:, 0] = segments[:-1, 3]
    if path.closed:
        segments[-1, 3] = segments[0, 0]
    return Chain(evened(segments, straight), straight, path.closed, rounding_mm)


def _refuse_far(points: Floats, node: Node) -> None:
    if not np.isfinite(points).all():
        raise_not_finite(node.id)
    if (np.abs(points) > FURTHEST_MM).any():
        where = f"“{node.id}” lies" if node.id else "Something in the file lies"
        raise FileRefused(f"{where} more than a kilometre off the page.", culprit=node.id or None)
