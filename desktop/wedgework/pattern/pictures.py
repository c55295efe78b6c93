"""What the first bytes of a picture say: how large it is, how fine, and which way up it was taken.

PNG: W3C, Portable Network Graphics, 11.2.2 and 11.3.5.3. JPEG: ITU-T T.81, annex B; density and
orientation: JFIF 1.02 and Exif 2.3 (tag 0x0112).
"""

from __future__ import annotations

import struct
import zlib
from dataclasses import dataclass
from typing import Final

import numpy as np

from wedgework.geometry.curve import Floats, Points
from wedgework.geometry.memo import memoised
from wedgework.geometry.projective import depths, mapped
from wedgework.pattern.document import Picture

PNG: Final = b"\x89PNG\r\n\x1a\n"
JPEG: Final = b"\xff\xd8\xff"
MM_PER_INCH: Final = 25.4
_SCAN, _JPEG_END = b"\xff\xda", b"\xff\xd9"
_FRAMES: Final = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}
"""Markers that begin a frame and so tell its size; the three others are tables."""

_ORIENTATION: Final = 0x0112
_UPRIGHT: Final = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureSize:
    """Pixels across and down as stored; `px_per_mm` None where the file does not tell.

    `orientation` is that of Exif, 1 to 8: 1 upright, 6 turned so that its left side is the top.
    """

    width_px: int
    height_px: int
    px_per_mm: float | None = None
    orientation: int = _UPRIGHT


class NoPicture(ValueError):
    """Bytes that are no PNG and no JPEG, or that end too early."""


def picture_size(data: bytes) -> PictureSize:
    """What the head of a PNG or JPEG file says; NoPicture, with a sentence, for all else."""
    try:
        if data.startswith(PNG):
            return _png(data)
        if data.startswith(JPEG):
            return _jpeg(data)
    except (struct.error, IndexError):
        raise NoPicture("The picture breaks off before it says how large it is.") from None
    raise NoPicture("This is no PNG and no JPEG picture.")


def refuse_broken(data: bytes) -> None:
    """NoPicture, with a sentence, where a PNG or JPEG file breaks off or is damaged.

    A PNG says the length of each part and its checksum; a JPEG is whole where its end stands behind
    the pixels. A file that was still being copied would lie there with nothing to be seen on it.
    """
    try:
        whole = _png_is_whole(data) if data.startswith(PNG) else _jpeg_is_whole(data)
    except (struct.error, IndexError):
        whole = False
    if not whole:
        raise NoPicture("The picture is not whole: its file breaks off. Copy or save it again.")


def _png_is_whole(data: bytes) -> bool:
    place, kind = len(PNG), b""
    while kind != b"IEND":
        end = place + 12 + struct.unpack_from(">I", data, place)[0]
        kind = data[place + 4 : place + 8]
        (check,) = struct.unpack_from(">I", data, end - 4)
        if zlib.crc32(data[place + 4 : end - 4]) != check:
            raise NoPicture("The picture is damaged. Copy or save it again.")
        place = end
    return True


def _jpeg_is_whole(data: bytes) -> bool:
    """Whether the end follows on the pixels; a small picture in the head has an end of its own."""
    place = 2
    while (kind := data[place : place + 2]) != _SCAN:
        if not kind:
            return False
        place += 1 if data[place + 1] == 0xFF else 2 + struct.unpack_from(">H", data, place + 2)[0]
    # Among packed pixels 0xFF is followed by nothing but 0 and the markers that part them.
    return data.find(_JPEG_END, place) >= 0


@memoised
def size_of(picture: Picture) -> PictureSize:
    """The size of a picture of the document; without a pixel where its bytes are damaged."""
    try:
        return picture_size(picture.data)
    except NoPicture:
        return PictureSize(width_px=0, height_px=0)


def _png(data: bytes) -> PictureSize:
    if data[12:16] != b"IHDR":
        raise NoPicture("The picture does not begin as a PNG picture does.")
    width, height = struct.unpack_from(">II", data, 16)
    fine, place = None, 8
    while place + 8 <= len(data) and (kind := data[place + 4 : place + 8]) != b"IDAT":
        if kind == b"pHYs":
            per_metre, _, unit = struct.unpack_from(">IIB", data, place + 8)
            fine = per_metre / 1000.0 if unit == 1 and per_metre > 0 else None
        place += 12 + struct.unpack_from(">I", data, place)[0]
    return PictureSize(width_px=width, height_px=height, px_per_mm=fine)


