"""`wedgework fit`: levels, openings and closings against the body, and the way in."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from wedgework.bench.fitting import Plain, fit_report
from wedgework.bench.opening import read_project
from wedgework.commands.base import DONE, add_file, add_json, say, say_json
from wedgework.commands.tables import numbers, section, table, words
from wedgework.units import format_number

_LEVELS = (*words("level"), *numbers("flat girth mm", "body girth mm", "cut girth mm"),
    *numbers("too wide mm", "stretch %"))  # fmt: skip
_WHOLE = (*words("level"), *numbers("wanted intake mm", "drawn intake mm", "short mm"),
    *words("shaped"))  # fmt: skip
_INTAKES = (*words("level", "seam"), *numbers("times", "along A mm", "wanted intake mm"),
    *numbers("drawn intake mm"))  # fmt: skip
_SEEN_MM = 0.05
"""Less than this reads as nothing."""
_SHAPED = {"well": "", "under": "under-shaped", "over": "over-shaped"}
_OPENINGS = (*words("opening"), *numbers("opens mm", "girth mm", "needed %", "allowed %"),
    *numbers("edge mm", "way on the body mm", "cut edge mm"), *words("lies"))  # fmt: skip
_CLOSINGS = (*words("closing", "seam", "kind"), *numbers("length mm", "overlap mm", "flap mm"),
    *numbers("holes", "teeth mm", "short of worn mm"))  # fmt: skip
_WAY = (*words("section"), *numbers("section mm"), *words("girth"),
    *numbers("girth mm", "needed %", "allowed %"), *words("passes"))  # fmt: skip
_LIES = {"well": "well", "gapes": "gapes", "cuts_in": "cuts in", None: ""}
_FIRST = {"feet": "feet first", "head": "over the head", "either": "from both its ends"}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    add_file(parser)
    add_json(parser)


def run(arguments: argparse.Namespace) -> int:
    """Answer the command."""
    told = fit_report(read_project(arguments.file))
    if arguments.json:
        say_json(told)
    else:
        say("\n".join(_lines(told)).lstrip("\n"))
    return DONE


def _lines(told: Plain) -> Iterator[str]:
    yield from section("Levels", table(_LEVELS, map(_level, told["levels"])))
    known = [level for level in told["levels"] if level["fullest"] not in {None, level["id"]}]
    yield from section("Intake from the fullest level on", table(_WHOLE, map(_whole, known)))
    intakes = (row for level in known for row in _intakes(level))
    yield from section("Seam by seam, wanted alike of each", table(_INTAKES, intakes))
    yield from section("Openings", table(_OPENINGS, map(_opening, told["openings"])))
    offered = [one["label"] for one in told["could_mark"]]
    if offered:
        yield from ("", "Openings that are not marked yet", *(f"  {one}" for one in offered))
    yield from section("Closings", table(_CLOSINGS, map(_closing, told["closings"])))
    way = told["way_in"]
    if way is None:
        yield from ("", "No way in is said: mark an opening, or close a seam.")
    else:
        passes = "all passes" if way["passes"] else "it does not pass"
        title = f"Getting in through {way['through']}, {_FIRST[way['first']]}: {passes}"
        yield from section(title, table(_WAY, map(_passage, way["sections"])))
    yield from ("", *told["cautions"])


def _mm(value: float | None, *, signed: bool = False) -> str:
    return "" if value is None else format_number(value, signed=signed)


def _percent(value: float | None) -> str:
    return "" if value is None else format_number(100 * value, signed=True)


def _level(level: Plain) -> tuple[str, ...]:
    girths = (_mm(level[key]) for key in ("flat_girth_mm", "body_girth_mm", "cut_girth_mm"))
    over = _mm(level["difference_mm"], signed=True)
    return (level["name"] or level["id"], *girths, over, _percent(level["stretch"]))


def _whole(level: Plain) -> tuple[str, ...]:
    figures = (_mm(level[key]) for key in ("wanted_intake_mm", "drawn_intake_mm"))
    short = _mm(level["short_intake_mm"], signed=True)
    return (level["name"] or level["id"], *figures, short, _SHAPED[level["shaped"]])


def _intakes(level: Plain) -> Iterator[tuple[str, ...]]:
    """Each seam for one making, then what darts, closings, open edges and folds take."""
    name = level["name"] or level["id"]
    for row in level["seams"]:
        figures = (_mm(row[key]) for key in ("at_mm", "wanted_mm", "drawn_mm"))
        yield (name, row["seam"], str(row["times"]), *figures)
    for row in level["others"]:
        yield (name, row["seam"], "all", "", "", _mm(row["drawn_mm"]))
    if abs(level["open_intake_mm"]) >= _SEEN_MM:
        yield (name, "edges in no seam", "all", "", "", _mm(level["open_intake_mm"]))


def _opening(opening: Plain) -> tuple[str, ...]:
    edge = (_mm(opening[key]) for key in ("edge_mm", "path_mm", "wanted_edge_mm"))
    return (
        opening["name"] or opening["id"],
        _mm(opening["opens_mm"]),
        _mm(opening["body_mm"]),
        _percent(opening["needed_stretch"]),
        _percent(opening["allowed_stretch"]),
        *edge,
        _LIES[opening["lies"]],
    )


def _closing(closing: Plain) -> tuple[str, ...]:
    figures = (_mm(closing[key]) for key in ("length_mm", "overlap_mm", "flap_mm"))
    kind = closing["kind"].replace("_", " ")
    return (closing["id"], closing["seam"], kind, *figures, str(closing["holes"]),
            _mm(closing["teeth_mm"]), _mm(closing["short_of_worn_mm"]))  # fmt: skip


def _passage(one: Plain) -> tuple[str, ...]:
    girth = (one["girth"] or "").removesuffix("_mm").replace("_", " ")
    needed = "open" if one["open"] else _percent(one["needed_stretch"])
    return (one["name"], _mm(one["section_mm"]), girth, _mm(one["girth_mm"]), needed,
            _percent(one["allowed_stretch"]), "yes" if one["passes"] else "no")  # fmt: skip
