"""Files that ship with the program are found, in a checkout and in a wheel alike."""

from __future__ import annotations

import subprocess
import sys
import zipfile

import pytest

from tests.house.source import TOP
from wedgework.resources import demo_names, demo_path, resource_path


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(build, cwd=TOP, check=True, capture_output=True)
    return next(folder.glob("*.whl"))


@pytest.fixture(scope="module")
def unpacked(wheel, tmp_path_factory):
    folder = tmp_path_factory.mktemp("unpacked")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder)
    return folder


def ask(folder, question):
    look = f"from wedgework import resources; print({question})"
    environment = {"PYTHONPATH": str(folder), "PATH": ""}
    command = [sys.executable, "-S", "-P", "-c", look]
    answer = subprocess.run(command, env=environment, check=True, capture_output=True, text=True)
    return answer.stdout.strip()


def test_a_resource_of_the_checkout_is_found():
    assert resource_path("fonts/LICENSE.txt") == TOP / "resources" / "fonts" / "LICENSE.txt"


def test_a_resource_that_is_not_shipped_is_refused_by_name():
    with pytest.raises(FileNotFoundError, match="no_such_thing"):
        resource_path("no_such_thing.svg")


def test_every_demo_name_leads_to_its_file():
    assert all(demo_path(name).is_file() for name in demo_names())


def test_a_wheel_carries_the_resources_and_finds_them(unpacked):
    found = ask(unpacked, "resources.resource_path('fonts/LICENSE.txt')")
    assert found == str(unpacked / "wedgework" / "shipped" / "resources" / "fonts" / "LICENSE.txt")


def test_a_wheel_carries_the_same_demos(unpacked):
    assert ask(unpacked, "resources.demo_names()") == str(demo_names())
