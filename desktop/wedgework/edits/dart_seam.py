"""Close darts into a style line: they become part of one shaped seam between two panels.

The legs stay where they are, so outline and angles are kept to the last bit; what was the dart's
angle at its apex is then the seam's shaping there.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated

import msgspec
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Name, Place, PointMm
from wedgework.edits.carry import carried
from wedgework.edits.cut import CutPiece, Through, bare_parts, cut_past
from wedgework.edits.dart_chain import chained
from wedgework.edits.darts import DartInRing, dart_in_ring
from wedgework.edits.inside import in_order, parted
from wedgework.edits.pivot import pivoted
from wedgework.edits.places import Naming, cut_at, place_point
from wedgework.edits.reaching import reaching_outline
from wedgework.edits.slits import Slit, slit_from_point_to_point, without_slits
from wedgework.edits.surgery import Outline
from wedgework.edits.ways import refuse_way_out
from wedgework.geometry.curve import Point, joined, line, with_ends
from wedgework.geometry.length import length_mm
from wedgework.geometry.regions import contains_point
from wedgework.pattern.changes import with_piece_replaced, with_seams
from wedgework.pattern.darts import darts_of, measure_dart, shares_apex
from wedgework.pattern.document import Piece, Project, Ring, Run, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.instances import reversed_run
from wedgework.pattern.lookup import piece_of, the_seam

SEAM_NAME = Annotated[Name, Meta(description="what the seam is called; after the dart if empty")]


class DartToSeam(Edit, frozen=True, kw_only=True):
    """Cut on from a dart's apex, so that dart and cut become one shaped seam of two panels."""

    dart: Annotated[Id, Meta(description="dart")]
    to: Annotated[Place, Meta(description="where the cut ends: on the outline, or another apex")]
    via_mm: Annotated[
        tuple[PointMm, ...],
        Meta(max_length=1000, description="points that a smooth cut passes through"),
    ] = ()
    name: SEAM_NAME = ""

    def change(self, project: Project) -> Project:
        """EditRefused where the cut would leave the piece, or another dart shares the apex."""
        found = dart_in_ring(project, self.dart)
        _refuse_apex_shared(project, found, [self.dart])
        other = _dart_ending_at(project, found, self.to)
        cut = CutPiece(
            piece=found.piece.id,
            from_=Place(found.back[0].id, 0.0),
            to=self.to,
            via_mm=self.via_mm,
        )
        after = cut.change(project)
        between = next(row for key, row in after.seams.items() if key not in project.seams)
        seam = _one_seam(found, (between.a, between.b), other)
        gone = [between.id, *([other.dart.id] if other else [])]
        named = replace(seam, name=self.name or seam_name(found.dart))
        return with_seams(after, named, removed=gone)


class DoubleDartToSeam(Edit, frozen=True, kw_only=True):
    """Run a double-pointed dart out at both points, so that it becomes part of one shaped seam."""

    dart: Annotated[Id, Meta(description="double-pointed dart")]
    from_: Annotated[
        Place | None,
        Meta(description="where the line into its tip starts; straight on if left out"),
    ] = msgspec.field(name="from", default=None)
    to: Annotated[
        Place | None,
        Meta(description="where the line from its apex ends; straight on if left out"),
    ] = None
    name: SEAM_NAME = ""

    def change(self, project: Project) -> Project:
        """EditRefused where the dart has one point, or a line from it would leave the piece."""
        dart = the_seam(project, self.dart)
        if dart.tip is None:
            raise EditRefused(
                f"“{dart.name or dart.id}” is no dart with two points.", culprit=dart.id
            )
        piece = piece_of(project, dart.a[0].edge)
        cut, slit = self._way(project, piece, dart)
        after = cut_past(project, piece, cut, [slit])
        between = next(row for key, row in after.seams.items() if key not in project.seams)
        seam = _one_seam_of_slit(after, between, after.seams[dart.id])
        named = replace(seam, name=self.name or seam_name(dart))
        return with_seams(after, named, removed=[between.id])

    def _way(self, project: Project, piece: Piece, dart: Seam) -> tuple[Through, Slit]:
        """The line from the outline to the tip, across the slit, and on from the apex."""
        slit = slit_from_point_to_point(piece, dart)
        found = measure_dart(project, dart)
        middle = line(slit.cutout.edges[slit.enters.index].curve.start, found.apex_mm)
        straight = reaching_outline(without_slits(piece, [slit]), middle)
        from_, to = self.from_ or straight.from_, self.to or straight.to
        lead = line(place_point(piece, from_), middle.start)
        trail = line(middle.end, place_point(piece, to))
        for one in (lead, trail):
            refuse_way_out(piece, one, "The line")
        at_mm = length_mm(lead), length_mm(lead) + length_mm(middle)
        through = Through(from_, to, joined(lead, middle, trail))
        return through, replace(slit, from_mm=at_mm[0], to_mm=at_mm[1])


