"""What is drawn in a piece: internal lines, labels, levels taken away."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Annotated

import numpy as np
from msgspec import UNSET, Meta, UnsetType

from wedgework.edits.base import Degrees, Edit, Id, Name, PointMm, PositiveMm
from wedgework.edits.move import stored_point
from wedgework.edits.places import Naming
from wedgework.geometry.curve import Curve, is_straight, polyline
from wedgework.geometry.curve import line as straight_line
from wedgework.geometry.fit import smooth_through
from wedgework.geometry.motion import moved, translation
from wedgework.geometry.tolerances import SAME_STATION_MM, STRAIGHT_MM
from wedgework.pattern.changes import with_pieces
from wedgework.pattern.document import Label, Line, LineKind, Piece, Project
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.lookup import piece_of, seams_of, the_piece


class AddLine(Edit, frozen=True, kw_only=True):
    """Draw an internal line in a piece, straight from point to point or smooth through them."""

    piece: Annotated[Id, Meta(description="piece that it is drawn in")]
    kind: Annotated[LineKind, Meta(description="style, fold, placement, level or grain")]
    points_mm: Annotated[
        tuple[PointMm, ...], Meta(min_length=2, max_length=2000, description="points of the line")
    ]
    smooth: Annotated[bool, Meta(description="a smooth line through the points")] = False
    name: Annotated[Name, Meta(description="what it is called")] = ""

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such piece, or two points running are one."""
        piece = the_piece(project, self.piece)
        points = np.array(self.points_mm)
        if (np.hypot(*np.diff(points, axis=0).T) <= SAME_STATION_MM).any():
            raise EditRefused("Two points of the line that follow each other are one.")
        line = Line(
            id=Naming(project).numbered(f"{piece.id}.l"),
            kind=self.kind,
            curve=smooth_through(points) if self.smooth else polyline(points),
            name=self.name,
        )
        return with_pieces(project, replace(piece, lines=(*piece.lines, line)))


class SetLine(Edit, frozen=True, kw_only=True):
    """Set what a line inside a piece is, how long, in which direction and where."""

    line: Annotated[Id, Meta(description="internal line, no level")]
    kind: Annotated[
        LineKind | UnsetType, Meta(description="style, fold, placement, level or grain")
    ] = UNSET
    length_mm: Annotated[
        PositiveMm | UnsetType, Meta(description="of a straight line, about its middle")
    ] = UNSET
    angle_deg: Annotated[
        Degrees | UnsetType,
        Meta(description="of a straight line: its turn from level, counter-clockwise"),
    ] = UNSET
    by_mm: Annotated[PointMm, Meta(description="how far it moves, right and up")] = (0.0, 0.0)

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such line, it is a level, or a curve is to be straight."""
        piece, line = the_line(project, self.line)
        if line.level is not None:
            raise EditRefused("A level stays at its height on the body.", culprit=line.id)
        curve = self._turned(line)
        if self.by_mm != (0.0, 0.0):
            curve = moved(curve, translation(self.by_mm))
        kind = line.kind if isinstance(self.kind, UnsetType) else self.kind
        if curve is line.curve and kind == line.kind:
            return project
        changed = replace(line, curve=curve, kind=kind)
        lines = tuple(changed if one is line else one for one in piece.lines)
        return with_pieces(project, replace(piece, lines=lines))

    def _turned(self, line: Line) -> Curve:
        start, end = line.curve.start, line.curve.end
        length, angle = math.dist(start, end), math.atan2(*(end - start)[::-1].tolist())
        wanted = length if isinstance(self.length_mm, UnsetType) else self.length_mm
        turn = angle if isinstance(self.angle_deg, UnsetType) else math.radians(self.angle_deg)
        if turn == angle and abs(wanted - length) <= SAME_STATION_MM:
            return line.curve
        if not is_straight(line.curve, STRAIGHT_MM):
            raise EditRefused("Only a straight line has one length and one turn.", culprit=line.id)
        half = wanted / 2 * np.array([math.cos(turn), math.sin(turn)])
        middle = (start + end) / 2
        return straight_line(middle - half, middle + half)


class RemoveLine(Edit, frozen=True, kw_only=True):
    """Take an internal line away."""

    line: Annotated[Id, Meta(description="internal line")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such line, or something is hung on it."""
        piece, line = the_line(project, self.line)
        for seam in seams_of(project, line.id):
            raise EditRefused(f"Seam “{seam.name or seam.id}” hangs on this line.", culprit=seam.id)
        lines = tuple(one for one in piece.lines if one is not line)
        return with_pieces(project, replace(piece, lines=lines))


