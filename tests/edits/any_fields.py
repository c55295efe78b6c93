"""Arguments of any edit, drawn by what its fields are called and of what type they are."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from typing import Any, Final

import msgspec.inspect as look
from hypothesis import strategies as st

from wedgework.edits import EDITS
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import length_mm
from wedgework.pattern.body import MEASURES
from wedgework.pattern.document import Piece, Project
from wedgework.pattern.lookup import the_edge

Draw = Callable[..., Any]
Plain = dict[str, Any]

KINDS: Final = {row.name: row.edit for row in EDITS}


def edges_of(project: Project) -> list[str]:
    """Every edge of every piece."""
    return [edge.id for piece in project.pieces.values() for edge in piece.all_edges()]


def _drawn(project: Project, what: str) -> list[str]:
    return [one.id for piece in project.pieces.values() for one in getattr(piece, what)]


def _marks(project: Project) -> list[str]:
    return [*project.notches, *project.holes]


def _corners(project: Project) -> list[str]:
    return [edge.corner for piece in project.pieces.values() for edge in piece.edges]


def _things(project: Project) -> list[str]:
    drawn = [*_drawn(project, "lines"), *_drawn(project, "labels"), *_drawn(project, "cutouts")]
    return [*project.pieces, *edges_of(project), *_corners(project), *drawn]


IDS: Final[dict[str, Callable[[Project], Iterable[str]]]] = {
    "piece": lambda project: project.pieces,
    "pieces": lambda project: project.pieces,
    "edge": edges_of,
    "edges": edges_of,
    "corner": _corners,
    "darts": lambda project: (own for own, seam in project.seams.items() if seam.is_dart),
    "seam": lambda project: project.seams,
    "seams": lambda project: project.seams,
    "dart": lambda project: (own for own, seam in project.seams.items() if seam.is_dart),
    "level": lambda project: project.levels,
    "opening": lambda project: project.openings,
    "pin": lambda project: project.pins,
    "pins": lambda project: project.pins,
    "picture": lambda project: project.pictures,
    "sheet": lambda project: project.sheets,
    "line": lambda project: _drawn(project, "lines"),
    "label": lambda project: _drawn(project, "labels"),
    "notches": lambda project: project.notches,
    "holes": lambda project: project.holes,
    "marks": _marks,
    "row": lambda project: dict.fromkeys(h.row for h in project.holes.values() if h.row),
    "things": _things,
    "id": lambda project: project.all_ids(),
    "where": lambda project: project.all_ids(),
}
"""What an argument of this name may be the id of."""

WORDS: Final = {"measure": list(MEASURES), "code": ["seam_length", "outline_spike", "flat_seam"]}
"""What an argument of this name may say, where not any word will do."""


def named_in(project: Project) -> set[str]:
    """The names of arguments for which the project has something to name."""
    return {name for name, rows in IDS.items() if any(True for _ in rows(project))}


@cache
def _struct(kind: str) -> look.StructType:
    return look.type_info(KINDS[kind])


@cache
def asked_of(kind: str) -> frozenset[str]:
    """The ids that an edit of this kind cannot do without, by the names of its arguments."""
    return frozenset(one.name for one in _struct(kind).fields if one.required and one.name in IDS)


def any_fields(draw: Draw, project: Project, kind: str) -> Plain:
    """Plain arguments of an edit; what it can do without is left out about every second time."""
    return fields_of(draw, project, _struct(kind))


def fields_of(draw: Draw, project: Project, struct: look.StructType) -> Plain:
    """Plain fields of a struct."""
    drawn: Plain = {}
    for one in struct.fields:
        if one.required or draw(st.booleans()):
            drawn[one.encode_name] = any_value(draw, project, one.name, one.type)
    return drawn


def any_value(draw: Draw, project: Project, name: str, kind: look.Type) -> Any:
    """A value for an argument: an id where its name says of what, else by its type."""
    kind = _bare(draw, kind)
    if name in IDS and isinstance(kind, look.StrType | look.VarTupleType):
        rows = sorted(set(IDS[name](project))) or ["none"]
        if isinstance(kind, look.StrType):
            return draw(st.sampled_from(rows))
        return draw(st.lists(st.sampled_from(rows), min_size=1, max_size=3, unique=True))
    if isinstance(kind, look.TupleType) and name.endswith("_mm"):
        return a_shift(draw) if name.startswith("by") else _point(draw, project)
    return _by_type(draw, project, name, kind)


def _bare(draw: Draw, kind: look.Type) -> look.Type:
    """A type without its notes; of several one."""
    while isinstance(kind, look.Metadata):
        kind = kind.type
    if isinstance(kind, look.UnionType):
        return _bare(draw, draw(st.sampled_from(kind.types)))
    return kind


def _by_type(draw: Draw, project: Project, name: str, kind: look.Type) -> Any:  # noqa: PLR0911
    if isinstance(kind, look.NoneType):
        return None
    if isinstance(kind, look.BoolType):
        return draw(st.booleans())
    if isinstance(kind, look.LiteralType):
        return draw(st.sampled_from(kind.values))
    if isinstance(kind, look.IntType | look.FloatType):
        return _number(draw, name, kind)
    if isinstance(kind, look.VarTupleType):
        return [
            any_value(draw, project, name, kind.item_type) for _ in range(draw(st.integers(1, 2)))
        ]
    if isinstance(kind, look.StructType):
        return fields_of(draw, project, kind)
    if isinstance(kind, look.TupleType):
        return [any_value(draw, project, name, one) for one in kind.item_types]
    return draw(st.sampled_from(WORDS.get(name, ["heron", "pike", "waist"])))


def _number(draw: Draw, name: str, kind: look.IntType | look.FloatType) -> float:
    least = kind.ge if kind.ge is not None else kind.gt if kind.gt is not None else -60
    most = kind.le if kind.le is not None else kind.lt if kind.lt is not None else 60
    if name.endswith("_deg"):
        return draw(st.integers(-180 if least < 0 else 1, 180))
    if most <= 1:
        return draw(st.sampled_from([0.25, 0.5, float(most)]))
    return draw(st.integers(int(max(least, -60)) + (kind.gt is not None), int(min(most, 60))))


def _point(draw: Draw, project: Project) -> list[float]:
    if not project.pieces:
        return [0.0, 0.0]
    return point_in(draw, project.pieces[draw(st.sampled_from(list(project.pieces)))])


def point_in(draw: Draw, piece: Piece) -> list[float]:
    """A point of the rectangle about a piece."""
    left, low, right, high = bounds_of_all([edge.curve for edge in piece.edges])
    across, up = draw(st.integers(1, 9)) / 10, draw(st.integers(1, 9)) / 10
    return [float(left + across * (right - left)), float(low + up * (high - low))]


def an_edge(draw: Draw, project: Project) -> str:
    """An edge of any piece."""
    return draw(st.sampled_from(edges_of(project)))


def a_piece(draw: Draw, project: Project) -> str:
    """A piece."""
    return draw(st.sampled_from(list(project.pieces)))


def an_outer_edge(draw: Draw, project: Project, piece: str) -> str:
    """An edge of the outline of a piece."""
    return draw(st.sampled_from([edge.id for edge in project.pieces[piece].edges]))


def a_station(draw: Draw, project: Project, edge: str) -> float:
    """A place along an edge, its ends among them."""
    ratio = draw(st.sampled_from([0.0, 0.1, 0.25, 0.5, 0.6, 0.8, 1.0]))
    return round(ratio * length_mm(the_edge(project, edge).curve), 3)


def a_place(draw: Draw, project: Project, piece: str) -> Plain:
    """A place on the outline of a piece."""
    edge = an_outer_edge(draw, project, piece)
    return {"edge": edge, "at_mm": a_station(draw, project, edge)}


def a_shift(draw: Draw) -> list[float]:
    """A small way, across and up."""
    return [draw(st.integers(-25, 25)), draw(st.integers(-25, 25))]
