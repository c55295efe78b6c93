"""Places of pins that hang on nothing: inside a piece they go with it, on the table they stay.

No edit knows of them. What an edit did to a piece is read from its corners: where all of them went
by one rigid motion, the places that lay in the piece go by the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from wedgework.geometry.curve import Points
from wedgework.geometry.motion import Affine, fitted_motion
from wedgework.geometry.regions import contains_point
from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Anchor, Bare, Piece, Pin, Project


def with_bare_places_carried(before: Project, after: Project) -> Project:
    """The project with bare places of pins moved along with the pieces that they lay in."""
    pins = [pin for pin in after.pins.values() if any(map(is_bare, pin.anchors))]
    if not pins or before.pieces is after.pieces:
        return after
    rows = {}
    for pin in pins:
        anchors = tuple(_carried(before, after, one) for one in pin.anchors)
        if before.pins.get(pin.id) is pin and anchors != pin.anchors:
            rows[pin.id] = replace(pin, anchors=anchors)
    return replace(after, pins=after.pins.with_rows(rows)) if rows else after


def is_bare(anchor: Anchor) -> bool:
    """Whether an anchor is a place on the table alone."""
    return isinstance(anchor, tuple)


def has_bare_places(pin: Pin) -> bool:
    """Whether a pin hangs on the bare table with any of its ends."""
    return any(map(is_bare, pin.anchors))


def _carried(before: Project, after: Project, anchor: Anchor) -> Anchor:
    if not isinstance(anchor, tuple):
        return anchor
    for piece in _around(before, anchor):
        now = after.pieces.get(piece.id)
        motion = None if now is None or now is piece else _motion(piece, now)
        if motion is not None:
            x, y = motion.points(anchor).tolist()
            return x, y
    return anchor


def _around(project: Project, at_mm: Bare) -> Iterator[Piece]:
    """Pieces that a place lies in, the uppermost first."""
    for piece in reversed(list(project.pieces.values())):
        if contains_point([edge.curve for edge in piece.edges], at_mm):
            yield piece


def _motion(was: Piece, now: Piece) -> Affine | None:
    """The rigid motion that took a piece to where it is now; None where it changed otherwise."""
    old, new = _corners(was), _corners(now)
    if old.keys() != new.keys():
        return None
    ends: tuple[Points, Points] = np.array(list(old.values())), np.array([new[key] for key in old])
    for mirrored in (False, True):
        motion = fitted_motion(*ends, mirrored=mirrored)
        if np.abs(motion.points(ends[0]) - ends[1]).max() <= SAME_STATION_MM:
            return motion
    return None


def _corners(piece: Piece) -> dict[str, Points]:
    return {edge.corner: edge.curve.start for edge in piece.edges}
