"""A photo in the journal: the picture on disk, and the line that names it and says what it shows."""

from __future__ import annotations

import re
from pathlib import Path

from knowngood.app.workshop import Workshop, random_id
from knowngood.evidence import Note
from knowngood.jobs.photos import keep_photo, photo_path

WHY = "a photo"
LONGEST = 200
_NAMED = re.compile(r"photo ([0-9a-f]{32}\.(?:jpg|bin))")


def photo_line(workshop: Workshop, job: str, data: bytes, words: str) -> str:
    """Keep a photo and its line; the words that confirm it.

    Raises
    ------
    Refused
        There is no photo, it is too large, or the disk did not take it.
    """
    photo = keep_photo(workshop.folder, data, random_id)
    words = " ".join(words.split())[:LONGEST]
    line = f"photo {photo.name}{f': {words}' if words else ''}"
    workshop.keep(job, line, [Note(line, WHY)])
    if photo.is_picture:
        return "Saved: the photo."
    return "Saved: the file. It could not be read as a picture and is kept as it came."


def photo_named(line: str) -> str:
    """The photo a line of the journal names; empty for any other line."""
    found = _NAMED.match(line)
    return found.group(1) if found else ""


def stored_photo(folder: Path, name: str) -> Path:
    """Where a photo of that name is.

    Raises
    ------
    Refused
        There is none.
    """
    return photo_path(folder, name)
