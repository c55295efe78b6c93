"""Spreads of bodies as published: sources stand in `pattern/body_ranges.py`."""

import pytest

from wedgework.pattern.body_ranges import ANSUR, HEINZ, SPREADS, spreads_of
from wedgework.units import parse_length_mm

# Mean, sd, p5, p50, p95: women, then men. ANSUR II public working databases, 1986 women, 4082 men.
ANSUR_ROWS = {
    "bust_girth_mm": ((946.86, 82.70, 824.25, 940.0, 1094.00), (1058.71, 87.44, 922, 1056, 1207)),
    "waist_girth_mm": ((860.91, 99.93, 710, 852, 1040), (940.58, 111.71, 768, 937, 1130.95)),
    "hip_girth_mm": ((1021.25, 75.89, 901.25, 1018.5, 1155.75), (1019.52, 76.68, 899, 1017, 1149)),
    "torso_loop_mm": ((1559.41, 75.99, 1440, 1555, 1685), (1664.80, 89.53, 1519, 1664, 1814)),
    "crotch_length_mm": ((620.84, 42.43, 553, 619, 692), (622.34, 46.68, 549, 620.5, 701)),
    "back_waist_length_mm": ((425.40, 26.39, 384, 424.5, 470), (477.61, 27.73, 433, 477, 524)),
    "neck_base_girth_mm": ((371.16, 19.66, 340, 370, 405), (434.60, 25.67, 395, 433, 479)),
    "neck_girth_mm": ((329.80, 19.22, 302, 328, 363), (397.65, 25.78, 360, 395, 443)),
    "shoulder_girth_mm": ((1028.19, 52.92, 944.25, 1027, 1119), (1178.59, 63.59, 1080, 1176, 1288)),
    "shoulder_length_mm": ((135.41, 10.27, 120, 135, 153), (149.78, 10.51, 133, 150, 167)),
    "thigh_girth_mm": ((616.15, 55.81, 527, 613, 711), (625.14, 58.45, 532, 624, 723)),
    "upper_arm_girth_mm": ((305.58, 30.76, 259, 304, 360), (358.14, 34.62, 303, 357, 418)),
    "stature_mm": ((1628.47, 64.20, 1525, 1626, 1740), (1756.21, 68.55, 1648, 1755, 1870)),
    "inside_leg_mm": ((782.32, 44.64, 712, 780, 857), (845.93, 46.50, 771, 845, 925)),
}

# Mean and sd, women, then men. Heinz et al., J. Statistics Education 11(2), 2003.
HEINZ_ROWS = {
    "waist_girth_mm": ((698.03, 75.88), (845.33, 87.82)),
    "hip_girth_mm": ((956.53, 69.41), (977.63, 62.28)),
    "shoulder_girth_mm": ((1003.04, 64.71), (1165.02, 64.98)),
    "thigh_girth_mm": ((571.96, 46.36), (564.98, 42.47)),
    "stature_mm": ((1648.72, 65.45), (1777.45, 71.84)),
}

# ASTM D5585-11e1, table 1, sizes 00 to 20, in inches (A21 to A25), and size 8 in mm.
SIZES = {
    "bust": ("31 1/8, 31 3/4, 33, 34 1/8, 35 1/4, 36 1/4, 37 1/4, 38 3/4, 40 3/8, 42 1/8, 44, 46",
        920.750),
    "under bust": ("25 3/4, 26 1/2, 27 1/4, 28, 29, 30, 31, 32 1/2, 34, 35 3/4, 37 5/8, 39 5/8",
        762.000),
    "waist": ("23 7/8, 24 5/8, 25 3/8, 26 1/8, 27, 28, 29, 30 3/4, 32 1/2, 34 1/2, 36 3/4, 39",
        711.200),
    "neck base": ("13 1/4, 13 1/2, 13 3/4, 14, 14 1/4, 14 5/8, 14 7/8, 15 1/8, 15 1/2, 15 3/4, 16, "
        "16 3/8", 371.475),
    "shoulder": ("37 1/8, 37 3/4, 38 3/8, 39, 39 3/4, 40 1/2, 41 1/4, 42, 43, 44 1/4, 45 1/2, "
        "46 7/8", 1028.700),
}  # fmt: skip
SIZE_8 = 5


@pytest.mark.parametrize("measure", ANSUR_ROWS)
def test_ansur_stands_as_published(measure):
    for group, row in zip(("women", "men"), ANSUR_ROWS[measure], strict=True):
        (one,) = (one for one in spreads_of(measure, group) if one.source == ANSUR)
        assert (one.mean_mm, one.sd_mm, *one.percentiles_mm) == pytest.approx(row, abs=0.01)


@pytest.mark.parametrize("measure", HEINZ_ROWS)
def test_heinz_stands_as_published(measure):
    for group, row in zip(("women", "men"), HEINZ_ROWS[measure], strict=True):
        (one,) = (one for one in spreads_of(measure, group) if one.source == HEINZ)
        assert (one.mean_mm, one.sd_mm) == pytest.approx(row, abs=0.01)


def test_the_chest_of_women_above_the_breast_is_no_bust_girth():
    (men,) = (one for one in spreads_of("bust_girth_mm") if one.source == HEINZ)
    assert (men.group, men.mean_mm, men.sd_mm) == ("men", 1009.90, 72.09)


def test_nothing_else_is_held_against_a_body():
    assert len(SPREADS) == 2 * len(ANSUR_ROWS) + 2 * len(HEINZ_ROWS) + 1


def test_published_percentiles_lie_in_their_range():
    for one in SPREADS:
        if one.percentiles_mm:
            low, middle, high = one.percentiles_mm
            assert one.low_mm < low < middle < high < one.high_mm


@pytest.mark.parametrize("measure", SIZES)
def test_inch_fractions_of_the_size_table_are_read(measure):
    text, size_8_mm = SIZES[measure]
    sizes = [parse_length_mm(f"{size} in") for size in text.split(",")]
    assert len(sizes) == 12
    assert sizes == sorted(sizes)
    assert sizes[SIZE_8] == pytest.approx(size_8_mm, abs=1e-9)
