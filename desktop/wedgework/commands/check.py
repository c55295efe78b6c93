"""`wedgework check`: findings, and whether the pieces are ready to cut."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from typing import Any, Final

from wedgework.bench.mends import with_mends_that_do
from wedgework.bench.opening import read_project
from wedgework.checks import GRAVES, Finding, Grave, check
from wedgework.commands.base import DONE, STOPS_CUTTING, add_file, add_json, say, say_json

_HEADINGS: Final[dict[Grave, str]] = {
    "stops_cutting": "Stops cutting",
    "look_again": "Look again",
    "good_to_know": "Good to know",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    add_file(parser)
    add_json(parser)


def run(arguments: argparse.Namespace) -> int:
    """Answer the command; the exit code says whether something stops cutting."""
    project = read_project(arguments.file)
    findings = with_mends_that_do(project, check(project))
    stops = sum(finding.stops for finding in findings)
    if arguments.json:
        rows = [finding_report(finding) for finding in findings]
        say_json({"ready": stops == 0, "findings": rows})
    else:
        say("\n".join(_lines(findings, stops)))
    return STOPS_CUTTING if stops else DONE


def finding_report(finding: Finding) -> dict[str, Any]:
    """A finding as plain data."""
    return {
        "code": finding.code,
        "grave": finding.grave,
        "message": finding.message,
        "where": list(finding.where),
        "at_mm": None if finding.at_mm is None else [float(value) for value in finding.at_mm],
        "measured": finding.measured,
        "wanted": finding.wanted,
        "accepted": finding.accepted,
        "mends": [{"label": mend.label, "edits": list(mend.edits)} for mend in finding.mends],
    }


def _lines(findings: Iterable[Finding], stops: int) -> Iterator[str]:
    if stops:
        things = "1 thing stops" if stops == 1 else f"{stops} things stop"
        yield f"Not ready to cut: {things} cutting."
    else:
        yield "Ready to cut: nothing stops cutting."
    for grave in GRAVES:
        alike = [finding for finding in findings if finding.grave == grave]
        yield from ("", _HEADINGS[grave]) if alike else ()
        for finding in alike:
            yield f"  {finding.code}{', accepted' if finding.accepted else ''}: {finding.message}"
            yield from (f"    mend: {mend.label}" for mend in finding.mends)
