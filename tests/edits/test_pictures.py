"""Photographs under the table: laid there, moved, scaled, squared up, refused."""

from __future__ import annotations

import struct
import zlib
from dataclasses import replace

import numpy as np
import pytest

from tests import small
from tests.edits.checking import check_edit, refused
from wedgework.edits.names import Rename
from wedgework.edits.pictures import (
    LARGEST_BYTES,
    AddPicture,
    MovePicture,
    RemovePicture,
    ScalePicture,
    SetPicture,
    SquarePicture,
    TurnPicture,
)
from wedgework.geometry.projective import homography, mapped
from wedgework.pattern.document import Project
from wedgework.pattern.pictures import outline_px, picture_size, placing_of


def png(width=400, height=300, per_metre=None):
    """A PNG file of one grey, with a resolution where one is wanted."""

    def part(kind, data):
        body = kind + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))

    head = part(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0))
    fine = part(b"pHYs", struct.pack(">IIB", per_metre, per_metre, 1)) if per_metre else b""
    rows = part(b"IDAT", zlib.compress(b"".join(b"\0" + b"\x80" * width for _ in range(height))))
    return b"\x89PNG\r\n\x1a\n" + head + fine + rows + part(b"IEND", b"")


def jpeg(width, height, *, per_inch=72, orientation=None):
    """A JPEG file without its tables: nobody unpacks it here."""
    jfif = b"JFIF\0" + struct.pack(">HBHHBB", 0x0102, 1, per_inch, per_inch, 0, 0)
    parts = b"\xff\xe0" + struct.pack(">H", 2 + len(jfif)) + jfif
    if orientation is not None:
        tag = struct.pack("<HHIHH", 0x0112, 3, 1, orientation, 0)
        exif = b"Exif\0\0II*\0" + struct.pack("<IH", 8, 1) + tag + b"\0\0\0\0"
        parts += b"\xff\xe1" + struct.pack(">H", 2 + len(exif)) + exif
    frame = struct.pack(">BHHB", 8, height, width, 3) + b"\0" * 9
    scan = b"\xff\xda" + struct.pack(">H", 3) + b"\0" + bytes(width) + b"\xff\xd9"
    return b"\xff\xd8" + parts + b"\xff\xc0" + struct.pack(">H", 2 + len(frame)) + frame + scan


def laid(data=None, **more):
    edit = AddPicture(name="Heron hood", data=png() if data is None else data, **more)
    return check_edit(edit, small.square())


def places(project, points=None):
    """Where pixels lie, in mm: the four corners of the picture if none are named."""
    (picture,) = project.pictures.values()
    return mapped(placing_of(picture), outline_px(picture) if points is None else points)


def test_a_photograph_lies_upright_about_its_middle_at_first():
    corners = places(laid(middle_mm=(10.0, 20.0)))
    assert corners.tolist() == pytest.approx(np.array(
        [[-200, 177.5], [220, 177.5], [220, -137.5], [-200, -137.5]]))  # fmt: skip


def test_a_scan_lies_at_true_size():
    # 11811 pixels to the metre are 300 to the inch.
    corners = places(laid(png(2480, 350, per_metre=11811)))
    assert np.ptp(corners[:, 0]) == pytest.approx(2480 / 11.811)


def test_what_a_camera_says_of_dots_is_not_believed():
    assert np.ptp(places(laid(jpeg(4000, 3000, per_inch=72)))[:, 0]) == pytest.approx(420.0)


def test_a_width_that_is_said_is_taken():
    assert np.ptp(places(laid(width_mm=210.0))[:, 0]) == pytest.approx(210.0)


@pytest.mark.parametrize(
    ("orientation", "upper_left"),
    [(1, 0), (2, 1), (3, 2), (4, 3), (5, 0), (6, 3), (7, 2), (8, 1)],
)
def test_a_telephone_held_any_way_gives_an_upright_picture(orientation, upper_left):
    project = laid(jpeg(400, 300, orientation=orientation))
    corners = places(project)
    seen_at = corners[upper_left]
    assert seen_at.tolist() == pytest.approx([corners[:, 0].min(), corners[:, 1].max()])
    assert (np.ptp(corners, axis=0)[0] > np.ptp(corners, axis=0)[1]) == (orientation < 5)


