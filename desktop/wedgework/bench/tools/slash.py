"""Slash and spread: press where the slash opens, then where it ends, then draw it open.

Pressing with Shift where a slash ends gathers it, and another may begin; all of them open together.
The end is the hinge; with Shift while it is drawn open it opens equally far at both ends, with Alt
its edges are drawn smooth. A length may be typed, below nothing to close; two lengths are the gaps
at the start and at the end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TypeAlias

from wedgework.bench.gestures import (
    Cancel,
    Enter,
    Gesture,
    Mm2,
    Move,
    Pointer,
    Press,
    Release,
    Typed,
    is_drag,
)
from wedgework.bench.tools.places import Spot, spot_under
from wedgework.bench.tools.scene import Scene
from wedgework.bench.wishes import Commit, DropPreview, Hint, Preview, Trace, Wish
from wedgework.edits import Edit
from wedgework.edits.slash import SlashLine, SlashSpread, SpreadMany
from wedgework.units.shown import format_number

Line: TypeAlias = tuple[Spot, Spot]
"""A slash: where it starts and where it ends."""


@dataclass(frozen=True, slots=True)
class Idle:
    """No slash has begun."""


@dataclass(frozen=True, slots=True)
class From:
    """The slash begins here; where it ends is not known yet. Others may be gathered already."""

    start: Spot
    gathered: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class Gathering:
    """Slashes are gathered, and the next one may begin."""

    gathered: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The slashes are drawn open: gaps at their starts and at their ends, in mm."""

    lines: tuple[Line, ...]
    open_mm: float = 0.0
    open_to_mm: float = 0.0
    fair: bool = False
    typed: bool = False


State: TypeAlias = Idle | From | Gathering | Opening
Answer: TypeAlias = tuple[State, tuple[Wish, ...]]
_BEGIN = "Press on the outline where the slash opens."
_HINGE = "Press on its outline where it ends: the hinge. Shift gathers it, and another may begin."
_OPEN = "Draw it open and press, or type the gap; Shift opens both ends, Alt fairs the edges."


def step(state: State, gesture: Gesture, scene: Scene) -> Answer:
    """What follows on a gesture."""
    match state, gesture:
        case Idle(), Press():
            spot = spot_under(scene, gesture)
            return (Idle(), (Hint(_BEGIN),)) if spot is None else (From(spot), (Hint(_HINGE),))
        case Idle(), Move():
            return state, (Hint(_BEGIN),)
        case From(), _:
            return _step_from(state, gesture, scene)
        case Gathering(), _:
            return _step_gathering(state, gesture, scene)
        case Opening(), _:
            return _step_opening(state, gesture, scene)
        case _:
            return state, ()


