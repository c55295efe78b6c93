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
    text = _SHEET
    for name in ("ground", "panel", "piece", "hair", "rim", "ink", "quiet", "chosen_fill",
                 "chosen", "difference", "stop"):  # fmt: skip
        text = text.replace(f"@{name};", f"{getattr(scheme, name)};")
    return text


_SHEET: Final = """
QMainWindow::separator { background: @hair; width: 1px; height: 1px; }
QMainWindow::separator:hover { background: @chosen; }
QMenuBar { background: @panel; border-bottom: 1px solid @hair; padding: 1px 6px; }
QMenuBar::item { padding: 4px 9px; background: transparent; border-radius: 3px; }
QMenuBar::item:selected { background: @chosen_fill; }
QMenu { background: @piece; border: 1px solid @rim; padding: 4px 0; }
QMenu::item { padding: 5px 28px 5px 30px; }
QMenu::item:selected { background: @chosen_fill; color: @ink; }
QMenu::item:disabled { color: @rim; }
QMenu::separator { height: 1px; background: @hair; margin: 4px 10px; }
QMenu::icon { padding-left: 8px; }
QToolTip { background: @piece; color: @ink; border: 1px solid @rim; padding: 4px 6px; }
QStatusBar { background: @panel; border-top: 1px solid @hair; }
QStatusBar::item { border: none; }
QToolBar { background: @panel; border: none; border-bottom: 1px solid @hair; padding: 0; spacing: 0; }
QPushButton { background: @piece; border: 1px solid @rim; border-radius: 4px; padding: 4px 12px; }
QPushButton:hover { border-color: @chosen; }
QPushButton:pressed { background: @chosen_fill; }
QPushButton:focus { border: 2px solid @chosen; padding: 3px 11px; }
QPushButton:default { background: @chosen; color: @panel; border-color: @chosen; }
QPushButton:default:focus { border: 2px solid @ink; }
QPushButton:disabled { color: @rim; border-color: @hair; background: @panel; }
QPushButton[flat="true"] { background: transparent; border: 1px solid transparent; padding: 3px 8px; }
QPushButton[flat="true"]:hover { border-color: @rim; }
QPushButton[flat="true"]:focus { border: 1px solid @chosen; }
QLineEdit, QPlainTextEdit, QComboBox, QAbstractSpinBox {
  background: @piece; border: 1px solid @rim; border-radius: 3px; padding: 2px 6px;
  selection-background-color: @chosen; selection-color: @panel; min-height: 18px; }
QLineEdit:focus, QPlainTextEdit:focus, QComboBox:focus { border: 2px solid @chosen; padding: 1px 5px; }
QLineEdit[wrong="true"] { border: 2px solid @stop; padding: 1px 5px; }
QLineEdit:read-only { background: transparent; border-color: transparent; }
QLineEdit:disabled { color: @rim; border-color: @hair; background: @panel; }
QComboBox::drop-down { border: none; width: 18px; }
QComboBox QAbstractItemView { background: @piece; border: 1px solid @rim; outline: none; }
QTableView { background: @panel; alternate-background-color: @panel; border: none;
  gridline-color: transparent; outline: none; }
QTableView::item { border-bottom: 1px solid @hair; padding: 0 8px; }
QTableView::item:selected { background: @chosen_fill; color: @ink; }
QTableView::item:focus { border: 1px solid @chosen; }
QTableView:focus { border: none; }
QHeaderView { background: @panel; }
QHeaderView::section { background: @panel; color: @quiet; border: none;
  border-bottom: 1px solid @rim; padding: 3px 8px; }
QListWidget, QListView, QTreeView { background: @panel; border: none; outline: none; }
QListWidget::item { padding: 4px 8px; border-bottom: 1px solid @hair; }
QListWidget::item:selected { background: @chosen_fill; color: @ink; }
QScrollArea { border: none; background: @panel; }
QScrollBar:vertical { background: transparent; width: 10px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 10px; margin: 0; }
QScrollBar::handle { background: @rim; border-radius: 3px; margin: 2px; min-height: 24px; min-width: 24px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QCheckBox, QRadioButton { spacing: 8px; padding: 2px; }
QCheckBox:focus, QRadioButton:focus { color: @chosen; }
QGroupBox { border: none; margin-top: 20px; }
QGroupBox::title { subcontrol-origin: margin; color: @quiet; padding: 0; }
QTextBrowser { background: @panel; border: none; }
"""


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
