"""A field for what a measurement hangs on: corners, marks, levels, and places pressed on edges."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final, TypeAlias

from msgspec import UNSET
from PySide6.QtWidgets import QLabel, QToolButton

from wedgework.bench.gestures import Mm2
from wedgework.bench.picking import under
from wedgework.pattern.document import Project
from wedgework.window.icons import icon
from wedgework.window.palette import Scheme
from wedgework.window.panels.form_fields import Argument
from wedgework.window.things import called, kind_of

Plain: TypeAlias = str | dict[str, Any] | list[float]

HUNG_ON: Final = ("corner", "notch", "hole", "level")


class AnchorsArgument(Argument):
    """Each press on the table adds one; the button takes the last one back."""

    kinds = ("level",)

    def __init__(self, scheme: Scheme) -> None:
        super().__init__()
        self._anchors: list[Plain] = []
        self._words = QLabel()
        self._words.setWordWrap(True)
        self._back = QToolButton()
        self._back.setIcon(icon("close", scheme))
        self._back.setAutoRaise(True)
        self._back.setToolTip("Take the last one back")
        self._back.setAccessibleName("Take the last one back")
        self._back.clicked.connect(self._take_back)
        self._project = Project()
        self.lay(self._words, self._back, wide=0)
        self.setFocusProxy(self._back)
        self._show()

    def plain(self) -> Any:  # noqa: ANN401
        """Ids and places."""
        return list(self._anchors) or UNSET

    def taken_down(self) -> Any:  # noqa: ANN401
        """Ids and places."""
        return list(self._anchors)

    def put_back(self, kept: Any) -> None:  # noqa: ANN401
        """Hang it on the same things."""
        self._anchors = list(kept)
        self._show()

    def is_empty(self) -> bool:
        """Never full: another press adds another."""
        return len(self._anchors) < len(HUNG_ON)

    def pick(self, project: Project, at_mm: Mm2, reach_mm: float) -> bool:
        """The corner or mark that was pressed, else the place on an edge, else on the table."""
        hits = [hit for hit in under(project, at_mm, reach_mm) if hit.kind in _PRESSED]
        if not hits:
            self._add([round(at_mm[0], 3), round(at_mm[1], 3)])
            return True
        hit = hits[0]
        is_place = hit.kind == "edge"
        self._add({"edge": hit.edge, "at_mm": round(hit.station_mm, 3)} if is_place else hit.id)
        return True

    def take(self, project: Project, ids: Sequence[str]) -> bool:
        """A level that is chosen in the card."""
        levels = [own for own in ids if kind_of(project, own) == "level"]
        for own in levels[:1]:
            self._add(own)
        return bool(levels)

    def renew(self, project: Project) -> None:
        """Names may be others."""
        self._project = project
        self._show()

    def _add(self, anchor: Plain) -> None:
        self._anchors.append(anchor)
        self._show()
        self.typed.emit()

    def _take_back(self) -> None:
        if self._anchors:
            self._anchors.pop()
            self._show()
            self.typed.emit()

    def _show(self) -> None:
        self._words.setText("  ·  ".join(map(self._said, self._anchors)) or "press on the table")
        self._back.setEnabled(bool(self._anchors))

    def _said(self, anchor: Plain) -> str:
        if isinstance(anchor, list):
            return f"the table at {anchor[0]:.1f}, {anchor[1]:.1f}"
        if isinstance(anchor, str):
            return called(self._project, anchor)
        return f"{called(self._project, anchor['edge'])} at {anchor['at_mm']:.1f}"


_PRESSED: Final = ("corner", "mark", "edge")
