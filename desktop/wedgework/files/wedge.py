"""The project file `.wedge`: UTF-8 JSON of a named version, a line for each thing in it.

What comes from outside is hostile until it has been read: size, depth, doubled keys, numbers that
are not finite, ids that stand twice and refs that lead nowhere are refused with a sentence. A file
of a newer version is refused, as a target too; an older one is brought up step by step.
"""

from __future__ import annotations

import gc
import json
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

import msgspec
import numpy as np

from wedgework.files.atomic import LARGEST_FILE_BYTES
from wedgework.files.wedge_in import project_of, refuse_unsound
from wedgework.files.wedge_out import rows_of
from wedgework.files.wedge_rows import FORMAT, VERSION, WedgeFile
from wedgework.pattern.document import Project
from wedgework.pattern.errors import FileRefused
from wedgework.pattern.wording import plain_words

Step = Callable[[dict[str, Any]], dict[str, Any]]
"""Plain data of one version to plain data of the next."""

MIGRATIONS: Final[Mapping[int, Step]] = {1: lambda plain: plain | {"version": 2}}
"""The step that leads on from each older version; every version ever released has one."""

_TABLES: Final = (
    "sheets", "levels", "pieces", "seams", "notches", "holes",
    "holds", "pins", "pictures", "openings", "closings", "bodies", "accepted",
)  # fmt: skip
_HEAD: Final = re.compile(rb'\s*\{\s*"format"\s*:\s*"wedgework"\s*,\s*"version"\s*:\s*(\d{1,9})\b')
_BOM: Final = b"\xef\xbb\xbf"
_DECODER: Final = msgspec.json.Decoder(WedgeFile)


def _plain_number(value: object) -> object:
    """A number that came out of an array is the same number; a save must not fail on it."""
    if isinstance(value, np.generic):
        return value.item()
    raise TypeError(f"a project holds no {type(value).__name__}")


_ENCODER: Final = msgspec.json.Encoder(enc_hook=_plain_number)


class _Head(msgspec.Struct):
    """What every version, also a future one, says of itself."""

    format: str
    version: int


def write_wedge(project: Project) -> bytes:
    """The bytes of a project's file: alike for like projects, and every float to the last bit.

    FileRefused where the project holds what reading it again would refuse.
    """
    file = rows_of(project)
    refuse_unsound(file)
    try:
        data = _bytes_of(file)
    except UnicodeEncodeError:
        raise FileRefused("A name or a text holds characters that no file can hold.") from None
    # The encoder writes null for a number that is not finite; we never write null otherwise.
    if b"null" in data:
        _decoded(data)
    return data


def read_wedge(data: bytes) -> Project:
    """The project in a file's bytes; FileRefused, with what is wrong and where, if it is none."""
    if len(data) > LARGEST_FILE_BYTES:
        raise FileRefused("The file is too large to be a project.")
    data = data.removeprefix(_BOM)
    with _without_collector():
        try:
            file = _decoded(data)
        except FileRefused:
            file = _of_older_version(data)
        # What is, byte for byte, as we write it, cannot hold a key twice; asking costs a tenth
        # of looking at every key.
        if _bytes_of(file) != data:
            _plain_json(data)
        return project_of(file)


@contextmanager
def _without_collector() -> Iterator[None]:
    """Look for no garbage: all that is made here lives on, and looking doubles the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def refuse_newer_target(path: Path) -> None:
    """FileRefused where a project file of a newer version is in the way: it is to stay."""
    try:
        with path.open("rb") as file:
            version = _claimed_version(file.read(LARGEST_FILE_BYTES).removeprefix(_BOM))
    except OSError:
        return  # nothing that can be read is in the way; writing says what else is wrong
    if version > VERSION:
        raise FileRefused(
            f"“{path}” was saved by a newer version of Wedgework and is not overwritten."
        )


def _claimed_version(data: bytes) -> int:
    """The version that a file says it has, also if the rest is broken; 0 where it says none."""
    head = _HEAD.match(data)
    if head is not None:
        return int(head[1])
    try:
        said = msgspec.json.decode(data, type=_Head)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return 0
    return said.version if said.format == FORMAT else 0


def _bytes_of(file: WedgeFile) -> bytes:
    """JSON with a line for each row, so that two versions of a file can be compared."""
    lines = [
        _ENCODER.encode(name) + b": " + _value(name, getattr(file, name))
        for name in file.__struct_fields__
    ]
    return b"{\n" + b",\n".join(lines) + b"\n}\n"


def _value(name: str, value: Any) -> bytes:  # noqa: ANN401 - any field of the file
    if name not in _TABLES or not value:
        return _ENCODER.encode(value)
    # A line break inside a text is written as \n: those in the bytes stand between the rows.
    return b"[\n" + _ENCODER.encode_lines(value)[:-1].replace(b"\n", b",\n") + b"\n]"


def _decoded(data: bytes) -> WedgeFile:
    try:
        return _DECODER.decode(data)
    except RecursionError:
        raise FileRefused("The file is nested too deeply to be a project.") from None
    except msgspec.ValidationError as error:
        raise FileRefused(f"The file is no sound project. {plain_words(str(error))}") from None
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        reason = str(error).rstrip(".")
        raise FileRefused(f"The file is not readable as JSON: {reason}.") from None


def _of_older_version(data: bytes) -> WedgeFile:
    """A file that is none of this version, brought up to it; FileRefused where it cannot be."""
    version = _version_of(data)
    if version > VERSION:
        raise FileRefused(
            f"The file was saved by a newer version of Wedgework (file version {version}, "
            f"and this one reads up to {VERSION})."
        )
    if version == VERSION:
        return _decoded(data)
    plain = migrated(_plain_json(data), version)
    try:
        return msgspec.convert(plain, WedgeFile)
    except msgspec.ValidationError as error:
        raise FileRefused(f"The file is no sound project. {plain_words(str(error))}") from None


def _version_of(data: bytes) -> int:
    try:
        head = msgspec.json.decode(data, type=_Head)
    except RecursionError:
        raise FileRefused("The file is nested too deeply to be a project.") from None
    except msgspec.ValidationError:
        raise FileRefused("The file is no Wedgework project.") from None
    except (msgspec.DecodeError, UnicodeDecodeError):
        _decoded(data)  # says what is wrong with the JSON
        raise
    if head.format != FORMAT:
        raise FileRefused("The file is no Wedgework project.")
    return head.version


def migrated(
    plain: dict[str, Any], version: int, steps: Mapping[int, Step] = MIGRATIONS
) -> dict[str, Any]:
    """Plain data of an older version brought up to this one; FileRefused where a step lacks."""
    for number in range(version, VERSION):
        if number not in steps:
            raise FileRefused(f"There never was a file version {number}.")
        plain = steps[number](plain)
    return plain


def _plain_json(data: bytes) -> Any:  # noqa: ANN401 - JSON
    """Plain data of a file; FileRefused where it says a key twice."""
    try:
        return json.loads(data, object_pairs_hook=_single_keys)
    except RecursionError:
        raise FileRefused("The file is nested too deeply to be a project.") from None


def _single_keys(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    keys = dict(pairs)
    if len(keys) < len(pairs):
        names = [key for key, _ in pairs]
        twice = next(key for key in names if names.count(key) > 1)
        raise FileRefused(f"The file says “{twice}” twice of one thing.")
    return keys