def _one_seam_of_slit(project: Project, cut: Seam, dart: Seam) -> Seam:
    """The seam of both lines and the legs between them; side A stays that of leg A."""
    a_is_left = piece_of(project, cut.a[0].edge) is piece_of(project, dart.a[0].edge)
    sides = (cut.a, cut.b) if a_is_left else (cut.b, cut.a)
    a, b = ((side[0], *leg, side[1]) for side, leg in zip(sides, (dart.a, dart.b), strict=True))
    return replace(dart, a=a, b=b, apex=None, tip=None)


class DartsToSeam(Edit, frozen=True, kw_only=True):
    """Take darts into one seam through their points: it starts at the first and ends at the second.

    Of one apex the first stays and the others swing to the second's mouth; of several, those
    between are closed where the seam passes their points.
    """

    darts: Annotated[
        tuple[Id, ...],
        Meta(min_length=2, description="darts; the seam starts at the first, ends at the second"),
    ]
    to: Annotated[
        Place | None,
        Meta(description="where the second swings to, and all of its apex; its mouth if left out"),
    ] = None
    via_mm: Annotated[
        tuple[PointMm, ...],
        Meta(max_length=1000, description="points that the seam passes between different apexes"),
    ] = ()
    name: SEAM_NAME = ""

    def change(self, project: Project) -> Project:
        """EditRefused where one of the darts cannot swing or close, or no line leads through."""
        names = list(dict.fromkeys(self.darts))
        if len(names) < 2:
            raise EditRefused("Choose two darts or more.", culprit=names[0])
        darts = [dart_in_ring(project, own) for own in names]
        _refuse_pieces_apart(darts)
        for one in darts:
            _refuse_apex_shared(project, one, names)
        first, *others = names
        apart = [own for own in others if not _share(project, first, own)]
        last = apart[0] if apart else others[0]
        after = project if self.to is None else pivoted(project, last, self.to, 1.0)
        after, left = _gathered(after, [first, last], [own for own in others if own != last])
        if apart:
            return _through_apexes(after, [first, *left, last], self)
        return _parted_at_apex(after, first, last, self.name)


def _share(project: Project, one: str, other: str) -> bool:
    return shares_apex(project, project.seams[one], project.seams[other])


def _refuse_pieces_apart(darts: list[DartInRing]) -> None:
    for one in darts[1:]:
        if one.piece is not darts[0].piece:
            raise EditRefused("The darts must be in one piece.", culprit=one.dart.id)


def _gathered(project: Project, ends: list[str], others: list[str]) -> tuple[Project, list[str]]:
    """The project where darts of one apex are one dart, and those left that share no other's.

    What shares the apex of an end goes into that one, into the second of two.
    """
    left: list[str] = []
    for own in others:
        into = next((one for one in (*ends[::-1], *left) if _share(project, one, own)), None)
        if into is None:
            left.append(own)
        else:
            there = Place(dart_in_ring(project, into).back[0].id, 0.0)
            project = pivoted(project, own, there, 1.0)
    return project, left


def _through_apexes(project: Project, names: list[str], edit: DartsToSeam) -> Project:
    """The project where darts of different apexes are one seam, from the first to the last."""
    first, last = dart_in_ring(project, names[0]), dart_in_ring(project, names[-1])
    chain = chained(project, names, edit.via_mm)
    seam = _one_seam(first, (chain.left, chain.right), last)
    named = replace(seam, name=edit.name or seam_name(first.dart))
    return with_seams(chain.project, named, removed=[names[-1]])


