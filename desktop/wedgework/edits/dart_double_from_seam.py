"""Make a seam that is shaped in its middle a double-pointed dart: the two panels become one piece.

Before and beyond the shaped part the sides lie flat on each other; what is between is the slit.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Final

import numpy as np
from msgspec import Meta

from wedgework.edits.base import Edit, Id, Name, NotNegativeMm
from wedgework.edits.carry import carried
from wedgework.edits.dart_from_seam import (
    FLAT_MM,
    SeamSide,
    dart_name,
    flat_from,
    greater_first,
    laid_on,
    refuse_unfit,
    side_of_seam,
    split_at,
)
from wedgework.edits.move import moved_piece
from wedgework.edits.panels_unite import Joint
from wedgework.edits.places import Naming
from wedgework.geometry.crossing import crosses_itself
from wedgework.geometry.curve import Curve, Floats, with_ends
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.length import length_mm, points_at
from wedgework.geometry.motion import Affine
from wedgework.geometry.tolerances import LEAST_WIDTH_MM, SAME_STATION_MM
from wedgework.pattern.changes import with_piece_replaced, with_pieces, with_seams
from wedgework.pattern.document import Cutout, Project, Ring, Run, Seam
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.instances import reversed_run
from wedgework.pattern.lookup import the_seam
from wedgework.pattern.seams import measure_seam

SAMPLES: Final = 33
"""Places along each flat part at which the sides are compared."""

Span = tuple[float, float]


class SeamToDoubleDart(Edit, frozen=True, kw_only=True):
    """Make a seam that is shaped in its middle a double-pointed dart of one piece."""

    seam: Annotated[Id, Meta(description="seam")]
    from_mm: Annotated[
        NotNegativeMm | None,
        Meta(description="where the slit begins, along A; where the shaping does if left out"),
    ] = None
    to_mm: Annotated[
        NotNegativeMm | None,
        Meta(description="where the slit ends, along A; where the shaping does if left out"),
    ] = None
    name: Annotated[Name, Meta(description="what the dart is called")] = ""

    def change(self, project: Project) -> Project:
        """EditRefused where the sides do not lie flat at both ends, or cannot become one piece."""
        seam = the_seam(project, self.seam)
        refuse_unfit(seam)
        spans = self._spans(project, seam)
        for number, span in enumerate(spans):
            for station in span:
                project = split_at(project, self.seam, number, station)
        seam = replace(the_seam(project, self.seam), name=self.name or dart_name(seam))
        return _with_slit(project, seam, spans)

    def _spans(self, project: Project, seam: Seam) -> tuple[Span, Span]:
        """From where to where each side, A and B, is a leg."""
        measured = measure_seam(project, seam)
        whole_a, whole_b = measured.a.length_mm, measured.b.length_mm
        low, high = self.from_mm, self.to_mm
        if high is None:
            high = flat_from(seam, measured.a, measured.b)
        if low is None:
            back = replace(seam, a=reversed_run(seam.a), b=reversed_run(seam.b))
            turned = measure_seam(project, back)
            low = whole_a - flat_from(seam, turned.a, turned.b)
        if not SAME_STATION_MM < low < high - SAME_STATION_MM < whole_a - 2 * SAME_STATION_MM:
            raise EditRefused(
                f"“{seam.name or seam.id}” is not flat at both ends and shaped between, so it "
                "holds no double-pointed dart.",
                culprit=seam.id,
            )
        return (low, high), (low, whole_b - (whole_a - high))


def _with_slit(project: Project, seam: Seam, spans: tuple[Span, Span]) -> Project:
    a, b = (
        side_of_seam(project, seam, run, span)
        for run, span in zip((seam.a, seam.b), spans, strict=True)
    )
    if a.piece is b.piece or a.is_forward == b.is_forward:
        raise EditRefused(
            "Only two panels whose seam is not twisted become one piece.", culprit=seam.id
        )
    stays, comes = greater_first(a, b)
    motion = laid_on(_ends(stays), _ends(comes), at_end=False)
    _refuse_apart(seam, stays, comes, motion)
    arrived = moved_piece(comes.piece, motion)
    joined = replace(seam, a=_whole(stays), b=_whole(comes))
    whole, fates = Joint(project, stays.piece, arrived, joined).whole()
    legs = _slit(stays, replace(comes, piece=arrived))
    _refuse_without_width(seam, [leg.curve for leg in legs])
    whole = replace(whole, cutouts=(*whole.cutouts, _cutout(project, seam, legs)))
    if crosses_itself([edge.curve for edge in whole.edges]):
        raise EditRefused("The two panels would lie over each other.", culprit=seam.id)
    bare = with_pieces(with_seams(project, removed=[seam.id]), removed=[comes.piece.id])
    gone = {own: fate for own, fate in fates.items() if own not in {leg.id for leg in legs}}
    after = carried(with_piece_replaced(bare, stays.piece.id, whole), gone)
    tip, apex = legs[0].corner, legs[len(stays.flat)].corner
    if not stays.is_forward:
        tip, apex = apex, tip
    return with_seams(after, replace(seam, a=a.flat, b=b.flat, apex=apex, tip=tip))


def _whole(side: SeamSide) -> Run:
    return (*side.before, *side.flat, *side.beyond)


def _ends(side: SeamSide) -> Floats:
    return side.points()[[0, -1]]


def _refuse_apart(seam: Seam, stays: SeamSide, comes: SeamSide, motion: Affine) -> None:
    """EditRefused where the sides do not lie on each other before and beyond the slit."""
    for at_end in (False, True):
        one, other = (_flat_points(side, at_end=at_end) for side in (stays, comes))
        apart_mm = float(np.hypot(*(motion.points(other) - one).T).max())
        if apart_mm > FLAT_MM:
            raise EditRefused(
                f"{'Beyond' if at_end else 'Before'} the slit the sides of "
                f"“{seam.name or seam.id}” lie {apart_mm:.2f} mm apart, not flat on each other.",
                culprit=seam.id,
            )


def _refuse_without_width(seam: Seam, slit: list[Curve]) -> None:
    """EditRefused where nothing was taken out between the points, or more than there is."""
    least_mm2 = LEAST_WIDTH_MM * sum(map(length_mm, slit)) / 2
    if ring_area_mm2(slit) > -least_mm2 or crosses_itself(slit):
        raise EditRefused(
            f"Nothing is taken out of “{seam.name or seam.id}” between these places, so it holds "
            "no double-pointed dart there.",
            culprit=seam.id,
        )


def _flat_points(side: SeamSide, *, at_end: bool) -> Floats:
    """Points evenly along what is flat before the slit, or beyond it, (SAMPLES, 2) mm."""
    run, (low, high) = side.run, side.span
    rows = []
    for station in np.linspace(*((high, run.length_mm) if at_end else (0.0, low)), SAMPLES):
        one = run.stretch_at(float(station))
        rows.append(points_at(one.edge.curve, [one.own_mm(float(station))])[0])
    return np.array(rows)


def _slit(stays: SeamSide, comes: SeamSide) -> Ring:
    """The legs of both panels as one ring, the sheet on its left, met bit for bit at the points."""
    one, other = (
        tuple(edge for edge in side.piece.edges if edge.id in {ref.edge for ref in side.flat})
        for side in (_turned(stays), _turned(comes))
    )
    first, last = other[0], other[-1]
    end = one[0].curve.start
    if first is last:
        return (*one, replace(first, curve=with_ends(first.curve, one[-1].curve.end, end)))
    lead = replace(first, curve=with_ends(first.curve, one[-1].curve.end, first.curve.end))
    trail = replace(last, curve=with_ends(last.curve, last.curve.start, end))
    return (*one, lead, *other[1:-1], trail)


def _turned(side: SeamSide) -> SeamSide:
    """The side, its outline told from an edge that is no leg, so that the legs stand in a row."""
    lead = (side.before if side.is_forward else side.beyond)[-1 if side.is_forward else 0].edge
    ids = [edge.id for edge in side.piece.edges]
    at = ids.index(lead)
    edges = side.piece.edges
    return replace(side, piece=replace(side.piece, edges=edges[at:] + edges[:at]))


def _cutout(project: Project, seam: Seam, legs: Ring) -> Cutout:
    return Cutout(id=Naming(project).fresh(f"{seam.id}.slit"), edges=legs)
