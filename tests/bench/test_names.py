"""The names that the bench offers to those who show it."""

from __future__ import annotations

import subprocess
import sys

import pytest

from wedgework import bench


@pytest.mark.parametrize("name", bench.__all__)
def test_every_name_that_is_offered_is_there(name):
    assert getattr(bench, name) is not None


def test_a_name_that_is_not_offered_is_not_there():
    with pytest.raises(AttributeError, match="hammer"):
        bench.hammer  # noqa: B018


def test_reading_a_project_takes_no_tool_along():
    look = "import sys, wedgework.bench.opening; print('wedgework.bench.tools' in sys.modules)"
    told = subprocess.run([sys.executable, "-c", look], capture_output=True, check=True)
    assert told.stdout.strip() == b"False"
