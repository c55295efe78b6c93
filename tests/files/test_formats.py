"""The table of formats."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests import small
from wedgework.files import FORMATS, WriteOptions, file_bytes, format_of, read_file_bytes
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused


def test_no_suffix_stands_twice_and_each_says_what_it_is():
    assert len({one.suffix for one in FORMATS}) == len(FORMATS)
    assert all(one.words for one in FORMATS)


def test_the_suffix_decides_in_large_and_small_letters():
    assert format_of(Path("Suit.SVG")).suffix == ".svg"


def test_an_unknown_suffix_is_refused_with_those_that_are_known():
    with pytest.raises(FileRefused, match=r"“suit\.doc”.*\.wedge, \.svg"):
        format_of(Path("suit.doc"))


@pytest.mark.parametrize("kind", FORMATS, ids=lambda kind: kind.suffix)
def test_a_format_is_written_or_refused_with_a_sentence(kind):
    path = Path(f"suit{kind.suffix}")
    if kind.write is None:
        with pytest.raises(FileRefused, match=rf"\{kind.suffix} .* instead\.$"):
            file_bytes(path, small.square())
    else:
        assert file_bytes(path, small.square(), WriteOptions(paper="A3"))


def test_a_project_comes_back_through_the_table():
    data = file_bytes(Path("suit.wedge"), small.two_panels())
    project, problems = read_file_bytes(Path("suit.wedge"), data)
    assert list(project.pieces) == ["a", "b"]
    assert problems == ()


def test_paper_is_no_way_in():
    with pytest.raises(FileRefused, match="cannot be read"):
        read_file_bytes(Path("suit.pdf"), b"")


@pytest.mark.parametrize("suffix", [".svg", ".pdf"])
def test_a_project_without_pieces_makes_no_drawing(suffix):
    with pytest.raises(FileRefused, match="no pieces"):
        file_bytes(Path(f"suit{suffix}"), Project())
