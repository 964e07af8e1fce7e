"""What entries tell of the car's story: an animal was there where only an animal leaves what was seen."""

from __future__ import annotations

import pytest

from knowngood.app.history import with_story
from knowngood.car import Car
from knowngood.evidence import Entry, Finding, Reading
from knowngood.library.load import load

LIBRARY = load()
STAMP = "2026-05-01T09:30:00.000000Z"


def animals_told(body: Reading | Finding) -> bool | None:
    """Whether the story of a car of one entry has animals in it."""
    return with_story(Car(), LIBRARY, [Entry(id="a", at=STAMP, entered=STAMP, body=body)]).animals


@pytest.mark.parametrize(("kind", "word"), [("lead_look", "chewed"), ("loom_look", "chewed"), ("nest_look", "found")])
def test_what_only_an_animal_leaves_tells_of_one(kind: str, word: str) -> None:
    """Teeth and a nest."""
    assert animals_told(Reading(kind=kind, word=word)) is True


@pytest.mark.parametrize(
    ("kind", "word"),
    [
        ("lead_look", "cracked"),
        ("lead_look", "off"),
        ("fuel_leak_place", "hose"),
        ("loom_look", "rubbed or burnt"),
        ("earlier_repair_opened", "bad joint"),
        ("tail_pipe_look", "bad"),
    ],
)
def test_other_words_of_the_same_look_tell_of_none(kind: str, word: str) -> None:
    """A lead cracks by age: that the same look could have shown teeth is no sign of them."""
    assert animals_told(Reading(kind=kind, word=word)) is None


@pytest.mark.parametrize("word", ["could not tell", "", "none"])
def test_look_that_shows_nothing_tells_of_none(word: str) -> None:
    """Nor does one that could not be made."""
    assert animals_told(Reading(kind="nest_look", word=word)) is None


def test_finding_tells_what_left_it() -> None:
    """Where it was seen, not where it was looked for."""
    assert animals_told(Finding(fault="loom_chewed")) is True
    assert animals_told(Finding(fault="loom_chewed", seen=False)) is None