def _step_from(state: From, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move():
            end = _end(state, gesture, scene)
            point = end.at_mm if end else gesture.at_mm
            return state, (_trace(state.gathered, (state.start.at_mm, point)), Hint(_HINGE))
        case Press() | Release():
            end = _end(state, gesture, scene)
            if end is None:
                return state, (Hint(_missed(state, gesture)),)
            lines = (*state.gathered, (state.start, end))
            if gesture.shift:
                return Gathering(lines), (_trace(lines), Hint(_gathered_words(lines)))
            return Opening(lines=lines), (_trace(lines), Hint(_OPEN))
        case Cancel():
            return Idle(), (Trace(),)
        case _:
            return state, ()


def _step_gathering(state: Gathering, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Press():
            spot = spot_under(scene, gesture, state.gathered[0][0].piece)
            if spot is None:
                return state, (Hint(_gathered_words(state.gathered)),)
            return From(spot, state.gathered), (Hint(_HINGE),)
        case Enter():
            return Opening(lines=state.gathered), (_trace(state.gathered), Hint(_OPEN))
        case Cancel():
            return Idle(), (Trace(),)
        case _:
            return state, ()


def _gathered_words(lines: tuple[Line, ...]) -> str:
    said = "1 slash is" if len(lines) == 1 else f"{len(lines)} slashes are"
    return f"{said} gathered. Press where the next one opens, or Enter to draw them open."


def _step_opening(state: Opening, gesture: Gesture, scene: Scene) -> Answer:
    match gesture:
        case Move() if not state.typed:
            state = _opened(state, gesture)
            return state, (Preview((_edit(state),)), Hint(f"{_OPEN} {_said(state, scene)}"))
        case Typed((open_mm, *more)):
            state = replace(state, open_mm=open_mm, open_to_mm=more[0] if more else 0.0, typed=True)
            return state, (Preview((_edit(state),)), Hint(f"{_OPEN} {_said(state, scene)}"))
        case Press():
            state = state if state.typed else _opened(state, gesture)
            return Idle(), (Commit((_edit(state),)), Trace())
        case Enter():
            return Idle(), (Commit((_edit(state),)), Trace())
        case Cancel():
            return Idle(), (DropPreview(), Trace())
        case _:
            return state, ()


def _end(state: From, pointer: Pointer, scene: Scene) -> Spot | None:
    spot = spot_under(scene, pointer, state.start.piece)
    far = spot is not None and is_drag(state.start.at_mm, replace(pointer, at_mm=spot.at_mm))
    return spot if far else None


def _missed(state: From, pointer: Pointer) -> str:
    """A hand that let go where there is no outline is told so; one still at the start is not."""
    return f"No outline lies there. {_HINGE}" if is_drag(state.start.at_mm, pointer) else _HINGE


def _trace(lines: tuple[Line, ...], last: tuple[Mm2, Mm2] | None = None) -> Trace:
    """The line that is being drawn, or was drawn last, and those gathered before it."""
    pairs = [(start.at_mm, end.at_mm) for start, end in lines] + ([last] if last else [])
    return Trace(pairs[-1], lines_mm=tuple(pairs[:-1]))


def _opened(state: Opening, pointer: Pointer) -> Opening:
    """As far as the pointer lies from the last slash: to its right they open, to its left close.

    The right of the way from start to end is the side that moves. Several slashes share the way.
    """
    start, end = state.lines[-1]
    (x0, y0), (x1, y1) = start.at_mm, end.at_mm
    across = (x1 - x0) * (pointer.at_mm[1] - y0) - (y1 - y0) * (pointer.at_mm[0] - x0)
    gap_mm = -across / math.hypot(x1 - x0, y1 - y0) / len(state.lines)
    return replace(
        state, open_mm=gap_mm, open_to_mm=gap_mm if pointer.shift else 0.0, fair=pointer.alt
    )


def _said(state: Opening, scene: Scene) -> str:
    """The gap, and how far the last part turns in all."""
    gaps = scene.said(state.open_mm)
    if state.open_to_mm:
        gaps += f" and {scene.said(state.open_to_mm)}"
    each = " each" if len(state.lines) > 1 else ""
    turn = sum(_turn_deg(line, state.open_mm - state.open_to_mm) for line in state.lines)
    return f"{gaps}{each}, {format_number(turn)}° in all" if turn else f"{gaps}{each}"


def _turn_deg(line: Line, difference_mm: float) -> float:
    length_mm = math.dist(line[0].at_mm, line[1].at_mm)
    return math.degrees(2 * math.asin(max(-1.0, min(1.0, difference_mm / (2 * length_mm)))))


def _edit(state: Opening) -> Edit:
    (start, end), *others = state.lines
    if others or state.fair:
        return SpreadMany(
            piece=start.piece,
            slashes=tuple(_line(*line) for line in state.lines),
            open_mm=state.open_mm,
            open_to_mm=state.open_to_mm,
            fair_ends=state.fair,
        )
    return SlashSpread(
        piece=start.piece,
        from_=start.place,
        to=end.place,
        open_mm=state.open_mm,
        open_to_mm=state.open_to_mm,
    )


def _line(start: Spot, end: Spot) -> SlashLine:
    return SlashLine(
        from_edge=start.place.edge,
        from_mm=start.place.at_mm,
        to_edge=end.place.edge,
        to_mm=end.place.at_mm,
    )
