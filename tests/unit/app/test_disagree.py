"""Two readings of one thing: which pairs are asked about, and which are not."""

from __future__ import annotations

import pytest

from knowngood.app.answer import Answer
from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load

GOOD, DEAD = "comp 175 172 170 171 psi", "comp 175 172 0 171 psi"


def asked(*lines: str) -> list[str]:
    """Questions of readings that do not agree."""
    answer: Answer = weigh_notes("\n".join(("4 cylinders", *lines)), load())
    return [ask for ask in answer.asks if "do not agree" in ask]


APART = {
    "a row": (GOOD, DEAD, "cranking compression, cylinder 3"),
    "one cylinder": ("comp 3 175 psi", "comp 3 0 psi", "cranking compression, cylinder 3"),
    "fuel pressure": ("fuel pressure 3 bar", "fuel pressure 0.5 bar", "fuel pressure at the rail"),
    "a battery": ("battery 12.6 rested", "battery 11 rested", "battery voltage at rest"),
}


def question(first: str, second: str, thing: str) -> str:
    """As it is put."""
    return f'"{first}" and "{second}" do not agree on {thing}. Which is right? Take the other back.'


@pytest.mark.parametrize("name", APART)
def test_readings_far_apart_are_asked_about(name: str) -> None:
    """Both lines are quoted, in the order in which they were said."""
    first, second, thing = APART[name]
    assert asked(first, second) == [question(first, second, thing)]


@pytest.mark.parametrize("name", ["a row", "a battery"])
def test_bad_first_is_asked_about_too(name: str) -> None:
    """What does not come back by itself."""
    first, second, thing = APART[name]
    assert asked(second, first) == [question(second, first, thing)]


@pytest.mark.parametrize(
    "lines",
    [
        (GOOD, "comp 173 172 168 171 psi"),
        (GOOD, GOOD),
        (DEAD, DEAD),
        (DEAD, "replaced head gasket", GOOD),
        ("battery 12.6 rested, 10.9 cranking",),
        ("comp 1 175 psi", "comp 3 0 psi"),
    ],
)
def test_other_readings_are_not(lines: tuple[str, ...]) -> None:
    """Taken twice and the same; before and after work; of two places; of two conditions."""
    assert asked(*lines) == []


def test_which_is_right_is_asked_first() -> None:
    """Before what a doubtful line asks and what is not known of the car."""
    answer = weigh_notes(f"4 cylinders\nfrobnicate\n{GOOD}\n{DEAD}", load())
    assert "do not agree" in answer.asks[0]
    assert "frobnicate" in answer.asks[1]
