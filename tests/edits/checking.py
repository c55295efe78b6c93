"""One helper that every edit goes through, whatever it does."""

from __future__ import annotations

import pytest

from wedgework.edits import Edit, decode_edits, encode_edit
from wedgework.edits.imaging import is_image
from wedgework.edits.lengthening import over_mm
from wedgework.geometry.curve import Curve
from wedgework.geometry.extent import ring_area_mm2
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Piece, Project, Ref, Spot, parse_ref
from wedgework.pattern.errors import EditRefused
from wedgework.pattern.pins import pin_value


def check_edit(edit: Edit, project: Project) -> Project:
    """The project after `edit`, with all asserted that holds for every edit.

    It applies alike twice, goes to JSON and back, leaves the project that it was given alone byte
    for byte, shares every piece that it did not change, and leaves a sound document.
    """
    before = _bytes_of(project)
    again = through_json(edit)
    after, twice = edit.apply(project), again.apply(project)
    assert _bytes_of(project) == before, "an edit changed what it was given"
    assert described(after) == described(twice), "an edit is not the same twice"
    if not edit.remakes:  # what is drafted again is made anew, though it may come out alike
        assert_untouched_is_shared(project, after)
    assert_sound(after)
    return after


def refused(edit: Edit, project: Project) -> EditRefused:
    """The error that refuses `edit`; fails if it is not refused, or refused without a sentence."""
    before = _bytes_of(project)
    with pytest.raises(EditRefused) as caught:
        edit.apply(project)
    assert len(caught.value.sentence) > 10
    assert _bytes_of(project) == before
    return caught.value


def check_or_refuse(edit: Edit, project: Project) -> Project | None:
    """As `check_edit`, or None where the edit is refused as it should be."""
    try:
        edit.apply(project)
    except EditRefused:
        refused(edit, project)
        return None
    return check_edit(edit, project)


def through_json(edit: Edit) -> Edit:
    """The edit read back from JSON; asserts that it is the same value."""
    (back,) = decode_edits(b"[" + encode_edit(edit) + b"]")
    assert back == edit
    return back


def described(project: Project) -> tuple[object, ...]:
    """The whole project as values that compare by value."""
    return tuple(_plain(getattr(project, name)) for name in project.__slots__ if name[0] != "_")


def _plain(value: object) -> object:
    if isinstance(value, Curve):
        return value.segments.tobytes()
    if hasattr(value, "values") and hasattr(value, "with_rows"):
        return [(key, _plain(row)) for key, row in value.items()]
    if hasattr(value, "tobytes"):
        return value.tobytes()
    if isinstance(value, tuple | list):
        return [_plain(one) for one in value]
    names = [name for name in getattr(value, "__slots__", ()) if name != "__weakref__"]
    return (type(value).__name__, [_plain(getattr(value, n)) for n in names]) if names else value


def _bytes_of(project: Project) -> bytes:
    return repr(described(project)).encode()


def assert_untouched_is_shared(before: Project, after: Project) -> None:
    """A piece (or a seam) of which no value changed is the same object.

    Not so a mark: one that was carried along and then placed by its mate may be back where it was.
    """
    for table in ("pieces", "seams", "levels", "sheets"):
        old, new = getattr(before, table), getattr(after, table)
        for key in old.keys() & new.keys():
            if old[key] is not new[key]:
                assert _plain(old[key]) != _plain(new[key]), f"{key} was copied for nothing"


def assert_sound(project: Project) -> None:
    """Ids are unique, refs aim at what exists, marks lie on their edges, owners are right."""
    in_pieces = [own for piece in project.pieces.values() for own in piece.own_ids()]
    # The index of owners would hide an id that stands in two pieces, or twice in one.
    ids = [*in_pieces, *(own for own in project.all_ids() if own not in project.owners)]
    assert len(ids) == len(set(ids)), "an id stands twice"
    owners = {own: piece.id for piece in project.pieces.values() for own in piece.own_ids()}
    assert dict(project.owners) == owners
    edges = {edge.id: edge for piece in project.pieces.values() for edge in piece.all_edges()}
    lines = {line.id for piece in project.pieces.values() for line in piece.lines}
    for seam in project.seams.values():
        assert seam.a
        assert seam.b
        for ref in (*seam.a, *seam.b):
            assert ref.edge in edges or (seam.laid_on and ref.edge in lines), str(ref)
        for point in (seam.apex, seam.tip):
            assert point is None or point in owners, f"{seam.id} ends at a corner that is gone"
    _assert_marks_sound(project, edges)
    assert_holds_kept(project)
    for piece in project.pieces.values():
        _assert_piece_sound(project, piece)


def _assert_marks_sound(project: Project, edges: dict[str, object]) -> None:
    for mark in (*project.notches.values(), *project.holes.values()):
        for spot in (mark.at, mark.mate) if mark.mate else (mark.at,):
            assert -1e-9 <= spot.at_mm <= length_mm(edges[spot.edge].curve) + 1e-6
    for pin in project.pins.values():
        assert pin_value(project, pin) >= 0.0
        for spot in (one for one in pin.anchors if isinstance(one, Spot)):
            assert -1e-9 <= spot.at_mm <= length_mm(edges[spot.edge].curve) + 1e-6


def assert_holds_kept(project: Project) -> None:
    """Every hold has its seam, and its two sides agree."""
    for hold in project.holds.values():
        seam = project.seams[hold.seam]
        assert abs(over_mm(project, seam)) < 1e-6, f"{seam.id} is held and differs"
        assert hold.kind == "length" or is_image(project, seam)


def _assert_piece_sound(project: Project, piece: Piece) -> None:
    if piece.fold_edge is not None:
        assert piece.fold_edge in {edge.id for edge in piece.edges}
    assert piece.sheet is None or piece.sheet in project.sheets
    for line in piece.lines:
        assert line.level is None or line.level in project.levels
    assert ring_area_mm2([edge.curve for edge in piece.edges]) > 0
    for cutout in piece.cutouts:
        assert ring_area_mm2([edge.curve for edge in cutout.edges]) < 0


def refs_of(project: Project, seam: str) -> tuple[list[str], list[str]]:
    """Both runs of a seam as texts."""
    row = project.seams[seam]
    return [str(ref) for ref in row.a], [str(ref) for ref in row.b]


def run(*texts: str) -> tuple[Ref, ...]:
    """A run from texts."""
    return tuple(parse_ref(text) for text in texts)
