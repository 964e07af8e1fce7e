"""What is shown, kept and asked about stands in the words that were typed."""

from __future__ import annotations

from datetime import date

import pytest

from knowngood.car import Car
from knowngood.evidence import Finding, Note, Work
from knowngood.library import load
from knowngood.lines import Understood, read_line
from knowngood.lines.typed import Typed

SIX = Car(cylinders=6)


def read(line: str) -> Understood:
    return read_line(line, SIX, load())


@pytest.mark.parametrize(
    ("typed", "plain", "word", "shown"),
    [
        ("oil temp 212", "oiltemp 212", "oiltemp 212", "oil temp 212"),
        ("needle drops to 12 inches, idles", "needle drops, idles", "needle drops", "needle drops to 12 inches"),
        ("stood in a lean-to", "stood in a barn", "barn", "lean-to"),
        ("there is a nest", "nest", "nest", "there is a nest"),
        ("comp 175 180", "comp 175 180", "175", "175"),
        ("between A and B 3 V", "drop A to B 3 V", "drop A to B 3 V", "between A and B 3 V"),
        ("abc", "xyz, added words", "added words", "abc"),
        ("one, two", "one two", "one two", "one, two"),
        ("", "made up", "made up", "made up"),
    ],
)
def test_typed_words_of_a_plain_text(typed: str, plain: str, word: str, shown: str) -> None:
    """Words alike belong together; what stands between two of those belongs to what it was read as."""
    at = plain.index(word)
    assert Typed(typed, plain).words(at, at + len(word)) == shown


@pytest.mark.parametrize(
    "line",
    [
        "oil temp 212",
        "plugs dark grey",
        "timing at 10 deg",
        "vac needle drops to 12 inches",
        "2.5 grand",
        "boost hose is grand",
        "Hi-Tension waveform comes and goes",
        "it stood, cos i dunno",
    ],
)
def test_note_of_a_whole_line_is_the_line(line: str) -> None:
    """A line of which nothing was made is kept, shown and asked about as it was typed."""
    understood = read(line)
    (note,) = understood.bodies
    assert isinstance(note, Note)
    assert note.text == line
    assert understood.echo.startswith(f"kept as a note: {line}")
    assert understood.asks[0].startswith(f"'{line}'")


def test_finding_and_work_keep_their_words() -> None:
    """A record of the job is read by others: it stands as its writer put it."""
    found = [
        body.words for body in read("rubbed thru wire on inj 3 harness at bracket").bodies if isinstance(body, Finding)
    ]
    assert found == ["rubbed thru wire on inj 3 harness at bracket"]
    (work,) = (body for body in read("boost hose redone").bodies if isinstance(body, Work))
    assert work.words == "boost hose redone"


def test_note_by_its_head_keeps_the_rest() -> None:
    """Behind "note:" nothing is read."""
    (note,) = read("note: ring the seller re. mot, abt 5 pm").bodies
    assert note == Note("ring the seller re. mot, abt 5 pm")


def test_long_line_is_kept_as_typed() -> None:
    """No word of it is another one."""
    line = "lean-to " * 140
    (note,) = read(line).bodies
    assert isinstance(note, Note)
    assert note.text == line.strip()


@pytest.mark.parametrize(
    ("line", "kept"),
    [
        ("leakdown 3 12% @ 100 psi", "'@ 100 psi' kept in the words only"),
        ("smoke on start 1 in 5", "'1 in 5' kept in the words only"),
        ("boost 0.4 wants 0.9", "'0.4 wants 0.9' kept in the words only"),
    ],
)
def test_number_that_was_left_out_is_shown(line: str, kept: str) -> None:
    """What no entry carries is said beside those that were made."""
    assert kept in read(line).assumed


@pytest.mark.parametrize("line", ["comp 1-6: 150 155 150 60 150 155 psi", "oil 1/2 way on stick", "0303 back in 2 min"])
def test_number_that_was_turned_is_not(line: str) -> None:
    """The ends of a row, a share in words and a code without its letter stand in the entries."""
    assert not any("kept in the words" in guess for guess in read(line).assumed)


@pytest.mark.parametrize(
    ("line", "day"), [("1.4.2026 shakes", "2026-04-01"), ("13.3. plug 2 black", "2026-03-13"), ("31.2.2026 shakes", "")]
)
def test_date_with_points_tells_the_day(line: str, day: str) -> None:
    """It is no number of the line, and no sign of a notebook to be dropped."""
    understood = read_line(line, SIX, load(), today=date(2026, 5, 6))
    assert understood.day == day
    assert bool(day) != any("kept in the words" in guess for guess in understood.assumed)
