"""The card of a photograph: how large it lies, how it is turned, how strongly it shows."""

from __future__ import annotations

import math

import numpy as np

from wedgework.geometry.projective import depths, mapped, scale_there
from wedgework.pattern.document import Picture, Project
from wedgework.pattern.pictures import placing_of, size_of
from wedgework.window.panels.card_rows import (
    CardPage,
    CardRow,
    EditData,
    name_row,
    read,
    typed,
)

SHOWN = (("yes", "yes"), ("no", "no"))


def photograph_page(_project: Project, picture: Picture) -> CardPage:
    """Strength by a slider; width and turn as they lie now, and typed as they should."""
    own, size = picture.id, size_of(picture)

    def shown(value: str) -> list[EditData]:
        return [{"edit": "set_picture", "picture": own, "shown": value == "yes"}]

    def strength(value: float) -> list[EditData]:
        return [{"edit": "set_picture", "picture": own, "strength_ratio": value}]

    rows = [
        name_row(own, picture.name),
        CardRow(key="strength", words="strength", kind="share", value=picture.strength_ratio,
                edit=strength, tip="How strongly it shows under the pieces"),
        CardRow(key="shown", words="shown", kind="choice", value="yes" if picture.shown else "no",
                choices=SHOWN, edit=shown),
    ]  # fmt: skip
    rows += _placed_rows(picture) if size.width_px else []
    rows.append(read("pixels", "pixels", "note", f"{size.width_px} × {size.height_px}"))
    return CardPage(heading=picture.name or own, kind="photograph", rows=tuple(rows),
                    deeds=("fit_chosen", "photographs", "delete"))  # fmt: skip


def _placed_rows(picture: Picture) -> list[CardRow]:
    """Width and turn along the middle of the picture, from its left side to its right."""
    own, size, placing = picture.id, size_of(picture), placing_of(picture)
    ends_px = np.array([[0.0, size.height_px / 2], [size.width_px, size.height_px / 2]])
    middle_px = ends_px.mean(axis=0)
    pixel_mm = scale_there(placing, middle_px)
    rows = [read("pixel", "a pixel is", "length", pixel_mm, "In the middle of the photograph")]
    if (depths(placing, ends_px) * float(depths(placing, middle_px)) <= 0).any():
        return rows
    (x0, y0), (x1, y1) = mapped(placing, ends_px).tolist()
    turn_deg = math.degrees(math.atan2(y1 - y0, x1 - x0))

    def wide(value: float) -> list[EditData]:
        one, other = ends_px.tolist()
        return [{"edit": "scale_picture", "picture": own, "one_px": one, "other_px": other,
                 "distance_mm": value}]  # fmt: skip

    def turned(value: float) -> list[EditData]:
        return [{"edit": "turn_picture", "picture": own, "turn_deg": value - turn_deg}]

    return [
        typed("width", "width", "length", math.hypot(x1 - x0, y1 - y0), wide,
              tip="Across its middle, from side to side"),
        typed("turn", "turned", "angle", turn_deg, turned, tip="Counter-clockwise"),
        *rows,
    ]  # fmt: skip
