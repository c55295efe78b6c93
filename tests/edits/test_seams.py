import pytest

from tests import small
from tests.edits.checking import check_edit, refs_of, refused
from wedgework.edits.seams import JoinEdges, SetSeam, Unjoin
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Spot


def join(a, b, name="side", **more):
    return JoinEdges(name=name, a=tuple(a.split()), b=tuple(b.split()), **more)


def test_a_joined_seam_is_lapped_eight_over_a_at_first():
    after = check_edit(join("a.e2", "-b.e4"), small.two_panels(joined=False))
    seam = after.seams["side"]
    assert (seam.join, seam.lap_mm, seam.over, seam.allowed_mm) == ("lapped", 8.0, "a", 0.5)
    assert refs_of(after, "side") == (["a.e2"], ["-b.e4"])


def test_a_seam_is_called_by_its_name_and_twice_by_a_number():
    after = check_edit(join("a.e2", "-b.e4", "side seam"), small.two_panels(joined=False))
    assert list(after.seams) == ["side_seam"]
    again = check_edit(join("a.e1", "-b.e3", "side seam"), after)
    assert list(again.seams) == ["side_seam", "side_seam-2"]


def test_a_name_that_looks_like_a_ref_gives_a_plain_id():
    after = check_edit(join("a.e2", "-b.e4", "-~x"), small.two_panels(joined=False))
    assert list(after.seams) == ["x"]


@pytest.mark.parametrize("ref", ["a.e9", "-a.e9", "a.c1", "a", "~", "-"])
def test_a_ref_that_is_no_edge_is_refused(ref):
    assert refused(join(ref, "-b.e4"), small.two_panels(joined=False)).culprit is not None


def test_an_edge_has_one_seam_of_the_skin():
    error = refused(join("a.e2", "-b.e2"), small.two_panels())
    assert error.culprit == "a.e2"
    assert "“s”" in error.sentence


def test_a_leg_of_a_dart_is_joined_already():
    project = small.darted_front()
    refused(join("p.e2", "-p.e5"), project)


def test_what_is_laid_on_may_share_an_edge():
    after = check_edit(join("a.e2", "-b.e2", laid_on=True), small.two_panels())
    assert after.seams["side"].laid_on


def test_an_edge_stands_once_in_a_seam():
    refused(join("a.e2", "a.e2"), small.two_panels(joined=False))
    refused(join("a.e2 a.e2", "-b.e4"), small.two_panels(joined=False))


def test_a_run_with_pieces_on_both_sides_is_refused():
    refused(join("a.e2 -b.e4", "-a.e4"), small.two_panels(joined=False))


def test_a_mirror_image_that_there_is_not_is_refused():
    refused(join("a.e2", "~a.e2"), small.two_panels(joined=False))


def test_a_piece_joins_its_own_mirror_image():
    project = new_project(small.pair_and_fold().pieces["g"])
    after = check_edit(join("g.e2", "~g.e2"), project)
    assert refs_of(after, "side") == (["g.e2"], ["~g.e2"])


def test_the_twin_of_a_pair_may_be_joined_to_the_other_side_of_a_single():
    front = small.rectangle("f", 100, 200)
    side = small.pair_and_fold().pieces["g"]
    project = check_edit(join("f.e2", "-g.e4", "right"), new_project(front, side))
    after = check_edit(join("f.e4", "~g.e4", "left"), project)
    assert len(after.seams) == 2


def test_a_seam_of_two_pairs_takes_their_mirror_images_too():
    error = refused(join("~g.e4", "-g.e2"), small.pair_and_fold())
    assert error.culprit == "g.e4"


def test_a_fold_is_not_joined():
    refused(join("f.e4", "-g.e2"), small.pair_and_fold())


def test_an_internal_line_is_joined_only_by_what_is_laid_on():
    project = small.with_everything()
    refused(join("a.l1", "b.e1"), project)
    after = check_edit(join("a.l1", "b.e1", laid_on=True), project)
    assert refs_of(after, "side") == (["a.l1"], ["b.e1"])


def test_numbers_without_sense_are_refused():
    project = small.two_panels(joined=False)
    refused(join("a.e2", "-b.e4", allowed_mm=-1.0), project)
    refused(join("a.e2", "-b.e4", wanted_mm=float("nan")), project)


def test_what_is_set_of_a_seam_is_only_what_was_said():
    after = check_edit(SetSeam(seam="s", join="butted", wanted_mm=-2.0), small.two_panels())
    seam = after.seams["s"]
    assert (seam.join, seam.wanted_mm, seam.lap_mm) == ("butted", -2.0, 8.0)


def test_setting_what_is_so_already_changes_nothing():
    project = small.two_panels()
    assert SetSeam(seam="s", lap_mm=8.0).apply(project) is project
    assert SetSeam(seam="s").apply(project) is project


def test_a_seam_that_is_not_there_is_not_set_nor_taken_apart():
    assert refused(SetSeam(seam="zz", lap_mm=3), small.two_panels()).culprit == "zz"
    assert refused(Unjoin(seam="zz"), small.two_panels()).culprit == "zz"


def test_marks_of_a_seam_taken_apart_stay_on_both_sides():
    after = check_edit(Unjoin(seam="s"), small.with_everything())
    assert not after.seams
    assert after.notches["n1"].mate is None
    assert after.notches["n1.b"].at == Spot("b.e4", 60.0)
    assert after.holes["o1.b"].at == Spot("b.e4", 30.0)
