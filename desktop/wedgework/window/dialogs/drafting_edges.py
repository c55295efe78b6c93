"""The field of the drafting form for edges: pressed on the table, or a whole line by its name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, Final

from msgspec import UNSET
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QMenu, QPushButton, QToolButton, QVBoxLayout

from wedgework.bench.joined import line_of
from wedgework.pattern.document import Project, Ref, Run, parse_ref
from wedgework.pattern.errors import WedgeworkError
from wedgework.pattern.laying import line_through
from wedgework.pattern.runs import walked
from wedgework.window.icons import icon
from wedgework.window.palette import Scheme
from wedgework.window.panels.form_fields import Argument, suiting
from wedgework.window.preferences import Wishes
from wedgework.window.things import called

MOST_WORDS: Final = 4
"""A line of more edges than this is told by their number."""

DRAWN: Final = ("style", "placement")
"""Kinds of lines that a maker draws on pieces."""

MOST_LINES: Final = 16
"""So many lines are offered; those over several pieces first."""


class EdgesArgument(Argument):
    """Edges that a draft is made from, pressed on the table one after the other.

    They are put into the order in which they follow one another on the garment.
    """

    kinds = ("edge",)
    asks = "press its edges on the table, or take a line"
    tip = "Take a whole open line by its name: a neckline, an armhole, a hem"

    def __init__(self, scheme: Scheme, wishes: Wishes) -> None:
        super().__init__()
        self._project, self._wishes = Project(), wishes
        self._refs: tuple[str, ...] = ()
        self._words = QLabel()
        self._words.setWordWrap(True)
        self._whole = QPushButton("Whole line")
        self._whole.setObjectName("whole_line")
        self._whole.setToolTip("Take every edge of the line that the first one is part of")
        self._whole.clicked.connect(self._take_line)
        self._lines = QPushButton("Lines")
        self._lines.setToolTip(self.tip)
        self._menu = QMenu(self)
        self._menu.aboutToShow.connect(self._list_lines)
        self._lines.setMenu(self._menu)
        self._clear = QToolButton()
        self._clear.setIcon(icon("close", scheme))
        self._clear.setAutoRaise(True)
        self._clear.setToolTip("Begin again")
        self._clear.setAccessibleName("Take these edges back")
        self._clear.clicked.connect(lambda: self.show_refs(()))
        beside = QHBoxLayout()
        for one in (self._lines, self._whole, self._clear):
            beside.addWidget(one)
        beside.addStretch(1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 2, 0, 2)
        rows.setSpacing(3)
        # What stands below must not slide away under the hand when an edge is taken.
        self._words.setMinimumHeight(2 * self._words.fontMetrics().lineSpacing())
        rows.addWidget(self._words)
        rows.addLayout(beside)
        for one in (self._lines, self._whole, self._clear):
            one.installEventFilter(self)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._show()

    def plain(self) -> Any:  # noqa: ANN401
        """The refs, in order."""
        return list(self._refs) or UNSET

    def is_empty(self) -> bool:
        """Whether no edge is taken yet."""
        return not self._refs

    def show_refs(self, refs: Iterable[str]) -> None:
        """Take these edges instead."""
        self._refs = tuple(refs)
        self._show()
        self.typed.emit()

    def take(self, project: Project, ids: Sequence[str]) -> bool:
        """Add edges that were pressed; one that is taken already stays."""
        self._project = project
        found = suiting(project, ids, self.kinds)
        before = [parse_ref(text).edge for text in self._refs]
        new = [own for own in found if own not in before]
        if new:
            self.show_refs(in_order(project, [*before, *new]))
        return bool(found)

    def renew(self, project: Project) -> None:
        """Edges may have gone."""
        self._project = project
        there = [text for text in self._refs if parse_ref(text).edge in project.owners]
        if len(there) < len(self._refs):
            self.show_refs(there)
        self._show()

    def _take_line(self) -> None:
        own = parse_ref(self._refs[0]).edge if self._refs else ""
        line = line_refs(self._project, own)
        if line:
            self.show_refs(line)

    def offered(self) -> Sequence[tuple[Run, str]]:
        """Lines that can be taken by name."""
        return open_lines(self._project)

    def _list_lines(self) -> None:
        self._menu.clear()
        for run, words in self.offered():
            length = self._wishes.with_unit(walked(self._project, run).length_mm)
            action = self._menu.addAction(f"{words}  {length}")
            action.triggered.connect(lambda _on=False, run=run: self.show_refs(map(str, run)))
        self._menu.setEnabled(not self._menu.isEmpty())

    def _show(self) -> None:
        edges = [parse_ref(text).edge for text in self._refs]
        self._lines.setVisible(not edges)
        self._whole.setVisible(bool(edges) and "edge" in self.kinds)
        self._clear.setVisible(bool(edges))
        if not edges:
            self._words.setText(self.asks)
            return
        total = walked(self._project, tuple(map(parse_ref, self._refs))).length_mm
        names = [edge_words(self._project, own) for own in edges]
        said = " · ".join(names) if len(names) <= MOST_WORDS else f"{len(names)} edges"
        self._words.setText(f"{said}  {self._wishes.with_unit(total)}")


class LinesArgument(EdgesArgument):
    """Lines drawn inside pieces, pressed on the table one after the other."""

    kinds = ("line",)
    asks = "press lines drawn on the pieces"
    tip = "Take a line that is drawn on a piece"

    def offered(self) -> Sequence[tuple[Run, str]]:
        """Each drawn line by itself."""
        return [
            ((Ref(line.id),), f"{line.name or line.kind} ({piece.name or piece.id})")
            for piece in self._project.pieces.values()
            for line in piece.lines
            if line.kind in DRAWN
        ][:MOST_LINES]


def edge_words(project: Project, own: str) -> str:
    """An edge with the piece that it is on: `front neck`."""
    piece = project.pieces[project.owners[own]]
    kinds = {line.id: line.name or f"{line.kind} line" for line in piece.lines}
    return f"{piece.name or piece.id} {kinds.get(own) or called(project, own)}"


def line_refs(project: Project, own: str) -> tuple[str, ...]:
    """Refs of the whole open line that an edge is part of; of the edge alone where it is none."""
    try:
        line = line_of(project, own)
    except WedgeworkError:
        line = None
    return (own,) if line is None else line.edges


def in_order(project: Project, edges: Sequence[str]) -> tuple[str, ...]:
    """Edges as refs of one stretch of their line, where they are one; else as they were pressed."""
    line = line_refs(project, edges[0])
    twice = (*line, *line)
    for start in range(len(line)):
        part = twice[start : start + len(edges)]
        if sorted(parse_ref(text).edge for text in part) == sorted(edges):
            return part
    return tuple(edges)


def open_lines(project: Project) -> list[tuple[Run, str]]:
    """Lines of open edges with what they are called, those over most pieces first."""
    seen: set[str] = set()
    found = []
    for piece in project.pieces.values():
        for edge in piece.edges:
            if edge.id in seen or edge.id == piece.fold_edge:
                continue
            run = line_through(project, edge.id)
            seen |= {ref.edge for ref in run}
            if run:
                found.append((run, line_words(project, run)))
    found.sort(key=lambda line: -len({project.owners[ref.edge] for ref in line[0]}))
    return found[:MOST_LINES]


def line_words(project: Project, run: Sequence[Ref]) -> str:
    """What a line is called: by its opening, else by its edges; and the pieces that it is on."""
    edges = [ref.edge for ref in run]
    openings = project.openings.values()
    names = [one.name or one.id for one in openings if {ref.edge for ref in one.edges} & {*edges}]
    names = names[:1] or [called(project, own) for own in edges]
    pieces = [project.pieces[project.owners[own]] for own in edges]
    on = dict.fromkeys(piece.name or piece.id for piece in pieces)
    return f"{' · '.join(dict.fromkeys(names))} ({', '.join(on)})"
