"""Photos of a job: re-encoded, without what the camera wrote beside the picture, under names drawn here.

What cannot be read as a picture is kept as it came, and is only ever handed out as a file.
"""

from __future__ import annotations

import errno
import io
import math
import os
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from knowngood.errors import Problem, Refused

MOST_BYTES = 20_000_000
"""Above this a file is refused unopened (ours)."""
MOST_PIXELS = 80_000_000  # more than any phone takes; a small file may claim far more
LONGEST_SIDE = 2000
QUALITY = 85
"""What is kept of a photo: pixels of its longer side, and quality of the JPEG (ours)."""
FOLDER = "photos"
NAME = re.compile(r"[0-9a-f]{32}\.(?:jpg|bin)")


@dataclass(frozen=True)
class Photo:
    """A photo on disk: its name, and whether it could be read as a picture."""

    name: str
    is_picture: bool


def keep_photo(home: Path, data: bytes, new_id: Callable[[], str]) -> Photo:
    """Write a photo; it is on disk when this returns.

    Parameters
    ----------
    home : Path
        Folder of the workshop.
    data : bytes
        As it was sent; neither its name nor its kind is taken from the sender.
    new_id : callable
        Draws 32 hexadecimal digits.

    Raises
    ------
    Refused
        Nothing was sent, it is too large, or the disk did not take it.
    """
    if not data:
        raise Refused(Problem("No photo was chosen.", "Choose one, then save."))
    if len(data) > MOST_BYTES:
        fact = f"The photo has {math.ceil(len(data) / 1e5) / 10:g} MB; {MOST_BYTES / 1e6:g} MB are the most."
        raise Refused(Problem(fact, "Take it smaller."))
    picture = reduced(data, LONGEST_SIDE)
    name = f"{new_id()}.{'jpg' if picture is not None else 'bin'}"
    _write(home, name, picture[0] if picture is not None else data)
    return Photo(name, picture is not None)


def _write(home: Path, name: str, data: bytes) -> None:
    folder = home / FOLDER
    try:
        folder.mkdir(parents=True, exist_ok=True)
        unfinished = folder / f"{name}.part"
        with unfinished.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        unfinished.replace(folder / name)
    except OSError as trouble:
        full = trouble.errno == errno.ENOSPC
        fix = "Make room on the disk." if full else f"Check the disk and the rights on {folder}."
        raise Refused(Problem(f"The photo could not be written: {trouble.strerror}.", fix)) from None


def photo_path(home: Path, name: str) -> Path:
    """Where a photo is.

    Raises
    ------
    Refused
        There is none of that name.
    """
    path = home / FOLDER / name
    if not NAME.fullmatch(name) or not path.is_file():
        raise Refused(Problem("There is no such photo.", "Open the journal again."))
    return path


def take_photo_in(home: Path, name: str, data: bytes) -> bool:
    """Write a photo of an archive under its own name; whether it was new.

    One that calls itself a picture and is none is left out; one that is here already stays as it is.

    Raises
    ------
    Refused
        The disk did not take it.
    """
    path = home / FOLDER / name
    if not NAME.fullmatch(name) or len(data) > MOST_BYTES or path.exists():
        return False
    if path.suffix == ".jpg" and reduced(data, LONGEST_SIDE) is None:
        return False
    _write(home, name, data)
    return True


def reduced(data: bytes, side: int) -> tuple[bytes, int, int] | None:
    """The picture alone, upright, as a JPEG of at most ``side`` pixels.

    Returns
    -------
    data, width, height : tuple of bytes, int [pixel], int [pixel]
        ``None`` where it cannot be read as a picture.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError  # late: only who sends a photo needs it

    try:
        with Image.open(io.BytesIO(data)) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                return None
            picture = ImageOps.exif_transpose(opened).convert("RGB")
        picture.thumbnail((side, side))
        bare = Image.frombytes("RGB", picture.size, picture.tobytes())
        written = io.BytesIO()
        bare.save(written, "JPEG", quality=QUALITY)
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, ValueError, SyntaxError, Warning):
        return None
    return written.getvalue(), bare.width, bare.height
