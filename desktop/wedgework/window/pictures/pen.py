"""A pen of `drawing` that draws with Qt, and can tell what is new from what was there before."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPainterPath, QPen

from wedgework.drawing.pen import Ink, Setting
from wedgework.geometry.curve import Curve, Point
from wedgework.window.palette import Scheme
from wedgework.window.table.art import add_curve, add_ring
from wedgework.window.table.pens import pen
from wedgework.window.table.view import View
from wedgework.window.theme import font

Key = tuple[object, ...]

NEW_PX = 2.2
CORNER_PX = 1.9
ROUND_MM = 1e-3
"""Lines that differ by less than a micrometre look alike in any picture."""


def key_of(curve: Curve) -> Key:
    """What makes two drawn lines one line, whichever way they run."""
    points = tuple(map(tuple, (curve.segments.reshape(-1, 2) / ROUND_MM).round().tolist()))
    return min(points, points[::-1])


class KeyPen:
    """A pen that draws nothing and keeps the key of all that it was told to draw."""

    def __init__(self) -> None:
        self.keys: set[Key] = set()

    def begin(self, _ink: Ink) -> None:
        """A group says nothing of its own."""

    def end(self) -> None:
        """Nor does its end."""

    def stroke(self, curves: Sequence[Curve], _ink: Ink, *, closed: bool = False) -> None:  # noqa: ARG002
        """Keep each curve."""
        self.keys.update(map(key_of, curves))

    def fill(self, rings: Sequence[Sequence[Curve]], _ink: Ink) -> None:
        """Keep each border."""
        self.keys.update(key_of(curve) for ring in rings for curve in ring)

    def circle(self, centre: Point, radius_mm: float, _ink: Ink) -> None:
        """Keep the circle."""
        self.keys.add(circle_key(centre, radius_mm))

    def text(self, words: str, setting: Setting, _ink: Ink) -> None:
        """Keep the words with their place."""
        self.keys.add(text_key(words, setting))


def circle_key(centre: Point, radius_mm: float) -> Key:
    """What makes two circles one."""
    return ("circle", *(centre / ROUND_MM).round().tolist(), round(radius_mm / ROUND_MM))


def text_key(words: str, setting: Setting) -> Key:
    """What makes two texts one."""
    return ("text", words, *(setting.at_mm / ROUND_MM).round().tolist())


class PicturePen:
    """Draws on a painter in the colours of a scheme.

    `known` are keys of what was there before: the rest is new, and drawn thick in the colour of
    what is chosen. None where nothing is to stand out.
    """

    def __init__(
        self, painter: QPainter, view: View, scheme: Scheme, known: set[Key] | None = None
    ) -> None:
        self._painter, self._view, self._scheme, self._known = painter, view, scheme, known
        self._drawn: set[Key] = set()

    def begin(self, _ink: Ink) -> None:
        """Groups are not seen; what lies under the lines of another does not matter."""
        self._drawn = set()

    def end(self) -> None:
        """Nor are their ends."""

    def stroke(self, curves: Sequence[Curve], ink: Ink, *, closed: bool = False) -> None:
        """A line; a closed seam line is filled as the piece that it bounds.

        A cut line is left out where it is the seam line itself, and the arrow beside a piece's
        name: it moves to where there is room, and would look like what the edit has done.
        """
        if ink.derived and ink.layer == "label":
            return
        keys = [key_of(curve) for curve in curves]
        if ink.layer == "cut" and self._drawn.issuperset(keys):
            return
        self._drawn.update(keys)
        path = QPainterPath()
        if closed:
            add_ring(path, list(curves))
        else:
            for curve in curves:
                add_curve(path, curve)
        is_piece = closed and ink.layer == "seam" and not ink.id
        self._draw(path, self._pen_of(ink), fill=is_piece)
        for curve, key in zip(curves, keys, strict=True):
            if self._known is not None and key not in self._known:
                new = QPainterPath()
                add_curve(new, curve)
                self._draw(new, self._new_pen())
        if ink.layer == "seam":
            self._dot_corners(curves)

    def fill(self, rings: Sequence[Sequence[Curve]], ink: Ink) -> None:
        """An area is drawn by its borders."""
        for ring in rings:
            self.stroke(ring, ink, closed=True)

    def circle(self, centre: Point, radius_mm: float, _ink: Ink) -> None:
        """A hole, never too small to be seen."""
        is_new = self._known is not None and circle_key(centre, radius_mm) not in self._known
        self._painter.setPen(self._new_pen() if is_new else pen(self._scheme.edge))
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        radius_px = max(radius_mm * self._view.px_per_mm, 1.6)
        self._painter.drawEllipse(self._view.to_px(centre), radius_px, radius_px)

    def text(self, words: str, setting: Setting, ink: Ink) -> None:
        """Labels only: names of pieces would be too small to read."""
        if ink.derived:
            return
        is_new = self._known is not None and text_key(words, setting) not in self._known
        self._painter.save()
        self._painter.translate(self._view.to_px(setting.at_mm))
        written = QFont(font())
        written.setPixelSize(max(round(setting.height_mm * self._view.px_per_mm), 7))
        self._painter.setFont(written)
        self._painter.setPen(QColor(self._scheme.chosen if is_new else self._scheme.quiet))
        self._painter.drawText(QPointF(0, 0), words)
        self._painter.restore()

    def _draw(self, path: QPainterPath, with_pen: QPen, *, fill: bool = False) -> None:
        painter = self._painter
        painter.save()
        painter.setTransform(self._view.transform, combine=True)
        painter.setPen(with_pen)
        painter.setBrush(QColor(self._scheme.piece) if fill else Qt.BrushStyle.NoBrush)
        painter.drawPath(path)
        painter.restore()

    def _dot_corners(self, curves: Sequence[Curve]) -> None:
        """A dot where each edge starts, so that a split is seen as one."""
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(QColor(self._scheme.edge))
        for curve in curves:
            self._painter.drawEllipse(self._view.to_px(curve.start), CORNER_PX, CORNER_PX)

    def _pen_of(self, ink: Ink) -> QPen:
        scheme = self._scheme
        pens = {
            "cut": pen(scheme.quiet, dashes=[4, 3]),
            "internal": pen(scheme.quiet, dashes=[4, 4] if ink.derived else None),
        }
        return pens.get(ink.layer, pen(scheme.edge, 1.3))

    def _new_pen(self) -> QPen:
        return pen(self._scheme.chosen, NEW_PX)
