"""What could do harm, and what is none: refused with a sentence, never with anything else."""

from __future__ import annotations

import gzip
import time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.files.svg_text import CORNER_RAD, PAGE, SQUARE, read, svg
from wedgework.files.svg_in import read_svg
from wedgework.pattern.errors import FileRefused
from wedgework.units.scale import Unit


def refused(data: bytes) -> str:
    with pytest.raises(FileRefused) as told:
        read_svg(data, corner_rad=CORNER_RAD, unit=Unit.MM)
    assert told.value.sentence.endswith(".")
    return told.value.sentence


LAUGHS = "".join(
    f'<!ENTITY l{n} "{"".join(f"&l{n - 1};" for _ in range(10))}">' for n in range(1, 10)
)
BOMB = f'<!DOCTYPE svg [<!ENTITY l0 "ha">{LAUGHS}]>'


@pytest.mark.parametrize(
    "before",
    [
        BOMB,
        '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>',
        '<!DOCTYPE svg [<!ENTITY % x SYSTEM "http://example.org/x.dtd"> %x;]>',
        '<!DOCTYPE svg SYSTEM "http://example.org/x.dtd">',
        '<!DOCTYPE svg PUBLIC "-//Other//DTD//EN" "x.dtd">',
        '<!DOCTYPE svg SYSTEM "file:///etc/hostname">',
    ],
)
def test_entities_and_document_types_of_its_own_are_refused(before):
    assert "plain SVG" in refused(svg(f"<text>&l9;</text>{SQUARE}", PAGE, before))


@pytest.mark.parametrize(
    "before",
    [
        "<!DOCTYPE svg>",
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" '
        '"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">',
        "<!DOCTYPE svg [<!ATTLIST svg xmlns CDATA #IMPLIED>]>",
        '<?xml-stylesheet href="http://example.org/x.css"?>',
        "<!-- drawn by hand -->",
    ],
)
def test_what_honest_writers_put_on_top_is_passed_over(before):
    project, _ = read_svg(svg(SQUARE, PAGE, before), corner_rad=CORNER_RAD)
    assert list(project.pieces) == ["a"]


def test_a_skipped_entity_is_refused():
    before = '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/svg11.dtd">'
    assert "nbsp" in refused(svg(f"<text>&nbsp;</text>{SQUARE}", PAGE, before))


@pytest.mark.parametrize("depth", [250, 100_000])
def test_groups_too_deep_in_each_other_are_refused(depth):
    assert "deep" in refused(svg("<g>" * depth + SQUARE + "</g>" * depth))


def test_copies_too_deep_in_each_other_are_refused():
    body = SQUARE + "".join(
        f'<g id="g{n}"><use href="#{"a" if n == 0 else f"g{n - 1}"}"/></g>' for n in range(300)
    )
    assert "deep" in refused(svg(body))


def test_copies_that_double_themselves_are_refused():
    body = f'<defs>{SQUARE}<g id="g0"><use href="#a"/></g>' + "".join(
        f'<g id="g{n}"><use href="#g{n - 1}"/><use href="#g{n - 1}"/></g>' for n in range(1, 40)
    )
    started = time.monotonic()
    assert "shapes" in refused(svg(body + '</defs><use href="#g39"/>'))
    assert time.monotonic() - started < 60


def test_a_file_too_large_is_refused():
    assert "MB" in refused(b" " * (64 * 2**20 + 1))


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"  \n",
        b"\xef\xbb\xbf",
        b"\0" * 100,
        bytes(range(256)) * 9,
        b"\x89PNG\r\n\x1a\n",
        b"%PDF-1.7",
        b"PK\x03\x04",
        b"<svg",
        svg(SQUARE)[:-9],
        svg(SQUARE)[:90],
        b"<html><body/></html>",
        b"<svg xmlns='http://www.w3.org/2000/svg'><g></svg>",
        b'<?xml version="1.0" encoding="klingon"?><svg/>',
        b'<?xml version="1.0" encoding="shift_jis"?><svg/>',
        b"<root xmlns='urn:other'/>",
        gzip.compress(svg(SQUARE)),
        '<svg xmlns="http://www.w3.org/2000/svg">\ud800</svg>'.encode("utf-16", "surrogatepass"),
    ],
)
def test_what_is_no_svg_is_refused(data):
    assert refused(data)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "latin-1"])
