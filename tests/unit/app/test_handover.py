"""The archive that goes with a car."""

from __future__ import annotations

import csv
import io
import zipfile
from pathlib import Path

import pytest

from knowngood.app.handover import JOURNAL, _no_formula, hand_over, journal_in
from knowngood.app.workshop import Workshop
from knowngood.errors import Refused
from knowngood.library.load import load

LINES = (
    "petrol, 4 cylinders inline, coil on plug",
    "comp 175 172 60 175 psi",
    "shakes at cold idle",
    "replaced coil 3, no change",
)


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> tuple[Workshop, str, bytes]:
    """A workshop, its one car, and the archive."""
    shop = Workshop(tmp_path_factory.mktemp("one"), load())
    job = shop.new("=four").code
    for line in LINES:
        shop.say(job, line)
    return shop, job, hand_over(shop.state(job), shop.answer(job), shop.export(job), "2026-05-01")


def test_archive_is_readable_without_the_program(told: tuple[Workshop, str, bytes]) -> None:
    """Record in three forms, readings as CSV with what was typed, the journal, and what is what."""
    with zipfile.ZipFile(io.BytesIO(told[2])) as archive:
        assert archive.testzip() is None
        assert set(archive.namelist()) == {
            "read-me.txt",
            "record.pdf",
            "record.html",
            "record.txt",
            "readings.csv",
            JOURNAL,
        }
        rows = list(csv.DictReader(io.StringIO(archive.read("readings.csv").decode())))
        assert archive.read("record.pdf").startswith(b"%PDF-")
    compression = [row for row in rows if row["what"].startswith("cranking compression")]
    assert [row["reading"] for row in compression] == ["175 psi", "172 psi", "60 psi", "175 psi"]
    # 60 psi in kPa, NIST SP 811, Appendix B.8: 1 psi = 6.894757 kPa
    assert float(compression[2]["number_in_base_unit"]) == pytest.approx(60 * 6.894757, rel=1e-6)


def test_archive_comes_back_in_as_the_same_car(told: tuple[Workshop, str, bytes], tmp_path: Path) -> None:
    """Taken into an empty workshop, the same entries stand and say the same."""
    shop, job, archive = told
    with Workshop(tmp_path, load()) as other:
        new, known = other.take_in(journal_in(archive, "four.zip"), "four.zip")
        assert (new, known) == (len(shop.export(job).splitlines()), 0)
        assert other.entries(job) == shop.entries(job)
        assert other.export(job) == shop.export(job)


def test_same_car_gives_the_same_bytes(told: tuple[Workshop, str, bytes]) -> None:
    """No clock in it."""
    shop, job, archive = told
    assert hand_over(shop.state(job), shop.answer(job), shop.export(job), "2026-05-01") == archive


def test_words_that_look_like_formulas_stay_words(tmp_path: Path) -> None:
    """A spreadsheet opens the readings as words."""
    from knowngood.app.handover import readings_csv

    with Workshop(tmp_path, load()) as shop:
        job = shop.new("x").code
        shop.say(job, "4 cylinders inline")
        shop.say(job, "=HYPERLINK, shakes at cold idle")
        rows = list(csv.DictReader(io.StringIO(readings_csv(shop.state(job)))))
    assert all(not row["line"].startswith("=") for row in rows)


@pytest.mark.parametrize(
    ("cell", "shown"),
    [
        ("+19 %", "+19 %"),
        ("-4 to +12 %", "-4 to +12 %"),
        ("-0.85", "-0.85"),
        ("+1+cmd|' /c calc'!A0", "'+1+cmd|' /c calc'!A0"),
        ("-2+3", "'-2+3"),
        ("\t=1", "'\t=1"),
        ("@sum", "'@sum"),
    ],
)
def test_only_a_number_may_begin_with_a_sign(cell: str, shown: str) -> None:
    """What a spreadsheet would work out is kept as it was typed (common practice of exports)."""
    assert _no_formula(cell) == shown


@pytest.mark.parametrize("content", [b"PK\x03\x04 broken", b"", b"no zip at all"])
def test_other_archive_is_refused(content: bytes) -> None:
    """The error names the file and what to do."""
    with pytest.raises(Refused) as refused:
        journal_in(content, "some.zip")
    assert str(refused.value.problems[0]).startswith("some.zip is no hand-over file: ")
    assert str(refused.value.problems[0]).endswith("Hand it over again, or import its journal.jsonl.")
