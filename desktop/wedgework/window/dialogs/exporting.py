"""Writing the pieces out: format, paper and place, and a warning of what is not ready."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtWidgets import QComboBox, QFileDialog, QFormLayout, QLabel, QWidget

from wedgework.checks import Finding
from wedgework.files import FORMATS, WriteOptions, file_bytes
from wedgework.files.atomic import write_atomically
from wedgework.pattern.document import Project
from wedgework.units import PAPER_MM
from wedgework.window.dialogs.forms import Form
from wedgework.window.fields import word_field

OWN = "another size"
PAGED = ".pdf"


def ask_export(parent: QWidget, project: Project, findings: Sequence[Finding]) -> Path | None:
    """Ask, then write; the file that was written, None where the maker drops it.

    A WedgeworkError where it cannot be written; then nothing was.
    """
    dialog = ExportDialog(parent, findings)
    if not dialog.exec():
        return None
    suffix = dialog.suffix
    start = f"{project.name or 'pieces'}{suffix}"
    name, _ = QFileDialog.getSaveFileName(parent, "Export", start, f"{suffix} (*{suffix})")
    if not name:
        return None
    path = Path(name)
    path = path if path.suffix.lower() == suffix else path.with_name(path.name + suffix)
    write_atomically(path, file_bytes(path, project, WriteOptions(paper=dialog.paper)))
    return path


class ExportDialog(Form):
    """Format and paper."""

    def __init__(self, parent: QWidget, findings: Sequence[Finding]) -> None:
        super().__init__(parent, "Export", "Write the pieces at true size", "Choose a file…")
        self.format = QComboBox()
        for kind in FORMATS:
            if kind.write is not None and kind.suffix != ".wedge":
                self.format.addItem(f"{kind.words}  ({kind.suffix})", kind.suffix)
        self.sheet = QComboBox()
        self.sheet.addItems([*PAPER_MM, "roll", OWN])
        self.own = word_field()
        self.own.setPlaceholderText("width x height, or width of the roll, in mm")
        self.format.currentIndexChanged.connect(self._follow)
        self.sheet.currentIndexChanged.connect(self._follow)
        form = QFormLayout()
        form.setVerticalSpacing(10)
        form.addRow("Format", self.format)
        form.addRow("Paper", self.sheet)
        form.addRow("Size in mm", self.own)
        self.rows.addLayout(form)
        self._add_warning(findings)
        note = QLabel("Measure the test square on the first page before cutting: print at 100 %.")
        note.setWordWrap(True)
        self._note = note
        self.rows.addWidget(note)
        self.close_form()
        self._follow()

    def _add_warning(self, findings: Sequence[Finding]) -> None:
        stopping = [one for one in findings if one.stops]
        if stopping:
            lines = "\n".join(f"⊘  {one.message}" for one in stopping[:4])
            warning = QLabel(f"Not ready to cut:\n{lines}")
            warning.setWordWrap(True)
            warning.setProperty("wrong", True)
            self.rows.addWidget(warning)

    @property
    def suffix(self) -> str:
        """Suffix of the format."""
        return str(self.format.currentData())

    @property
    def paper(self) -> str:
        """The paper that was chosen, as the command line writes it."""
        size = self.sheet.currentText()
        if size == "roll":
            return f"roll:{self.own.text().strip() or 914}"
        return self.own.text().strip() if size == OWN else size

    def _follow(self) -> None:
        is_paged = self.suffix == PAGED
        self.sheet.setEnabled(is_paged)
        self.own.setEnabled(is_paged and self.sheet.currentText() in {"roll", OWN})
        self._note.setVisible(is_paged)
