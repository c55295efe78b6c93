"""Stations along the outline of a piece, from edge to edge."""

from __future__ import annotations

import numpy as np

from wedgework.edits.base import Place
from wedgework.edits.places import Cut, cut_at
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Piece


class Stations:
    """The outline of a piece as one walk: `whole_mm` long, from where its first edge starts."""

    def __init__(self, piece: Piece) -> None:
        self._piece = piece
        lengths = [length_mm(edge.curve) for edge in piece.edges]
        self._starts = np.concatenate([[0.0], np.cumsum(lengths)])
        self.whole_mm = float(self._starts[-1])

    def of_cut(self, cut: Cut) -> float:
        """Station of a cut, in mm."""
        return float(self._starts[cut.index]) + cut.at_mm

    def of(self, place: Place) -> float:
        """Station of a place, in mm; EditRefused where it is not on the outline."""
        return self.of_cut(cut_at(self._piece, place))

    def place_at(self, station_mm: float) -> Place:
        """The place at a station, which may lie before the start or beyond the end of the walk."""
        at = station_mm % self.whole_mm
        index = int(np.searchsorted(self._starts, at, side="right")) - 1
        index = min(index, len(self._piece.edges) - 1)
        return Place(self._piece.edges[index].id, at - float(self._starts[index]))

    def shorter_way_mm(self, first: Place, last: Place) -> float:
        """How far it is along the outline from place to place, the shorter way; negative back."""
        ahead = (self.of(last) - self.of(first)) % self.whole_mm
        return ahead if ahead <= self.whole_mm / 2 else ahead - self.whole_mm

    def spaced(self, first: Place, last: Place, count: int, *, ends: bool) -> list[Place]:
        """Places spaced evenly the shorter way from one to another, the two counted with `ends`."""
        if count == 1 and ends:
            return [first]
        way = self.shorter_way_mm(first, last)
        shares = np.linspace(0.0, 1.0, count) if ends else np.arange(1, count + 1) / (count + 1)
        start = self.of(first)
        inner = [self.place_at(start + way * float(share)) for share in shares]
        return [first, *inner[1:-1], last] if ends else inner
