import pytest

from tests import small
from wedgework.edits import apply_all, decode_edits
from wedgework.edits.edges import SplitEdge
from wedgework.edits.move import MoveCorner
from wedgework.pattern.errors import EditRefused


def test_what_each_edit_made_and_removed_is_told():
    edits = decode_edits(
        b'[{"edit":"split_edge","edge":"p.e1","at_mm":30},'
        b'{"edit":"merge_edges","first":"p.e1.1","second":"p.e1.2"}]'
    )
    applied = apply_all(small.square(), edits)
    made, removed = applied.made, applied.removed
    assert made == [["p.e1.1", "p.e1.2", "p.e1.c"], []]
    assert removed == [["p.e1"], ["p.e1.2", "p.e1.c"]]


def test_one_refused_edit_refuses_them_all():
    project = small.square()
    edits = [MoveCorner(corner="p.c1", by_mm=(1, 1)), SplitEdge(edge="zz", at_mm=1)]
    with pytest.raises(EditRefused):
        apply_all(project, edits)
    assert project.pieces["p"].edges[0].curve.start == pytest.approx([0, 0])
