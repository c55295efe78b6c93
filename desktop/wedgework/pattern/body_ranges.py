"""What others have measured: means and spreads of bodies, each with its source.

Used to say “look again”, never to refuse: a body is as it is. Women of ANSUR II n = 1986, men n =
4082; of Heinz et al. 260 women and 247 men. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

Group: TypeAlias = Literal["women", "men"]

ANSUR: Final = (
    "Gordon et al. 2014, Anthropometric Survey of U.S. Army Personnel (ANSUR II), "
    "NATICK/TR-15/007, public working databases"
)
HEINZ: Final = (
    "Heinz, Peterson, Johnson, Kerk, Exploring Relationships in Body Dimensions, "
    "J. Statistics Education 11(2), 2003"
)

FAR_SD: Final = 3.0
"""Beyond so many standard deviations a value is rather a slip of the tape than a body."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """One measure of one group of people; percentiles are 5th, 50th and 95th, where published.

    `note` says how what they measured differs from what we mean.
    """

    measure: str
    group: Group
    mean_mm: float
    sd_mm: float
    percentiles_mm: tuple[float, float, float] | None
    source: str
    note: str = ""

    @property
    def low_mm(self) -> float:
        """The least that is within FAR_SD of the mean."""
        return self.mean_mm - FAR_SD * self.sd_mm

    @property
    def high_mm(self) -> float:
        """The most that is within FAR_SD of the mean."""
        return self.mean_mm + FAR_SD * self.sd_mm


_NAVEL: Final = "taken at the navel, not at the natural waist"

# Measure, note, then mean, sd, p5, p50, p95 of women, and the same of men (A1 to A14).
_ANSUR_ROWS: Final[tuple[tuple[str, str, tuple[float, ...], tuple[float, ...]], ...]] = (
    ("bust_girth_mm", "", (946.86, 82.70, 824.25, 940.0, 1094.0),
        (1058.71, 87.44, 922.0, 1056.0, 1207.0)),
    ("waist_girth_mm", _NAVEL, (860.91, 99.93, 710.0, 852.0, 1040.0),
        (940.58, 111.71, 768.0, 937.0, 1130.95)),
    ("hip_girth_mm", "", (1021.25, 75.89, 901.25, 1018.5, 1155.75),
        (1019.52, 76.68, 899.0, 1017.0, 1149.0)),
    ("torso_loop_mm", "", (1559.41, 75.99, 1440.0, 1555.0, 1685.0),
        (1664.80, 89.53, 1519.0, 1664.0, 1814.0)),
    ("crotch_length_mm", _NAVEL, (620.84, 42.43, 553.0, 619.0, 692.0),
        (622.34, 46.68, 549.0, 620.5, 701.0)),
    ("back_waist_length_mm", "down to the level of the navel", (425.40, 26.39, 384.0, 424.5, 470.0),
        (477.61, 27.73, 433.0, 477.0, 524.0)),
    ("neck_base_girth_mm", "", (371.16, 19.66, 340.0, 370.0, 405.0),
        (434.60, 25.67, 395.0, 433.0, 479.0)),
    ("neck_girth_mm", "", (329.80, 19.22, 302.0, 328.0, 363.0),
        (397.65, 25.78, 360.0, 395.0, 443.0)),
    ("shoulder_girth_mm", "", (1028.19, 52.92, 944.25, 1027.0, 1119.0),
        (1178.59, 63.59, 1080.0, 1176.0, 1288.0)),
    ("shoulder_length_mm", "", (135.41, 10.27, 120.0, 135.0, 153.0),
        (149.78, 10.51, 133.0, 150.0, 167.0)),
    ("thigh_girth_mm", "", (616.15, 55.81, 527.0, 613.0, 711.0),
        (625.14, 58.45, 532.0, 624.0, 723.0)),
    ("upper_arm_girth_mm", "with the arm flexed", (305.58, 30.76, 259.0, 304.0, 360.0),
        (358.14, 34.62, 303.0, 357.0, 418.0)),
    ("stature_mm", "", (1628.47, 64.20, 1525.0, 1626.0, 1740.0),
        (1756.21, 68.55, 1648.0, 1755.0, 1870.0)),
    ("inside_leg_mm", "height of the crotch", (782.32, 44.64, 712.0, 780.0, 857.0),
        (845.93, 46.50, 771.0, 845.0, 925.0)),
)  # fmt: skip

# Measure, mean and sd of women, and of men (A15 to A20). Women's chest was taken above the breast
# tissue, which is no bust girth: that one is left out.
_HEINZ_ROWS: Final[tuple[tuple[str, tuple[float, float] | None, tuple[float, float]], ...]] = (
    ("waist_girth_mm", (698.03, 75.88), (845.33, 87.82)),
    ("hip_girth_mm", (956.53, 69.41), (977.63, 62.28)),
    ("bust_girth_mm", None, (1009.90, 72.09)),
    ("shoulder_girth_mm", (1003.04, 64.71), (1165.02, 64.98)),
    ("thigh_girth_mm", (571.96, 46.36), (564.98, 42.47)),
    ("stature_mm", (1648.72, 65.45), (1777.45, 71.84)),
)


def _ansur() -> list[Spread]:
    return [
        Spread(measure=measure, group=group, mean_mm=row[0], sd_mm=row[1],
               percentiles_mm=(row[2], row[3], row[4]), source=ANSUR, note=note)
        for measure, note, women, men in _ANSUR_ROWS
        for group, row in _groups(women, men)
    ]  # fmt: skip


def _groups(
    women: tuple[float, ...], men: tuple[float, ...]
) -> tuple[tuple[Group, tuple[float, ...]], ...]:
    return (("women", women), ("men", men))


def _heinz() -> list[Spread]:
    rows: list[Spread] = []
    for measure, women, men in _HEINZ_ROWS:
        for group, row in _groups(women or (), men):
            rows += [Spread(measure=measure, group=group, mean_mm=row[0], sd_mm=row[1],
                            percentiles_mm=None, source=HEINZ)] if row else []  # fmt: skip
    return rows


SPREADS: Final[tuple[Spread, ...]] = (*_ansur(), *_heinz())
"""Every published spread that a measure of ours can be held against."""


def spreads_of(measure: str, group: Group | None = None) -> tuple[Spread, ...]:
    """Spreads of a measure, of one group or of both; none where nobody published one."""
    return tuple(one for one in SPREADS if one.measure == measure and group in {None, one.group})
