"""Numbers in sentences have a true minus sign, wherever a sentence is made."""

from __future__ import annotations

import re

import pytest

from wedgework.bench.wishes import Hint
from wedgework.checks import Finding, Mend
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.wording import with_minus


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("A -2.00 mm, B +2.00 mm", "A −2.00 mm, B +2.00 mm"),
        ("at (-3, -0.5)", "at (−3, −0.5)"),
        ("moved by -0.00 mm, -0 degrees.", "moved by 0.00 mm, 0 degrees."),
        ("by -0.05 and -10.", "by −0.05 and −10."),
        ("edge p.e-2 of -b.e4, 1-2", "edge p.e-2 of -b.e4, 1-2"),
        ("“back -2” by -2", "“back -2” by −2"),
    ],
)
def test_a_number_below_nothing_has_a_true_minus_sign_and_a_name_keeps_its_hyphen(written, read):
    assert with_minus(written) == read


def test_every_sentence_that_a_maker_reads_has_them():
    told = (
        EditRefused("by -1.5 mm").sentence,
        Mend("A -1.5 mm", ({"edit": "true_seam", "by": "-1.5"},)).label,
        Finding(code="c", grave="look_again", message="it is -1.5 mm", where=()).message,
        Hint("moved by -1.5 mm").text,
    )
    assert all("−1.5" in one for one in told)
    assert not any(re.search(r"-\d", one) for one in told)
