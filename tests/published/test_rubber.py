"""What rubber sheet does when it is stretched, against measurements and worked numbers."""

import math

import numpy as np
import pytest

from wedgework.pattern.errors import EditRefused
from wedgework.pattern.stretch import (
    SHEAR_MPA,
    free_length_factor,
    grams_per_cm,
    law_words,
    nominal_stress_mpa,
    pressure_pa,
    pull_n_per_m,
    pull_words,
    ratio_of_reduction,
    reduction_of_percent,
    reduction_of_ratio,
    stretch_percent,
    worn,
    worn_in,
    worn_thickness_mm,
)

# Treloar 1944, Trans. Faraday Soc. 40, 59, as listed in FElupe's documentation, kgf/cm2 *
# 0.0980665.
ONE_WAY = ((1.02, 0.0255), (1.125, 0.1344), (1.24, 0.2256), (1.39, 0.3168), (1.585, 0.4080),
    (1.90, 0.5001), (2.18, 0.5884), (3.02, 0.8630))  # fmt: skip
BOTH_WAYS = ((1.07, 0.1569), (1.12, 0.2373), (1.20, 0.3256), (1.31, 0.4344), (1.42, 0.5080),
    (1.68, 0.6472), (1.94, 0.7630))  # fmt: skip


def off_percent(ratio, measured, across):
    return 100.0 * (nominal_stress_mpa(ratio, across) / measured - 1.0)


@pytest.mark.parametrize(
    ("ratio", "off"), [(1.125, -2.8), (1.24, 2.0), (1.39, 7.4), (1.585, 13.5), (1.90, 26.6)]
)
def test_pulled_one_way_the_law_is_so_far_off_what_treloar_measured(ratio, off):
    assert off_percent(ratio, dict(ONE_WAY)[ratio], "free") == pytest.approx(off, abs=0.1)


@pytest.mark.parametrize(
    ("ratio", "off"), [(1.20, -4.4), (1.31, -5.7), (1.42, -4.3), (1.68, -3.3), (1.94, -2.7)]
)
def test_pulled_both_ways_the_law_is_so_far_off_what_treloar_measured(ratio, off):
    assert off_percent(ratio, dict(BOTH_WAYS)[ratio], "both") == pytest.approx(off, abs=0.1)


def test_at_twice_the_length_the_law_is_too_stiff():
    # E6: straight between Treloar's points.
    measured = float(np.interp(2.0, *zip(*ONE_WAY, strict=True)))
    assert measured == pytest.approx(0.5317, abs=1e-3)
    assert nominal_stress_mpa(2.0, "free") == pytest.approx(0.6825, abs=1e-4)


def test_little_stretch_has_young_s_modulus_of_three_shear_moduli():
    # E7: incompressible, E = 3 G.
    strain = 1e-6
    assert nominal_stress_mpa(1 + strain, "free") / strain == pytest.approx(1.17, abs=1e-4)
    assert SHEAR_MPA == 0.39


def test_a_sheet_keeps_its_volume():
    # E8: 0.4 mm, cut 8 % smaller.
    ratio = ratio_of_reduction(0.08)
    assert worn_thickness_mm(0.4, ratio) == pytest.approx(0.368, abs=1e-6)
    assert free_length_factor(ratio) == pytest.approx(0.9591663, abs=1e-7)
    free = worn_thickness_mm(0.4, ratio, free_length_factor(ratio))
    assert free * ratio * free_length_factor(ratio) == pytest.approx(0.4, abs=1e-12)


def test_pressure_of_a_limb_is_the_bandagers_law():
    # E9: Thomas 2003, EWMA J. 3(1): p = 4620 T / (C W), T in kgf, C and W in cm, p in mmHg; exactly
    # 4621.67.
    pull = 1.0 * 9.80665 / 0.10
    mmhg = pressure_pa(pull, 300.0) / 133.322
    assert mmhg * 30.0 * 10.0 == pytest.approx(4621.67, abs=0.01)
    assert mmhg * 30.0 * 10.0 == pytest.approx(4620.0, rel=5e-4)


