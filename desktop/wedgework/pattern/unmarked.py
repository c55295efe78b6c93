"""Openings that nobody has marked yet: open rings of the garment, and what passes them."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from wedgework.geometry.length import length_mm
from wedgework.pattern.body import measured
from wedgework.pattern.boundary import Side
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.getting_in import TRUNK, beside_levels, is_about_trunk, open_rings
from wedgework.pattern.levels import level_lines
from wedgework.pattern.limbs import ARM, LEG, LIMB_MEASURES
from wedgework.pattern.lookup import piece_of, the_edge
from wedgework.pattern.openings import whole_ring
from wedgework.pattern.reductions import reduction_of
from wedgework.pattern.surface import surfaces

NEAR_RATIO: Final = 1.4
"""A ring lies round a limb that is larger or smaller than it by less than this."""

LONG_MM: Final = 300.0
"""Round a limb of unknown girths: a longer ring lies at its upper end; common practice, no
source."""


JUMP_MM: Final = 20.0
"""Front and back end at one height in the crotch, where they differ by less; common practice, no
source."""

TRUNK_WORDS: Final = {True: "neck opening", False: "lower edge"}
LIMB_WORDS: Final = {True: "leg opening", False: "arm opening"}
"""What an opening is called whose edges have no name in common."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenRing:
    """A ring that could be marked as an opening: its edges, and the girth that passes it.

    `rise_mm` is how much higher it lies outside than inside on a leg.
    """

    name: str
    edges: tuple[str, ...]
    measure: str
    rise_mm: float = 0.0


def unmarked_rings(project: Project) -> tuple[OpenRing, ...]:
    """Open rings of what hangs on the body's levels, limbs once; none of what is only laid on."""
    return tuple(_rings(project))


def _rings(project: Project) -> Iterator[OpenRing]:
    seen = {
        ref.edge for opening in project.openings.values() for ref in whole_ring(project, opening)
    }
    worn = {own for one in surfaces(project) if _is_worn(project, one.pieces) for own in one.pieces}
    for sides in sorted(open_rings(project), key=lambda ring: sum(side.mirrored for side in ring)):
        edges = {side.edge for side in sides}
        pieces = {piece_of(project, own).id: piece_of(project, own) for own in edges}
        flat = any({edge.id for edge in one.edges} <= edges for one in pieces.values())
        if flat or edges & seen or not worn & set(pieces):
            continue
        seen |= edges
        yield _ring(project, sides, list(pieces.values()))


def _is_worn(project: Project, pieces: tuple[str, ...]) -> bool:
    """Whether one of the pieces is crossed by a level of the trunk."""
    return any(
        level.measure in TRUNK and level_lines(project.pieces[own], level.id)
        for own in pieces
        for level in project.levels.values()
    )


def _ring(project: Project, sides: tuple[Side, ...], pieces: list[Piece]) -> OpenRing:
    refs = tuple(str(side.ref) for side in sides)
    places = [beside_levels(project, piece_of(project, one.edge), one.edge) for one in sides]
    is_top = next((place[1] for place in places if place is not None), None)
    own = _own_name(project, sides, pieces)
    if is_about_trunk(project, sides):
        measure = _trunk(project, is_top=is_top is not False)
        return OpenRing(name=own or TRUNK_WORDS[is_top is not False], edges=refs, measure=measure)
    measure = _limb(project, sides, is_top=is_top)
    rise_mm = _rise_mm(project, sides) if measure == "thigh_girth_mm" else 0.0
    name = own or LIMB_WORDS[measure in LEG]
    return OpenRing(name=name, edges=refs, measure=measure, rise_mm=rise_mm)


def _own_name(project: Project, sides: tuple[Side, ...], pieces: list[Piece]) -> str:
    """What all its edges are called, with the piece where there is only one; else nothing."""
    names = {_plain_name(project, side.edge) for side in sides}
    if len(names) > 1 or not all(names):
        return ""
    only = pieces[0].name or pieces[0].id
    (name,) = names
    return f"{name} of {only.lower()}" if len(pieces) == 1 else name


def _plain_name(project: Project, edge: str) -> str:
    """An edge's name without the numbers that cutting gave to its parts; nothing without one."""
    return re.sub(r"[. ]\d+$", "", the_edge(project, edge).name)


def _limb(project: Project, sides: tuple[Side, ...], *, is_top: bool | None) -> str:
    """The girth of a limb round which a ring lies."""
    ring_mm = sum(length_mm(the_edge(project, side.edge).curve) for side in sides)
    limb, end = (LEG, "ankle_girth_mm") if is_top is False else (ARM, "wrist_girth_mm")
    known = _nearest(project, limb, ring_mm)
    return known or (end if is_top is None or ring_mm < LONG_MM else limb[0])


def _trunk(project: Project, *, is_top: bool) -> str:
    """Above, the largest that is known of shoulders and head; below, the hips."""
    known = ("shoulder_girth_mm", "head_girth_mm") if is_top else ("hip_girth_mm",)
    return next((one for one in known if measured(project.body, one) is not None), known[0])


def _nearest(project: Project, limb: tuple[str, ...], ring_mm: float) -> str | None:
    """The girth of a limb that a ring of such a length lies round, None where none is near."""
    ratios = [
        (abs(math.log(ring_mm / value)), name)
        for name in limb
        if name in LIMB_MEASURES and (value := measured(project.body, name)) is not None
    ]
    ratio, name = min(ratios, default=(math.inf, ""))
    return name if ratio < math.log(NEAR_RATIO) else None


def _rise_mm(project: Project, sides: tuple[Side, ...]) -> float:
    """How far a ring rises on the body from the crotch to the outer side of the leg.

    Heights are from a level that all its pieces have. In the crotch the back lies lower than the
    front, since it runs on under the body: there the ring's heights jump most, or they are least.
    It is read off the front: the upper of both in the crotch, the lower of both at the side.
    """
    ends = []
    for side, base_mm in _bases_mm(project, sides):
        curve = the_edge(project, side.edge).curve
        heights = float(curve.start[1]) - base_mm, float(curve.end[1]) - base_mm
        ends.append(heights[::-1] if side.mirrored else heights)
    if not ends:
        return 0.0
    meetings = [(one[1], other[0]) for one, other in zip(ends, ends[1:] + ends[:1], strict=True)]
    crotch = max(meetings, key=lambda two: (max(abs(two[0] - two[1]), JUMP_MM), -max(two)))
    rise_mm = max(min(two) for two in meetings) - max(crotch)
    return round(max(rise_mm, 0.0) / (1.0 - reduction_of(project, "length")), 1)


def _bases_mm(project: Project, sides: tuple[Side, ...]) -> list[tuple[Side, float]]:
    """The sides whose pieces a level crosses, with its height there: the level of most of them."""
    found: list[tuple[Side, float]] = []
    for level in project.levels.values():
        rows = [(side, level_lines(piece_of(project, side.edge), level.id)) for side in sides]
        known = [(side, float(lines[0].curve.start[1])) for side, lines in rows if lines]
        if len(known) > len(found):
            found = known
    return found
