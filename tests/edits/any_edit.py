"""Edits drawn at random for a given project: most can be done, many have to be refused."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hypothesis import strategies as st

from wedgework.edits import Edit, decode_plain
from wedgework.geometry.extent import bounds_of_all
from wedgework.geometry.length import length_mm
from wedgework.pattern.document import Project
from wedgework.pattern.laying import line_through
from wedgework.pattern.lookup import piece_of, the_edge

Draw = Callable[..., Any]
Plain = dict[str, Any]


@st.composite
def edits_for(draw: st.DrawFn, project: Project) -> Edit:
    """One edit whose ids are in the project and whose numbers are of its size."""
    kinds = [kind for kind in _KINDS if _has(project, kind)]
    kind = draw(st.sampled_from(kinds))
    return decode_plain({"edit": kind} | _KINDS[kind](draw, project))


def _has(project: Project, kind: str) -> bool:
    """Whether there is anything that an edit of this kind could be about."""
    if kind in _OF_DARTS:
        return any(seam.is_dart for seam in project.seams.values())
    if kind in {
        "unjoin",
        "shape_seam",
        "true_seam",
        "seam_to_dart",
        "unite_panels",
        "split_seam",
        "merge_seams",
        "hold_seam",
        "let_go",
    }:
        return bool(project.seams)
    if kind == "remove_piece":
        return len(project.pieces) > 1
    return bool(project.notches) if kind == "move_mark" else True


def _edges(project: Project) -> list[str]:
    return [edge.id for piece in project.pieces.values() for edge in piece.all_edges()]


def _edge(draw: Draw, project: Project) -> str:
    return draw(st.sampled_from(_edges(project)))


def _piece(draw: Draw, project: Project) -> str:
    return draw(st.sampled_from(list(project.pieces)))


def _outer_edge(draw: Draw, project: Project, piece: str) -> str:
    return draw(st.sampled_from([edge.id for edge in project.pieces[piece].edges]))


def _at(draw: Draw, project: Project, edge: str) -> float:
    ratio = draw(st.sampled_from([0.0, 0.1, 0.25, 0.5, 0.6, 0.8, 1.0]))
    return round(ratio * length_mm(the_edge(project, edge).curve), 3)


def _place(draw: Draw, project: Project, piece: str) -> Plain:
    edge = _outer_edge(draw, project, piece)
    return {"edge": edge, "at_mm": _at(draw, project, edge)}


def _shift(draw: Draw) -> list[float]:
    return [draw(st.integers(-25, 25)), draw(st.integers(-25, 25))]


def _point_in(draw: Draw, project: Project, piece: str) -> list[float]:
    left, low, right, high = bounds_of_all([edge.curve for edge in project.pieces[piece].edges])
    across, up = draw(st.integers(1, 9)) / 10, draw(st.integers(1, 9)) / 10
    return [float(left + across * (right - left)), float(low + up * (high - low))]


def _move_corner(draw: Draw, project: Project) -> Plain:
    corner = the_edge(project, _edge(draw, project)).corner
    return {"corner": corner, "by_mm": _shift(draw)}


def _split(draw: Draw, project: Project) -> Plain:
    edge = _edge(draw, project)
    return {"edge": edge, "at_mm": max(_at(draw, project, edge), 0.5)}


def _merge(draw: Draw, project: Project) -> Plain:
    ring = project.pieces[_piece(draw, project)].edges
    at = draw(st.integers(0, len(ring) - 1))
    return {"first": ring[at].id, "second": ring[(at + 1) % len(ring)].id}


def _bend(draw: Draw, project: Project) -> Plain:
    handle = draw(st.sampled_from(["first", "second"]))
    return {"edge": _edge(draw, project), "handle": handle, "by_mm": _shift(draw)}


def _pull(draw: Draw, project: Project) -> Plain:
    edge = _edge(draw, project)
    return {"edge": edge, "at_mm": _at(draw, project, edge), "by_mm": _shift(draw)}


def _cut(draw: Draw, project: Project) -> Plain:
    piece = _piece(draw, project)
    via = [_point_in(draw, project, piece)] if draw(st.booleans()) else []
    return {
        "piece": piece,
        "from": _place(draw, project, piece),
        "to": _place(draw, project, piece),
        "via_mm": via,
    }


def _slash(draw: Draw, project: Project) -> Plain:
    piece = _piece(draw, project)
    sign = draw(st.sampled_from([1, 1, -1]))
    return {
        "piece": piece,
        "from": _place(draw, project, piece),
        "to": _place(draw, project, piece),
        "open_mm": sign * draw(st.integers(0, 20)),
        "open_to_mm": sign * draw(st.sampled_from([0, 0, 5, 10])),
    }


def _spread_many(draw: Draw, project: Project) -> Plain:
    piece = _piece(draw, project)
    places = [[_place(draw, project, piece) for _ in range(2)] for _ in range(2)]
    slashes = [
        {
            "from_edge": start["edge"],
            "from_mm": start["at_mm"],
            "to_edge": end["edge"],
            "to_mm": end["at_mm"],
        }
        for start, end in places
    ]
    sign = draw(st.sampled_from([1, 1, -1]))
    return {
        "piece": piece,
        "slashes": slashes,
        "count": draw(st.sampled_from([None, 2, 3])),
        "ends": draw(st.booleans()),
        "open_mm": [sign * draw(st.integers(0, 10)), sign * draw(st.integers(0, 10))],
        "open_to_mm": sign * draw(st.sampled_from([0, 0, 4])),
        "fair_ends": draw(st.booleans()),
    }


def _dart(draw: Draw, project: Project) -> Plain:
    piece = _piece(draw, project)
    return {
        "piece": piece,
        "at": _place(draw, project, piece),
        "apex_mm": _point_in(draw, project, piece),
        "intake_mm": draw(st.integers(2, 30)),
    }


def _some_dart(draw: Draw, project: Project) -> str:
    return draw(st.sampled_from([s.id for s in project.seams.values() if s.is_dart]))


def _pivot(draw: Draw, project: Project) -> Plain:
    dart = _some_dart(draw, project)
    piece = piece_of(project, project.seams[dart].a[0].edge).id
    share = draw(st.sampled_from([1.0, 1.0, 0.5]))
    return {"dart": dart, "to": _place(draw, project, piece), "share": share}


def _divide(draw: Draw, project: Project) -> Plain:
    return {"dart": _some_dart(draw, project), "into": draw(st.integers(2, 3))}


def _remove_dart(draw: Draw, project: Project) -> Plain:
    return {"dart": _some_dart(draw, project)}


def _join(draw: Draw, project: Project) -> Plain:
    a, b = _edge(draw, project), _edge(draw, project)
    mirrored = draw(st.sampled_from(["-", "~"]))
    return {"name": draw(st.sampled_from(["side", "back", ""])), "a": [a], "b": [mirrored + b]}


def _seam(draw: Draw, project: Project) -> str:
    return draw(st.sampled_from(list(project.seams)))


def _unjoin(draw: Draw, project: Project) -> Plain:
    return {"seam": _seam(draw, project)}


def _hold(draw: Draw, project: Project) -> Plain:
    return _unjoin(draw, project) | {"kind": draw(st.sampled_from(["length", "length", "shape"]))}


def _notches(draw: Draw, project: Project) -> Plain:
    if project.seams and draw(st.booleans()):
        return {"seam": _seam(draw, project), "at_mm": [draw(st.integers(0, 60))]}
    edge = _edge(draw, project)
    return {"edge": edge, "at_mm": [_at(draw, project, edge)]}


def _pin(draw: Draw, project: Project) -> Plain:
    piece = _piece(draw, project)
    anchors = [_place(draw, project, piece), _place(draw, project, piece)]
    return {"kind": draw(st.sampled_from(["distance", "along"])), "anchors": anchors}


def _move_mark(draw: Draw, project: Project) -> Plain:
    mark = draw(st.sampled_from(list(project.notches)))
    return {"mark": mark, "at_mm": _at(draw, project, project.notches[mark].at.edge)}


def _cutting(draw: Draw, project: Project) -> Plain:
    piece = _piece(draw, project)
    cutting = draw(st.sampled_from(["single", "pair", "fold"]))
    about = _outer_edge(draw, project, piece) if cutting == "fold" else None
    return {"piece": piece, "cutting": cutting, "about": about}


def _mirror(draw: Draw, project: Project) -> Plain:
    piece = _piece(draw, project)
    return {"piece": piece, "about": _outer_edge(draw, project, piece)}


def _inset(draw: Draw, project: Project) -> Plain:
    return {"edges": [_edge(draw, project)], "mm": draw(st.integers(0, 12))}


def _level(draw: Draw, project: Project) -> Plain:
    piece = _piece(draw, project)
    return {"name": "waist", "points": [{"piece": piece, "y_mm": draw(st.integers(0, 120))}]}


def _corner(draw: Draw, project: Project) -> Plain:
    return {"corner": the_edge(project, _edge(draw, project)).corner}


def _line(draw: Draw, project: Project) -> Plain:
    piece = _piece(draw, project)
    points = [_point_in(draw, project, piece) for _ in range(3)]
    return {"piece": piece, "kind": "style", "points_mm": points, "smooth": draw(st.booleans())}


def _turn(draw: Draw, project: Project) -> Plain:
    return {"piece": _piece(draw, project), "turn_deg": draw(st.integers(-180, 180))}


def _shape(draw: Draw, project: Project) -> Plain:
    stations = sorted(draw(st.sets(st.integers(0, 100), min_size=2, max_size=3)))
    inner = {at: draw(st.integers(-10, 25)) for at in stations[1:-1]}
    intake = [{"at_mm": at, "width_mm": inner.get(at, 0)} for at in stations]
    share = draw(st.sampled_from([0.5, 0.0, 1.0]))
    then_true = draw(st.booleans())
    return {
        "seam": _seam(draw, project),
        "intake": intake,
        "share_a": share,
        "then_true": then_true,
    }


def _true(draw: Draw, project: Project) -> Plain:
    return {"seam": _seam(draw, project), "change": draw(st.sampled_from(["a", "b", "both"]))}


def _set_back(draw: Draw, project: Project) -> Plain:
    return {"darts": [_some_dart(draw, project)], "by_mm": draw(st.integers(1, 20))}


def _move_apex(draw: Draw, project: Project) -> Plain:
    return {"dart": _some_dart(draw, project), "by_mm": _shift(draw)}


def _even_legs(draw: Draw, project: Project) -> Plain:
    which = draw(st.sampled_from(["a", "b", "both", "apex"]))
    return {"dart": _some_dart(draw, project), "change": which}


def _double_dart(draw: Draw, project: Project) -> Plain:
    piece = _piece(draw, project)
    points = [_point_in(draw, project, piece) for _ in range(2)]
    return {
        "piece": piece,
        "tip_mm": points[0],
        "apex_mm": points[1],
        "intake_mm": draw(st.integers(2, 20)),
        "smooth": draw(st.booleans()),
    }


def _dart_to_seam(draw: Draw, project: Project) -> Plain:
    dart = _some_dart(draw, project)
    piece = piece_of(project, project.seams[dart].a[0].edge).id
    return {"dart": dart, "to": _place(draw, project, piece)}


def _darts_to_seam(draw: Draw, project: Project) -> Plain:
    return {"darts": [_some_dart(draw, project), _some_dart(draw, project)]}


def _seam_to_dart(draw: Draw, project: Project) -> Plain:
    stations = draw(st.sampled_from([{}, {"from_mm": 40.0}, {"from_mm": 0.0, "to_mm": 30.0}]))
    return {"seam": _seam(draw, project)} | stations


def _left_open(draw: Draw, project: Project) -> Plain:
    fill = draw(st.sampled_from(["arc", "straight"]))
    return {"dart": _some_dart(draw, project), "fill": fill}


def _fold_dart(draw: Draw, project: Project) -> Plain:
    return {
        "dart": _some_dart(draw, project),
        "to": draw(st.sampled_from(["a", "b", "up", "left"])),
    }


_OF_DARTS = {
    "pivot_dart",
    "divide_dart",
    "remove_dart",
    "set_back_apexes",
    "move_apex",
    "even_legs",
    "dart_to_seam",
    "darts_to_seam",
    "dart_to_fullness",
    "dart_to_ease",
    "fold_dart",
}


def _remove_piece(draw: Draw, project: Project) -> Plain:
    return {"piece": _piece(draw, project)}


def _across(draw: Draw, project: Project) -> list[str]:
    edge = _edge(draw, project)
    return [str(ref) for ref in line_through(project, edge)] or [edge]


def _true_across(draw: Draw, project: Project) -> Plain:
    pull = {"at_mm": draw(st.integers(1, 90)), "by_mm": _shift(draw)}
    edges = _across(draw, project)
    return {"edges": edges, "over_mm": draw(st.integers(5, 200))} | draw(
        st.sampled_from([{}, pull])
    )


def _draw_across(draw: Draw, project: Project) -> Plain:
    edges = _across(draw, project)
    ends = [the_edge(project, edges[0].lstrip("-~")).curve.start, _shift(draw), _shift(draw)]
    return {"edges": edges, "points_mm": [[float(x), float(y)] for x, y in ends]}


def _copy(draw: Draw, project: Project) -> Plain:
    return {"piece": _piece(draw, project), "mirrored": draw(st.booleans())}


def _pair_up(draw: Draw, project: Project) -> Plain:
    pieces = list(project.pieces)
    copies = [own for own in pieces if own.endswith((".m", ".copy"))]
    other = draw(st.sampled_from(copies or pieces))
    likely = other.removesuffix(".m").removesuffix(".copy")
    return {"piece": likely if likely in pieces else _piece(draw, project), "other": other}


def _cut_offset(draw: Draw, project: Project) -> Plain:
    return {"edges": [_edge(draw, project)], "mm": draw(st.integers(1, 60))}


def _cut_line(draw: Draw, project: Project) -> Plain:
    lines = [line.id for piece in project.pieces.values() for line in piece.lines]
    return {"line": draw(st.sampled_from(lines or ["none"]))}


def _cut_level(draw: Draw, project: Project) -> Plain:
    return {"level": draw(st.sampled_from(list(project.levels) or ["none"]))}


def _split_seam(draw: Draw, project: Project) -> Plain:
    return {"seam": _seam(draw, project), "at_mm": draw(st.sampled_from([[], [20], [15, 40]]))}


def _merge_seams(draw: Draw, project: Project) -> Plain:
    seams = list(project.seams)
    return {"seams": [draw(st.sampled_from(seams)), draw(st.sampled_from(seams))]}


def _facing(draw: Draw, project: Project) -> Plain:
    return {"edges": [_edge(draw, project)], "width_mm": draw(st.integers(2, 40))}


def _gusset(draw: Draw, project: Project) -> Plain:
    slits = []
    for _ in range(draw(st.integers(1, 2))):
        piece = _piece(draw, project)
        x, y = _point_in(draw, project, piece)
        slits.append(_place(draw, project, piece) | {"x_mm": x, "y_mm": y})
    return {"slits": slits, "width_mm": draw(st.integers(5, 40))}


def _gusset_at(draw: Draw, project: Project) -> Plain:
    side = draw(st.integers(20, 60))
    return _corner(draw, project) | {"side_mm": side, "width_mm": draw(st.integers(5, 30))}


def _the_piece(draw: Draw, project: Project) -> Plain:
    return {"piece": _piece(draw, project)}


def _pieces(draw: Draw, project: Project) -> Plain:
    pieces = list(project.pieces)
    return {"pieces": draw(st.sampled_from([pieces, pieces[:1], pieces[-1:]]))}


def _align(draw: Draw, project: Project) -> Plain:
    by = draw(st.sampled_from(["left", "right", "top", "middle across"]))
    return _pieces(draw, project) | {"by": by, "to_mm": draw(st.sampled_from([None, 12.5]))}


def _to_grain(draw: Draw, project: Project) -> Plain:
    piece = _piece(draw, project)
    return {"piece": piece, "by": draw(st.sampled_from([None, _outer_edge(draw, project, piece)]))}


_KINDS: dict[str, Callable[[Draw, Project], Plain]] = {
    "move_corner": _move_corner,
    "split_edge": _split,
    "merge_edges": _merge,
    "bend_edge": _bend,
    "pull_edge": _pull,
    "cut_piece": _cut,
    "slash_spread": _slash,
    "spread_many": _spread_many,
    "add_dart": _dart,
    "pivot_dart": _pivot,
    "divide_dart": _divide,
    "remove_dart": _remove_dart,
    "join": _join,
    "unjoin": _unjoin,
    "hold_seam": _hold,
    "let_go": _unjoin,
    "add_notches": _notches,
    "add_holes": _notches,
    "move_mark": _move_mark,
    "pin_measure": _pin,
    "set_cutting": _cutting,
    "mirror_piece": _mirror,
    "cut_offset": _cut_offset,
    "cut_along_line": _cut_line,
    "cut_along_level": _cut_level,
    "unite_panels": _unjoin,
    "split_seam": _split_seam,
    "merge_seams": _merge_seams,
    "add_facing": _facing,
    "add_gusset": _gusset,
    "gusset_at_corner": _gusset_at,
    "copy_piece": _copy,
    "pair_up": _pair_up,
    "split_pair": _the_piece,
    "flip_pieces": _pieces,
    "align_pieces": _align,
    "turn_to_grain": _to_grain,
    "inset_edges": _inset,
    "add_level": _level,
    "smooth_corner": _corner,
    "sharpen_corner": _corner,
    "add_line": _line,
    "turn_piece": _turn,
    "shape_seam": _shape,
    "true_seam": _true,
    "true_across": _true_across,
    "draw_across": _draw_across,
    "set_back_apexes": _set_back,
    "move_apex": _move_apex,
    "even_legs": _even_legs,
    "add_double_dart": _double_dart,
    "dart_to_seam": _dart_to_seam,
    "darts_to_seam": _darts_to_seam,
    "seam_to_dart": _seam_to_dart,
    "dart_to_fullness": _left_open,
    "dart_to_ease": _left_open,
    "fold_dart": _fold_dart,
    "remove_piece": _remove_piece,
}