def _jpeg(data: bytes) -> PictureSize:
    place, fine, orientation = 2, None, _UPRIGHT
    while True:
        while data[place] == 0xFF and data[place + 1] == 0xFF:  # markers may be filled up
            place += 1
        if data[place] != 0xFF:
            raise NoPicture("The picture is damaged before it says how large it is.")
        kind = data[place + 1]
        size = struct.unpack_from(">H", data, place + 2)[0]
        part = data[place + 4 : place + 2 + size]
        if kind in _FRAMES:
            height, width = struct.unpack_from(">HH", part, 1)
            return PictureSize(
                width_px=width, height_px=height, px_per_mm=fine, orientation=orientation
            )
        if kind == 0xE0 and part.startswith(b"JFIF\0"):
            fine = _jfif_px_per_mm(part)
        elif kind == 0xE1 and part.startswith(b"Exif\0\0"):
            orientation = _orientation(part[6:])
        place += 2 + size


def _jfif_px_per_mm(part: bytes) -> float | None:
    unit, across = struct.unpack_from(">BH", part, 7)
    per = {1: MM_PER_INCH, 2: 10.0}.get(unit)
    return across / per if per and across > 0 else None


def _orientation(tiff: bytes) -> int:
    """The orientation in Exif's tags; upright where they say nothing that can be understood."""
    order = {b"II": "<", b"MM": ">"}.get(tiff[:2])
    if order is None:
        return _UPRIGHT
    try:
        (start,) = struct.unpack_from(f"{order}I", tiff, 4)
        (count,) = struct.unpack_from(f"{order}H", tiff, start)
        for number in range(count):
            tag, _, _, value = struct.unpack_from(f"{order}HHIH", tiff, start + 2 + 12 * number)
            if tag == _ORIENTATION:
                return value if 1 <= value <= 8 else _UPRIGHT
    except struct.error:
        pass
    return _UPRIGHT


def placing_of(picture: Picture) -> Floats:
    """The map from its pixels to mm as an array, (3, 3)."""
    return np.array(picture.placing, dtype=np.float64).reshape(3, 3)


def stored_placing(map_: Floats) -> tuple[float, ...]:
    """A map, (3, 3), as the document holds it."""
    return tuple(map_.ravel().tolist())


def in_sight(picture: Picture, map_: Floats, points_px: Points) -> bool:
    """Whether all points, (n, 2) px, lie on the same side of the horizon as the middle pixel."""
    size = size_of(picture)
    middle = np.array([[size.width_px / 2, size.height_px / 2]])
    here = depths(map_, np.concatenate([middle, points_px]))
    return bool((here > 0).all() or (here < 0).all())


def outline_px(picture: Picture) -> Points:
    """Its four corners in pixels, (4, 2): upper left, upper right, lower right, lower left."""
    size = size_of(picture)
    width, height = size.width_px, size.height_px
    return np.array([[0, 0], [width, 0], [width, height], [0, height]], dtype=np.float64)


def upright(size: PictureSize) -> tuple[Floats, tuple[int, int]]:
    """The map from stored pixels to those of the picture held upright, and its width and height.

    Source: Exif 2.3, table 6: which sides of what is stored are seen at the top and at the left.
    """
    width, height = size.width_px, size.height_px
    maps: dict[int, list[list[float]]] = {
        1: [[1, 0, 0], [0, 1, 0]],
        2: [[-1, 0, width], [0, 1, 0]],
        3: [[-1, 0, width], [0, -1, height]],
        4: [[1, 0, 0], [0, -1, height]],
        5: [[0, 1, 0], [1, 0, 0]],
        6: [[0, -1, height], [1, 0, 0]],
        7: [[0, -1, height], [-1, 0, width]],
        8: [[0, 1, 0], [-1, 0, width]],
    }
    shown = (width, height) if size.orientation < 5 else (height, width)
    return np.array([*maps[size.orientation], [0, 0, 1]], dtype=np.float64), shown


def bounds_mm(picture: Picture) -> Floats | None:
    """The box of a photograph, (4,) mm; None where part of it lies beyond its horizon."""
    corners, placing = outline_px(picture), placing_of(picture)
    if not in_sight(picture, placing, corners):
        return None
    places = mapped(placing, corners)
    return np.concatenate([places.min(axis=0), places.max(axis=0)])
