import pytest

from tests import small
from wedgework.edits.bodies import SetReductions
from wedgework.edits.body import AddLevel, LevelPoint, SetBody
from wedgework.pattern.reductions import USUAL, reduction_of
from wedgework.pattern.wanted import drawn_intake


def test_usual_reductions_lie_in_their_own_range():
    assert all(one.low <= one.share <= one.high for one in USUAL.values())
    assert reduction_of(small.square(), "edge") == 0.10


def test_intake_is_wanted_by_the_reduction_that_the_project_says():
    project = SetBody(measures={"bust_girth_mm": 400.0, "waist_girth_mm": 300.0}).apply(
        small.two_panels()
    )
    for name, y_mm in (("bust", 80), ("waist", 40)):
        points = (LevelPoint("a", y_mm), LevelPoint("b", y_mm))
        level = AddLevel(name=name, points=points, measure=f"{name}_girth_mm")
        project = level.apply(project)
    (seam,) = project.seams.values()
    for share in (0.08, 0.2):
        said = SetReductions(girth=share).apply(project)
        wanted = {row.level: row.wanted_mm for row in drawn_intake(said, seam)}
        assert wanted["waist"] - wanted["bust"] == pytest.approx((1 - share) * 100.0)
    assert drawn_intake(project, seam, reduction=0.2)[0].excess_mm == pytest.approx(
        drawn_intake(said, seam)[0].excess_mm
    )