@pytest.mark.parametrize(
    ("reduction", "percent"), [(0.05, 5.26), (0.08, 8.70), (0.10, 11.11), (0.12, 13.64)]
)
def test_a_reduction_is_not_a_stretch(reduction, percent):
    # TRADE 2, plain arithmetic: 100 r / (1 - r).
    assert stretch_percent(reduction) == pytest.approx(percent, abs=0.005)
    assert reduction_of_percent(stretch_percent(reduction)) == pytest.approx(reduction, abs=1e-12)
    assert reduction_of_ratio(ratio_of_reduction(reduction)) == pytest.approx(reduction, abs=1e-12)


def test_the_worked_waist_of_the_demo_body():
    # TRADE 2: waist 720, 0.4 mm, girth cut 8 % smaller, length held.
    ratio = ratio_of_reduction(0.08)
    assert nominal_stress_mpa(ratio) == pytest.approx(0.120, abs=5e-4)
    pull = pull_n_per_m(ratio, 0.4)
    assert pull == pytest.approx(48.1, abs=0.05)
    assert 720.0 / (2 * math.pi) == pytest.approx(114.6, abs=0.05)
    assert pressure_pa(pull, 720.0) == pytest.approx(420.0, abs=0.5)
    assert pressure_pa(pull, 720.0) / 133.322 == pytest.approx(3.1, abs=0.06)


def test_the_worked_pulls_of_torso_and_hem_strip():
    # TRADE 3: torso sheet at 4 % 24.5 N/m; a strip 15 wide at 10 %, one way, 0.70 N.
    assert pull_n_per_m(ratio_of_reduction(0.04), 0.4) == pytest.approx(24.5, abs=0.05)
    strip = pull_n_per_m(ratio_of_reduction(0.10), 0.4, "free") * 0.015
    assert strip == pytest.approx(0.70, abs=0.005)


@pytest.mark.parametrize("across", ["free", "held", "both"])
def test_the_law_is_the_slope_of_stored_energy(across):
    # Independent route: W = G/2 (L1^2 + L2^2 + L3^2 - 3), numerically differentiated.
    def energy(along):
        sideways = {"free": along**-0.5, "held": 1.0, "both": along}[across]
        thick = 1.0 / (along * sideways)
        return SHEAR_MPA / 2 * (along**2 + sideways**2 + thick**2 - 3.0)

    step, ratio = 1e-5, 1.3
    slope = (energy(ratio + step) - energy(ratio - step)) / (2 * step)
    # Stretched both ways, the energy is that of two pulls.
    assert slope / (2 if across == "both" else 1) == pytest.approx(
        nominal_stress_mpa(ratio, across), rel=1e-6
    )


def test_words_get_stronger_with_the_pull():
    pulls = [pull_words(pull_n_per_m(ratio_of_reduction(r), 0.4)) for r in (0, 0.04, 0.08, 0.15)]
    assert pulls == ["lies on the body", "holds lightly", "snug", "firm"]
    assert pull_words(1e6).startswith("very firm")
    assert grams_per_cm(48.1) == pytest.approx(49.05, abs=0.01)


@pytest.mark.parametrize("material", ["neoprene", "vinyl", "leather", "stretch_cloth"])
def test_nothing_is_told_of_the_pull_of_what_is_no_rubber(material):
    # Treloar's law is of vulcanised rubber; other sheets follow none of it.
    assert worn_in(material, 0.08, 0.4) is None
    assert "not known" in law_words(material)
    assert worn_in("rubber", 0.08, 0.4) == worn(0.08, 0.4)


def test_the_warning_comes_above_forty_per_cent():
    assert not worn(0.28, 0.4).is_beyond_law
    assert worn(0.29, 0.4).is_beyond_law
    assert worn(0.08, 0.4).stretch_percent == pytest.approx(8.6957, abs=1e-4)
    assert worn(0.08, 0.4).shrinks == pytest.approx(0.0408337, abs=1e-6)


@pytest.mark.parametrize("share", [1.0, 1.5])
def test_a_sheet_that_is_cut_to_nothing_is_refused(share):
    with pytest.raises(EditRefused):
        ratio_of_reduction(share)
