"""Before work is let go: save it, discard it, or stay."""

from __future__ import annotations

from typing import Literal, TypeAlias

from PySide6.QtWidgets import QMessageBox, QWidget

from wedgework.bench import Bench
from wedgework.window.dialogs.telling import listed

Choice: TypeAlias = Literal["save", "discard", "stay"]


def ask_unsaved(parent: QWidget, bench: Bench) -> Choice:
    """What is to become of steps that no file holds."""
    box = QMessageBox(QMessageBox.Icon.NoIcon, "Save?", f"Save “{bench.name}”?", parent=parent)
    box.setObjectName("unsaved")
    texts = tuple(step.text for step in bench.history)
    box.setInformativeText(listed(texts) if texts else "It was never saved.")
    save = box.addButton("Save", QMessageBox.ButtonRole.AcceptRole)
    discard = box.addButton("Discard", QMessageBox.ButtonRole.DestructiveRole)
    stay = box.addButton("Cancel", QMessageBox.ButtonRole.RejectRole)
    box.setDefaultButton(save)
    box.setEscapeButton(stay)
    box.exec()
    clicked = box.clickedButton()
    if clicked is save:
        return "save"
    return "discard" if clicked is discard else "stay"
