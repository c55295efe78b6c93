"""The line that drafted parts follow: edges laid end to end, bent, moved aside."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np

from wedgework.drafting.sources import run_of_refs
from wedgework.geometry.crossing import crossings
from wedgework.geometry.curve import Curve, Floats, joined, with_ends
from wedgework.geometry.fit import fitted_curve
from wedgework.geometry.length import length_mm
from wedgework.geometry.motion import Affine, moved, rotation, translation
from wedgework.geometry.offset import offset_curve
from wedgework.geometry.split import part
from wedgework.geometry.tolerances import (
    BENT_MM,
    FREE_EDGE_MM,
    JOINT_RAD,
    PARALLEL_MM,
    PARALLEL_RELATIVE,
    SAME_STATION_MM,
)
from wedgework.geometry.turning import (
    angle_between,
    curvatures_at,
    end_tangent,
    joint_turnings_rad,
    start_tangent,
    tangents_at,
)
from wedgework.pattern.angles import edge_turning
from wedgework.pattern.boundary import Boundary
from wedgework.pattern.boundary import Side as GarmentSide
from wedgework.pattern.document import Project, Ref, Spot
from wedgework.pattern.errors import DraftRefused
from wedgework.pattern.instances import made_seams
from wedgework.pattern.lookup import edge_in
from wedgework.pattern.runs import Stretch, WalkedRun

BEND_STEPS: Final = 48
"""Stretches of a line that is bent anew: a quarter circle in so few is right to 1e-7 of itself."""

BEND_PLACES: Final = 129
"""Places of a stretch where its bend is held against the distance that it is moved aside."""

WINDOW_MM: Final = 30.0
"""A straight strip is eased along so much of a line; common practice, no source."""

MOST_ASIDE_MM: Final = 2000.0
"""Rolls are about a metre wide; twice that is more than any part that follows a line."""

LEAST_ASIDE_MM: Final = 0.05
"""Narrower than a blade cuts."""

_MIRROR: Final = Affine(np.array([[-1.0, 0.0], [0.0, 1.0]]), np.zeros(2))


@dataclass(frozen=True, eq=False, kw_only=True)
class GarmentLine:
    """Edges of a garment laid end to end, the garment on the left, as one curve from (0, 0).

    `run` is the walk, `refs` how it is written, `joints_mm` the stations where it passes from one
    piece to the next. `turning_rad` is positive where the garment's edge is convex. `motions` lay
    the piece of each stretch beside the curve.
    """

    run: WalkedRun
    refs: tuple[Ref, ...]
    curve: Curve
    joints_mm: tuple[float, ...]
    turning_rad: float
    motions: tuple[Affine, ...]

    @property
    def length_mm(self) -> float:
        """Length of all edges together."""
        return self.run.length_mm

    def spot_at(self, share: float) -> Spot | None:
        """The place on an edge at a share of the whole line, for a mark there.

        None where the edge stands in the line twice, as itself and as its mirror image: one mark on
        it would be two of the line.
        """
        station_mm = share * self.length_mm
        edges = [ref.edge for ref in self.refs]
        there = (
            stretch
            for stretch in self.run.stretches
            if stretch.from_mm - SAME_STATION_MM <= station_mm <= stretch.to_mm + SAME_STATION_MM
        )
        stretch = next((one for one in there if edges.count(one.edge.id) == 1), None)
        return None if stretch is None else Spot(stretch.edge.id, stretch.own_mm(station_mm))


def garment_line(project: Project, refs: Iterable[str]) -> GarmentLine:
    """The line of some edges, walked so that the garment lies on the left.

    Where the edges follow one another on the joined garment, that is their order, however they
    were named; else they are taken in the order given. DraftRefused where an edge is not there, or
    some lie on the other side of the walk.
    """
    run = run_of_refs(project, refs)
    if (order := _order_on_garment(project, run)) is not None:
        run = run_of_refs(project, map(str, order))
    sides = {stretch.ref.on_left for stretch in run.stretches}
    if len(sides) > 1:
        raise DraftRefused(
            "The edges lie on different sides of the walk: name them in the order and direction in "
            "which one walks along them."
        )
    if not sides.pop():
        turned = [Ref(s.ref.edge, not s.ref.backward, s.ref.mirrored) for s in run.stretches]
        run = run_of_refs(project, [str(ref) for ref in reversed(turned)])
    between = list(zip(run.stretches, run.stretches[1:], strict=False))
    curve, motions = _laid_out(run)
    return GarmentLine(
        run=run,
        refs=tuple(stretch.ref for stretch in run.stretches),
        curve=curve,
        motions=motions,
        joints_mm=tuple(one.to_mm for one, other in between if _is_joint(one, other)),
        turning_rad=sum(_turnings(run)),
    )


def _order_on_garment(project: Project, run: WalkedRun) -> list[Ref] | None:
    """The edges of a run as they follow one another round the open garment; None if they do not."""
    if any(edge_in(s.piece, s.edge.id) is None for s in run.stretches):
        return None
    named = [GarmentSide(s.ref.edge, s.ref.mirrored) for s in run.stretches]
    boundary = Boundary(project)
    boundary.join(made for made in made_seams(project) if not made.seam.laid_on)
    follows = {side: found[0] for side in named if (found := boundary.after(side)) is not None}
    starts = [side for side in named if side not in follows.values()] or named[:1]
    chain = [starts[0]]
    while follows.get(chain[-1]) in named and follows[chain[-1]] not in chain:
        chain.append(follows[chain[-1]])
    return [side.ref for side in chain] if len(chain) == len(set(named)) == len(named) else None


def _is_joint(before: Stretch, after: Stretch) -> bool:
    """Whether the walk passes from one piece to another there."""
    return before.piece is not after.piece or before.ref.mirrored != after.ref.mirrored


def _turnings(run: WalkedRun) -> Iterable[float]:
    yield from (edge_turning(stretch.edge) for stretch in run.stretches)
    yield from (turning for _, turning in run.joint_turnings())


def _laid_out(run: WalkedRun) -> tuple[Curve, tuple[Affine, ...]]:
    """All stretches, each going on from the one before at the angle at which they are joined.

    With them how the piece of each is laid there.
    """
    turns = [*(turning for _, turning in run.joint_turnings()), 0.0]
    at, heading = np.zeros(2), np.array([1.0, 0.0])
    parts: list[Curve] = []
    motions: list[Affine] = []
    for stretch, turn in zip(run.stretches, turns, strict=True):
        own = run.curve_of(stretch)
        flip = _MIRROR if stretch.ref.mirrored else translation((0.0, 0.0))
        part = moved(own, flip)
        shift = translation(at - part.start)
        swing = rotation(angle_between(start_tangent(part), heading), at)
        part = moved(moved(part, shift), swing)
        parts.append(part)
        motions.append(swing.after(shift.after(flip)))
        at = part.end
        heading = rotation(turn).points(end_tangent(part))
    return joined(*parts), tuple(motions)


def bent_by(curve: Curve, turn_rad: float) -> Curve:
    """The curve with so much more turning to the left, shared out evenly along it.

    It is as long as before and starts in the same place and direction; a kink in it stays as it
    is. Within BENT_MM of the exact one.
    """
    if turn_rad == 0.0:
        return curve
    whole_mm = length_mm(curve)
    turned, at, parts = 0.0, curve.start, list[Curve]()
    for stretch in smooth_stretches(curve):
        share = turn_rad * length_mm(stretch) / whole_mm
        bent = _bent(moved(stretch, rotation(turned, stretch.start)), share)
        parts.append(moved(bent, translation(at - bent.start)))
        turned, at = turned + share, parts[-1].end
    return joined(*parts)


def most_bent(line: GarmentLine, window_mm: float = WINDOW_MM) -> float:
    """The greatest turning of the line over a window of its walk, in rad by mm.

    A kink is made by hand over some centimetres, so no place is looked at alone.
    """
    stations, turned = line.run.turning_profile()
    window = min(window_mm, line.length_mm)
    starts = np.linspace(0.0, line.length_mm - window, BEND_PLACES)
    turns = np.interp(starts + window, stations, turned) - np.interp(starts, stations, turned)
    return float(np.abs(turns).max()) / window


def smooth_stretches(curve: Curve) -> list[Curve]:
    """The stretches of a curve between its kinks, in order."""
    kinks = np.flatnonzero(np.abs(joint_turnings_rad(curve)) > JOINT_RAD) + 1
    return [Curve(part) for part in np.split(curve.segments, kinks)]


def _bent(curve: Curve, turn_rad: float) -> Curve:
    """A smooth curve with so much more turning to the left."""
    whole_mm = length_mm(curve)
    nodes, weights = np.polynomial.legendre.leggauss(8)
    edges = np.linspace(0.0, whole_mm, BEND_STEPS * len(curve) + 1)
    half = np.diff(edges) / 2.0
    inner = edges[:-1, None] + half[:, None] * (1.0 + nodes)
    headings = _turned(tangents_at(curve, inner.ravel()), turn_rad * inner.ravel() / whole_mm)
    steps = (headings.reshape(*inner.shape, 2) * (weights * half[:, None])[..., None]).sum(axis=1)
    places = curve.start + np.concatenate([np.zeros((1, 2)), np.cumsum(steps, axis=0)])
    ends = _turned(tangents_at(curve, edges), turn_rad * edges / whole_mm)
    third = 2.0 * half[:, None] / 3.0
    low, high = places[:-1], places[1:]
    chain = np.stack([low, low + third * ends[:-1], high - third * ends[1:], high], axis=1)
    return as_long(fitted_curve(Curve(chain), BENT_MM), whole_mm)


def _turned(directions: Floats, angles_rad: Floats) -> Floats:
    cos, sin = np.cos(angles_rad), np.sin(angles_rad)
    x, y = directions[:, 0], directions[:, 1]
    return np.stack([cos * x - sin * y, sin * x + cos * y], axis=1)


def as_long(curve: Curve, wanted_mm: float) -> Curve:
    """The curve scaled about its start to an exact length; its turning stays."""
    scale = wanted_mm / length_mm(curve)
    return Curve(curve.start + (curve.segments - curve.start) * scale)


def aside(curve: Curve, distance_mm: float) -> Curve:
    """The curve moved to its left by a distance, right where that is below nothing.

    At a kink it goes round on the outer side, and is cut off where both parts meet on the inner.
    DraftRefused where a bend is tighter than the distance.
    """
    if abs(distance_mm) > MOST_ASIDE_MM:
        raise DraftRefused(f"No sheet is {abs(distance_mm):.0f} mm wide: make it narrower.")
    if abs(distance_mm) < LEAST_ASIDE_MM:
        raise DraftRefused(f"Nothing can be cut {abs(distance_mm):.2g} mm wide: make it wider.")
    stretches = smooth_stretches(curve)
    for one in stretches:
        bends = curvatures_at(one, np.linspace(0.0, length_mm(one), BEND_PLACES))
        if (1.0 - bends * distance_mm).min() <= 0.0:
            raise DraftRefused(
                f"The line bends too tightly to be moved aside by {abs(distance_mm):.1f} mm: make "
                "it narrower."
            )
    error_mm = max(PARALLEL_MM, PARALLEL_RELATIVE * abs(distance_mm))
    parts = [in_few(offset_curve(one, distance_mm, error_mm)) for one in stretches]
    if len(parts) == 1:
        return parts[0]
    turns = joint_turnings_rad(curve)
    if not (turns * distance_mm > JOINT_RAD * abs(distance_mm)).any():
        return in_few(offset_curve(curve, distance_mm, error_mm))
    return _cut_off(parts, distance_mm)


def in_few(curve: Curve) -> Curve:
    """The curve in as few cubics as a hand can bend, its kinks kept."""
    done: list[Curve] = []
    for stretch in smooth_stretches(curve):
        few = fitted_curve(stretch, FREE_EDGE_MM)
        best = few if len(few) < len(stretch) else stretch
        done.append(with_ends(best, done[-1].end if done else stretch.start, stretch.end))
    return joined(*done)


def _cut_off(parts: list[Curve], distance_mm: float) -> Curve:
    """Moved parts cut off where each meets the next; DraftRefused where they do not meet."""
    done = [parts[0]]
    for following in parts[1:]:
        met = crossings(done[-1], following)
        if len(met) == 0:
            raise DraftRefused(
                f"The line has a corner that cannot be moved aside by {abs(distance_mm):.1f} mm: "
                "true the corner first, or make it narrower."
            )
        own, other = (float(at) for at in met[-1])
        before = part(done[-1], 0.0, own)
        after = part(following, other, length_mm(following))
        done[-1] = before
        done.append(with_ends(after, before.end, after.end))
    return joined(*done)
