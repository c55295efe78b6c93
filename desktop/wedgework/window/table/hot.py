"""The hot layer: what is chosen or moving, drawn over the still picture in every frame."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from wedgework.geometry.curve import Curve
from wedgework.geometry.curve import line as straight
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import point_at
from wedgework.pattern.document import Edge, EdgeId, Piece, Project, Run
from wedgework.pattern.lookup import around_corner, edge_in, seams_of, the_edge
from wedgework.pattern.rows import hole_places
from wedgework.window.table.art import art_of, curve_path
from wedgework.window.table.draw import draw_cut_line, draw_marks, draw_piece, in_mm, write_on_piece
from wedgework.window.table.look import CUT_STEPS, Look
from wedgework.window.table.scene import Scene

CORNER_PX = 4.0
MARK_PX = 6.0

LETTER_RATIO = 0.56
"""Mean width of a letter as a share of the type's size."""

UNDER_RATIO = 0.3
"""A label is underlined this far below its letters' feet, as a share of their size."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """What is chosen, sorted out: pieces, edges, the edges joined to them, and corners."""

    pieces: tuple[Piece, ...] = ()
    edges: tuple[Edge, ...] = ()
    mates: tuple[Edge, ...] = ()
    corners: tuple[tuple[float, float], ...] = ()
    lines: tuple[Curve, ...] = ()
    faults: tuple[Curve, ...] = ()
    """Stretches that a finding is about, while it is what was chosen."""

    marks: tuple[tuple[float, float], ...] = ()
    """Where notches and holes lie, on both sides of their seam; of a row, all its holes."""

    @property
    def curves(self) -> list[Curve]:
        """Every curve that is drawn for it."""
        rings = [edge.curve for piece in self.pieces for edge in piece.edges]
        return [*rings, *(edge.curve for edge in (*self.edges, *self.mates)), *self.lines,
                *self.faults]  # fmt: skip


def sorted_out(project: Project, ids: Iterable[str]) -> Chosen:
    """What the chosen ids mean; ids that are not there are nothing."""
    pieces: list[Piece] = []
    edges: dict[EdgeId, Edge] = {}
    mates: dict[EdgeId, Edge] = {}
    corners: list[tuple[float, float]] = []
    marks: list[tuple[float, float]] = []
    lines: list[Curve] = []
    for own in ids:
        if own in project.pieces:
            pieces.append(project.pieces[own])
        elif own in project.seams:
            seam = project.seams[own]
            edges.update(_run_edges(project, seam.a))
            mates.update(_run_edges(project, seam.b))
        elif own in project.owners:
            piece = project.pieces[project.owners[own]]
            edge = edge_in(piece, own)
            if edge is not None:
                edges[own] = edge
                mates.update(_mates_of(project, own))
            elif at_mm := _corner_mm(piece, own):
                corners.append(at_mm)
            else:
                lines += _lines_of(piece, own)
        else:
            marks += _marked(project, own)
    for own in edges:
        mates.pop(own, None)
    return Chosen(tuple(pieces), tuple(edges.values()), tuple(mates.values()), tuple(corners),
                  tuple(lines), marks=tuple(marks))  # fmt: skip


def _run_edges(project: Project, run: Run) -> Iterator[tuple[EdgeId, Edge]]:
    for ref in run:
        owner = project.owners.get(ref.edge)
        edge = edge_in(project.pieces[owner], ref.edge) if owner is not None else None
        if edge is not None:
            yield ref.edge, edge


def _mates_of(project: Project, own: EdgeId) -> Iterator[tuple[EdgeId, Edge]]:
    for seam in seams_of(project, own):
        on_a = any(ref.edge == own for ref in seam.a)
        yield from _run_edges(project, seam.b if on_a else seam.a)


def _corner_mm(piece: Piece, own: str) -> tuple[float, float] | None:
    if not any(edge.corner == own for edge in piece.all_edges()):
        return None
    x, y = around_corner(piece, own)[1].curve.start.tolist()
    return x, y


def _lines_of(piece: Piece, own: str) -> Iterator[Curve]:
    """The internal line of an id, or the line on which a label is written."""
    yield from (line.curve for line in piece.lines if line.id == own)
    for label in piece.labels:
        if label.id == own:
            long_mm = LETTER_RATIO * label.height_mm * len(label.text)
            along = np.array([np.cos(label.angle_rad), np.sin(label.angle_rad)])
            below = label.at_mm + UNDER_RATIO * label.height_mm * np.array([along[1], -along[0]])
            yield straight(below, below + max(long_mm, label.height_mm) * along)


def _marked(project: Project, own: str) -> Iterator[tuple[float, float]]:
    """Where a notch lies, or a hole and all of its row."""
    notch, hole = project.notches.get(own), project.holes.get(own)
    if notch is not None:
        for spot in (notch.at, notch.mate):
            if spot is not None and spot.edge in project.owners:
                x, y = point_at(the_edge(project, spot.edge).curve, spot.at_mm).tolist()
                yield x, y
    if hole is not None:
        places, centres = hole_places(project.pieces, project.seams, project.holes, project.owners)
        for (one, _), (x, y) in zip(places, centres.tolist(), strict=True):
            if one is hole or (hole.row is not None and one.row == hole.row):
                yield x, y


def draw_hot_pieces(
    painter: QPainter, look: Look, scene: Scene, pieces: Iterable[Piece], chosen: Chosen
) -> None:
    """Pieces that are chosen or change at this moment."""
    project, near = scene.project, scene.in_box
    pens = look.pens
    for piece in pieces:
        is_chosen = any(piece is one for one in chosen.pieces)
        if look.step in CUT_STEPS:
            draw_cut_line(painter, look, project, piece)
        if is_chosen:
            with in_mm(painter, look.view):
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(pens.chosen_fill)
                painter.drawPath(art_of(piece).outline)
        draw_piece(painter, look, piece, pens.chosen if is_chosen else pens.hot, fill=not is_chosen)
        draw_marks(painter, look, project, piece)
        plate = pens.chosen_fill if is_chosen else pens.piece
        write_on_piece(painter, look, project, piece, near=near, plate=plate)


def draw_old(painter: QPainter, look: Look, pieces: Iterable[Piece]) -> None:
    """Outlines as they were before the drag, in hair line."""
    with in_mm(painter, look.view):
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(look.pens.old)
        for piece in pieces:
            painter.drawPath(art_of(piece).outline)


def draw_chosen(painter: QPainter, look: Look, chosen: Chosen) -> None:
    """Chosen edges thick, the edges joined to them thick and dashed, chosen corners as dots."""
    pens = look.pens
    _stroke(painter, look, chosen.faults, pens.fault)
    _stroke(painter, look, [edge.curve for edge in chosen.mates], pens.mate)
    _stroke(painter, look, [edge.curve for edge in chosen.edges], pens.chosen)
    _stroke(painter, look, list(chosen.lines), pens.chosen)
    painter.setPen(pens.chosen_rim)
    painter.setBrush(pens.chosen_dot)
    for corner in chosen.corners:
        painter.drawEllipse(look.view.to_px(corner), CORNER_PX, CORNER_PX)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    _ring_marks(painter, look, chosen, pens.ring)


def _ring_marks(painter: QPainter, look: Look, chosen: Chosen, pen: QPen) -> None:
    """A ring about each mark, so that it is the mark that is seen to be chosen, not its edge."""
    painter.setPen(pen)
    for mark in chosen.marks:
        painter.drawEllipse(look.view.to_px(mark), MARK_PX, MARK_PX)


def _stroke(painter: QPainter, look: Look, curves: Iterable[Curve], pen: QPen) -> None:
    path = QPainterPath()
    for curve in curves:
        path.addPath(curve_path(curve))
    if path.isEmpty():
        return
    with in_mm(painter, look.view):
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen)
        painter.drawPath(path)


def boxes_of(look: Look, chosen: Chosen) -> list[QRectF]:
    """Pixels that what is chosen may cover."""
    boxes = [look.view.rect_px(bounds_of_all([curve])) for curve in chosen.curves]
    reach = QPointF(MARK_PX + 2, MARK_PX + 2)
    for place in (*chosen.corners, *chosen.marks):
        at = look.view.to_px(place)
        boxes.append(QRectF(at - reach, at + reach))
    return boxes


def draw_hovered(painter: QPainter, look: Look, hovered: Chosen) -> None:
    """What a press would take, a little stronger than it lies there."""
    pens = look.pens
    _stroke(painter, look, [edge.curve for edge in hovered.edges], pens.hovered)
    _stroke(painter, look, list(hovered.lines), pens.hovered)
    outlines = [edge.curve for piece in hovered.pieces for edge in piece.edges]
    _stroke(painter, look, outlines, pens.hovered)
    painter.setPen(pens.hovered)
    painter.setBrush(pens.piece)
    for corner in hovered.corners:
        painter.drawEllipse(look.view.to_px(corner), CORNER_PX, CORNER_PX)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    _ring_marks(painter, look, hovered, pens.hovered)
