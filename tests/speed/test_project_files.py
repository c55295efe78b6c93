"""Reading and writing a project of 3000 pieces, beside a copy of its file.

Goals: writing within 40 copies, reading within 70. Times are recorded and not asserted: shared
machines are noisy.
"""

from __future__ import annotations

import shutil
from statistics import median
from time import perf_counter

import numpy as np
import pytest

from wedgework.files.wedge import read_wedge, write_wedge
from wedgework.geometry.curve import Curve
from wedgework.pattern.changes import new_project
from wedgework.pattern.document import Edge, Piece, Ref, Seam

PIECES = 3000
EDGES = 8


def blob(number, random):
    """A piece of eight edges, two cubics each."""
    angles = np.linspace(0, 2 * np.pi, 6 * EDGES, endpoint=False)
    radii = 100 + random.normal(size=len(angles)) * 3
    ring = np.stack([radii * np.cos(angles), radii * np.sin(angles)], axis=1)
    ring = np.concatenate([ring, ring[:1]]) + random.normal(size=2) * 1000
    edges = []
    for index in range(EDGES):
        points = ring[6 * index : 6 * index + 7]
        cubics = np.stack([points[:4], points[3:]])
        name = f"p{number}.e{index}"
        edges.append(Edge(id=name, name="", curve=Curve(cubics), corner=f"p{number}.c{index}"))
    return Piece(id=f"p{number}", name=f"Panel {number}", edges=tuple(edges))


@pytest.fixture(scope="module")
def project():
    random = np.random.default_rng(1)
    pieces = [blob(number, random) for number in range(PIECES)]
    seams = [
        Seam(
            id=f"s{n}.{k}",
            name="",
            a=(Ref(f"p{n}.e{k}"),),
            b=(Ref(f"p{(n + 1) % PIECES}.e{k + 4}", backward=True),),
        )
        for n in range(PIECES)
        for k in range(4)
    ]
    return new_project(*pieces, seams=seams)


def seconds_of_a_copy(data, folder):
    (folder / "a").write_bytes(data)
    times = []
    for _ in range(7):
        start = perf_counter()
        shutil.copyfile(folder / "a", folder / "b")
        times.append(perf_counter() - start)
    return median(times)


def test_reading_3000_pieces(benchmark, project, tmp_path):
    data = write_wedge(project)
    benchmark.extra_info["copy_s"] = seconds_of_a_copy(data, tmp_path)
    assert len(benchmark(read_wedge, data).pieces) == PIECES


def test_writing_3000_pieces(benchmark, project, tmp_path):
    data = benchmark(write_wedge, project)
    benchmark.extra_info["copy_s"] = seconds_of_a_copy(data, tmp_path)
    assert len(data) > 9_000_000
