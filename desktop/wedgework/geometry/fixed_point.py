"""Numbers that a calculation gives back as they were put in, found in few rounds.

Putting in again and again what came out leaves a part of the error each time. Here the last rounds
are mixed so that, were the calculation linear, their errors would cancel (Anderson, Iterative
procedures for nonlinear integral equations, Journal of the ACM 12, 1965).
"""

from __future__ import annotations

from typing import Final

import numpy as np

from wedgework.geometry.curve import Floats

MOST_KEPT: Final = 4
"""Rounds that are mixed: more would be told apart by rounding alone."""


class FixedPoint:
    """What was put in and what came out, (k,), of the last rounds; begins with what is put in."""

    def __init__(self, start: Floats) -> None:
        self._in = start
        self._outs: list[Floats] = []
        self._errors: list[Floats] = []

    @property
    def left(self) -> float:
        """The largest change in the last round."""
        return float(np.abs(self._errors[-1]).max(initial=0.0))

    def after(self, out: Floats) -> Floats:
        """What to put in next, now that `out` has come out of what was put in last."""
        self._outs = [*self._outs[1 - MOST_KEPT :], out]
        self._errors = [*self._errors[1 - MOST_KEPT :], out - self._in]
        self._in = out
        if len(self._outs) > 1:
            changes = np.diff(np.array(self._errors), axis=0).T
            shares = np.linalg.lstsq(changes, self._errors[-1], rcond=None)[0]
            self._in = out - np.diff(np.array(self._outs), axis=0).T @ shares
        return self._in
