"""Untidy drawings of any kind are read into a sound project, or refused."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.files.svg_text import area_mm2, read
from wedgework.pattern.errors import FileRefused


class Scribble:
    """Draws shapes at random, with numbers of few decimals."""

    def __init__(self, seed):
        self._dice = random.Random(seed)  # noqa: S311 - chance for drawing, not for secrets
        self._decimals = self._dice.randrange(4)

    def number(self, low, high):
        return f"{self._dice.uniform(low, high):.{self._decimals}f}"

    def place(self):
        return f"{self.number(0, 200)} {self.number(0, 100)}"

    def rect(self):
        sides = f'width="{self.number(0, 60)}" height="{self.number(0, 60)}"'
        x, y = self.place().split()
        return f'<rect x="{x}" y="{y}" {sides} rx="{self._dice.choice([0, 2, 50])}"/>'

    def circle(self):
        x, y = self.place().split()
        return f'<circle cx="{x}" cy="{y}" r="{self.number(0, 40)}"/>'

    def polygon(self):
        points = " ".join(self.place() for _ in range(self._dice.randrange(1, 9)))
        return f'<polygon points="{points}"/>'

    def chords(self):
        count, r = self._dice.randrange(3, 200), self._dice.uniform(0.01, 40)
        turns = [2 * math.pi * k / count for k in range(count)]
        rough = [r * self._dice.choice([1, 1, 1.02]) for _ in turns]
        points = " ".join(
            f"{90 + x * math.cos(t):.{self._decimals}f},{50 + r * math.sin(t):.{self._decimals}f}"
            for t, x in zip(turns, rough, strict=True)
        )
        return f'<polygon points="{points}"/>'

    def step(self):
        x, y = self.number(-20, 20), self.number(-9, 9)
        flags = f"{self._dice.randrange(2)}{self._dice.randrange(2)}"
        arc = f"a{self.number(0, 30)} 9 {self.number(0, 90)} {flags} {x} 3"
        bent = [f"q5 5 {x} 3", f"c0 0 0 0 {x} 9", f"t{y} 4", f"s1 2 {x} 4", arc]
        return self._dice.choice([f"L{self.place()}", f"h{x}", f"v{y}", "l0 0", "z", *bent])

    def path(self):
        steps = "".join(self.step() for _ in range(self._dice.randrange(1, 12)))
        return f'<path d="M{self.place()}{steps}{self._dice.choice(["", "z"])}"/>'

    def side(self):
        a, b, c, d = (self._dice.randrange(4) * 10 for _ in range(4))
        return f'<path d="M{a} {b}L{c} {d}"/>'

    def notched(self):
        return f'<path d="M{self.place()}h30v20h-10l-3 8-3-8h-14z"/>'

    def turned(self):
        return f'<g transform="rotate({self.number(0, 360)})">{self.shape()}</g>'

    def shape(self):
        kinds = [self.rect, self.circle, self.polygon, self.chords, self.path, self.side]
        return self._dice.choice([*kinds, self.notched, self.turned])()

    def drawing(self):
        return "".join(self.shape() for _ in range(self._dice.randrange(1, 25)))


def sound_or_refused(seed, **wishes):
    try:
        project, problems = read(Scribble(seed).drawing(), **wishes)
    except FileRefused:
        return
    ids = list(project.all_ids())
    assert len(ids) == len(set(ids))
    assert len(problems) == len(project.problems)
    assert all(one.sentence.endswith(".") for one in problems)
    for piece in project.pieces.values():
        assert area_mm2(piece) > -1e-6


WISHES = st.fixed_dictionaries({"notches": st.booleans(), "line": st.sampled_from(["seam", 5.0])})


@settings(max_examples=35, deadline=None)
@given(seed=st.integers(0, 10**6), wishes=WISHES)
def test_a_scribble_is_read_soundly_or_refused(seed, wishes):
    sound_or_refused(seed, **wishes)


@pytest.mark.slow
@settings(max_examples=600, deadline=None)
@given(seed=st.integers(0, 10**9), wishes=WISHES)
def test_many_scribbles_are_read_soundly_or_refused(seed, wishes):
    sound_or_refused(seed, **wishes)
