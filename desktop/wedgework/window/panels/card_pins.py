"""The card's page of a pinned measurement."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Any

from wedgework.pattern.document import Anchor, Pin, Project, Spot
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.pins import pin_value
from wedgework.units.shown import format_number
from wedgework.window.panels.card_rows import (
    CardPage,
    CardRow,
    EditData,
    Kind,
    link,
    name_row,
    read,
    typed,
)
from wedgework.window.things import called

HOW = {
    "distance": "straight",
    "along": "along the edges",
    "angle": "angle",
    "girth": "girth at a level",
}


def pin_page(project: Project, pin: Pin) -> CardPage:
    """What it measures, what it should, and what it hangs on."""
    is_angle = pin.kind == "angle"
    kind: Kind = "angle" if is_angle else "length"

    def shown(value: float | None) -> float | None:
        return math.degrees(value) if is_angle and value is not None else value

    rows = [name_row(pin.id, pin.name), read("how", "measured", "note", HOW[pin.kind])]
    value, wanted = _value(project, pin), pin.wanted
    rows.append(
        read("now", "now", "note", "cannot be measured")
        if value is None
        else read("now", "now", kind, shown(value))
    )
    rows.append(
        CardRow(key="wanted", words="wanted", kind=kind, value=shown(wanted),
                edit=_setting(pin, "wanted"), may_be_blank=True,
                tip="What it should be; left blank it is not checked")
    )  # fmt: skip
    if value is not None and wanted is not None:
        off: Kind = "angle" if is_angle else "signed"
        rows.append(read("off", "off by", off, shown(value - wanted)))
    rows.append(typed("allowed", "allowed", kind, shown(pin.allowed), _setting(pin, "allowed"),
                      tip="How far from that is well enough"))  # fmt: skip
    rows += [_anchor(project, number, one) for number, one in enumerate(pin.anchors, start=1)]
    return CardPage(heading=pin.name or pin.id, kind="pinned measure", rows=tuple(rows),
                    deeds=("delete",))  # fmt: skip


def pin_rows(project: Project) -> Iterator[CardRow]:
    """Every pinned measurement with what it measures now, leading to its own page."""
    for own, pin in project.pins.items():
        value = _value(project, pin)
        if value is not None:
            is_angle = pin.kind == "angle"
            shown = math.degrees(value) if is_angle else value
            kind: Kind = "angle" if is_angle else "length"
            yield CardRow(key=f"pin {own}", words=pin.name or f"{own}, {HOW[pin.kind]}", kind=kind,
                          value=shown, leads_to=own, tip="Pinned to the table")  # fmt: skip


def _value(project: Project, pin: Pin) -> float | None:
    try:
        return pin_value(project, pin)
    except EditRefused:
        return None


def _setting(pin: Pin, key: str) -> Callable[[Any], list[EditData]]:
    return lambda value: [{"edit": "set_pin", "pin": pin.id, key: value}]


def _anchor(project: Project, number: int, one: Anchor) -> CardRow:
    if isinstance(one, tuple):
        where = ", ".join(format_number(value) for value in one)
        return read(f"anchor {number}", "hangs on", "note", f"the table at {where}")
    own = one.edge if isinstance(one, Spot) else one
    return link(f"anchor {number}", "hangs on", called(project, own), own)
