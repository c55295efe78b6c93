"""The two sets of colours, light and dark, by what each colour means.

Every contrast is computed in `tests/published/test_colour.py`. Chosen, difference and stop are the
only signals, and none of them is ever alone: chosen is thick (its mate dashed), a difference is
hatched and has its figure, what stops cutting carries a ring with a bar.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Scheme:
    """Colours as `#RRGGBB`.

    `hair` parts things and carries no meaning; `rim` bounds fields and buttons, which one must
    find, and so stands out more.
    """

    name: str
    ground: str
    panel: str
    piece: str
    hair: str
    rim: str
    ink: str
    quiet: str
    edge: str
    chosen: str
    chosen_fill: str
    difference: str
    stop: str


LIGHT: Final = Scheme(
    name="light",
    ground="#F3F1EC",
    panel="#FBFAF7",
    piece="#FFFFFF",
    hair="#D9D5CB",
    rim="#8B8880",
    ink="#22252A",
    quiet="#62666D",
    edge="#3B4048",
    chosen="#0F6E84",
    chosen_fill="#DCEEF1",
    difference="#A85205",
    stop="#A3123F",
)

DARK: Final = Scheme(
    name="dark",
    ground="#1B1D21",
    panel="#24272C",
    piece="#2C3036",
    hair="#3A3F47",
    rim="#7E858F",
    ink="#ECE9E2",
    quiet="#A2A7AF",
    edge="#C9CCD1",
    chosen="#5CC2D6",
    chosen_fill="#1F3A42",
    difference="#F0A35E",
    stop="#FF7C9C",
)

SCHEMES: Final = {scheme.name: scheme for scheme in (LIGHT, DARK)}
