"""Small SVG files for tests, and what is read from them."""

from __future__ import annotations

import math

from wedgework.files.svg_in import read_svg
from wedgework.geometry.extent import bounds_of_all, ring_area_mm2
from wedgework.geometry.length import length_mm

CORNER_RAD = math.radians(15)
PAGE = 'width="200mm" height="100mm" viewBox="0 0 200 100"'
SQUARE = '<path id="a" d="M10 10H30V40H10Z"/>'


def svg(body: str, page: str = PAGE, before: str = "") -> bytes:
    """A file of SVG around `body`."""
    return (
        f'{before}<svg xmlns="http://www.w3.org/2000/svg" '
        f'xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" {page}>{body}</svg>'
    ).encode()


def read(body: str, page: str = PAGE, **wishes):
    """Project and problems of a body on a page."""
    return read_svg(svg(body, page), **({"corner_rad": CORNER_RAD} | wishes))


def pieces(body: str, page: str = PAGE, **wishes):
    """Pieces of a body on a page."""
    return list(read(body, page, **wishes)[0].pieces.values())


def only_piece(body: str, page: str = PAGE, **wishes):
    """The one piece of a body on a page."""
    (piece,) = pieces(body, page, **wishes)
    return piece


def codes(body: str, page: str = PAGE, **wishes):
    """Code and element of each problem of a body on a page."""
    return [(one.code, one.element) for one in read(body, page, **wishes)[1]]


def area_mm2(piece) -> float:
    """Area inside a piece's outline."""
    return ring_area_mm2(edge.curve for edge in piece.edges)


def around_mm(piece) -> float:
    """Length of a piece's outline."""
    return sum(length_mm(edge.curve) for edge in piece.edges)


def box_mm(piece) -> list[float]:
    """Least and greatest x and y of a piece's outline."""
    return bounds_of_all([edge.curve for edge in piece.edges]).tolist()


def corners_mm(piece) -> list[list[float]]:
    """Where each edge starts."""
    return [edge.curve.start.tolist() for edge in piece.edges]
