"""`wedgework export`: write the pieces for a cutter, for paper, or as a list, at true size."""

from __future__ import annotations

import argparse
from pathlib import Path

from wedgework.bench.opening import read_project
from wedgework.commands.base import DONE, UsageFault, add_file, say
from wedgework.files import WriteOptions, file_bytes
from wedgework.files.atomic import write_atomically
from wedgework.units import NotUnderstood, paper_mm


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Options of the command."""
    add_file(parser)
    parser.add_argument(
        "out", metavar="OUT", type=Path, help=".svg, .dxf, .pdf, .plt, .png or .csv"
    )
    parser.add_argument(
        "--paper",
        metavar="PAPER",
        default="A4",
        help="pages of a .pdf: A4, A3, Letter, WxH or roll:W (mm); A4 at first",
    )
    parser.add_argument(
        "--no-words",
        action="store_true",
        help="leave out what pieces say of themselves: name, number, side up, seams",
    )


def run(arguments: argparse.Namespace) -> int:
    """Answer the command."""
    if arguments.out.suffix.lower() == ".wedge":
        raise UsageFault("A project is saved, not exported: edit FILE --do EDITS --save OUT.wedge.")
    try:
        paper_mm(arguments.paper)
    except NotUnderstood as error:
        raise UsageFault(f"--paper {arguments.paper}: {error.sentence}") from None
    project = read_project(arguments.file)
    options = WriteOptions(paper=arguments.paper, words=not arguments.no_words)
    data = file_bytes(arguments.out, project, options)
    write_atomically(arguments.out, data)
    count = len(project.pieces)
    pieces = "1 piece" if count == 1 else f"{count} pieces"
    say(f"{pieces} of {arguments.file} written to {arguments.out}.")
    return DONE
