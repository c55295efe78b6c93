"""Names and sizes of paper as they are typed."""

from __future__ import annotations

import pytest

from wedgework.units import NotUnderstood, Roll, paper_mm


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("A4", (210.0, 297.0)),
        ("letter", (215.9, 279.4)),
        ("420x297", (420.0, 297.0)),
        ("150.5 × 90", (150.5, 90.0)),
        ("roll:900", Roll(900.0)),
    ],
)
def test_paper_is_named_or_measured(text, wanted):
    assert paper_mm(text) == wanted


@pytest.mark.parametrize("text", ["", "B7", "0x100", "20x20", "roll:", "roll:1e9", "1x2x3", "-4x5"])
def test_what_is_no_paper_is_refused(text):
    with pytest.raises(NotUnderstood, match=r"[Pp]aper"):
        paper_mm(text)
