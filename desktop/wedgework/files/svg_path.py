"""Path data of SVG to cubics in user units: every command, as loosely written as it may be.

Source of the grammar: SVG 2, 9.3. Plain complex numbers, no arrays: outlines traced as chords
come as hundreds of thousands of numbers, a few to each command.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final

from wedgework.files.ellipses import arc_cubics
from wedgework.files.svg_numbers import NUMBER, BadNumber, finite, numbers, refuse_not_finite

_COMMAND: Final = re.compile(r"([MmZzLlHhVvCcSsQqTtAa])")
_GAP: Final = r"[\s,]*"
_ARC: Final = re.compile(
    _GAP + (_GAP.join([rf"({NUMBER.pattern})"] * 3 + ["([01])"] * 2 + [rf"({NUMBER.pattern})"] * 2))
)


@dataclass(slots=True, eq=False)
class Subpath:
    """One run of the pen: `points` holds four to a cubic, `straight` which are lines."""

    points: list[complex] = field(default_factory=list)
    straight: list[bool] = field(default_factory=list)
    closed: bool = False


class PathPen:
    """Draws subpaths in user units; `error` is how far an arc's cubics may lie off it."""

    def __init__(self, error: float) -> None:
        self.subpaths: list[Subpath] = []
        self.here = 0j
        self._start = 0j
        self.error = error
        self._open: Subpath | None = None
        # Where S and T mirror their first handle from; None after any other command.
        self.last_cubic: complex | None = None
        self.last_conic: complex | None = None

    def move_to(self, point: complex) -> None:
        """Lift the pen and set it down."""
        self.here = self._start = point
        self._open = None

    def line_to(self, point: complex) -> None:
        """A straight line."""
        path = self._path()
        here = self.here
        path.points += (here, here, point, point)
        path.straight.append(True)
        self.here = point

    def cubic_to(self, first: complex, second: complex, point: complex) -> None:
        """A cubic, kept as it is."""
        path = self._path()
        path.points += (self.here, first, second, point)
        path.straight.append(False)
        self.here = point

    def conic_to(self, handle: complex, point: complex) -> None:
        """A quadratic, as the cubic that it is."""
        here = self.here
        self.cubic_to(here + (handle - here) * 2 / 3, point + (handle - point) * 2 / 3, point)

    def arc_to(  # noqa: PLR0913 - the seven numbers of the command
        self, rx: float, ry: float, turn_deg: float, point: complex, *, large: bool, sweep: bool
    ) -> None:
        """An arc of an ellipse."""
        if point == self.here:
            return
        if rx == 0.0 or ry == 0.0:
            self.line_to(point)
            return
        arc = arc_cubics(
            self.here, point, (rx, ry), turn_deg, large=large, sweep=sweep, error=self.error
        )
        for first, second, end in arc:
            self.cubic_to(first, second, end)

    def close(self) -> None:
        """A straight line back to where the pen was set down."""
        if self._open is not None:
            if self.here != self._start:
                self.line_to(self._start)
            self._open.closed = True
        self.move_to(self._start)

    def _path(self) -> Subpath:
        if self._open is None:
            self._open = Subpath()
            self.subpaths.append(self._open)
        return self._open


def read_path(data: str, error: float, element: str = "") -> tuple[list[Subpath], bool]:
    """Subpaths of path data, and whether all of it was understood.

    What comes before a fault is drawn, as SVG asks. FileRefused where a number is not finite.
    """
    refuse_not_finite(data, element)
    pen = PathPen(error)
    parts = _COMMAND.split(data)
    sound = not parts[0].strip()
    # Nothing is drawn before the pen is set down.
    sound = sound and (len(parts) == 1 or parts[1] in "Mm")
    if sound:
        sound = all(
            _run(pen, command, arguments, element)
            for command, arguments in zip(parts[1::2], parts[2::2], strict=True)
        )
    return pen.subpaths, sound


def _run(pen: PathPen, command: str, arguments: str, element: str) -> bool:
    """Carry out one command and its repeats; whether it was understood to its end."""
    name = command.upper()
    if name == "Z":
        pen.close()
        pen.last_cubic = pen.last_conic = None
        return not arguments.strip(" \t\r\n\f,")
    try:
        values = _arc_numbers(arguments, element) if name == "A" else numbers(arguments, element)
    except BadNumber:
        return False
    count, do = _COMMANDS[name]
    relative = command.islower()
    for index in range(0, len(values) - count + 1, count):
        last_cubic, last_conic = pen.last_cubic, pen.last_conic
        origin = pen.here if relative else 0j
        do(pen, values[index : index + count], origin)
        if pen.last_cubic is last_cubic:
            pen.last_cubic = None
        if pen.last_conic is last_conic:
            pen.last_conic = None
        if name == "M":
            do = _line
    return len(values) > 0 and len(values) % count == 0


def _arc_numbers(text: str, element: str) -> list[float]:
    """Numbers of an arc, whose two flags may stand without a gap; BadNumber at anything else."""
    found: list[float] = []
    at = 0
    while (match := _ARC.match(text, at)) is not None:
        found += [finite(part, element) for part in match.groups()]
        at = match.end()
    if text[at:].strip(" \t\r\n\f,"):
        raise BadNumber(text)
    return found


def _move(pen: PathPen, v: list[float], origin: complex) -> None:
    pen.move_to(origin + complex(v[0], v[1]))


def _line(pen: PathPen, v: list[float], origin: complex) -> None:
    pen.line_to(origin + complex(v[0], v[1]))


def _across(pen: PathPen, v: list[float], origin: complex) -> None:
    pen.line_to(complex(origin.real + v[0], pen.here.imag))


def _down(pen: PathPen, v: list[float], origin: complex) -> None:
    pen.line_to(complex(pen.here.real, origin.imag + v[0]))


def _cubic(pen: PathPen, v: list[float], origin: complex) -> None:
    second = origin + complex(v[2], v[3])
    pen.cubic_to(origin + complex(v[0], v[1]), second, origin + complex(v[4], v[5]))
    pen.last_cubic = second


def _smooth_cubic(pen: PathPen, v: list[float], origin: complex) -> None:
    first = pen.here if pen.last_cubic is None else 2 * pen.here - pen.last_cubic
    second = origin + complex(v[0], v[1])
    pen.cubic_to(first, second, origin + complex(v[2], v[3]))
    pen.last_cubic = second


def _conic(pen: PathPen, v: list[float], origin: complex) -> None:
    handle = origin + complex(v[0], v[1])
    pen.conic_to(handle, origin + complex(v[2], v[3]))
    pen.last_conic = handle


def _smooth_conic(pen: PathPen, v: list[float], origin: complex) -> None:
    handle = pen.here if pen.last_conic is None else 2 * pen.here - pen.last_conic
    pen.conic_to(handle, origin + complex(v[0], v[1]))
    pen.last_conic = handle


def _arc(pen: PathPen, v: list[float], origin: complex) -> None:
    point = origin + complex(v[5], v[6])
    pen.arc_to(v[0], v[1], v[2], point, large=v[3] != 0, sweep=v[4] != 0)


_COMMANDS: Final[dict[str, tuple[int, Callable[[PathPen, list[float], complex], None]]]] = {
    "M": (2, _move),
    "L": (2, _line),
    "H": (1, _across),
    "V": (1, _down),
    "C": (6, _cubic),
    "S": (4, _smooth_cubic),
    "Q": (4, _conic),
    "T": (2, _smooth_conic),
    "A": (7, _arc),
}
