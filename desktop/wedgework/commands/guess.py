"""`wedgework guess`: the seams that lengths, shapes and places of the edges suggest."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import Any, Final

import msgspec

from wedgework.bench.offers import Offer, offers
from wedgework.bench.opening import read_project
from wedgework.commands.base import DONE, add_file, add_json, say, say_json
from wedgework.commands.tables import numbers, table, words

_COLUMNS: Final = (*numbers("sure %"), *words("name", "run A", "run B", "why"))


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    add_file(parser)
    add_json(parser)


def run(arguments: argparse.Namespace) -> int:
    """Answer the command."""
    found = offers(read_project(arguments.file))
    if arguments.json:
        say_json({"guesses": [_plain(offer) for offer in found]})
    else:
        say("\n".join(_lines(found)))
    return DONE


def _plain(offer: Offer) -> dict[str, Any]:
    return {
        "sure": offer.sureness,
        "why": offer.why,
        "edit": msgspec.to_builtins(offer.edit),
        "others": [msgspec.to_builtins(other) for other in offer.others],
    }


def _lines(found: tuple[Offer, ...]) -> Iterator[str]:
    if not found:
        yield "No seams suggest themselves: no open edges are alike."
        return
    count = (
        "1 seam suggests itself" if len(found) == 1 else f"{len(found)} seams suggest themselves"
    )
    yield f"{count}. --json gives them as edits."
    rows = (
        (f"{100 * one.sureness:.0f}", one.edit.name, " ".join(one.edit.a), " ".join(one.edit.b),
         one.why + _twins(one))
        for one in found
    )  # fmt: skip
    yield from table(_COLUMNS, rows)


def _twins(offer: Offer) -> str:
    count = len(offer.others)
    return f"; {count} other{'' if count == 1 else 's'} as good" if count else ""
