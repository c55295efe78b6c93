"""A sentence that the maker must have seen, and a question with two answers."""

from __future__ import annotations

from PySide6.QtWidgets import QMessageBox, QWidget


def tell(parent: QWidget, sentence: str) -> None:
    """Say why something was not done."""
    box = QMessageBox(QMessageBox.Icon.NoIcon, "Wedgework", sentence, parent=parent)
    box.setObjectName("telling")
    box.addButton("Close", QMessageBox.ButtonRole.AcceptRole)
    box.exec()


def asks(parent: QWidget, sentence: str, yes: str) -> bool:
    """Whether the maker says yes, in the words of the button."""
    box = QMessageBox(QMessageBox.Icon.NoIcon, "Wedgework", sentence, parent=parent)
    box.setObjectName("asking")
    keep = box.addButton(yes, QMessageBox.ButtonRole.AcceptRole)
    box.setEscapeButton(box.addButton("Cancel", QMessageBox.ButtonRole.RejectRole))
    box.exec()
    return box.clickedButton() is keep


def listed(texts: tuple[str, ...], most: int = 6) -> str:
    """The last few of a list of steps, a line each."""
    shown = [f"•  {text}" for text in texts[-most:]]
    if len(texts) > most:
        shown.insert(0, f"•  … and {len(texts) - most} before that")
    return "\n".join(shown)
