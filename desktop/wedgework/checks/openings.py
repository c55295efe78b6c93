"""Openings that the body does not pass, edges that gape or cut in, and closings."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Final

from wedgework.checks.finding import EditData, Finding, Mend, Rule
from wedgework.pattern.body import base_of, measured
from wedgework.pattern.closings import (
    AT_WORN_MM,
    adjoining_closings,
    closing_length_mm,
    free_end,
    short_of_worn_mm,
)
from wedgework.pattern.document import Closing, Opening, Project, Seam
from wedgework.pattern.errors import DraftRefused
from wedgework.pattern.getting_in import Passage, way_in
from wedgework.pattern.lookup import piece_of, the_edge
from wedgework.pattern.openings import (
    OpeningMeasure,
    SeamEnd,
    edge_fit,
    ends_at,
    measure_opening,
    rise_that_fits_mm,
    seams_into,
    slit_mm,
)
from wedgework.pattern.reductions import reduction_of
from wedgework.pattern.runs import walked
from wedgework.pattern.seams import measure_seam
from wedgework.pattern.wanted import seams_at_level, station_at_level

NO_SEAM: Final = (
    " No seam that runs out into it has room to taper before the next level: draw its line "
    "elsewhere on the body, or cut the band that goes on it to that length."
)


def opening_too_small(rule: Rule, project: Project) -> tuple[Finding, ...]:
    """A finding for each opening that has to stretch further than it may. In per cent."""
    return tuple(_found(rule, project))


def _found(rule: Rule, project: Project) -> Iterator[Finding]:
    for opening in project.openings.values():
        measure = measure_opening(project, opening)
        if measure.stretch is not None and measure.stretch > opening.allowed_stretch:
            yield _told(rule, project, opening, measure)


def _told(rule: Rule, project: Project, opening: Opening, measure: OpeningMeasure) -> Finding:
    needs, may = 100.0 * (measure.stretch or 0.0), 100.0 * opening.allowed_stretch
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"Opening “{opening.name or opening.id}” is {measure.length_mm:.0f} mm long and has to "
            f"stretch by {needs:.0f} % to let {measure.body_mm:.0f} mm pass; {may:.0f} % is "
            "allowed."
        ),
        where=(opening.id, *(ref.edge for ref in opening.edges)),
        at_mm=the_edge(project, opening.edges[0].edge).curve.start,
        measured=needs,
        wanted=may,
        mends=tuple(_slits(project, opening))[:1],
    )


SPARE_MM: Final = 5.0
"""A slit is cut so much longer than it has to be; common practice, no source."""


def _slits(project: Project, opening: Opening) -> Iterator[Mend]:
    """A closing on each seam that runs out into the ring and is long enough, the longest first."""
    ends = [(measure_seam(project, seam).a.length_mm, seam, end)
            for seam, end in ends_at(project, opening)]  # fmt: skip
    for whole_mm, seam, end in sorted(ends, key=lambda one: -one[0]):
        slit = slit_mm(project, opening, seam)
        if slit is None:
            continue
        end_mm = 0.0 if end == "first" else whole_mm
        beyond = _beyond_tight_levels(project, seam, end_mm)
        open_mm = max(round(slit + SPARE_MM), round(beyond), LEAST_SLIT_MM)
        if open_mm > whole_mm - BEYOND_LEVEL_MM:
            continue
        part = {"to_mm": open_mm} if end == "first" else {"from_mm": round(whole_mm - open_mm, 3)}
        edit: EditData = {"edit": "close_seam", "seam": seam.id, **part}
        words = f"Close “{seam.name or seam.id}” with snaps over {open_mm:.0f} mm"
        yield Mend(f"{words} from “{opening.name or opening.id}” on", (edit,))


def _beyond_tight_levels(project: Project, seam: Seam, end_mm: float) -> float:
    """How far from an end of a seam the last level lies that does not pass either, and beyond."""
    way, measured = way_in(project), measure_seam(project, seam)
    tight = [one.id for one in way.fails if one.kind == "level"] if way else []
    stations = (station_at_level(measured, project.levels[own]) for own in tight)
    return max((abs(at - end_mm) + BEYOND_LEVEL_MM for at in stations if at is not None), default=0)


LEAST_SLIT_MM: Final = 60.0
"""A shorter closing holds too few snaps to be one; common practice, no source."""


def gapes(rule: Rule, project: Project) -> tuple[Finding, ...]:
    """A finding for each edge round a limb that is longer than lies well on the body."""
    return tuple(_edges(rule, project, "gapes", above=True))


def cuts_in(rule: Rule, project: Project) -> tuple[Finding, ...]:
    """A finding for each edge round a limb that is shorter than lies well on the body."""
    return tuple(_edges(rule, project, "cuts in and rides up", above=False))


def _edges(rule: Rule, project: Project, does: str, *, above: bool) -> Iterator[Finding]:
    for opening in project.openings.values():
        fit = edge_fit(project, opening)
        if fit is None or fit.lies_well or (fit.over_mm > 0) != above:
            continue
        ends, redrawn = seams_into(project, opening), tuple(_redrawn(project, opening))
        yield Finding(
            code=rule.code,
            grave=rule.grave,
            message=(
                f"The edge of “{opening.name or opening.id}” {does}: it is {fit.edge_mm:.1f} mm "
                f"long. Its way on the body is {fit.path_mm:.1f}, so cut it {fit.wanted_mm:.1f}: "
                f"{abs(fit.over_mm):.1f} mm {'shorter' if above else 'longer'}."
                f"{'' if ends or redrawn else NO_SEAM}"
            ),
            where=(opening.id, *(ref.edge for ref in opening.edges)),
            at_mm=the_edge(project, opening.edges[0].edge).curve.start,
            measured=fit.edge_mm,
            wanted=fit.wanted_mm,
            mends=(*redrawn, *_edge_mends(project, opening, fit.wanted_mm, ends)),
        )


def _redrawn(project: Project, opening: Opening) -> Iterator[Mend]:
    """The leg line of a drafted suit, drafted anew where it rises as the opening says."""
    pieces = (piece_of(project, ref.edge) for ref in opening.edges)
    recipe = next((one.recipe for one in pieces if one.recipe is not None), None)
    thigh_mm = measured(project.body, opening.measure)
    is_leg = base_of(opening.measure)[0] == "thigh_girth_mm" and opening.rise_mm > 0.0
    if recipe is None or recipe.kind != "body_block" or not is_leg or thigh_mm is None:
        return
    from wedgework.drafting import drafted  # noqa: PLC0415 - `check` starts without all drafts

    changed = {
        "leg_rise_mm": opening.rise_mm,
        "thigh_girth_mm": thigh_mm,
        "edge_reduction": reduction_of(project, "edge"),
    }
    before = json.loads(recipe.numbers)
    if before.get("legs", "none") != "none" or changed.items() <= before.items():
        return
    try:
        drafted(project, recipe.kind, before | changed)
    except DraftRefused:
        return
    edit: EditData = {"edit": "draft_again", "piece": recipe.group, "numbers": changed}
    yield Mend(f"Draft the leg line so that it rises by {opening.rise_mm:.0f} mm", (edit,))


def _edge_mends(
    project: Project, opening: Opening, wanted_mm: float, ends: tuple[SeamEnd, ...]
) -> Iterator[Mend]:
    """Another length where seams can taper, and the line on which it lies well as it is."""
    if ends:
        yield _tapered(opening, wanted_mm, ends)
    rise = rise_that_fits_mm(project, opening)
    if rise is not None:
        edit: EditData = {"edit": "set_opening", "opening": opening.id, "rise_mm": round(rise, 1)}
        yield Mend(f"Leave it: it lies well where it rises by {rise:.0f} mm on the body", (edit,))


def _tapered(opening: Opening, wanted_mm: float, ends: tuple[SeamEnd, ...]) -> Mend:
    """The mend of an edge: the seams that run out into it taper alike."""
    seams = len({one.seam.id for one in ends})
    return Mend(
        f"Cut it {wanted_mm:.1f} mm, tapering the {'seam' if seams == 1 else f'{seams} seams'} "
        "that run out into it".replace("seam that run", "seam that runs"),
        ({"edit": "fit_opening", "opening": opening.id},),
    )


# Getting in, once the maker has said where it closes


def way_in_too_small(rule: Rule, project: Project) -> tuple[Finding, ...]:
    """A finding for each section on the way in that does not pass, where there is a closing.

    What `opening_too_small` tells is not told twice. In per cent.
    """
    way = way_in(project) if project.closings else None
    if way is None:
        return ()
    told = {
        own for own, one in project.openings.items()
        if (stretch := measure_opening(project, one).stretch) is not None
        and stretch > one.allowed_stretch
    }  # fmt: skip
    return tuple(_blocked(rule, project, one) for one in way.fails if one.id not in told)


def _blocked(rule: Rule, project: Project, one: Passage) -> Finding:
    girth = (one.girth or "").removesuffix("_mm").replace("_", " ")
    edits = _further(project, one) if one.kind == "level" else ()
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"On the way in “{one.name}” is {one.section_mm:.0f} mm round and has to stretch by "
            f"{100 * one.needed:.0f} % to let the {girth} of {one.girth_mm:.0f} mm pass; "
            f"{100 * one.allowed:.0f} % is allowed. Let the closing go on beyond it."
        ),
        where=tuple(dict.fromkeys((one.id, *one.edges))),
        at_mm=one.at_mm,
        measured=100.0 * one.needed,
        wanted=100.0 * one.allowed,
        mends=(Mend("Let the closing go on beyond it", edits),) if edits else (),
    )


BEYOND_LEVEL_MM: Final = 20.0
"""A closing goes on so far beyond the level that it opens; common practice, no source."""


def _further(project: Project, passage: Passage) -> tuple[EditData, ...]:
    """A closing on the seam that goes on from one, to beyond the level; none where none does."""
    level = project.levels[passage.id]
    for seam in seams_at_level(project, level):
        whole = walked(project, seam.a).length_mm
        at_mm = station_at_level(measure_seam(project, seam), level) or 0.0
        for end, before in adjoining_closings(project, seam):
            edit: EditData = {
                "edit": "close_seam", "seam": seam.id, "kind": before.kind,
                "overlap_mm": before.overlap_mm, "flap_mm": before.flap_mm,
                "pitch_mm": before.pitch_mm,
            }  # fmt: skip
            if end == "first" and at_mm + BEYOND_LEVEL_MM < whole - BEYOND_LEVEL_MM:
                edit["to_mm"] = at_mm + BEYOND_LEVEL_MM
            if end == "last" and at_mm - BEYOND_LEVEL_MM > BEYOND_LEVEL_MM:
                edit["from_mm"] = at_mm - BEYOND_LEVEL_MM
            return (edit,)
    return ()


# What closings are made of


def zip_too_short(rule: Rule, project: Project) -> tuple[Finding, ...]:
    """A finding for each zip whose edges are shorter than worn: it does not stretch."""
    return tuple(
        _short(rule, project, closing, short_mm)
        for closing in project.closings.values()
        if (short_mm := short_of_worn_mm(project, closing)) > AT_WORN_MM
    )


def _short(rule: Rule, project: Project, closing: Closing, short_mm: float) -> Finding:
    seam = project.seams[closing.seam]
    now_mm = closing_length_mm(project, closing)
    can_grow = free_end(project, seam) is not None
    edit: EditData = {"edit": "lengthen_closing", "closing": closing.id}
    return Finding(
        code=rule.code,
        grave=rule.grave,
        message=(
            f"A zip does not stretch: the edges of “{seam.name or seam.id}” are {now_mm:.1f} mm "
            f"and {now_mm + short_mm:.1f} when worn. Cut them {short_mm:.1f} mm longer."
        ),
        where=(seam.id, closing.id),
        at_mm=the_edge(project, seam.a[0].edge).curve.start,
        measured=now_mm,
        wanted=now_mm + short_mm,
        mends=(Mend(f"Cut it {short_mm:.1f} mm longer", (edit,)),) if can_grow else (),
    )


def closing_metals(rule: Rule, project: Project) -> tuple[Finding, ...]:
    """One reminder for all closings of metal: which metals stain and age rubber."""
    metal = [one for one in project.closings.values() if one.kind != "left_open"]
    if not metal:
        return ()
    return (
        Finding(
            code=rule.code,
            grave=rule.grave,
            message=(
                "Copper, brass and bronze stain light rubber brown for good, and copper ages it: "
                "no such snaps, eyelets or zips; take stainless steel or plastic."
            ),
            where=tuple(one.id for one in metal),
        ),
    )