def test_every_common_encoding_is_read(encoding):
    text = svg('<rect id="Ärmel" width="5" height="5"/>').decode()
    declared = {"utf-16-le": "utf-16"}.get(encoding, encoding.removesuffix("-sig"))
    data = f'<?xml version="1.0" encoding="{declared}"?>{text}'.encode(encoding)
    project, _ = read_svg(data, corner_rad=CORNER_RAD)
    assert list(project.pieces) == ["Ärmel"]


@pytest.mark.parametrize(
    "body",
    [
        '<rect id="r" width="nan" height="1"/>',
        '<rect id="r" width="1e400" height="1"/>',
        '<circle id="r" r="1e999"/>',
        '<polygon id="r" points="0,0 inf,0 1,1"/>',
        '<g id="r" transform="scale(1e999)"><path d="M0 0H9V9z"/></g>',
        '<g id="r" transform="translate(NaN)"><path d="M0 0H9V9z"/></g>',
        '<g transform="scale(1e99)"><svg><g transform="scale(1e300)"><circle r="9"/></g></svg></g>',
        '<path id="r" d="M0 0A1e300 1e-300 0 0 1 1e308 1e308z"/>',
    ],
)
def test_numbers_that_are_not_finite_are_refused(body):
    assert "not finite" in refused(svg(body + SQUARE))


@pytest.mark.parametrize(
    "page",
    [
        'width="1e999mm" height="1mm"',
        'width="1mm" viewBox="0 0 1e400 1"',
        'width="nanmm" viewBox="0 0 1 1"',
        'width="1e-400mm" viewBox="0 0 1 1"',
        'width="1mm" viewBox="0 0 inf 1"',
    ],
)
def test_a_page_that_is_not_finite_is_refused(page):
    assert refused(svg(SQUARE, page))


@pytest.mark.parametrize("data", ["M0 0H1e30V1z", "M1e7 0h9v9z"])
def test_what_lies_further_off_than_a_kilometre_is_refused(data):
    assert "kilometre" in refused(svg(f'<path id="far" d="{data}"/>'))


def test_scripts_and_handlers_are_nothing():
    body = f'<script>alert(1)</script><g onload="alert(2)">{SQUARE}</g>'
    assert list(read(body)[0].pieces) == ["a"]


@pytest.mark.parametrize("count", [200, 20_000])
def test_many_spaces_and_commas_cost_no_more_than_reading_them(count):
    started = time.monotonic()
    read(f'{SQUARE}<path d="M0 0{" ," * count}x"/><g transform="{"a(" * count}">{SQUARE}</g>')
    read(f"<style>{'a ' * count}{{ display: none }} {'{' * count}</style>{SQUARE}")
    assert time.monotonic() - started < 10


def test_a_selector_of_many_steps_costs_no_more_than_a_file():
    style = "<style>" + "g " * 60 + "path.x { display: none }</style>"
    started = time.monotonic()
    style = style.replace("<style>", "<style>no " + "g > g g > " * 40 + "path {display:none} ")
    read(style + SQUARE + "<g>" * 150 + SQUARE.replace("path ", 'path class="x" ') + "</g>" * 150)
    assert time.monotonic() - started < 10


def read_or_refused(data: bytes) -> str:
    """The first piece that is read, or "refused"."""
    try:
        project, _ = read_svg(data, corner_rad=CORNER_RAD, unit=Unit.MM)
    except FileRefused:
        return "refused"
    return next(iter(project.pieces))


WORDS = st.sampled_from(
    ["M0,0", "H9", "V9", "z", "L", "nan", "-", ".", "1e5", "a1,1,0,00", "C", "s", "q1,1", ","]
)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(words=st.lists(WORDS, max_size=12))
def test_any_path_data_is_read_or_refused(words):
    body = f'{SQUARE}<path id="x" d="{" ".join(words)}"/>'
    assert read_or_refused(svg(body)) in ("a", "refused")


@settings(max_examples=150, deadline=None)
@given(cut=st.integers(0, 600), byte=st.integers(0, 255))
def test_a_damaged_file_is_read_or_refused(cut, byte):
    data = bytearray(svg(f'<g transform="rotate(3)"><use href="#a"/>{SQUARE}</g><circle r="9"/>'))
    data[cut % len(data)] = byte
    assert read_or_refused(bytes(data))
