"""After a crash: what was done and never saved, and what to do with it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QMessageBox, QWidget

from wedgework.bench import Recovered, recover
from wedgework.bench.bench import Recovery
from wedgework.pattern.errors import WedgeworkError
from wedgework.window.dialogs.telling import listed


def ask_recovery(parent: QWidget, path: Path, found: Recovered) -> Recovery | None:
    """`take` the steps up again, `drop` them, or None to open nothing."""
    box = _box(parent, f"“{path.name}” has steps that were never saved.", found)
    take = box.addButton("Take them up again", QMessageBox.ButtonRole.AcceptRole)
    drop = box.addButton("Open as it was saved", QMessageBox.ButtonRole.DestructiveRole)
    box.setEscapeButton(box.addButton("Cancel", QMessageBox.ButtonRole.RejectRole))
    box.setDefaultButton(take)
    box.exec()
    if box.clickedButton() is take:
        return "take"
    return "drop" if box.clickedButton() is drop else None


def asks_to_take_up(parent: QWidget, journal: Path) -> bool:
    """Whether the maker goes on with a project that was never saved; False where it is empty."""
    try:
        found = recover(journal)
    except WedgeworkError:
        return False
    if found is None or not found.history.done:
        return False
    box = _box(parent, "Work that was never saved is still here.", found)
    take = box.addButton("Go on with it", QMessageBox.ButtonRole.AcceptRole)
    box.setEscapeButton(box.addButton("Not now", QMessageBox.ButtonRole.RejectRole))
    box.setDefaultButton(take)
    box.exec()
    return box.clickedButton() is take


def _box(parent: QWidget, sentence: str, found: Recovered) -> QMessageBox:
    box = QMessageBox(QMessageBox.Icon.NoIcon, "Not saved", sentence, parent=parent)
    box.setObjectName("recovering")
    said = [listed(found.texts)] + ([found.problem] if found.problem else [])
    box.setInformativeText("\n\n".join(said))
    return box
