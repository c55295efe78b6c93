"""Our icons: strokes on one grid of 20, drawn by QtSvg in the colours of the scheme in use."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QGuiApplication, QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from wedgework.resources import resource_path
from wedgework.window.palette import LIGHT, Scheme

ICON_PX = 20


def icon(name: str, scheme: Scheme) -> QIcon:
    """The icon `resources/icons/<name>.svg`; FileNotFoundError where there is none."""
    made = QIcon(picture(name, scheme))
    made.addPixmap(picture(name, scheme, quiet=True), QIcon.Mode.Disabled)
    return made


def has_icon(name: str) -> bool:
    """Whether there is an icon of this name."""
    try:
        resource_path(f"icons/{name}.svg")
    except FileNotFoundError:
        return False
    return True


def picture(name: str, scheme: Scheme, size_px: int = ICON_PX, *, quiet: bool = False) -> QPixmap:
    """The icon as a pixmap of `size_px` device-independent pixels; `quiet` in one faint colour."""
    screen = QGuiApplication.primaryScreen()
    ratio = screen.devicePixelRatio() if screen else 1.0
    pixmap = QPixmap(QSize(round(size_px * ratio), round(size_px * ratio)))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    renderer = QSvgRenderer(QByteArray(_coloured(name, scheme, quiet=quiet)))
    renderer.render(painter, QRectF(0, 0, size_px, size_px))
    painter.end()
    return pixmap


@cache
def _source(name: str) -> str:
    return resource_path(f"icons/{name}.svg").read_text(encoding="utf-8")


def _coloured(name: str, scheme: Scheme, *, quiet: bool) -> bytes:
    """The drawing with its colours, which are those of the light scheme, put into ours."""
    text = _source(name)
    pairs = {
        "#000000": scheme.ink,
        LIGHT.chosen: scheme.chosen,
        LIGHT.difference: scheme.difference,
        LIGHT.stop: scheme.stop,
    }
    for drawn, ours in pairs.items():
        text = text.replace(drawn, scheme.rim if quiet else ours)
    return text.encode()
