"""Our colours and typeface given to Qt: a palette of our own table, and one short style sheet."""

from __future__ import annotations

from functools import cache
from typing import Final, Literal, TypeAlias

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QPalette
from PySide6.QtWidgets import QApplication

from wedgework.resources import resource_path
from wedgework.window.palette import DARK, LIGHT, Scheme

Wish: TypeAlias = Literal["light", "dark", "system"]

FAMILY: Final = "IBM Plex Sans"
SMALL_PX, TEXT_PX, HEADING_PX = 12, 13, 15
"""At 96 dpi; given to Qt in points, so that they grow with the system's own setting."""

_POINTS_PER_PX: Final = 72 / 96


@cache
def load_fonts() -> None:
    """Make the shipped typeface known to Qt, once."""
    for style in ("Regular", "SemiBold"):
        path = resource_path(f"fonts/IBMPlexSans-{style}.ttf")
        QFontDatabase.addApplicationFont(str(path))


def font(size_px: int = TEXT_PX, *, strong: bool = False) -> QFont:
    """Our typeface at a size in px of a 96 dpi screen."""
    load_fonts()
    made = QFont(FAMILY)
    made.setPointSizeF(size_px * _POINTS_PER_PX)
    if strong:
        made.setWeight(QFont.Weight.DemiBold)
    return made


def q_palette(scheme: Scheme) -> QPalette:
    """Every role of Qt's palette from our table."""
    made = QPalette()
    for role, colour in _roles(scheme).items():
        made.setColor(role, QColor(colour))
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text,
                 QPalette.ColorRole.ButtonText):  # fmt: skip
        made.setColor(QPalette.ColorGroup.Disabled, role, QColor(scheme.rim))
    return made


def _roles(scheme: Scheme) -> dict[QPalette.ColorRole, str]:
    role = QPalette.ColorRole
    return {
        role.Window: scheme.panel,
        role.WindowText: scheme.ink,
        role.Base: scheme.piece,
        role.AlternateBase: scheme.panel,
        role.Text: scheme.ink,
        role.Button: scheme.panel,
        role.ButtonText: scheme.ink,
        role.BrightText: scheme.stop,
        role.Highlight: scheme.chosen_fill,
        role.HighlightedText: scheme.ink,
        role.ToolTipBase: scheme.piece,
        role.ToolTipText: scheme.ink,
        role.PlaceholderText: scheme.quiet,
        role.Link: scheme.chosen,
        role.LinkVisited: scheme.chosen,
        role.Light: scheme.hair,
        role.Midlight: scheme.hair,
        role.Mid: scheme.rim,
        role.Dark: scheme.rim,
        role.Shadow: scheme.edge,
        role.Accent: scheme.chosen,
    }


def style_sheet(scheme: Scheme) -> str:
    """What a palette cannot say: hair lines, rims, spacing, the mark of keyboard focus."""
    text = resource_path("window.qss").read_text(encoding="utf-8")
    text = text.replace("@icons", resource_path("icons").as_posix())
    for name in ("ground", "panel", "piece", "hair", "rim", "ink", "quiet", "chosen_fill",
                 "chosen", "difference", "stop"):  # fmt: skip
        text = text.replace(f"@{name};", f"{getattr(scheme, name)};")
    return text


class Theme(QObject):
    """The scheme in use, and word to all that draw by hand when it changes."""

    changed = Signal()

    def __init__(self, application: QApplication, wish: Wish = "system") -> None:
        super().__init__(application)
        self._application = application
        self.wish: Wish = wish
        self.scheme = LIGHT
        application.setStyle("Fusion")
        application.styleHints().colorSchemeChanged.connect(self._follow)
        self.choose(wish)

    def choose(self, wish: Wish) -> None:
        """Light, dark, or as the system has it."""
        self.wish = wish
        dark = wish == "dark" or (wish == "system" and self._system_is_dark())
        self.scheme = DARK if dark else LIGHT
        self._application.setPalette(q_palette(self.scheme))
        self._application.setFont(font())
        self._application.setStyleSheet(_sheet_text(self.scheme))
        self.changed.emit()

    def _system_is_dark(self) -> bool:
        return self._application.styleHints().colorScheme() == Qt.ColorScheme.Dark

    def _follow(self) -> None:
        if self.wish == "system":
            self.choose("system")


@cache
def _sheet_text(scheme: Scheme) -> str:
    return style_sheet(scheme)
