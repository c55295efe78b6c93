"""The pieces of a project, drawn: cut lines, seam lines, inner lines, marks and words.

Pieces are drawn where they lie and as they are drawn, a `fold` piece as its half. A group holds
each piece. Colours and widths are the output's affair.
"""

from __future__ import annotations

from collections.abc import Iterable

from wedgework.drawing.closings import draw_closings
from wedgework.drawing.marks import draw_marks
from wedgework.drawing.pen import Ink, Pen, Setting
from wedgework.drawing.signs import heads_of
from wedgework.drawing.words import draw_words, shown_derived
from wedgework.geometry.curve import Curve
from wedgework.pattern.cutlines import cut_outline
from wedgework.pattern.document import Line, Piece, Project, Ring
from wedgework.pattern.levels import shown_lines


def draw_project(project: Project, pen: Pen, *, words: bool = True) -> None:
    """Draw every piece; `words`: with what each piece says of itself."""
    for piece in project.pieces.values():
        draw_piece(project, piece, pen, words=words)


def draw_piece(project: Project, piece: Piece, pen: Pen, *, words: bool = True) -> None:
    """Draw one piece in a group of its own."""
    pen.begin(_piece_ink(piece))
    _draw_lines(project, piece, pen)
    draw_marks(project, piece, pen)
    draw_closings(project, piece, pen)
    for label in piece.labels:
        setting = Setting(label.at_mm, label.height_mm, label.angle_rad)
        pen.text(label.text, setting, Ink("label", id=label.id))
    if words:
        draw_words(project, piece, pen)
    pen.end()


def _draw_lines(project: Project, piece: Piece, pen: Pen) -> None:
    pen.stroke(_curves(piece.edges), _ring_ink("", piece.edges), closed=True)
    for cutout in piece.cutouts:
        pen.stroke(_curves(cutout.edges), _ring_ink(cutout.id, cutout.edges), closed=True)
    # After the seam line, so that it is seen where both are one.
    for ring in cut_rings(project, piece):
        pen.stroke(ring, Ink("cut", derived=True), closed=True)
    for one in shown_derived(project, piece):
        said = (("kind", one.kind), ("edge", one.edge))
        pen.stroke([one.curve], Ink("internal", derived=True, said=said))
    for line in piece.lines:
        for index, shown in enumerate(shown_lines(piece, line)):
            pen.stroke([shown], _line_ink(line, derived=index > 0))
            if line.kind == "grain":
                for head in heads_of(shown):
                    pen.stroke([head], _line_ink(line, derived=True))


def cut_rings(project: Project, piece: Piece) -> list[list[Curve]]:
    """Closed lines that a blade follows: the outline and each cut-out, allowance and lap added."""
    return [[stretch.curve for stretch in ring] for ring in cut_outline(project, piece)]


def _curves(ring: Ring) -> list[Curve]:
    return [edge.curve for edge in ring]


def _piece_ink(piece: Piece) -> Ink:
    said = [("name", piece.name), ("cutting", piece.cutting), ("quantity", str(piece.quantity))]
    if piece.fold_edge is not None:
        said.append(("fold-edge", piece.fold_edge))
    return Ink("piece", id=piece.id, said=tuple(said))


def _ring_ink(own: str, ring: Ring) -> Ink:
    """What a seam line says of its edges, so that they can be told apart again."""
    said = [("cubics", " ".join(str(len(edge.curve)) for edge in ring))]
    said += _ids("edges", (edge.id for edge in ring))
    said += _ids("corners", (edge.corner for edge in ring))
    if any(edge.allowance_mm for edge in ring):
        said.append(("allowances", " ".join(repr(float(edge.allowance_mm)) for edge in ring)))
    if any(edge.finish != "open" for edge in ring):
        said.append(("finishes", " ".join(edge.finish for edge in ring)))
    return Ink("seam", id=own, said=tuple(said))


def _ids(key: str, ids: Iterable[str]) -> list[tuple[str, str]]:
    """Ids as one text with a space between, or nothing if one of them has a space itself."""
    found = list(ids)
    return [] if any(len(one.split()) != 1 for one in found) else [(key, " ".join(found))]


def _line_ink(line: Line, *, derived: bool) -> Ink:
    said = [("kind", line.kind), ("name", line.name), ("level", line.level or "")]
    told = tuple((key, text) for key, text in said if text)
    return Ink("internal", id="" if derived else line.id, derived=derived, said=told)
