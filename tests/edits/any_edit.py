"""Edits drawn at random for a given project: most can be done, many have to be refused."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable

from hypothesis import strategies as st

from tests.edits.any_fields import (
    KINDS,
    Draw,
    Plain,
    a_piece,
    a_place,
    a_shift,
    a_station,
    an_edge,
    an_outer_edge,
    any_fields,
    asked_of,
    named_in,
    point_in,
)
from tests.edits.test_pictures import png
from wedgework.edits import Edit, decode_plain
from wedgework.pattern.document import Project
from wedgework.pattern.laying import line_through
from wedgework.pattern.lookup import piece_of, the_edge


@st.composite
def edits_for(draw: st.DrawFn, project: Project) -> Edit:
    """One edit whose ids are in the project and whose numbers are of its size."""
    if not project.pieces:
        return decode_plain({"edit": "add_piece"} | _add_piece(draw, project))
    kind = draw(st.sampled_from(kinds_for(project)))
    return decode_plain(plain_edit(draw, project, kind))


def kinds_for(project: Project) -> list[str]:
    """Kinds of edits that the project has something for, some more often than others."""
    named = named_in(project)
    if any(piece.recipe for piece in project.pieces.values()):
        named.add("recipe")
    return [kind for kind in _OFTEN if _NEEDS.get(kind, asked_of(kind)) <= named]


def plain_edit(draw: Draw, project: Project, kind: str) -> Plain:
    """An edit of one kind as plain data, made to suit where there is a way that often does."""
    drawn = _KINDS.get(kind)
    fields = drawn(draw, project) if drawn else any_fields(draw, project, kind)
    return {"edit": kind} | fields


def _move_corner(draw: Draw, project: Project) -> Plain:
    corner = the_edge(project, an_edge(draw, project)).corner
    return {"corner": corner, "by_mm": a_shift(draw)}


def _split(draw: Draw, project: Project) -> Plain:
    edge = an_edge(draw, project)
    return {"edge": edge, "at_mm": max(a_station(draw, project, edge), 0.5)}


def _merge(draw: Draw, project: Project) -> Plain:
    ring = project.pieces[a_piece(draw, project)].edges
    at = draw(st.integers(0, len(ring) - 1))
    return {"first": ring[at].id, "second": ring[(at + 1) % len(ring)].id}


def _pull(draw: Draw, project: Project) -> Plain:
    edge = an_edge(draw, project)
    return {"edge": edge, "at_mm": a_station(draw, project, edge), "by_mm": a_shift(draw)}


def _cut(draw: Draw, project: Project) -> Plain:
    piece = a_piece(draw, project)
    via = [point_in(draw, project.pieces[piece])] if draw(st.booleans()) else []
    return {
        "piece": piece,
        "from": a_place(draw, project, piece),
        "to": a_place(draw, project, piece),
        "via_mm": via,
    }


def _slash(draw: Draw, project: Project) -> Plain:
    piece = a_piece(draw, project)
    sign = draw(st.sampled_from([1, 1, -1]))
    return {
        "piece": piece,
        "from": a_place(draw, project, piece),
        "to": a_place(draw, project, piece),
        "open_mm": sign * draw(st.integers(0, 20)),
        "open_to_mm": sign * draw(st.sampled_from([0, 0, 5, 10])),
    }


def _spread_many(draw: Draw, project: Project) -> Plain:
    piece = a_piece(draw, project)
    places = [[a_place(draw, project, piece) for _ in range(2)] for _ in range(2)]
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
    piece = a_piece(draw, project)
    return {
        "piece": piece,
        "at": a_place(draw, project, piece),
        "apex_mm": point_in(draw, project.pieces[piece]),
        "intake_mm": draw(st.integers(2, 30)),
    }


def _some_dart(draw: Draw, project: Project) -> str:
    return draw(st.sampled_from([s.id for s in project.seams.values() if s.is_dart]))


def _pivot(draw: Draw, project: Project) -> Plain:
    dart = _some_dart(draw, project)
    piece = piece_of(project, project.seams[dart].a[0].edge).id
    share = draw(st.sampled_from([1.0, 1.0, 0.5]))
    return {"dart": dart, "to": a_place(draw, project, piece), "share": share}


def _join(draw: Draw, project: Project) -> Plain:
    a, b = an_edge(draw, project), an_edge(draw, project)
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
    edge = an_edge(draw, project)
    return {"edge": edge, "at_mm": [a_station(draw, project, edge)]}


def _pin(draw: Draw, project: Project) -> Plain:
    piece = a_piece(draw, project)
    anchors = [a_place(draw, project, piece), a_place(draw, project, piece)]
    if draw(st.booleans()):
        bare = [float(draw(st.integers(-50, 150))), float(draw(st.integers(-50, 150)))]
        return {"kind": "distance", "anchors": [anchors[0], bare]}
    return {"kind": draw(st.sampled_from(["distance", "along"])), "anchors": anchors}


def _move_mark(draw: Draw, project: Project) -> Plain:
    mark = draw(st.sampled_from(list(project.notches)))
    return {"mark": mark, "at_mm": a_station(draw, project, project.notches[mark].at.edge)}


def _cutting(draw: Draw, project: Project) -> Plain:
    piece = a_piece(draw, project)
    cutting = draw(st.sampled_from(["single", "pair", "fold"]))
    about = an_outer_edge(draw, project, piece) if cutting == "fold" else None
    return {"piece": piece, "cutting": cutting, "about": about}


def _mirror(draw: Draw, project: Project) -> Plain:
    piece = a_piece(draw, project)
    return {"piece": piece, "about": an_outer_edge(draw, project, piece)}


def _level(draw: Draw, project: Project) -> Plain:
    piece = a_piece(draw, project)
    return {"name": "waist", "points": [{"piece": piece, "y_mm": draw(st.integers(0, 120))}]}


def _corner(draw: Draw, project: Project) -> Plain:
    return {"corner": the_edge(project, an_edge(draw, project)).corner}


def _line(draw: Draw, project: Project) -> Plain:
    piece = a_piece(draw, project)
    points = [point_in(draw, project.pieces[piece]) for _ in range(3)]
    return {"piece": piece, "kind": "style", "points_mm": points, "smooth": draw(st.booleans())}


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


def _set_back(draw: Draw, project: Project) -> Plain:
    return {"darts": [_some_dart(draw, project)], "by_mm": draw(st.integers(1, 20))}


def _set_dart(draw: Draw, project: Project) -> Plain:
    sizes = {"intake_mm": st.integers(1, 60), "angle_deg": st.integers(1, 60),
             "leg_a_mm": st.integers(20, 200), "leg_b_mm": st.integers(20, 200)}  # fmt: skip
    name = draw(st.sampled_from(sorted(sizes)))
    return {"dart": _some_dart(draw, project), name: draw(sizes[name])}


def _double_dart(draw: Draw, project: Project) -> Plain:
    piece = a_piece(draw, project)
    points = [point_in(draw, project.pieces[piece]) for _ in range(2)]
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
    return {"dart": dart, "to": a_place(draw, project, piece)}


def _double_dart_to_seam(draw: Draw, project: Project) -> Plain:
    return {"dart": _some_dart(draw, project)}


def _darts_to_seam(draw: Draw, project: Project) -> Plain:
    return {"darts": [_some_dart(draw, project), _some_dart(draw, project)]}


def _seam_to_dart(draw: Draw, project: Project) -> Plain:
    stations = draw(st.sampled_from([{}, {"from_mm": 40.0}, {"from_mm": 0.0, "to_mm": 30.0}]))
    return {"seam": _seam(draw, project)} | stations


def _seam_to_double_dart(draw: Draw, project: Project) -> Plain:
    stations = draw(st.sampled_from([{}, {"from_mm": 30.0}, {"from_mm": 20.0, "to_mm": 60.0}]))
    return {"seam": _seam(draw, project)} | stations


def _left_open(draw: Draw, project: Project) -> Plain:
    fill = draw(st.sampled_from(["arc", "straight"]))
    return {"dart": _some_dart(draw, project), "fill": fill}


def _fold_dart(draw: Draw, project: Project) -> Plain:
    return {
        "dart": _some_dart(draw, project),
        "to": draw(st.sampled_from(["a", "b", "up", "left"])),
    }


def _across(draw: Draw, project: Project) -> list[str]:
    edge = an_edge(draw, project)
    return [str(ref) for ref in line_through(project, edge)] or [edge]


def _true_across(draw: Draw, project: Project) -> Plain:
    pull = {"at_mm": draw(st.integers(1, 90)), "by_mm": a_shift(draw)}
    edges = _across(draw, project)
    return {"edges": edges, "over_mm": draw(st.integers(5, 200))} | draw(
        st.sampled_from([{}, pull])
    )


def _draw_across(draw: Draw, project: Project) -> Plain:
    edges = _across(draw, project)
    ends = [the_edge(project, edges[0].lstrip("-~")).curve.start, a_shift(draw), a_shift(draw)]
    return {"edges": edges, "points_mm": [[float(x), float(y)] for x, y in ends]}


def _pair_up(draw: Draw, project: Project) -> Plain:
    pieces = list(project.pieces)
    copies = [own for own in pieces if own.endswith((".m", ".copy"))]
    other = draw(st.sampled_from(copies or pieces))
    likely = other.removesuffix(".m").removesuffix(".copy")
    return {"piece": likely if likely in pieces else a_piece(draw, project), "other": other}


def _split_seam(draw: Draw, project: Project) -> Plain:
    return {"seam": _seam(draw, project), "at_mm": draw(st.sampled_from([[], [20], [15, 40]]))}


def _merge_seams(draw: Draw, project: Project) -> Plain:
    seams = list(project.seams)
    return {"seams": [draw(st.sampled_from(seams)), draw(st.sampled_from(seams))]}


def _gusset(draw: Draw, project: Project) -> Plain:
    slits = []
    for _ in range(draw(st.integers(1, 2))):
        piece = a_piece(draw, project)
        x, y = point_in(draw, project.pieces[piece])
        slits.append(a_place(draw, project, piece) | {"x_mm": x, "y_mm": y})
    return {"slits": slits, "width_mm": draw(st.integers(5, 40))}


def _gusset_at(draw: Draw, project: Project) -> Plain:
    side = draw(st.integers(20, 60))
    return _corner(draw, project) | {"side_mm": side, "width_mm": draw(st.integers(5, 30))}


def _pieces(draw: Draw, project: Project) -> Plain:
    pieces = list(project.pieces)
    return {"pieces": draw(st.sampled_from([pieces, pieces[:1], pieces[-1:]]))}


def _align(draw: Draw, project: Project) -> Plain:
    by = draw(st.sampled_from(["left", "right", "top", "middle across"]))
    return _pieces(draw, project) | {"by": by, "to_mm": draw(st.sampled_from([None, 12.5]))}


def _to_grain(draw: Draw, project: Project) -> Plain:
    piece = a_piece(draw, project)
    return {
        "piece": piece,
        "by": draw(st.sampled_from([None, an_outer_edge(draw, project, piece)])),
    }


def _add_piece(draw: Draw, project: Project) -> Plain:
    x, y = len(project.pieces) * 50.0, float(draw(st.integers(-60, 60)))
    corners = [(x, y), (x + 70, y), (x + draw(st.integers(-20, 90)), y + 60)]
    ends = zip(corners, [*corners[1:], corners[0]], strict=True)
    return {"name": "fin", "edges": [{"cubics_mm": [[a, a, b, b]]} for a, b in ends]}


def _set_body(draw: Draw, _: Project) -> Plain:
    girths = st.sampled_from(["bust_girth_mm", "neck_girth_mm", "wrist_girth_mm"])
    return {"measures": draw(st.dictionaries(girths, st.sampled_from([None, 380.0]), min_size=1))}


_DRAFTS: list[Plain] = [
    {"kind": "strip", "numbers": {"length_mm": 90, "width_mm": 20}},
    {"kind": "bow", "numbers": {"width_mm": 80, "depth_mm": 30, "knot_mm": 12}},
    {"kind": "gusset", "numbers": {"length_mm": 60, "width_mm": 20}},
    {"kind": "flared_skirt", "numbers": {"waist_mm": 300, "length_mm": 120, "turn_deg": 150}},
    {"kind": "pleated_skirt",
        "numbers": {"waist_mm": 300, "length_mm": 90, "pleats": 6, "underlay_mm": 30}},
]  # fmt: skip


def _draft(draw: Draw, project: Project) -> Plain:
    edge, width = an_edge(draw, project), {"width_mm": draw(st.integers(5, 40))}
    hung: list[Plain] = [
        {"kind": "band", "numbers": {"along": [edge]} | width},
        {"kind": "facing", "numbers": {"along": [edge]} | width},
        {"kind": "cuff", "numbers": {"along": [edge]} | width},
        {"kind": "collar", "numbers": {"neckline": [edge]} | width},
        {"kind": "binding", "numbers": {"along": [edge]}},
        {"kind": "tube", "numbers": {"opening": [edge], "diameter_mm": draw(st.integers(4, 30))}},
    ]
    return draw(st.sampled_from([*_DRAFTS, *hung]))


def _punch_row(draw: Draw, project: Project) -> Plain:
    rows = any_fields(draw, project, "add_punch_row")
    on: Plain = (
        {"seam": _seam(draw, project)} if project.seams else {"edge": an_edge(draw, project)}
    )
    fill = draw(st.sampled_from([{"pitch_mm": 12}, {"number": 3}]))
    return {name: rows[name] for name in rows if name in {"end_mm", "inset_mm"}} | on | fill


def _set_row(draw: Draw, project: Project) -> Plain:
    (row, *_) = (hole.row for hole in project.holes.values() if hole.row)
    some = st.sampled_from([{"pitch_mm": 9}, {"number": 5}, {"diameter_mm": 3}, {"through": True}])
    return {"row": row} | draw(some)


def _draft_again(draw: Draw, project: Project) -> Plain:
    drafted = [piece.id for piece in project.pieces.values() if piece.recipe]
    numbers = draw(st.sampled_from([None, {"width_mm": 25}, {"length_mm": 75}]))
    return {"piece": draw(st.sampled_from(drafted)), "numbers": numbers}


def _picture(draw: Draw, _: Project) -> Plain:
    size = draw(st.sampled_from([(4, 3), (3, 4)]))
    return {"name": "heron", "data": b64encode(png(*size)).decode()}


def _some_picture(draw: Draw, project: Project) -> Plain:
    return {"picture": draw(st.sampled_from(list(project.pictures)))}


def _scale(draw: Draw, project: Project) -> Plain:
    ends = {"one_px": [0, 0], "other_px": [draw(st.integers(0, 4)), 2]}
    return _some_picture(draw, project) | ends | {"distance_mm": draw(st.integers(1, 400))}


def _square_up(draw: Draw, project: Project) -> Plain:
    corners = [[0, 0], [3, 0], [draw(st.integers(0, 4)), 3], [0, draw(st.integers(0, 3))]]
    sizes = {"width_mm": 100, "height_mm": draw(st.integers(1, 100))}
    return _some_picture(draw, project) | {"corners_px": corners} | sizes


_KINDS: dict[str, Callable[[Draw, Project], Plain]] = {
    "move_corner": _move_corner,
    "split_edge": _split,
    "merge_edges": _merge,
    "pull_edge": _pull,
    "cut_piece": _cut,
    "slash_spread": _slash,
    "spread_many": _spread_many,
    "add_dart": _dart,
    "pivot_dart": _pivot,
    "join": _join,
    "hold_seam": _hold,
    "add_notches": _notches,
    "add_holes": _notches,
    "move_mark": _move_mark,
    "pin_measure": _pin,
    "set_cutting": _cutting,
    "mirror_piece": _mirror,
    "split_seam": _split_seam,
    "merge_seams": _merge_seams,
    "add_gusset": _gusset,
    "gusset_at_corner": _gusset_at,
    "pair_up": _pair_up,
    "align_pieces": _align,
    "turn_to_grain": _to_grain,
    "add_level": _level,
    "add_line": _line,
    "shape_seam": _shape,
    "true_across": _true_across,
    "draw_across": _draw_across,
    "set_back_apexes": _set_back,
    "set_dart": _set_dart,
    "add_double_dart": _double_dart,
    "dart_to_seam": _dart_to_seam,
    "double_dart_to_seam": _double_dart_to_seam,
    "darts_to_seam": _darts_to_seam,
    "seam_to_dart": _seam_to_dart,
    "seam_to_double_dart": _seam_to_double_dart,
    "dart_to_fullness": _left_open,
    "dart_to_ease": _left_open,
    "fold_dart": _fold_dart,
    "add_piece": _add_piece,
    "set_body": _set_body,
    "draft": _draft,
    "draft_again": _draft_again,
    "add_picture": _picture,
    "scale_picture": _scale,
    "add_punch_row": _punch_row,
    "set_row": _set_row,
    "square_picture": _square_up,
}

_NEEDS = {"draft_again": {"recipe"}, "move_mark": {"notches"}}
"""What an edit needs besides what its arguments are called."""

_OFTEN = [*_KINDS, *_KINDS, *KINDS]
"""Every kind of edit; those that shape pieces and join them are drawn three times as often."""
