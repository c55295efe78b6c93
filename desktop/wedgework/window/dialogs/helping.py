"""What stands under Help, and lists that are only read."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from html import escape
from importlib import metadata
from typing import Final

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QTextBrowser, QVBoxLayout, QWidget

from wedgework import __version__
from wedgework.bench import TOOLS
from wedgework.glossary import glossary
from wedgework.resources import resource_path
from wedgework.window.actions import ACTIONS
from wedgework.window.dialogs.forms import open_at

CAUTIONS: Final = (
    ("Adhesives and cleaners", "Their vapour harms and ignites. Ventilate, no flame or spark, "
     "gloves as the safety data sheet says, waste as local rules say. Water-based latex holds "
     "ammonia: ventilate too."),
    ("Allergy", "Natural rubber latex can cause allergy, also severe. Ask the wearer, and say so "
     "on the label."),
    ("Wearing", "Nothing tight round the neck for long. Stop at pain, numbness, change of colour, "
     "faintness. Never alone in what one cannot leave unaided. Heat builds up: drink, cool, pause. "
     "The program tells stretch, never “safe”."),
    ("Blades and punches", "Cut away from the hand, with a guard and a fresh edge. Eyes: punches "
     "and eyelet tools."),
    ("Fire", "Rubber burns with thick smoke. Keep it from open fire, heaters, cigarettes and stage "
     "pyrotechnics; ask the house."),
    ("Storing", "Below 25 °C, dry, dark, away from ozone (motors, sparks) and heat, unstrained; no "
     "copper and no soft PVC in the wrapping. Strong and light colours apart. After ISO 2230."),
)  # fmt: skip

USES: Final = ("PySide6-Essentials", "numpy", "shapely", "msgspec", "reportlab")
"""What the program stands on, as `pyproject.toml` names it."""


def show_lines(parent: QWidget, title: str, lines: Iterable[str]) -> None:
    """A list that is only read."""
    items = "".join(f"<p>{escape(line)}</p>" for line in lines)
    _show(parent, title, items)


def show_help(parent: QWidget, page: str) -> None:
    """One of the pages under Help."""
    title, make = PAGES[page]
    _show(parent, title, make())


def _show(parent: QWidget, title: str, html: str) -> None:
    dialog = QDialog(parent)
    dialog.setObjectName("reading")
    dialog.setWindowTitle(title)
    open_at(dialog, 680, 560)
    text = QTextBrowser()
    text.setOpenLinks(False)
    text.setHtml(f"<h2>{escape(title)}</h2>{html}")
    text.setAccessibleName(title)
    buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
    buttons.rejected.connect(dialog.reject)
    rows = QVBoxLayout(dialog)
    rows.setContentsMargins(18, 14, 18, 14)
    rows.addWidget(text)
    rows.addWidget(buttons)
    dialog.exec()


def _table(rows: Iterable[tuple[str, str]]) -> str:
    cells = "".join(
        f"<tr><td style='padding: 3px 18px 3px 0'><b>{escape(one)}</b></td>"
        f"<td style='padding: 3px 0'>{escape(other)}</td></tr>"
        for one, other in rows
    )
    return f"<table>{cells}</table>"


def _keys() -> str:
    tools = _table((tool.key, f"{tool.word}: {tool.hint}") for tool in TOOLS)
    actions = _table((row.key, row.tip) for row in ACTIONS if row.key)
    hand = _table((
        ("Wheel", "Zoom about the pointer"),
        ("Middle button, Space", "Push the table"),
        ("Shift", "Choose more; turn in steps"),
        ("Alt", "Let go of snapping"),
        ("A box over the empty table", "Choose the pieces in it; with Alt the corners, anywhere"),
        ("Arrows", "Move what is chosen by 1 mm; with Shift 10, with Alt 0.1"),
        ("Esc", "One step back; never more than the present drag"),
        ("Figures in a drag", "Type the number instead of pulling to it; 12 -5 is across and up"),
        ("C while an outline is drawn", "The last point: a corner, or passed smoothly"),
        ("Backspace while points are set", "Take the last point back"),
        ("Shift while an outline is drawn", "A point of a curve; on the first point: on the fold"),
        ("Alt+1 … Alt+7", "Go to a step"),
    ))  # fmt: skip
    return f"<h3>Tools</h3>{tools}<h3>Hand</h3>{hand}<h3>Everything else</h3>{actions}"


def _words() -> str:
    rows = (entry for entry in glossary().values() if entry.kind == "word")
    return _table((entry.word, f"{entry.meaning} ({entry.source})") for entry in rows)


def _cautions() -> str:
    said = "".join(f"<p><b>{escape(head)}.</b> {escape(text)}</p>" for head, text in CAUTIONS)
    return f"<p>Product sheets, local codes and licensed practice decide.</p>{said}"


def _changes() -> str:
    text = resource_path("CHANGELOG.md").read_text(encoding="utf-8").replace("\n  ", " ")
    # The page has the file's own heading already.
    _, *lines = (line.replace("`", "") for line in text.splitlines() if line.strip())
    return "".join(map(_changed_line, lines))


def _changed_line(line: str) -> str:
    if line.startswith("#"):
        return f"<h3>{escape(line.lstrip('# '))}</h3>"
    return f"<p>{escape(line.replace('- ', '•  ', 1) if line.startswith('- ') else line)}</p>"


def _about() -> str:
    rows = [(name, f"{_version(name)}  {_licence(name)}") for name in USES]
    return (
        f"<p>Wedgework {__version__}, MIT licence. Typeface IBM Plex Sans, OFL.</p>"
        f"<p>It stands on:</p>{_table(rows)}"
    )


def _version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return ""


def _licence(name: str) -> str:
    try:
        told = metadata.metadata(name)
    except metadata.PackageNotFoundError:
        return ""
    words = [told[key] for key in ("License-Expression", "License") if key in told]
    return words[0].splitlines()[0][:60] if words and words[0] else ""


PAGES: Final[dict[str, tuple[str, Callable[[], str]]]] = {
    "keys": ("Keys", _keys),
    "glossary": ("Words", _words),
    "cautions": ("Cautions", _cautions),
    "changes": ("What changed", _changes),
    "about": ("About Wedgework", _about),
}
