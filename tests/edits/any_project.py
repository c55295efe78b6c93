"""Small projects that random edits start from."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable

from tests import small
from tests.edits.test_pictures import png
from wedgework.edits import decode_plain
from wedgework.pattern.document import Project

_MORE = [
    {"edit": "set_body", "measures": {"bust_girth_mm": 400.0, "waist_girth_mm": 320.0}},
    {"edit": "add_sheet", "name": "teal", "width_mm": 300, "stains": ["white"]},
    {"edit": "cut_from", "pieces": ["a"], "sheet": "teal"},
    {"edit": "mark_opening", "name": "neck", "edges": ["a.e1", "b.e1"],
        "measure": "waist_girth_mm"},
    {"edit": "pin_measure", "kind": "along",
        "anchors": [{"edge": "a.e3", "at_mm": 10}, {"edge": "a.e3", "at_mm": 60}]},
    {"edit": "pin_measure", "kind": "distance", "anchors": ["n2", "a.c3"], "wanted": 70},
    {"edit": "add_picture", "name": "heron", "data": b64encode(png(4, 3)).decode()},
    {"edit": "add_punch_row", "seam": "s", "number": 4},
    {"edit": "add_dart", "piece": "b", "at": {"edge": "b.e2", "at_mm": 50},
        "apex_mm": [265, 50], "intake_mm": 12},
    {"edit": "draft", "kind": "band", "numbers": {"along": ["-b.e3"], "width_mm": 30}},
]  # fmt: skip


def with_full_tables() -> Project:
    """The project with something of everything that a project can hold."""
    project = small.with_everything()
    for edit in _MORE:
        project = decode_plain(edit).apply(project)
    return project


STARTS: list[Callable[[], Project]] = [
    with_full_tables, small.with_everything, small.darted_front, small.fold_front,
    small.pair_and_fold, small.yoke_over_two, small.ring_of_panels, small.curved_square,
    small.disc, small.held_ring, small.neckline_ring, small.panelled_hem,
    small.meeting_at_an_opening, small.bag,
]  # fmt: skip
