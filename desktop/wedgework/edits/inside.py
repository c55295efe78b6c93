"""What is drawn in a piece when the piece is cut: lines, labels and cut-outs go to their sides."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby, pairwise

from wedgework.edits.carry import Fate
from wedgework.edits.move import moved_cutout, moved_label, moved_line
from wedgework.edits.places import Naming
from wedgework.geometry.crossing import crossings
from wedgework.geometry.curve import Curve, Point
from wedgework.geometry.length import length_mm, point_at
from wedgework.geometry.motion import Affine
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import PROBE_MM
from wedgework.pattern.document import Cutout, Label, Line, Piece
from wedgework.pattern.errors import EditRefused

Where = Callable[[Point], int | None]
"""Which side a point lies on, by number; None where what lies there is taken out."""


@dataclass(eq=False, slots=True)
class Drawing:
    """What is drawn on one side."""

    lines: list[Line] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    cutouts: list[Cutout] = field(default_factory=list)

    def moved(self, motion: Affine) -> Drawing:
        """The same under a rigid motion."""
        return Drawing(
            [moved_line(line, motion) for line in self.lines],
            [moved_label(label, motion) for label in self.labels],
            [moved_cutout(cutout, motion) for cutout in self.cutouts],
        )


def parted(
    piece: Piece,
    cuts: Sequence[Curve],
    where: Where,
    naming: Naming,
    beside: Callable[[Point], int] = lambda _: 1,
) -> tuple[list[Drawing], dict[str, Fate]]:
    """What is drawn on each side, numbered from 0, and what has become of lines that were cut.

    There are two sides at least. `cuts` are the curves that part the sides. A line that crosses
    one is cut there, and what lies where `where` says None goes; a label there goes to the side
    that `beside` says. Raises EditRefused where a cut-out is crossed or would be taken out.
    """
    drawn: defaultdict[int, Drawing] = defaultdict(Drawing)
    fates: dict[str, Fate] = {}
    for line in piece.lines:
        kept = _parts_of(line, cuts, where, naming)
        for number, one in kept:
            drawn[number].lines.append(one)
        if [one.id for _, one in kept] != [line.id]:
            fates[line.id] = Fate(walk=tuple(one.id for _, one in kept))
    for label in piece.labels:
        side = where(label.at_mm)
        drawn[beside(label.at_mm) if side is None else side].labels.append(label)
    for cutout in piece.cutouts:
        drawn[_side_of_cutout(cutout, cuts, where)].cutouts.append(cutout)
    return [drawn[side] for side in range(max((1, *drawn)) + 1)], fates


def in_order(piece: Piece, drawings: Iterable[Drawing]) -> Piece:
    """The piece with these drawings in it, whole things in the order that they had."""
    drawings = list(drawings)
    known = (own.id for things in (piece.lines, piece.labels, piece.cutouts) for own in things)
    order = {own: i for i, own in enumerate(known)}

    def place(one: Line | Label | Cutout) -> float:
        return order.get(one.id, len(order))

    return replace(
        piece,
        lines=tuple(sorted((one for d in drawings for one in d.lines), key=place)),
        labels=tuple(sorted((one for d in drawings for one in d.labels), key=place)),
        cutouts=tuple(sorted((one for d in drawings for one in d.cutouts), key=place)),
    )


def _parts_of(
    line: Line, cuts: Sequence[Curve], where: Where, naming: Naming
) -> list[tuple[int, Line]]:
    spans = _spans(line.curve, cuts, where)
    if len(spans) == 1 and spans[0][2] is not None:
        return [(spans[0][2], line)]
    kept = [(low, high, side) for low, high, side in spans if side is not None]
    return [
        (side, replace(line, id=naming.fresh(f"{line.id}.{n}"), curve=part(line.curve, low, high)))
        for n, (low, high, side) in enumerate(kept, start=1)
    ]


def _spans(
    curve: Curve, cuts: Sequence[Curve], where: Where
) -> list[tuple[float, float, int | None]]:
    """Stretches of a line, from and to in mm, and the side that each lies on."""
    whole_mm = length_mm(curve)
    met = sorted(float(station) for cut in cuts for station in crossings(curve, cut)[:, 0])
    bounds = [0.0]
    for station in met:
        if station - bounds[-1] > PROBE_MM and whole_mm - station > PROBE_MM:
            bounds.append(station)
    bounds.append(whole_mm)
    told = [(low, high, where(point_at(curve, (low + high) / 2))) for low, high in pairwise(bounds)]
    groups = [list(group) for _, group in groupby(told, key=lambda span: span[2])]
    return [(group[0][0], group[-1][1], group[0][2]) for group in groups]


def _side_of_cutout(cutout: Cutout, cuts: Sequence[Curve], where: Where) -> int:
    for edge in cutout.edges:
        for cut in cuts:
            if len(crossings(edge.curve, cut)):
                raise EditRefused("That would cut through a cut-out.", culprit=cutout.id)
    side = where(cutout.edges[0].curve.start)
    if side is None:
        raise EditRefused("A cut-out lies in what would be taken out.", culprit=cutout.id)
    return side
