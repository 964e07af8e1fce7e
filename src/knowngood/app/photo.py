"""A photo in the journal: the picture on disk, and the line that names it and says what it shows."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from knowngood.app.workshop import Workshop, random_id
from knowngood.errors import Problem, Refused
from knowngood.evidence import Note
from knowngood.jobs.photos import keep_photo, photo_path, reduced, take_photo_in
from knowngood.sheets.photo_pair import Jpeg

WHY = "a photo"
LONGEST = 200
PRINTED_SIDE = 900  # pixels; half a page wide at 250 an inch
_NAMED = re.compile(r"photo ([0-9a-f]{32}\.(?:jpg|bin))")


@dataclass(frozen=True)
class KeptPhoto:
    """The words that confirm a photo, and the entries of its line."""

    words: str
    entries: tuple[str, ...]


def photo_line(workshop: Workshop, job: str, data: bytes, words: str, *, at: str = "") -> KeptPhoto:
    """Keep a photo and its line, taken ``at`` if not now.

    Raises
    ------
    Refused
        There is no photo, it is too large, or the disk did not take it.
    """
    photo = keep_photo(workshop.folder, data, random_id)
    words = " ".join(words.split())[:LONGEST]
    line = f"photo {photo.name}{f': {words}' if words else ''}"
    said = workshop.keep(job, line, [Note(line, WHY)], at=at)
    if photo.is_picture:
        return KeptPhoto("Saved: the photo.", said.entries)
    return KeptPhoto("Saved: the file. It could not be read as a picture and is kept as it came.", said.entries)


def photo_named(line: str) -> str:
    """The photo a line of the journal names; empty for any other line."""
    found = _NAMED.match(line)
    return found.group(1) if found else ""


def photo_of(workshop: Workshop, job: str, name: str) -> Path:
    """Where a photo of a car is.

    Raises
    ------
    Refused
        No line of this car that stands names it, or it is not there.
    """
    code = workshop.job(job).code
    if not any(isinstance(entry.body, Note) and photo_named(entry.line) == name for entry in workshop.entries(code)):
        raise Refused(Problem("No line of this car names such a photo.", "Open the journal again."))
    return stored_photo(workshop.folder, name)


def stored_photo(folder: Path, name: str) -> Path:
    """Where a photo of that name is.

    Raises
    ------
    Refused
        There is none.
    """
    return photo_path(folder, name)


def photos_in(folder: Path) -> Callable[[str], bytes | None]:
    """From the name of a photo to its bytes, in the folder of a workshop; None where it is not there."""

    def named(name: str) -> bytes | None:
        try:
            return stored_photo(folder, name).read_bytes()
        except (Refused, OSError):
            return None

    return named


def for_print(data: bytes | None) -> Jpeg | None:
    """A photo as small as a page needs it; None where there is none, or it is no picture."""
    picture = reduced(data, PRINTED_SIDE) if data is not None else None
    return Jpeg(*picture) if picture is not None else None


def take_photos_in(folder: Path, photos: Mapping[str, bytes]) -> int:
    """Photos of a hand-over file into the folder of a workshop; how many were new.

    Raises
    ------
    Refused
        The disk did not take one.
    """
    return sum(take_photo_in(folder, name, data) for name, data in photos.items())
