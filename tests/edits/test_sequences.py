from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests import small
from tests.edits.any_edit import edits_for
from tests.edits.checking import check_or_refuse, described

STARTS = [
    small.with_everything, small.darted_front, small.fold_front, small.pair_and_fold,
    small.yoke_over_two, small.ring_of_panels, small.curved_square, small.disc,
    small.held_ring,
]  # fmt: skip


def play(data, steps):
    """A random sequence of edits; each leaves a sound document or is refused in words."""
    start = data.draw(st.sampled_from(STARTS))
    project = start()
    before = described(project)
    first = project
    for _ in range(steps):
        edit = data.draw(edits_for(project), label="edit")
        project = check_or_refuse(edit, project) or project
    assert described(first) == before


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_any_edits_one_after_another_leave_a_sound_document(data):
    play(data, steps=6)
