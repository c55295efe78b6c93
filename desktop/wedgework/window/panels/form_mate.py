"""The field for side B of a new seam: walked as its edges lie to those of side A."""

from __future__ import annotations

from collections.abc import Sequence

from wedgework.bench.mating import mate_run
from wedgework.pattern.document import parse_ref
from wedgework.window.panels.form_fields import ThingsArgument


class MateArgument(ThingsArgument):
    """Edges that are written as they are walked: `-` against their own way, `~` mirrored.

    While nobody has typed in it, it follows what is taken for side A.
    """

    def __init__(self, kinds: tuple[str, ...]) -> None:
        super().__init__(kinds)
        self._first: ThingsArgument | None = None
        self._taken: tuple[str, ...] = ()
        self._text = ""

    def follow(self, first: ThingsArgument) -> None:
        """The field of side A."""
        self._first = first
        first.typed.connect(self._again)

    def written(self, ids: Sequence[str]) -> str:
        """What stands for these edges: the way in which the tool would join them."""
        self._taken = tuple(parse_ref(one).edge for one in ids)
        run = mate_run(self.project, [*filter(self._is_edge, self._edges_of_a())], self._taken)
        self._text = " ".join(map(str, run))
        return self._text

    def _edges_of_a(self) -> list[str]:
        text = "" if self._first is None else self._first.line.text()
        return [parse_ref(one).edge for one in text.split()]

    def _is_edge(self, own: str) -> bool:
        return own in self.project.owners

    def _again(self) -> None:
        before = self.line.text()
        if before and before == self._text and all(map(self._is_edge, self._taken)):
            self.line.setText(self.written(self._taken))
            if self.line.text() != before:
                self.typed.emit()
