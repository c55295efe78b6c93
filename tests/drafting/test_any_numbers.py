"""Whatever numbers are typed: a sound draft comes out, or a refusal in words; nothing else."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.drafting.making import BODY, block
from wedgework.drafting import KINDS, draft_docs
from wedgework.edits.drafted import freshly_made, with_made
from wedgework.geometry.crossing import crosses_itself
from wedgework.pattern.errors import DraftRefused
from wedgework.pattern.seams import measure_seam

NECK = ["-front.neck", "-back.neck"]
GOOD = {
    "body_block": BODY,
    "collar": {"neckline": NECK, "width_mm": 60},
    "pleated_skirt": {"waist_mm": 700, "length_mm": 300, "pleats": 20},
    "flared_skirt": {"waist_mm": 700, "length_mm": 300, "turn_deg": 180},
    "tube": {"opening": ["front.armhole", "back.armhole"], "diameter_mm": 12},
    "band": {"along": NECK, "width_mm": 30},
    "facing": {"along": NECK},
    "flap": {"along": ["back.centre"]},
    "strip": {"length_mm": 500, "width_mm": 20},
    "binding": {"along": NECK},
    "bow": {"width_mm": 160, "depth_mm": 90, "knot_mm": 30},
    "gusset": {"length_mm": 90, "width_mm": 60},
    "cuff": {"along": ["front.armhole", "back.armhole"], "width_mm": 50},
}
FIELDS = [(row["kind"], one) for row in draft_docs() for one in row["numbers"]]
ODD = (0, -1, 1e-9, 1e5, 1e300, math.nan, math.inf, -0.0, "", "wide", True, None, [], {}, ["-"])


@cache
def suit():
    return block()


def sound_or_refused(kind, numbers):
    """The project with the draft, looked through; None where it was refused in words."""
    sentence, made = "", None
    try:
        made = freshly_made(suit(), kind, numbers)
    except DraftRefused as refusal:
        sentence = refusal.sentence
    if made is None:
        assert sentence[-1:] in {".", "?"}, sentence
        assert len(sentence) > 12
        return None
    project = with_made(suit(), kind, made)
    for row in made.pieces:
        ring = [edge.curve for edge in project.pieces[row.id].edges]
        assert all(np.isfinite(curve.segments).all() for curve in ring)
        assert not crosses_itself(ring), row.id
    for row in made.seams:
        assert abs(measure_seam(project, project.seams[row.id]).difference_mm) < 1e-3, row.id
    assert not any(isinstance(v, float) and not math.isfinite(v) for v in made.told.values())
    return project


@pytest.mark.parametrize("kind", GOOD)
def test_the_numbers_to_start_from_are_good(kind):
    assert sound_or_refused(kind, GOOD[kind]) is not None
    assert set(GOOD) == {one.name for one in KINDS}


@pytest.mark.parametrize(("kind", "field"), FIELDS, ids=map(str, range(len(FIELDS))))
def test_odd_numbers_of_every_field_are_refused_in_words_or_make_a_sound_draft(kind, field):
    for odd in ODD:
        sound_or_refused(kind, GOOD[kind] | {field["name"]: odd})


LENGTHS = st.one_of(st.floats(1, 1200), st.floats(0, 40), st.floats(-1e3, 1e5))
LINES = st.sampled_from([NECK, ["front.armhole", "back.armhole"], ["front.side"], ["nil"]])
BY_TYPE = {"list of text": LINES, "list of text or nothing": LINES, "true or false": st.booleans()}


def value_of(field):
    """A strategy for a field: near what is usual, and far from it."""
    kind, unit = field["type"], field["unit"]
    if " | " in kind:
        return st.sampled_from(kind.split(" | "))
    if kind.startswith("whole"):
        return st.integers(-1, 300)
    by_unit = {"deg": st.floats(-10, 800), "mm": LENGTHS}
    return BY_TYPE.get(kind, by_unit.get(unit, st.floats(-0.1, 1.1)))


@pytest.mark.parametrize("kind", GOOD)
@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_any_numbers_make_a_sound_draft_or_are_refused_in_words(kind, data):
    fields = [one for name, one in FIELDS if name == kind]
    some = data.draw(st.lists(st.sampled_from(fields), max_size=6, unique_by=lambda f: f["name"]))
    typed = {one["name"]: data.draw(value_of(one)) for one in some}
    sound_or_refused(kind, GOOD[kind] | typed)


@settings(max_examples=25, deadline=None)
@given(shares=st.lists(st.floats(0.8, 1.25), min_size=len(BODY), max_size=len(BODY)))
def test_a_body_near_the_invented_one_makes_a_sound_block_or_is_refused(shares):
    body = {name: mm * share for (name, mm), share in zip(BODY.items(), shares, strict=True)}
    sound_or_refused("body_block", body)


@pytest.mark.parametrize(("kind", "field"), FIELDS, ids=[f"{k}.{f['name']}" for k, f in FIELDS])
def test_every_number_says_what_it_is(kind, field):
    assert len(field["meaning"]) > 4, (kind, field["name"])
