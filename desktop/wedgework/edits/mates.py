"""Place the mates of a seam's marks again after an edit that changed the lengths of its sides."""

from __future__ import annotations

from dataclasses import dataclass, replace

from wedgework.geometry.tolerances import SAME_STATION_MM
from wedgework.pattern.document import Project, Seam, Side, Spot
from wedgework.pattern.ends import is_of_one_outline
from wedgework.pattern.lookup import Mark
from wedgework.pattern.runs import WalkedRun, walked
from wedgework.pattern.table import Table


@dataclass(frozen=True, eq=False, slots=True)
class _Sides:
    """Both runs of a seam, walked; `lead` is the one whose marks stay where they are."""

    lead: WalkedRun
    other: WalkedRun


def with_mates_placed(before: Project, after: Project, seam: Seam, lead: Side) -> Project:
    """The project after an edit, with the marks of the other side back at those of `lead`.

    A mark comes to the same fraction of its side as its mate has on `lead`, or to as much before
    or behind it as it stood before the edit.
    """
    then, now = _sides(before, seam, lead), _sides(after, seam, lead)
    if is_of_one_outline(seam):
        return after
    notches = _placed(before.notches, after.notches, then, now)
    holes = _placed(before.holes, after.holes, then, now)
    if notches is after.notches and holes is after.holes:
        return after
    return replace(after, notches=notches, holes=holes)


def _sides(project: Project, seam: Seam, lead: Side) -> _Sides:
    a, b = walked(project, seam.a), walked(project, seam.b)
    return _Sides(a, b) if lead == "a" else _Sides(b, a)


def _placed(old: Table[Mark], new: Table[Mark], then: _Sides, now: _Sides) -> Table[Mark]:
    rows = {}
    for key, mark in new.items():
        was = old.get(key)
        if was is not None and mark.mate is not None:
            moved = _mated(was, mark, then, now)
            if moved is not mark:
                rows[key] = moved
    return new.with_rows(rows) if rows else new


def _mated(was: Mark, mark: Mark, then: _Sides, now: _Sides) -> Mark:
    if was.mate is None or mark.mate is None:
        return mark
    if now.lead.station_of(mark.at) is not None:
        drift = _drift(then, was.at, was.mate)
        mate = _led(now, mark.at, mark.mate, drift)
        return mark if mate is mark.mate else replace(mark, mate=mate)
    drift = _drift(then, was.mate, was.at)
    at = _led(now, mark.mate, mark.at, drift)
    return mark if at is mark.at else replace(mark, at=at)


def _drift(sides: _Sides, lead: Spot, other: Spot) -> float | None:
    """How much further along its side the other mark stands, as a share of the whole."""
    on_lead, on_other = sides.lead.station_of(lead), sides.other.station_of(other)
    if on_lead is None or on_other is None:
        return None
    return on_other / sides.other.length_mm - on_lead / sides.lead.length_mm


def _led(sides: _Sides, lead: Spot, other: Spot, drift: float | None) -> Spot:
    """Where the other mark stands now; its own spot where it stands there already."""
    on_lead, on_other = sides.lead.station_of(lead), sides.other.station_of(other)
    if drift is None or on_lead is None or on_other is None:
        return other
    share = min(max(on_lead / sides.lead.length_mm + drift, 0.0), 1.0)
    wanted = share * sides.other.length_mm
    return other if abs(wanted - on_other) <= SAME_STATION_MM else sides.other.spot_at(wanted)
