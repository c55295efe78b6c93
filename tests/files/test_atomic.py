"""Files are written entirely or not at all."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from wedgework.files.atomic import read_whole, write_atomically
from wedgework.pattern.errors import FileRefused


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def test_a_new_file_holds_the_bytes_and_nothing_lies_beside_it(tmp_path):
    write_atomically(tmp_path / "suit.wedge", b"pieces")
    assert names(tmp_path) == ["suit.wedge"]
    assert (tmp_path / "suit.wedge").read_bytes() == b"pieces"


def test_a_new_file_has_the_mode_that_the_users_mask_asks_for(tmp_path):
    mask = os.umask(0o027)
    try:
        write_atomically(tmp_path / "suit.wedge", b"")
    finally:
        os.umask(mask)
    assert (tmp_path / "suit.wedge").stat().st_mode & 0o777 == 0o640


@pytest.mark.parametrize("mode", [0o600, 0o664, 0o755])
def test_an_existing_file_keeps_its_mode(tmp_path, mode):
    target = tmp_path / "suit.wedge"
    target.write_bytes(b"old")
    target.chmod(mode)
    write_atomically(target, b"new")
    assert (target.stat().st_mode & 0o777, target.read_bytes()) == (mode, b"new")


def test_a_link_stays_a_link(tmp_path):
    (tmp_path / "real.wedge").write_bytes(b"old")
    (tmp_path / "link.wedge").symlink_to("real.wedge")
    write_atomically(tmp_path / "link.wedge", b"new")
    assert (tmp_path / "link.wedge").is_symlink()
    assert (tmp_path / "real.wedge").read_bytes() == b"new"


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failure_half_way_keeps_the_old_file_and_leaves_nothing_behind(
    tmp_path, monkeypatch, step
):
    target = tmp_path / "suit.wedge"
    target.write_bytes(b"old")

    def fail(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os if step == "fsync" else Path, step, fail)
    with pytest.raises(FileRefused, match=r"the disk is full\.$"):
        write_atomically(target, b"new")
    assert (names(tmp_path), target.read_bytes()) == (["suit.wedge"], b"old")


def test_ctrl_c_half_way_leaves_nothing_behind(tmp_path, monkeypatch):
    def stop(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", stop)
    with pytest.raises(KeyboardInterrupt):
        write_atomically(tmp_path / "suit.wedge", b"new")
    assert names(tmp_path) == []


@pytest.mark.parametrize(
    ("target", "why"),
    [
        ("no/such/suit.wedge", "no such file or folder"),
        (".", "no ordinary file"),
        ("file/suit.wedge", "no folder"),
        ("x" * 300 + ".wedge", "name is too long"),
    ],
)
def test_what_cannot_be_written_is_refused_with_a_sentence(tmp_path, target, why):
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(FileRefused, match=why):
        write_atomically(tmp_path / target, b"new")
    assert names(tmp_path) == ["file"]


def test_a_device_is_never_replaced():
    with pytest.raises(FileRefused, match="no ordinary file"):
        write_atomically(Path(os.devnull), b"new")


def test_a_protected_file_is_not_replaced(tmp_path, monkeypatch):
    (tmp_path / "suit.wedge").write_bytes(b"old")
    # The superuser may write anything, so the system's answer is stood in for.
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(FileRefused, match="write-protected"):
        write_atomically(tmp_path / "suit.wedge", b"new")


def test_reading_gives_the_bytes_back(tmp_path):
    (tmp_path / "suit.wedge").write_bytes(b"pieces")
    assert read_whole(tmp_path / "suit.wedge") == b"pieces"


def test_a_file_that_is_not_there_or_too_large_is_refused(tmp_path):
    with pytest.raises(FileRefused, match="no such file"):
        read_whole(tmp_path / "suit.wedge")
    (tmp_path / "suit.wedge").write_bytes(b"12345")
    with pytest.raises(FileRefused, match="larger"):
        read_whole(tmp_path / "suit.wedge", largest_bytes=4)
