"""The hand-over file: one archive with the record, the readings, the journal; readable without this program."""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from knowngood.app.answer import Answer
from knowngood.app.photo_pairs import Photos, Shot, no_photos, shots_of
from knowngood.app.sheets import sheet_of
from knowngood.app.state import State
from knowngood.app.story import name_of, said_of
from knowngood.errors import Problem, Refused
from knowngood.evidence import Reading
from knowngood.jobs.photos import MOST_BYTES as MOST_PHOTO_BYTES
from knowngood.sheets.as_html import as_html
from knowngood.sheets.as_pdf import as_pdf
from knowngood.sheets.as_text import as_text

JOURNAL, PHOTOS = "journal.jsonl", "photos/"
FIXED = (1980, 1, 1, 0, 0, 0)  # the least a zip can say: the same car gives the same file
MOST_BYTES = 64 * 1024 * 1024
READ_ME = """The record of one car.

record.pdf, record.html, record.txt   what came in, what was done, what shows it, what is left
readings.csv                          every reading in time order, as typed and in its base unit
journal.jsonl                         every entry, one JSON line each; `knowngood import` takes this archive back in
photos/                               the photos, under the names the journal calls them by; what each shows: photos.csv

Names, plates and numbers of people are not in it.
"""


def hand_over(state: State, answer: Answer, journal: str, date: str, photos: Photos = no_photos) -> bytes:
    """The archive as the bytes of a zip file.

    Parameters
    ----------
    journal : str
        The export of the job, one JSON line an entry, without the card of its owner.
    date : str
        ISO date of the record.
    photos : Photos
        Hands out the bytes of each photo; one that is not at hand is left out.
    """
    record = sheet_of("record", state, answer, date, photos)
    parts = {
        "read-me.txt": READ_ME.encode(),
        "record.pdf": as_pdf(record),
        "record.html": as_html(record).encode(),
        "record.txt": as_text(record).encode(),
        "readings.csv": readings_csv(state).encode(),
        JOURNAL: journal.encode(),
    }
    shots = shots_of(state)
    if shots:
        parts["photos.csv"] = _photos_csv(shots).encode()
    for shot in shots:
        picture = photos(shot.name)
        if picture is not None:
            parts[PHOTOS + shot.name] = picture
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(zipfile.ZipInfo(name, FIXED), content)
    return file.getvalue()


def readings_csv(state: State) -> str:
    """Every reading in time order as comma-separated values (RFC 4180), with a head."""
    out = io.StringIO()
    rows = csv.writer(out)
    rows.writerow(("at", "what", "place", "reading", "number_in_base_unit", "conditions", "who", "doubt", "line"))
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Reading):
            number = "" if body.value is None else repr(body.value.number)
            conditions = "; ".join(body.conditions)
            said = said_of(state, body)
            row = (name_of(state, body), str(body.place), said, number, conditions, body.who, body.doubt, entry.line)
            rows.writerow((entry.at, *(_no_formula(cell) for cell in row)))
    return out.getvalue()


def _photos_csv(shots: Sequence[Shot]) -> str:
    """What each photo shows (RFC 4180), with a head."""
    out = io.StringIO()
    rows = csv.writer(out)
    rows.writerow(("day", "photo", "shows"))
    rows.writerows((shot.day, shot.name, _no_formula(shot.words)) for shot in shots)
    return out.getvalue()


def journal_in(archive: bytes, name: str) -> bytes:
    """The journal inside a hand-over file.

    Raises
    ------
    Refused
        It is no such archive, or what it would unpack to is beyond all measure.
    """
    with _opened(archive, name) as opened:
        if opened.getinfo(JOURNAL).file_size > MOST_BYTES:
            raise Refused(
                Problem(f"{JOURNAL} in {name} is over {MOST_BYTES // 2**20} MB.", "That is no record of one car.")
            )
        return opened.read(JOURNAL)


def photos_of_archive(archive: bytes, name: str) -> dict[str, bytes]:
    """The photos inside a hand-over file that its journal speaks of, by name; what is too large is left there.

    Raises
    ------
    Refused
        It is no such archive.
    """
    journal = journal_in(archive, name).decode(errors="replace")
    with _opened(archive, name) as opened:
        return {
            one.filename.removeprefix(PHOTOS): opened.read(one)
            for one in opened.infolist()
            if one.filename.startswith(PHOTOS)
            and one.file_size <= MOST_PHOTO_BYTES
            and one.filename.removeprefix(PHOTOS) in journal
        }


@contextmanager
def _opened(archive: bytes, name: str) -> Iterator[zipfile.ZipFile]:
    """An archive to read from; whatever is wrong with it says what to do."""
    try:
        with zipfile.ZipFile(io.BytesIO(archive)) as opened:
            yield opened
    except (zipfile.BadZipFile, KeyError, RuntimeError, NotImplementedError, EOFError) as broken:
        raise Refused(
            Problem(f"{name} is no hand-over file: {broken}.", "Hand it over again, or import its journal.jsonl.")
        ) from None


_SIGNED = re.compile(r"[+-]\d+(?:[.,]\d+)?(?: ?[%°A-Za-zµΩ]+)?(?: to [+-]?\d+(?:[.,]\d+)?(?: ?[%°A-Za-zµΩ]+)?)?")


def _no_formula(cell: str) -> str:
    """A typed word that a spreadsheet would take for a formula is kept a word; a number with its sign is one."""
    signed = cell[:1] in ("+", "-") and not _SIGNED.fullmatch(cell)
    return f"'{cell}" if cell[:1] in ("=", "@", "\t", "\r") or signed else cell
