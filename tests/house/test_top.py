"""What stands at the top of the repository, and what the program may depend on."""

from __future__ import annotations

import re
import sys
import tomllib
from importlib.metadata import Distribution, distribution

import pytest
from packaging.requirements import Requirement
from packaging.version import Version

from tests.house.source import TOP

MAY_STAND = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "desktop",
    "resources",
    "tests",
    "demo_projects",
}
BUILT = {"build", "dist"}
PYPROJECT = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))
NEEDED = [Requirement(line) for line in PYPROJECT["project"]["dependencies"]]
FOR_TESTS = [Requirement(line) for line in PYPROJECT["project"]["optional-dependencies"]["test"]]

# Licences that let an MIT program use a library as it is. LGPL (Qt): as libraries of its own,
# which a wheel beside ours is. Metadata writes one licence in many ways.
ALLOWED = re.compile(r"MIT|BSD|0BSD|Apache|PSF|Python Software Foundation|MPL|LGPL|Zlib|CC0|ISC")


def closure(requirements):
    """Installed distributions that `requirements` bring along, by name."""
    waiting = [requirement.name for requirement in requirements]
    found: dict[str, Distribution] = {}
    while waiting:
        name = waiting.pop()
        if name not in found:
            found[name] = distribution(name)
            further = map(Requirement, found[name].requires or [])
            waiting += [r.name for r in further if r.marker is None or r.marker.evaluate()]
    return found


def licence(of: Distribution) -> str:
    data = of.metadata
    classified = [line for line in data.get_all("Classifier") or [] if line.startswith("License")]
    return " ".join([data["License-Expression"] or "", (data["License"] or "")[:80], *classified])


def test_the_top_level_holds_what_it_may_and_nothing_else():
    there = {path.name for path in TOP.iterdir() if not path.name.startswith(".")}
    assert there - BUILT == MAY_STAND


@pytest.mark.parametrize("name", sorted(closure(NEEDED)))
def test_a_package_that_the_program_needs_has_a_licence_that_allows_it(name):
    assert ALLOWED.search(licence(distribution(name)))


@pytest.mark.parametrize("requirement", [*NEEDED, *FOR_TESTS], ids=lambda r: r.name)
def test_a_dependency_names_its_least_version_and_that_is_installed(requirement):
    assert {one.operator for one in requirement.specifier} & {">=", "~="}
    assert Version(distribution(requirement.name).version) in requirement.specifier


def test_the_door_the_project_and_the_linter_ask_for_the_same_python():
    assert PYPROJECT["project"]["requires-python"] == ">=3.11"
    assert PYPROJECT["tool"]["ruff"]["target-version"] == "py311"
    assert sys.version_info >= (3, 11)
