"""`wedgework info`: pieces, edges, seams, darts and their numbers."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from wedgework.bench.opening import read_project
from wedgework.bench.report import Plain, report
from wedgework.commands.base import DONE, add_file, add_json, say, say_json
from wedgework.commands.tables import numbers, section, table, words
from wedgework.units import format_number

_PIECES = (*words("piece", "name", "cutting"), *numbers("edges", "area cm²", "outline mm"),
    *numbers("width mm", "height mm"), *words("sheet"), *numbers("quantity"))  # fmt: skip
_EDGES = (*words("edge", "name", "finish"), *numbers("length mm", "turning °"),
    *numbers("allowance mm"), *words("from"), *numbers("angle there °"), *words("to"))  # fmt: skip
_SEAMS = (*words("seam", "name"), *numbers("A mm", "B mm", "difference mm", "wanted mm"),
    *numbers("allowed mm", "shaping °", "dome °", "hollow °"), *words("join", "state"))  # fmt: skip
_DARTS = (*words("dart", "piece"), *numbers("angle °", "intake mm", "leg A mm", "leg B mm"))
_SHEETS = (
    *words("sheet", "name", "material", "colour"),
    *numbers("width mm", "length mm", "thickness mm"),
)
_LEVELS = (*words("level", "name"), *numbers("flat girth mm", "body girth mm", "too wide mm"))
_CLOSINGS = (*words("closing", "seam", "kind"), *numbers("length mm", "overlap mm", "holes"))
_PHOTOGRAPHS = (*words("photograph", "name"), *numbers("across px", "down px"),
    *words("shown"))  # fmt: skip
_PINS = (*words("pin", "name", "how"), *numbers("now", "wanted", "allowed"), *words("unit"))
_BODY = (*words("measure"), *numbers("mm"))
_STATES = {"agrees": "agrees", "a_longer": "A is longer", "b_longer": "B is longer"}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    add_file(parser)
    add_json(parser)


def run(arguments: argparse.Namespace) -> int:
    """Answer the command."""
    told = report(read_project(arguments.file))
    if arguments.json:
        say_json(told)
    else:
        say("\n".join(_lines(told, arguments.file.stem)))
    return DONE


def _lines(told: Plain, stem: str) -> Iterator[str]:
    yield f"{told['name'] or stem}: {_counted(told)}"
    yield from section("Pieces", table(_PIECES, map(_piece, told["pieces"])))
    for piece in told["pieces"]:
        yield from section(f"Edges of {_called(piece)}", table(_EDGES, _edges(piece)))
    yield from section("Seams", table(_SEAMS, map(_seam, told["seams"])))
    yield from section("Darts", table(_DARTS, map(_dart, told["darts"])))
    yield from section("Sheets", table(_SHEETS, map(_sheet, told["sheets"])))
    yield from section("Levels", table(_LEVELS, map(_level, told["levels"])))
    yield from section("Closings", table(_CLOSINGS, map(_closing, told["closings"])))
    yield from section("Photographs", table(_PHOTOGRAPHS, map(_photograph, told["pictures"])))
    yield from section("Pinned measures", table(_PINS, map(_pin, told["pins"])))
    yield from section("Body", table(_BODY, _body(told["body"])))
    yield from section("What the import did", (f"  {problem}" for problem in told["problems"]))


def _counted(told: Plain) -> str:
    counts = ((len(told[key]), key) for key in ("pieces", "seams", "darts"))
    return ", ".join(f"{count} {key[:-1] if count == 1 else key}" for count, key in counts)


def _called(row: Plain) -> str:
    same = not row["name"] or row["name"] == row["id"]
    return str(row["id"]) if same else f"{row['id']}, {row['name']}"


def _piece(piece: Plain) -> tuple[str, ...]:
    left, low, right, high = piece["bounds_mm"]
    return (
        piece["id"],
        piece["name"],
        piece["cutting"],
        str(len(piece["edges"])),
        format_number(piece["area_mm2"] / 100),
        format_number(piece["perimeter_mm"]),
        format_number(right - left),
        format_number(high - low),
        piece["sheet"] or "",
        str(piece["quantity"]),
    )


def _edges(piece: Plain) -> Iterator[tuple[str, ...]]:
    angles = {corner["id"]: corner["angle_deg"] for corner in piece["corners"]}
    for edge in piece["edges"]:
        yield (
            edge["id"],
            edge["name"],
            edge["finish"],
            format_number(edge["length_mm"]),
            format_number(edge["turning_deg"]),
            format_number(edge["allowance_mm"]),
            edge["start_corner"],
            format_number(angles[edge["start_corner"]]),
            edge["end_corner"],
        )


def _seam(seam: Plain) -> tuple[str, ...]:
    lap = f" {format_number(seam['lap_mm'])} mm" if seam["join"] == "lapped" else ""
    return (
        seam["id"],
        seam["name"],
        format_number(seam["length_a_mm"]),
        format_number(seam["length_b_mm"]),
        format_number(seam["difference_mm"], signed=True),
        format_number(seam["wanted_mm"]),
        format_number(seam["allowed_mm"]),
        format_number(seam["shaping_deg"]),
        format_number(seam["dome_deg"]),
        format_number(seam["hollow_deg"]),
        f"{seam['join']}{lap}",
        _STATES[seam["state"]] + (f", held in {seam['hold']}" if seam["hold"] else ""),
    )


def _dart(dart: Plain) -> tuple[str, ...]:
    keys = ("angle_deg", "intake_mm", "leg_a_mm", "leg_b_mm")
    return (dart["id"], dart["piece"], *(format_number(dart[key]) for key in keys))


def _sheet(sheet: Plain) -> tuple[str, ...]:
    length = sheet["length_mm"]
    return (
        sheet["id"],
        sheet["name"],
        sheet["material"].replace("_", " "),
        sheet["colour"],
        format_number(sheet["width_mm"]),
        "endless" if length is None else format_number(length),
        format_number(sheet["thickness_mm"], 2),
    )


def _photograph(picture: Plain) -> tuple[str, ...]:
    across, down = picture["size_px"]
    return (picture["id"], picture["name"], str(across), str(down),
            "yes" if picture["shown"] else "no")  # fmt: skip


def _level(level: Plain) -> tuple[str, ...]:
    body, over = level["body_girth_mm"], level["difference_mm"]
    return (
        level["id"],
        level["name"],
        format_number(level["flat_girth_mm"]),
        "not known" if body is None else format_number(body),
        "" if over is None else format_number(over, signed=True),
    )


def _closing(closing: Plain) -> tuple[str, ...]:
    figures = (format_number(closing[key]) for key in ("length_mm", "overlap_mm"))
    kind = closing["kind"].replace("_", " ")
    return (closing["id"], closing["seam"], kind, *figures, str(closing["holes"]))


def _pin(pin: Plain) -> tuple[str, ...]:
    unit = "deg" if pin["kind"] == "angle" else "mm"
    told = (pin[f"{key}_{unit}"] for key in ("value", "wanted", "allowed"))
    figures = ("" if one is None else format_number(one) for one in told)
    return (pin["id"], pin["name"], pin["kind"], *figures, "°" if unit == "deg" else "mm")


def _body(body: dict[str, float]) -> Iterator[tuple[str, str]]:
    for name, measured_mm in body.items():
        yield name.removesuffix("_mm").replace("_", " "), format_number(measured_mm)
