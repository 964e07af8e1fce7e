"""Photos: re-encoded and bare, kept where no name from outside reaches, refused in words."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from starlette.testclient import TestClient

from knowngood.app.photo import photo_named
from knowngood.jobs import photos
from tests.unit.web.test_page import words


def picture(size: tuple[int, int] = (3000, 1500)) -> bytes:
    """A JPEG with a position and a turn written beside it (Exif tags 0x8825, 0x0112)."""
    image = Image.new("RGB", size, (200, 180, 90))
    beside = Image.Exif()
    beside[0x0112] = 6
    beside[0x8825] = {1: "N", 2: (52.0, 31.0, 0.0)}
    written = io.BytesIO()
    image.save(written, "JPEG", exif=beside)
    assert b"Exif" in written.getvalue()
    return written.getvalue()


def send(browser: TestClient, car: str, data: bytes, name: str = "x.jpg", said: str = "") -> str:
    """Send a photo; what the page says then."""
    answer = browser.post(f"{car}/photo", files={"photo": (name, data)}, data={"words": said})
    return words(answer.text)


def test_photo_is_bare_upright_and_not_too_large(browser: TestClient, car: str, folder: Path) -> None:
    """No position, turned as it was held, at most 2000 px, under a name drawn here, shown in the journal."""
    assert "Saved: the photo." in send(browser, car, picture(), "../../evil.jpg", "chewed hose")
    (path,) = (folder / "photos").iterdir()
    assert photos.NAME.fullmatch(path.name)
    assert b"Exif" not in path.read_bytes()
    with Image.open(path) as kept:
        assert kept.size == (1000, 2000)
    page = browser.get(f"{car}/journal").text
    assert f'src="{car}/photo/{path.name}"' in page
    assert "chewed hose" in page
    shown = browser.get(f"{car}/photo/{path.name}")
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.content == path.read_bytes()


@pytest.mark.parametrize("data", [b"<svg onload=alert(1)>", picture()[:400], b"\x89PNG\r\n\x1a\nnonsense"])
def test_what_is_no_picture_is_kept_and_said(browser: TestClient, car: str, folder: Path, data: bytes) -> None:
    """As it came, handed out as a file and never shown."""
    assert "It could not be read as a picture and is kept as it came." in send(browser, car, data)
    (path,) = (folder / "photos").iterdir()
    assert path.read_bytes() == data
    answer = browser.get(f"{car}/photo/{path.name}")
    assert answer.headers["content-type"] == "application/octet-stream"
    assert "attachment" in answer.headers["content-disposition"]
    assert f'src="{car}/photo/{path.name}"' not in browser.get(f"{car}/journal").text


def test_no_photo_and_too_large_a_one_are_refused(
    browser: TestClient, car: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In words; nothing is written."""
    assert "No photo was chosen. Choose one, then save." in send(browser, car, b"")
    monkeypatch.setattr(photos, "MOST_BYTES", 1000)
    assert "are the most. Take it smaller." in send(browser, car, picture((500, 500)))
    assert not (folder / "photos").exists()


def test_picture_that_claims_too_many_pixels_is_not_opened(
    browser: TestClient, car: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Kept as a file."""
    monkeypatch.setattr(photos, "MOST_PIXELS", 100)
    assert "kept as it came" in send(browser, car, picture((20, 20)))


@pytest.mark.parametrize("name", ["..%2F..%2Fworkshop.sqlite", "workshop.sqlite", "0" * 32 + ".jpg", "a.jpg"])
def test_other_names_lead_nowhere(browser: TestClient, car: str, name: str) -> None:
    """Only names drawn here are looked for."""
    assert browser.get(f"{car}/photo/{name}").status_code in (400, 404)


def test_photo_is_shown_under_its_own_car_only(browser: TestClient, car: str, folder: Path) -> None:
    """And there while its line stands: one that was taken back is on disk and on no page."""
    page = browser.post(f"{car}/photo", files={"photo": ("x.jpg", picture((9, 9)))}).text
    (path,) = (folder / "photos").iterdir()
    other = browser.post("/new", data={"nickname": "other"}, follow_redirects=False).headers["location"]
    assert browser.get(f"{car}/photo/{path.name}").status_code == 200
    refused = browser.get(f"{other}/photo/{path.name}")
    assert refused.status_code == 400
    assert "No line of this car names such a photo. Open the journal again." in words(refused.text)
    assert browser.get(f"/car/nosuch/photo/{path.name}").status_code == 400
    (entry,) = re.findall(r'class="echo".*?name="of" value="([^"]+)"', page, re.DOTALL)
    browser.post(f"{car}/undo", data={"of": entry})
    assert browser.get(f"{car}/photo/{path.name}").status_code == 400
    assert path.is_file()


def test_photo_of_another_page_is_refused(browser: TestClient, car: str) -> None:
    """As any form is."""
    answer = browser.post(
        f"{car}/photo", files={"photo": ("x.jpg", picture((9, 9)))}, headers={"origin": "http://evil.example"}
    )
    assert answer.status_code == 403


def test_photo_sent_twice_is_kept_once(browser: TestClient, car: str, folder: Path) -> None:
    """Its answer was lost and the page sent it again, under the name it gave it before."""

    def sent() -> str:
        data = {"words": "chewed hose", "sent": "0123456789abcdef"}
        return words(browser.post(f"{car}/photo", files={"photo": ("x.jpg", picture((9, 9)))}, data=data).text)

    assert "Saved: the photo." in sent()
    assert "Saved before: it came twice and was kept once." in sent()
    assert len(list((folder / "photos").iterdir())) == 1
    assert browser.get(f"{car}/journal").text.count("<img") == 1


def test_photo_is_taken_back_by_its_undo(browser: TestClient, car: str) -> None:
    """The button beside its echo names its line."""
    send(browser, car, picture((9, 9)), said="chewed hose")
    page = browser.post(f"{car}/photo", files={"photo": ("x.jpg", picture((9, 9)))}, data={"words": "other"}).text
    (entry,) = re.findall(r'class="echo".*?name="of" value="([^"]+)"', page, re.DOTALL)
    browser.post(f"{car}/undo", data={"of": entry})
    page = browser.get(f"{car}/journal").text
    assert "chewed hose" in page
    assert "other" not in re.findall(r'alt="([^"]*)"', page)[0]


def test_photo_without_its_size_is_not_read(browser: TestClient, car: str, folder: Path) -> None:
    """Sent in pieces it could be without end; it is not called too large."""

    def pieces() -> Iterator[bytes]:
        yield b"--b\r\nContent-Disposition: form-data; name=photo; filename=x.jpg\r\n\r\nxx\r\n--b--\r\n"

    answer = browser.post(f"{car}/photo", content=pieces(), headers={"content-type": "multipart/form-data; boundary=b"})
    assert answer.status_code == 411
    assert "The photo came without its size. Send it from the journal of its car." in words(answer.text)
    assert not (folder / "photos").exists()


def test_line_names_its_photo() -> None:
    """And no other line does."""
    name = "0" * 32 + ".jpg"
    assert photo_named(f"photo {name}: chewed hose") == name
    assert photo_named("took a photo") == ""
