"""Groups, transforms, copies, styles: what an SVG shows, and where."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.files.svg_text import (
    SQUARE,
    area_mm2,
    box_mm,
    codes,
    only_piece,
    pieces,
    read,
)
from wedgework.files.svg_in import read_svg
from wedgework.pattern.errors import FileRefused


def test_transforms_of_groups_add_up_from_the_outside_in():
    body = (
        '<g transform="translate(50,20)"><g transform="scale(2)">'
        '<rect transform="translate(1 2) scale(.5,1)" width="20" height="10"/></g></g>'
    )
    assert box_mm(only_piece(body)) == pytest.approx([52, -44, 72, -24], abs=1e-12)


@pytest.mark.parametrize(
    ("transform", "box"),
    [
        ("rotate(90)", [-40, -30, -10, -10]),
        ("rotate(90 20 25)", [5, -35, 35, -15]),
        ("matrix(1 0 0 1 5 6)", [15, -46, 35, -16]),
        ("translate(5)", [15, -40, 35, -10]),
        ("scale(1,-1)", [10, 10, 30, 40]),
        ("skewX(45)", [20, -40, 70, -10]),
        ("skewY(45)", [10, -70, 30, -20]),
        ("translate(5) , translate(0 6)", [15, -46, 35, -16]),
        ("translate( 5 , 6 )scale(1)", [15, -46, 35, -16]),
        ("", [10, -40, 30, -10]),
    ],
)
def test_every_transform(transform, box):
    body = f'<g transform="{transform}">{SQUARE}</g>'
    assert box_mm(only_piece(body)) == pytest.approx(box, abs=1e-12)


def test_a_mirrored_piece_still_runs_counter_clockwise():
    assert area_mm2(only_piece(f'<g transform="scale(-1,1)">{SQUARE}</g>')) == pytest.approx(600)


def test_a_transform_that_cannot_be_read_is_told():
    assert codes(f'<g id="g" transform="wobble(3)">{SQUARE}</g>') == [("transform_unread", "g")]


def test_a_copy_stands_where_it_is_put_and_takes_its_own_id():
    body = f'<defs>{SQUARE}</defs><use id="copy" xlink:href="#a" x="5" y="6"/>'
    piece = only_piece(body)
    assert piece.id == "copy"
    assert box_mm(piece) == pytest.approx([15, -46, 35, -16], abs=1e-12)


def test_a_copy_without_an_id_takes_that_of_what_it_copies():
    assert only_piece(f'<defs>{SQUARE}</defs><use href="#a" transform="scale(2)"/>').id == "a"


def test_copies_are_made_unique():
    body = f'{SQUARE}<use href="#a" x="40"/><use href="#a" x="80"/>'
    assert [piece.id for piece in pieces(body)] == ["a", "a-2", "a-3"]


def test_a_used_symbol_is_laid_into_its_view_box():
    body = (
        '<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol>'
        '<use id="u" href="#s" x="20" y="30" width="40" height="20"/>'
    )
    piece = only_piece(body)
    assert piece.id == "u"
    assert box_mm(piece) == pytest.approx([30, -50, 50, -30], abs=1e-12)


def test_a_nested_drawing_has_its_own_view_box():
    body = f'<svg x="100" y="0" width="100" height="100" viewBox="0 0 50 50">{SQUARE}</svg>'
    assert box_mm(only_piece(body)) == pytest.approx([120, -80, 160, -20], abs=1e-12)


@pytest.mark.parametrize(
    "holder", ["defs", "symbol", "marker", "clipPath", "mask", "pattern", "linearGradient"]
)
def test_what_only_serves_other_things_is_nothing(holder):
    body = f'{SQUARE}<{holder} id="h"><rect width="5" height="5"/></{holder}>'
    assert [piece.id for piece in pieces(body)] == ["a"]
    assert codes(body) == []


@pytest.mark.parametrize(
    "hidden",
    [
        'display="none"',
        'style="display:none"',
        'style="fill:red; display : none ;"',
        'visibility="hidden"',
        'class="gone"',
        'class="other away"',
        'style="opacity:0"',
    ],
)
def test_what_is_not_shown_is_left_out(hidden):
    style = "<style>.gone{display:none} g .away, x{ visibility : collapse !important }</style>"
    body = f'{style}{SQUARE}<g><rect id="r" {hidden} width="5" height="5"/></g>'
    assert [piece.id for piece in pieces(body)] == ["a"]
    assert codes(body) == [("hidden", "r")]


def test_a_hidden_layer_hides_all_in_it_but_what_says_that_it_is_visible():
    shown = f'<g visibility="visible">{SQUARE}</g>'
    body = f'<g visibility="hidden"><rect width="5" height="5"/>{shown}</g>'
    assert [piece.id for piece in pieces(body)] == ["a"]


@pytest.mark.parametrize(
    ("css", "is_shown"),
    [
        ("path { display: none }", False),
        ("#a { display: none }", False),
        ("g > .b { display: none }", False),
        ("svg > .b { display: none }", True),
        ("g.layer .b { display: none }", False),
        (".b.c { display: none }", True),
        (".b { display: none } path.b { display: inline }", True),
        (".b { display: none !important } #a { display: inline }", False),
        ("/* .b { display: none } */", True),
        ("@media print { .b { display: none } }", True),
        (".b:hover { display: none }", True),
        ("<!-- .b { display: none } -->", False),
        ("rect, path { display: none", False),
    ],
)
def test_rules_of_a_style_sheet(css, is_shown):
    css = css.replace("<", "&lt;")
    body = (
        f"<style>{css}</style>"
        '<rect x="90" y="90" width="5" height="5" style="display:inline!important"/>'
        '<g class="layer"><path id="a" class="b" d="M10 10H30V40H10Z"/></g>'
    )
    assert ("a" in [piece.id for piece in pieces(body)]) == is_shown


def test_a_file_that_shows_nothing_is_refused():
    with pytest.raises(FileRefused, match="no closed outline"):
        read(f"<style>* {{ display: none }}</style>{SQUARE}")


def test_a_style_attribute_wins_over_a_rule():
    body = (
        f'<style>path{{display:none}}</style><path style="display:inline" d="M0 0H9V9z"/>{SQUARE}'
    )
    assert len(pieces(body)) == 1


def test_style_in_a_cdata_section_is_read():
    style = "<style><![CDATA[ .x > y {} .gone {display:none} ]]></style>"
    body = f'{style}{SQUARE}<circle class="gone" r="3"/>'
    assert [piece.id for piece in pieces(body)] == ["a"]


def test_a_drawing_with_a_prefix_for_its_name_space_is_read():
    text = (
        '<s:svg xmlns:s="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">'
        '<s:rect id="r" x="1" y="1" width="5" height="5"/></s:svg>'
    )
    project, _ = read_svg(text.encode("utf-16"), corner_rad=0.2)
    assert list(project.pieces) == ["r"]


def test_elements_of_other_name_spaces_are_nothing():
    other = '<x:path xmlns:x="urn:other" d="M0 0H9V9z"/>'
    body = f'{other}<metadata><rect width="4" height="4"/></metadata>{SQUARE}'
    assert [piece.id for piece in pieces(body)] == ["a"]


@pytest.mark.parametrize(
    "body",
    [
        '<g id="g"><use id="u" href="#g"/>{}</g>',
        '<g id="g"><use id="u" href="#h"/></g><g id="h"><use href="#g"/></g>{}',
        '<symbol id="s"><use id="u" href="#s"/></symbol><use href="#s"/>{}',
    ],
)
def test_a_copy_that_holds_itself_is_left_out(body):
    found = read(body.format(SQUARE))
    assert next(iter(found[0].pieces)) == "a"
    assert "use_of_itself" in {one.code for one in found[1]}


@pytest.mark.parametrize("href", ["#nothing", "other.svg#a", "http://example.org/x.svg#a", ""])
def test_a_copy_of_what_is_not_in_the_file_is_told(href):
    assert codes(f'{SQUARE}<use id="u" href="{href}"/>') == [("use_of_nothing", "u")]


def test_pictures_and_foreign_parts_are_told():
    body = f'{SQUARE}<image id="i" href="x.png"/><foreignObject id="f"/>'
    assert codes(body) == [("picture_left_out", "i"), ("foreign_left_out", "f")]


def test_texts_in_a_piece_are_its_labels():
    body = (
        f'{SQUARE}<text id="t" x="12" y="20" font-size="4">Left '
        "<tspan>front</tspan> cut<tspan x='1' dy='2'>2x</tspan></text>"
    )
    (label,) = only_piece(body).labels
    assert (label.id, label.text, label.height_mm) == ("t", "Left front cut 2x", 4.0)
    assert label.at_mm.tolist() == [12.0, -20.0]


def test_a_turned_text_is_a_turned_label():
    text = '<text x="20" y="20" style="font-size:3">up</text>'
    body = f'{SQUARE}<g transform="rotate(90 20 20)">{text}</g>'
    (label,) = only_piece(body).labels
    assert label.angle_rad == pytest.approx(-math.pi / 2)
    assert np.allclose(label.at_mm, [20, -20])


def test_a_text_outside_all_pieces_is_told():
    assert codes(f'{SQUARE}<text id="t" x="90" y="90">lost</text>') == [("text_left_out", "t")]


def test_names_come_from_titles_and_labels_of_layers():
    body = (
        '<rect id="r" width="5" height="5" inkscape:label="Sleeve"/>'
        '<circle id="c" cx="50" cy="50" r="9"><title>Cuff</title></circle>'
    )
    assert [piece.name for piece in pieces(body)] == ["Sleeve", "Cuff"]