@pytest.mark.parametrize(
    "data",
    [
        b"GIF89a" + b"\0" * 40,
        b"\x89PNG\r\n\x1a\n" + b"\0" * 20,
        png()[:20],
        jpeg(10, 10)[:26],
        png(0, 10),
        png()[:16] + struct.pack(">II", 20_000, 20_000) + png()[24:],
        b"%PDF-1.7",
    ],
)
def test_what_is_no_picture_or_too_large_is_refused(data):
    refused(AddPicture(name="x", data=data), Project())


@pytest.mark.parametrize("data", [png(), png(per_metre=5000), jpeg(40, 30, orientation=6)])
def test_a_picture_whose_file_breaks_off_anywhere_is_refused(data):
    for end in range(len(data) - 1, 0, -1):
        refused(AddPicture(name="x", data=data[:end]), Project())


def test_a_picture_that_breaks_off_says_what_to_do():
    assert "breaks off" in refused(AddPicture(name="x", data=png()[:-30]), Project()).sentence


def test_a_picture_with_a_damaged_part_is_refused():
    data = bytearray(png())
    data[-20] ^= 0x55
    assert "damaged" in refused(AddPicture(name="x", data=bytes(data)), Project()).sentence


def test_what_a_camera_writes_behind_the_picture_is_no_damage():
    assert laid(jpeg(40, 30) + b"more of it").pictures
    assert laid(png() + b"more of it").pictures


def test_a_file_that_is_too_large_is_refused_with_the_limit():
    edit = AddPicture(name="x", data=png() + bytes(LARGEST_BYTES))
    assert "32" in refused(edit, Project()).sentence


def test_a_second_photograph_of_one_name_gets_an_id_of_its_own():
    project = check_edit(AddPicture(name="Heron hood", data=png()), laid())
    assert list(project.pictures) == ["Heron_hood", "Heron_hood-2"]


def test_a_photograph_is_moved_turned_named_dimmed_and_taken_away():
    project = laid()
    own = "Heron_hood"
    moved = check_edit(MovePicture(picture=own, by_mm=(3.0, -4.0)), project)
    assert places(moved) == pytest.approx(places(project) + np.array([3.0, -4.0]))
    turned = check_edit(TurnPicture(picture=own, turn_deg=90.0), project)
    assert places(turned)[0].tolist() == pytest.approx([-157.5, -210.0])
    dimmed = check_edit(SetPicture(picture=own, strength_ratio=0.2, shown=False), project)
    assert (dimmed.pictures[own].strength_ratio, dimmed.pictures[own].shown) == (0.2, False)
    named = check_edit(Rename(id=own, name="Pike"), project)
    assert named.pictures[own].name == "Pike"
    assert not check_edit(RemovePicture(picture=own), project).pictures


@pytest.mark.parametrize(
    "edit",
    [
        MovePicture(picture="p", by_mm=(1, 1)),
        RemovePicture(picture="p"),
        SetPicture(picture="p"),
        TurnPicture(picture="p", turn_deg=3),
        ScalePicture(picture="p", one_px=(0, 0), other_px=(9, 9), distance_mm=5),
    ],
)
def test_what_is_no_photograph_is_refused(edit):
    refused(edit, laid())


def test_edits_that_change_nothing_give_the_same_project():
    project = laid()
    for edit in (
        MovePicture(picture="Heron_hood", by_mm=(0, 0)),
        TurnPicture(picture="Heron_hood", turn_deg=0),
        SetPicture(picture="Heron_hood", shown=True),
    ):
        assert edit.apply(project) is project


