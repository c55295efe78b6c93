"""Another body: what it is called, and whether it begins as a copy of the one that is worn."""

from __future__ import annotations

from PySide6.QtWidgets import QCheckBox, QFormLayout, QLineEdit, QWidget

from wedgework.edits.bodies import AddBody
from wedgework.pattern.document import Project
from wedgework.window.dialogs.forms import Form


class NewBody(Form):
    """Ask for the name of a new body."""

    def __init__(self, parent: QWidget, project: Project) -> None:
        super().__init__(parent, "New body", "Who was measured", "Add")
        self.setObjectName("new_body")
        self.name, self.copy = QLineEdit(), QCheckBox(_copy_words(project))
        self.name.setObjectName("new_body_name")
        self.copy.setObjectName("new_body_copy")
        self.copy.setToolTip("For a second measuring, or for somebody of nearly the same size: "
                             "only what differs is typed")  # fmt: skip
        self.copy.setEnabled(bool(project.body))
        fields = QFormLayout()
        fields.addRow("&Name", self.name)
        fields.addRow("", self.copy)
        self.rows.addLayout(fields)
        self.close_form()
        self.keep.setEnabled(False)
        self.name.textChanged.connect(lambda text: self.keep.setEnabled(bool(text.strip())))
        self.name.setFocus()

    def edit(self) -> AddBody:
        """The edit that adds the body."""
        return AddBody(name=self.name.text().strip(), like_worn=self.copy.isChecked())


def _copy_words(project: Project) -> str:
    """What would be copied, and how much that is."""
    worn = project.bodies.get(project.wearer)
    count = len(project.body)
    measures = "1 measure" if count == 1 else f"{count} measures"
    whose = f"of “{worn.name or worn.id}”" if worn is not None else "that are written down"
    return f"&Begin with the {measures} {whose}"
