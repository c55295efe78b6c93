"""The first check of a project, and the first report: everything is measured, nothing known yet.

A ratio to what a well-known library needs to say whether the same outlines are simple; recorded
and not asserted, since shared machines are noisy. Time of the processor, not of the clock.
"""

from __future__ import annotations

from statistics import median
from time import process_time

import pytest
import shapely

from tests.speed.test_bench import table_of
from wedgework.bench.report import report
from wedgework.checks import check
from wedgework.geometry.flatten import flattened_ring

ERROR_MM = 0.02


def seconds_of(work):
    before = process_time()
    work()
    return process_time() - before


def valid_seconds(project):
    """The reference: `shapely.is_valid` of all outlines, flattened beforehand."""
    rings = [
        shapely.Polygon(flattened_ring([edge.curve for edge in piece.edges], ERROR_MM))
        for piece in project.pieces.values()
    ]
    return median(seconds_of(lambda: shapely.is_valid(rings)) for _ in range(5))


@pytest.mark.parametrize("count", [30, 300, 3000])
@pytest.mark.parametrize("work", [check, report])
def test_first_check(benchmark, work, count):
    def fresh():
        return (table_of(count),), {}

    benchmark.pedantic(work, setup=fresh, rounds=1 if count > 300 else 5)
    project = table_of(count)
    seconds = seconds_of(lambda: work(project))
    benchmark.extra_info["processor s"] = round(seconds, 3)
    benchmark.extra_info["us a seam"] = round(seconds / len(project.seams) * 1e6)
    benchmark.extra_info["times is_valid"] = round(seconds / valid_seconds(project), 1)
