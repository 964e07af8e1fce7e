"""Words written short: what they are read as, and what stays as typed."""

from __future__ import annotations

import pytest

from knowngood.library import load
from knowngood.lines.short_words import skeleton, written
from knowngood.lines.vocabulary import vocabulary_of


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("othrs tan", "others tan"),
        ("drop 0,8v crnkg", "drop 0,8v cranking"),
        ("hd gskt", "head gasket"),
        ("2 coil pks", "2 coil packs"),
        ("int manif off", "intake manifold off"),
        ("clik somtims", "click sometimes"),
        ("fuel smel whn tnk full", "fuel smell when tank full"),
        ("cam snsr con brkn", "cam sensor con broken"),
        ("fuel prs kon", "fuel pressure key on"),
    ],
)
def test_short_words_are_written_out(typed: str, read: str) -> None:
    """By the consonants they keep; by the word beside them where two would do."""
    assert written(typed, vocabulary_of(load()))[0] == read


@pytest.mark.parametrize(
    "typed", ["led", "cost 85", "xkcd", "qrst", "p0303", "c3 65 psi", "5 ms", "turbocharged", "barn"]
)
def test_what_stands_for_nothing_known_stays(typed: str) -> None:
    """Whole words that happen to be near a known one, codes, units."""
    assert written(typed, vocabulary_of(load()))[0] == typed


def test_skeleton_keeps_the_first_letter_and_the_consonants() -> None:
    """Doubled letters once."""
    assert [skeleton(word) for word in ("needle", "click", "owner", "idle")] == ["ndl", "clk", "ownr", "idl"]
