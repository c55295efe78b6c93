"""What is measured of many edges in one pass is what each seam would measure by itself."""

from __future__ import annotations

import numpy as np

from tests import small
from wedgework.checks import check, findings_touching
from wedgework.geometry.profile import turning_profile
from wedgework.geometry.turning import end_tangents
from wedgework.pattern.document import Project
from wedgework.pattern.filling import MANY_SEAMS, fill_measures
from wedgework.pattern.lookup import the_edge
from wedgework.pattern.seams import measure_seam


def filled(project: Project) -> Project:
    fill_measures(project, project.seams.values(), project.pieces.values())
    return project


def test_seams_measure_the_same_after_a_pass_over_all_edges():
    together, alone = filled(small.ring_of_panels(MANY_SEAMS)), small.ring_of_panels(MANY_SEAMS)
    for name, seam in together.seams.items():
        one, other = measure_seam(together, seam), measure_seam(alone, alone.seams[name])
        np.testing.assert_allclose(one.shaping, other.shaping, rtol=1e-12, atol=1e-12)


def test_every_edge_of_a_seam_is_known_after_the_pass():
    project = filled(small.ring_of_panels(MANY_SEAMS))
    refs = [ref for seam in project.seams.values() for ref in (*seam.a, *seam.b)]
    assert all(turning_profile.knows(the_edge(project, ref.edge).curve) for ref in refs)


def test_every_end_of_an_edge_is_known_after_the_pass():
    project = filled(small.ring_of_panels(MANY_SEAMS))
    edges = [edge for piece in project.pieces.values() for edge in piece.all_edges()]
    assert all(end_tangents.knows(edge.curve) for edge in edges)


def test_an_edge_that_is_not_there_is_passed_over():
    project = small.ring_of_panels(MANY_SEAMS)
    lost = small.seam("lost", "nowhere", "-nothing")
    fill_measures(project, [*project.seams.values(), lost])


def test_few_seams_are_left_to_be_measured_singly():
    project = filled(small.two_panels())
    assert not turning_profile.knows(the_edge(project, "a.e2").curve)


def test_a_whole_check_finds_what_each_seam_finds_alone():
    together, alone = small.ring_of_panels(MANY_SEAMS), small.ring_of_panels(MANY_SEAMS)
    found = {finding.message for finding in check(together)}
    singly = [findings_touching(alone, [own]) for own in (*alone.seams, *alone.pieces)]
    assert found == {finding.message for findings in singly for finding in findings}
