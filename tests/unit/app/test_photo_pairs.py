"""Photos of before and after: on the record, in the archive, back again."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest
from PIL import Image

from knowngood.app.handover import hand_over, journal_in, photos_of_archive
from knowngood.app.photo import photo_line, photos_in, take_photos_in
from knowngood.app.photo_pairs import pairs_of, shots_of
from knowngood.app.sheets import sheet_of
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.sheets.as_html import as_html
from knowngood.sheets.as_pdf import as_pdf
from knowngood.sheets.as_text import as_text
from knowngood.sheets.sheet import Picture

DAY = "2026-05-01"


def drawn(colour: str) -> bytes:
    """A photo of one colour."""
    written = io.BytesIO()
    Image.new("RGB", (640, 480), colour).save(written, "JPEG")
    return written.getvalue()


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> tuple[Workshop, str]:
    """A car with photos from before a repair, after it, and of something else."""
    shop = Workshop(tmp_path_factory.mktemp("one"), load())
    job = shop.new("four").code
    shop.say(job, "petrol, 4 cylinders inline, coil on plug", at=f"{DAY}T08:00:00.000000Z")
    photo_line(shop, job, drawn("red"), "the chewed hose", at=f"{DAY}T08:30:00.000000Z")
    shop.say(job, "vacuum hose chewed", at=f"{DAY}T09:00:00.000000Z")
    shop.say(job, "replaced vacuum hose", at=f"{DAY}T10:00:00.000000Z")
    shop.say(job, "replaced coil 3", at=f"{DAY}T10:30:00.000000Z")
    photo_line(shop, job, drawn("green"), "new vacuum hose", at=f"{DAY}T11:00:00.000000Z")
    photo_line(shop, job, drawn("blue"), "coil 3 before, cracked", at=f"{DAY}T12:00:00.000000Z")
    photo_line(shop, job, drawn("white"), "odometer", at=f"{DAY}T12:30:00.000000Z")
    return shop, job


def test_photos_pair_by_their_words_and_their_moment(told: tuple[Workshop, str]) -> None:
    """The chewed hose was before by its moment; the coil was before because its words say so."""
    shop, job = told
    sides = [
        (pair.work, pair.before and pair.before.words, pair.after and pair.after.words)
        for pair in pairs_of(shop.state(job))
    ]
    assert sides == [
        ("replaced vacuum hose", "the chewed hose", "new vacuum hose"),
        ("replaced ignition coil cylinder 3", "coil 3 before, cracked", None),
    ]


def test_record_shows_them_side_by_side(told: tuple[Workshop, str]) -> None:
    """As pictures in PDF and HTML, in words in plain text; where no picture is at hand, in words alone."""
    shop, job = told
    sheet = sheet_of("record", shop.state(job), shop.answer(job), DAY, photos_in(shop.folder))
    hose = next(block for block in sheet.blocks if isinstance(block, Picture) and "vacuum hose" in block.heading)
    assert hose.svg.count("data:image/jpeg;base64,") == 2
    assert as_html(sheet).count("data:image/jpeg;base64,") == 3
    without = sheet_of("record", shop.state(job), shop.answer(job), DAY)
    assert len(as_pdf(sheet)) > len(as_pdf(without))
    for said in (as_text(sheet), as_text(without)):
        assert "before, 2026-05-01: the chewed hose (" in " ".join(said.split())


def test_archive_carries_every_photo_and_brings_it_back(told: tuple[Workshop, str], tmp_path: Path) -> None:
    """The same bytes under the same names in another workshop, and the same record."""
    shop, job = told
    state, photos = shop.state(job), photos_in(shop.folder)
    archive = hand_over(state, shop.answer(job), shop.export(job), DAY, photos)
    names = [shot.name for shot in shots_of(state)]
    with zipfile.ZipFile(io.BytesIO(archive)) as opened:
        assert {f"photos/{name}" for name in names} < set(opened.namelist())
        assert "odometer" in opened.read("photos.csv").decode()
    with Workshop(tmp_path, load()) as other:
        assert take_photos_in(tmp_path, photos_of_archive(archive, "four.zip")) == len(names) == 4
        other.take_in(journal_in(archive, "four.zip"), "four.zip")
        assert take_photos_in(tmp_path, photos_of_archive(archive, "four.zip")) == 0  # here already
        again = hand_over(other.state(job), other.answer(job), other.export(job), DAY, photos_in(tmp_path))
    assert again == archive


def test_what_is_no_photo_of_the_car_stays_in_the_archive(told: tuple[Workshop, str], tmp_path: Path) -> None:
    """A name that leads elsewhere, a photo the journal does not speak of, a picture that is none: not taken."""
    shop, job = told
    archive = io.BytesIO(hand_over(shop.state(job), shop.answer(job), shop.export(job), DAY))
    (name, *_) = [shot.name for shot in shots_of(shop.state(job))]
    with zipfile.ZipFile(archive, "a") as opened:
        opened.writestr("photos/../../outside.jpg", drawn("red"))
        opened.writestr(f"photos/{'0' * 32}.jpg", drawn("red"))
        opened.writestr(f"photos/{name}", b"no picture")
    assert take_photos_in(tmp_path, photos_of_archive(archive.getvalue(), "four.zip")) == 0
    assert list(tmp_path.rglob("*.jpg")) == []