def test_a_known_distance_scales_about_its_first_point():
    project = laid()
    edit = ScalePicture(picture="Heron_hood", one_px=(10, 20), other_px=(310, 420), distance_mm=50)
    ends = places(check_edit(edit, project), [[10, 20], [310, 420]])
    assert np.hypot(*(ends[1] - ends[0])) == pytest.approx(50.0)
    assert ends[0].tolist() == pytest.approx(places(project, [10, 20]).tolist())


def test_two_points_that_are_one_scale_nothing():
    edit = ScalePicture(picture="Heron_hood", one_px=(9, 9), other_px=(9, 9), distance_mm=5)
    refused(edit, laid())


def test_a_rectangle_taken_aslant_comes_out_true_with_all_that_is_flat_in_it():
    # The camera: what lies on the sheet, in mm, goes to these pixels.
    sheet = np.array([[0.0, 297.0], [210.0, 297.0], [210.0, 0.0], [0.0, 0.0]])
    seen = np.array([[70.0, 40.0], [350.0, 60.0], [390.0, 280.0], [20.0, 260.0]])
    camera = homography(sheet, seen)
    edit = SquarePicture(
        picture="Heron_hood",
        corners_px=tuple(map(tuple, seen.tolist())),
        width_mm=210.0,
        height_mm=297.0,
    )
    project = check_edit(edit, laid())
    inside = np.array([[30.0, 40.0], [180.0, 250.0], [105.0, 148.5], [300.0, 200.0]])
    found = places(project, mapped(camera, inside))
    shift = found[0] - inside[0]
    assert np.abs(found - inside - shift).max() < 1e-9
    assert edit.apply(project).pictures["Heron_hood"].placing == pytest.approx(
        project.pictures["Heron_hood"].placing
    )


@pytest.mark.parametrize(
    "corners",
    [
        [(0, 0), (100, 100), (100, 0), (0, 100)],
        [(0, 0), (100, 0), (200, 0), (0, 100)],
        [(0, 0), (0, 0), (100, 100), (0, 100)],
        [(0, 0), (100, 0), (30, 30), (0, 100)],
    ],
)
def test_four_points_that_are_no_picture_of_a_rectangle_are_refused(corners):
    edit = SquarePicture(picture="Heron_hood", corners_px=corners, width_mm=210, height_mm=297)
    refused(edit, laid())


def test_a_photograph_whose_middle_lies_beyond_the_horizon_is_refused():
    corners = ((188.0, 10.0), (212.0, 10.0), (220.0, 20.0), (180.0, 20.0))
    project = laid(png(400, 3000))
    far = ((199.0, 2000.0), (201.0, 2000.0), (300.0, 2010.0), (100.0, 2010.0))
    check_edit(
        SquarePicture(picture="Heron_hood", corners_px=corners, width_mm=9, height_mm=9), project
    )
    refused(SquarePicture(picture="Heron_hood", corners_px=far, width_mm=9, height_mm=9), project)


def test_a_picture_too_far_away_is_refused():
    project = laid(middle_mm=(9e5, 0))
    refused(MovePicture(picture="Heron_hood", by_mm=(9e5, 0)), project)


def test_edits_of_a_photograph_share_its_bytes():
    project = laid()
    before = project.pictures["Heron_hood"].data
    after = MovePicture(picture="Heron_hood", by_mm=(3, 4)).apply(project)
    assert after.pictures["Heron_hood"].data is before


def test_a_damaged_picture_of_a_file_has_no_pixel():
    from wedgework.pattern.pictures import size_of  # noqa: PLC0415

    (picture,) = laid().pictures.values()
    assert size_of(replace(picture, data=b"\x89PNG\r\n\x1a\n\0")).width_px == 0


def test_big_endian_exif_is_read_too():
    tag = struct.pack(">HHIHH", 0x0112, 3, 1, 6, 0)
    exif = b"Exif\0\0MM\0*" + struct.pack(">IH", 8, 1) + tag + b"\0\0\0\0"
    data = jpeg(40, 30)
    part = b"\xff\xe1" + struct.pack(">H", 2 + len(exif)) + exif
    assert picture_size(data[:2] + part + data[2:]).orientation == 6
