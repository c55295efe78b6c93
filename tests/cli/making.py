"""A maker at the command line, for tests: drawings in, edits, numbers out, all in one folder."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from tests.cli.program import Answer, command

PAGE = 'width="1000mm" height="1000mm" viewBox="0 0 1000 1000"'
XY = Sequence[float]


def ring(name: str, *points: XY) -> str:
    """A closed path through points given in millimetres, y up."""
    words = " L".join(f"{x!r},{-y!r}" for x, y in points)
    return f'<path id="{name}" d="M{words} Z"/>'


def box(name: str, x: float, y: float, width: float, height: float) -> str:
    """A rectangle: e1 below, e2 right, e3 above, e4 left."""
    right, top = x + width, y + height
    return ring(name, (x, y), (right, y), (right, top), (x, top))


@dataclass
class Maker:
    """One project in one folder, worked on by commands alone."""

    folder: Path
    capsys: Any
    page: str = PAGE

    @property
    def file(self) -> Path:
        return self.folder / "work.wedge"

    def drawing(self, *body: str) -> Path:
        path = self.folder / "drawing.svg"
        text = "".join(body)
        path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {self.page}>{text}</svg>')
        return path

    def run(self, *words: object) -> Answer:
        return command(self.capsys, *words)

    def new(self, *body: str, more: Sequence[object] = ()) -> Maker:
        answer = self.run("new", self.file, "--from", self.drawing(*body), *more)
        assert (answer.code, answer.err) == (0, "")
        return self

    def edit(self, *edits: dict[str, Any]) -> Any:
        answer = self.tried(*edits)
        assert (answer.code, answer.err) == (0, "")
        return answer.json

    def tried(self, *edits: dict[str, Any]) -> Answer:
        do = self.folder / "edits.json"
        do.write_text(json.dumps(edits))
        return self.run("edit", self.file, "--do", do, "--save", self.file, "--json")

    def refused(self, *edits: dict[str, Any]) -> str:
        before = self.file.read_bytes()
        answer = self.tried(*edits)
        assert answer.is_told_as_it_should_be, answer
        assert answer.out == ""
        assert self.file.read_bytes() == before
        return answer.err

    def made(self, *edits: dict[str, Any]) -> list[list[str]]:
        return self.edit(*edits)["made"]

    def info(self) -> Any:
        return self.run("info", self.file, "--json").json

    def pieces(self) -> dict[str, Any]:
        return {piece["id"]: piece for piece in self.info()["pieces"]}

    def piece(self, name: str) -> Any:
        return self.pieces()[name]

    def edges(self) -> dict[str, Any]:
        return {edge["id"]: edge for piece in self.info()["pieces"] for edge in piece["edges"]}

    def length(self, edge: str) -> float:
        return float(self.edges()[edge]["length_mm"])

    def at(self, corner: str) -> tuple[float, float]:
        rows = (row for piece in self.info()["pieces"] for row in piece["corners"])
        return next(tuple(row["at_mm"]) for row in rows if row["id"] == corner)

    def seams(self) -> dict[str, Any]:
        return {seam["id"]: seam for seam in self.info()["seams"]}

    def seam(self) -> Any:
        (only,) = self.info()["seams"]
        return only

    def join(self, a: Sequence[str], b: Sequence[str], **more: Any) -> str:
        words = {"edit": "join", "name": "seam", "a": list(a), "b": list(b), **more}
        known = set(self.seams())
        self.edit(words)
        (made,) = set(self.seams()) - known
        return made

    def found(self) -> dict[str, Any]:
        findings = self.run("check", self.file, "--json").json["findings"]
        return {finding["code"]: finding for finding in findings}

    def export(self, name: str, *more: object) -> Path:
        out = self.folder / name
        answer = self.run("export", self.file, out, *more)
        assert (answer.code, answer.err) == (0, "")
        return out


def shoelace(points: Sequence[XY]) -> float:
    """The area of a polygon, counter-clockwise positive."""
    x, y = np.asarray(points, dtype=np.float64).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0