def seam_name(dart: Seam) -> str:
    """What a seam is called that was this dart."""
    plain = dart.name.removeprefix("dart ")
    return f"seam {plain or dart.id}"


def _refuse_apex_shared(project: Project, found: DartInRing, taken: list[str]) -> None:
    for other in darts_of(project):
        if other.id in taken or piece_of(project, other.a[0].edge) is not found.piece:
            continue
        if shares_apex(project, found.dart, other):
            raise EditRefused(
                f"Dart “{other.name or other.id}” shares this apex: take it into the seam too.",
                culprit=other.id,
            )


def _dart_ending_at(project: Project, found: DartInRing, to: Place) -> DartInRing | None:
    cut = cut_at(found.piece, to)
    if cut.at_mm > 0.0:
        return None
    corner = found.piece.edges[cut.index].corner
    ending = (dart for dart in darts_of(project) if dart.apex == corner)
    return next((dart_in_ring(project, dart.id) for dart in ending), None)


def _one_seam(found: DartInRing, cut: tuple[Run, Run], other: DartInRing | None) -> Seam:
    """The seam of the dart's legs, the sides of the cut, and the legs of a dart beyond.

    Of the cut, the first run lies in the panel of the leg that the outline walks to the apex.
    """
    sides = [_leg_run(found, found.towards), _leg_run(found, found.back)]
    runs = [[*side, *on] for side, on in zip(sides, cut, strict=True)]
    wanted_mm = found.dart.wanted_mm
    if other is not None:
        runs[0] += reversed_run(_leg_run(other, other.back))
        runs[1] += reversed_run(_leg_run(other, other.towards))
        # Walked from its apex a dart's sides lie the other way round.
        is_swapped = _a_is_towards(found) == _a_is_towards(other)
        wanted_mm += -other.dart.wanted_mm if is_swapped else other.dart.wanted_mm
    a, b = runs if _a_is_towards(found) else runs[::-1]
    return replace(found.dart, a=tuple(a), b=tuple(b), wanted_mm=wanted_mm, apex=None)


def _leg_run(found: DartInRing, leg: Ring) -> Run:
    own = {edge.id for edge in leg}
    return found.dart.a if found.dart.a[0].edge in own else found.dart.b


def _a_is_towards(found: DartInRing) -> bool:
    return found.dart.a[0].edge in {edge.id for edge in found.towards}


@dataclass(frozen=True, eq=False, slots=True)
class _Halves:
    """The two rings that an outline falls into where it passes one point twice."""

    rings: tuple[Ring, Ring]

    def where(self, point: Point) -> int:
        """0 for the first ring, 1 for the other."""
        return 0 if contains_point([edge.curve for edge in self.rings[0]], point) else 1


def _parted_at_apex(project: Project, first: str, second: str, name: str) -> Project:
    """The project where a piece that hangs on the apex of two darts is two panels and a seam."""
    one, other = dart_in_ring(project, first), dart_in_ring(project, second)
    piece, naming = one.piece, Naming(project)
    halves = _Halves((_ring(one, other), _ring(other, one)))
    drawings, fates = parted(piece, [], halves.where, naming)
    outlines = [Outline(edges=ring, fates={}) for ring in halves.rings]
    parts = [
        in_order(bare, [drawing])
        for bare, drawing in zip(bare_parts(piece, outlines, naming), drawings, strict=True)
    ]
    after = carried(with_piece_replaced(project, piece.id, *parts), fates)
    seam = replace(_one_seam(one, ((), ()), other), name=name or seam_name(one.dart))
    return with_seams(after, seam, removed=[second])


def _ring(one: DartInRing, other: DartInRing) -> Ring:
    """The outline from the apex by the other dart's far leg round to the first dart's near one."""
    ring = other.back + _beyond(other.rest, one.towards) + one.towards
    last = ring[-1]
    if (last.curve.end == ring[0].curve.start).all():
        return ring
    # Swinging has blurred the apex by a rounding.
    shut = replace(last, curve=with_ends(last.curve, last.curve.start, ring[0].curve.start))
    return (*ring[:-1], shut)


def _beyond(rest: Ring, leg: Ring) -> Ring:
    """The outline of `rest` up to where a leg begins."""
    at = next(i for i, edge in enumerate(rest) if edge is leg[0])
    return rest[:at]
