"""Photos on disk: what is refused, and in which words."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from knowngood.errors import Refused
from knowngood.jobs.photos import FOLDER, keep_photo, photo_path

NAME = "0" * 32


def test_what_is_no_picture_is_kept_as_it_came(tmp_path: Path) -> None:
    """Nothing that was sent disappears."""
    photo = keep_photo(tmp_path, b"no picture", lambda: NAME)
    assert not photo.is_picture
    assert photo_path(tmp_path, photo.name).read_bytes() == b"no picture"


def test_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    """More room would not help who has a file in the place of the folder."""
    (tmp_path / FOLDER).write_text("in the way")
    with pytest.raises(Refused) as refused:
        keep_photo(tmp_path, b"no picture", lambda: NAME)
    assert str(refused.value) == (
        f"The photo could not be written: File exists. Check the disk and the rights on {tmp_path / FOLDER}."
    )


def test_full_disk_asks_for_room(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The disk says so when the bytes are pressed onto it."""

    def full(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refused) as refused:
        keep_photo(tmp_path, b"no picture", lambda: NAME)
    assert str(refused.value) == "The photo could not be written: No space left on device. Make room on the disk."


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "No photo was chosen. Choose one, then save."),
        (b"x" * 20_000_001, "The photo has 20.1 MB; 20 MB are the most. Take it smaller."),
    ],
)
def test_nothing_and_too_much_are_refused(tmp_path: Path, data: bytes, told: str) -> None:
    """Word for word; nothing is written."""
    with pytest.raises(Refused) as refused:
        keep_photo(tmp_path, data, lambda: NAME)
    assert str(refused.value) == told
    assert not (tmp_path / FOLDER).exists()


@pytest.mark.parametrize("name", [f"{NAME}.jpg", "../workshop.sqlite", f"{NAME}.jpg/..", ""])
def test_photo_that_is_not_there_is_refused(tmp_path: Path, name: str) -> None:
    """Nor is anything else of the disk handed out."""
    with pytest.raises(Refused) as refused:
        photo_path(tmp_path, name)
    assert str(refused.value) == "There is no such photo. Open the journal again."
