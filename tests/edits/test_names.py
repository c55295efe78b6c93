from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits import Place, undo_text
from wedgework.edits.names import Rename
from wedgework.edits.pivot import DivideDart, PivotDart
from wedgework.pattern.darts import darts_of


def test_a_piece_gets_another_name_and_keeps_its_id():
    after = check_edit(Rename(id="a", name="front"), small.two_panels())
    assert after.pieces["a"].name == "front"


def test_an_edge_a_seam_and_a_line_have_names():
    project = small.with_everything()
    assert check_edit(Rename(id="a.e2", name="side"), project).pieces["a"].edges[1].name == "side"
    assert check_edit(Rename(id="s", name="side"), project).seams["s"].name == "side"
    assert check_edit(Rename(id="a.l1", name="x"), project).pieces["a"].lines[0].name == "x"
    assert check_edit(Rename(id="waist", name="x"), project).levels["waist"].name == "x"
    assert check_edit(Rename(id="a.t1", name="x"), project).pieces["a"].labels[0].text == "x"


def test_a_corner_has_no_name():
    assert refused(Rename(id="a.c1", name="x"), small.two_panels()).culprit == "a.c1"


def test_what_is_not_there_is_refused_by_its_id():
    assert "“zz”" in refused(Rename(id="zz", name="x"), small.square()).sentence


def test_the_undo_list_says_names():
    project = Rename(id="a", name="front").apply(small.two_panels())
    assert undo_text(Rename(id="a", name="back"), project) == "Rename front to “back”"


def test_the_same_name_changes_nothing():
    project = small.with_everything()
    for own in ("a", "s", "waist", "a.e1", "a.l1", "a.t1"):
        once = Rename(id=own, name="x").apply(project)
        assert Rename(id=own, name="x").apply(once) is once


def test_the_word_of_a_dart_is_not_said_twice():
    project = small.darted_front()
    unnamed = DivideDart(dart="d1", into=2).apply(project)
    own = next(dart.id for dart in darts_of(unnamed) if dart.name.startswith("dart "))
    said = undo_text(PivotDart(dart=own, to=Place(edge="p.e6", at_mm=20)), unnamed)
    assert "dart dart" not in said
    assert unnamed.seams[own].name in said