def the_line(project: Project, own: str) -> tuple[Piece, Line]:
    """An internal line and its piece; EditRefused where there is none of this id."""
    piece = piece_of(project, own)
    found = next((line for line in piece.lines if line.id == own), None)
    if found is None:
        raise EditRefused(f"“{own}” is no internal line.", culprit=own)
    return piece, found


class RemoveLevel(Edit, frozen=True, kw_only=True):
    """Take a level away, with its line on every piece."""

    level: Annotated[Id, Meta(description="level")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such level, or something is hung on its line."""
        if self.level not in project.levels:
            raise EditRefused(f"There is no level “{self.level}”.", culprit=self.level)
        changed = []
        for piece in project.pieces.values():
            own = [line for line in piece.lines if line.level == self.level]
            for line in own:
                for seam in seams_of(project, line.id):
                    raise EditRefused(
                        f"Seam “{seam.name or seam.id}” hangs on this level.", culprit=seam.id
                    )
            if own:
                rest = tuple(line for line in piece.lines if line.level != self.level)
                changed.append(replace(piece, lines=rest))
        levels = project.levels.with_rows({}, [self.level])
        return replace(with_pieces(project, *changed), levels=levels)


class AddLabel(Edit, frozen=True, kw_only=True):
    """Write a label on a piece."""

    piece: Annotated[Id, Meta(description="piece that it stands on")]
    text: Annotated[Name, Meta(min_length=1, description="what it says")]
    at_mm: Annotated[PointMm, Meta(description="where its first line starts")]
    height_mm: Annotated[PositiveMm, Meta(description="height of its letters")] = 5.0
    angle_deg: Annotated[Degrees, Meta(description="turn of its line, counter-clockwise")] = 0.0

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such piece."""
        piece = the_piece(project, self.piece)
        label = Label(
            id=Naming(project).numbered(f"{piece.id}.t"),
            text=self.text,
            at_mm=stored_point(self.at_mm),
            height_mm=self.height_mm,
            angle_rad=math.radians(self.angle_deg),
        )
        return with_pieces(project, replace(piece, labels=(*piece.labels, label)))


class MoveLabel(Edit, frozen=True, kw_only=True):
    """Move a label."""

    label: Annotated[Id, Meta(description="label")]
    by_mm: Annotated[PointMm, Meta(description="how far, right and up")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such label."""
        piece, label = the_label(project, self.label)
        if self.by_mm == (0.0, 0.0):
            return project
        moved = replace(label, at_mm=stored_point(label.at_mm + np.array(self.by_mm)))
        labels = tuple(moved if one is label else one for one in piece.labels)
        return with_pieces(project, replace(piece, labels=labels))


class SetLabel(Edit, frozen=True, kw_only=True):
    """Set how high the letters of a label are, and its turn."""

    label: Annotated[Id, Meta(description="label")]
    height_mm: Annotated[PositiveMm | UnsetType, Meta(description="height of its letters")] = UNSET
    angle_deg: Annotated[
        Degrees | UnsetType, Meta(description="turn of its line, counter-clockwise")
    ] = UNSET

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such label."""
        piece, label = the_label(project, self.label)
        height = label.height_mm if isinstance(self.height_mm, UnsetType) else self.height_mm
        angle = label.angle_rad
        if not isinstance(self.angle_deg, UnsetType):
            angle = math.radians(self.angle_deg)
        if (height, angle) == (label.height_mm, label.angle_rad):
            return project
        changed = replace(label, height_mm=height, angle_rad=angle)
        labels = tuple(changed if one is label else one for one in piece.labels)
        return with_pieces(project, replace(piece, labels=labels))


class RemoveLabel(Edit, frozen=True, kw_only=True):
    """Take a label away."""

    label: Annotated[Id, Meta(description="label")]

    def change(self, project: Project) -> Project:
        """EditRefused where there is no such label."""
        piece, label = the_label(project, self.label)
        labels = tuple(one for one in piece.labels if one is not label)
        return with_pieces(project, replace(piece, labels=labels))


def the_label(project: Project, own: str) -> tuple[Piece, Label]:
    """A label and its piece; EditRefused where there is none of this id."""
    piece = piece_of(project, own)
    found = next((label for label in piece.labels if label.id == own), None)
    if found is None:
        raise EditRefused(f"“{own}” is no label.", culprit=own)
    return piece, found
