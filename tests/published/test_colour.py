"""Contrast and colour-blind sight: the formulas against published values, then our palette."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from wedgework.window.colour import (
    LINEAR_BELOW,
    SIGHTS,
    ciede2000,
    contrast,
    lab_distance,
    lab_of,
)
from wedgework.window.palette import SCHEMES

TEXT, GRAPHICS = 4.5, 3.0
"""Least contrast, not rounded. Source: WCAG 2.2, 1.4.3 (AA) and 1.4.11."""


@pytest.mark.parametrize(
    ("one", "other", "wanted", "within"),
    [
        # Source: Math for Web Design (first three); the rest computed with WCAG 2.2's formula.
        ("#000000", "#FFFFFF", 21.0, 0.005),
        ("#0000FF", "#FFFFFF", 8.59, 0.005),
        ("#0000FF", "#FF0000", 2.15, 0.005),
        ("#767676", "#FFFFFF", 4.542, 0.001),
        ("#777777", "#FFFFFF", 4.478, 0.001),
        ("#949494", "#FFFFFF", 3.034, 0.001),
        ("#959595", "#FFFFFF", 2.995, 0.001),
    ],
)
def test_contrast_is_that_of_the_guidelines(one, other, wanted, within):
    assert contrast(one, other) == pytest.approx(wanted, abs=within)


def test_the_threshold_of_linear_light_is_the_present_one():
    assert LINEAR_BELOW == 0.04045  # Source: WCAG 2.2, relative luminance


@pytest.mark.parametrize(
    ("colour", "on_white"),
    [
        # Source: Okabe and Ito, Color Universal Design, 2002/2008; ratios by WCAG 2.2's formula.
        ("#E69F00", 2.252),
        ("#56B4E9", 2.308),
        ("#009E73", 3.421),
        ("#F0E442", 1.322),
        ("#0072B2", 5.185),
        ("#D55E00", 3.867),
        ("#CC79A7", 3.061),
    ],
)
def test_only_some_colours_made_for_colour_blind_eyes_can_carry_a_thin_line(colour, on_white):
    assert contrast(colour, "#FFFFFF") == pytest.approx(on_white, abs=0.001)


@pytest.mark.parametrize(
    ("lab", "other", "wanted"),
    [
        # Source: Sharma, Wu, Dalal 2005, pairs 1 to 4 of their test data.
        ((50, 2.6772, -79.7751), (50, 0, -82.7485), 2.0425),
        ((50, 3.1571, -77.2803), (50, 0, -82.7485), 2.8615),
        ((50, 2.8361, -74.0200), (50, 0, -82.7485), 3.4412),
        ((50, -1.3802, -84.2814), (50, 0, -82.7485), 1.0000),
    ],
)
def test_colour_differences_are_those_of_the_paper(lab, other, wanted):
    assert ciede2000(np.array(lab), np.array(other)) == pytest.approx(wanted, abs=1e-4)


@pytest.mark.parametrize("sight", SIGHTS)
def test_every_sight_sees_white_as_white(sight):
    # The rows of each matrix sum to 1. Source: Machado, Oliveira, Fernandes 2009.
    assert SIGHTS[sight].sum(axis=1) == pytest.approx(np.ones(3), abs=2e-6)


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=lambda scheme: scheme.name)
@pytest.mark.parametrize("role", ["ink", "quiet", "edge", "chosen", "difference", "stop"])
def test_all_that_is_written_can_be_read_on_every_ground(scheme, role):
    grounds = [scheme.ground, scheme.panel, scheme.piece]
    assert min(contrast(getattr(scheme, role), ground) for ground in grounds) >= TEXT


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=lambda scheme: scheme.name)
def test_fields_can_be_found_and_what_is_chosen_can_be_read(scheme):
    grounds = [scheme.ground, scheme.panel, scheme.piece]
    assert min(contrast(scheme.rim, ground) for ground in grounds) >= GRAPHICS
    assert contrast(scheme.ink, scheme.chosen_fill) >= TEXT
    assert contrast(scheme.chosen, scheme.chosen_fill) >= TEXT


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=lambda scheme: scheme.name)
@pytest.mark.parametrize("sight", [None, *SIGHTS])
def test_the_three_signals_stay_apart_for_every_eye(scheme, sight):
    signals = [lab_of(one, sight) for one in (scheme.chosen, scheme.difference, scheme.stop)]
    assert min(lab_distance(a, b) for a, b in combinations(signals, 2)) > 14
