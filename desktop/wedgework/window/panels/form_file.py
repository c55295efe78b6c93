"""A field of an edit's form that holds a file."""

from __future__ import annotations

from base64 import b64encode
from pathlib import Path
from typing import Any, Final

from msgspec import UNSET
from PySide6.QtWidgets import QFileDialog, QPushButton

from wedgework.files.atomic import read_whole
from wedgework.pattern.errors import WedgeworkError
from wedgework.units import NotUnderstood
from wedgework.window.panels.form_fields import Argument

PHOTOGRAPHS: Final = "Photographs (*.png *.jpg *.jpeg)"


class FileArgument(Argument):
    """The bytes of a file that is picked."""

    def __init__(self) -> None:
        super().__init__()
        self._data: bytes | None = None
        self._problem = ""
        self.button = QPushButton("Pick a file…")
        self.button.clicked.connect(self._pick)
        self.lay(self.button)

    def taken_down(self) -> Any:  # noqa: ANN401
        """The bytes, why there are none, and the file's name."""
        return self._data, self._problem, self.button.text()

    def put_back(self, kept: Any) -> None:  # noqa: ANN401
        """Show the same file."""
        self._data, self._problem, name = kept
        self.button.setText(name)

    def _pick(self) -> None:
        name, _ = QFileDialog.getOpenFileName(self, "Pick a photograph", "", PHOTOGRAPHS)
        if name:
            self.show_file(Path(name))

    def show_file(self, path: Path) -> None:
        """Take a file's bytes; one that cannot be read is refused where the form is kept."""
        self._data, self._problem = None, ""
        try:
            self._data = read_whole(path)
        except WedgeworkError as error:
            self._problem = error.sentence
        self.button.setText(path.name)
        self.typed.emit()

    def plain(self) -> Any:  # noqa: ANN401
        """Its bytes in base64."""
        if self._problem:
            raise NotUnderstood(self._problem)
        return UNSET if self._data is None else b64encode(self._data).decode()
