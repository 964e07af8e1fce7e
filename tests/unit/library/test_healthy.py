"""The word a healthy car reads, in one place for forms, gates and proofs."""

from __future__ import annotations

import pytest

from knowngood.app.state import state_of
from knowngood.app.story import is_bad
from knowngood.evidence import Reading
from knowngood.library.healthy import NOT_SEEN, healthy_word
from knowngood.library.load import load
from knowngood.library.records import ReadingKind

LIBRARY = load()
WORDED = [kind for kind in LIBRARY.readings.values() if kind.words]
EMPTY = state_of(LIBRARY, ())


@pytest.mark.parametrize("kind", WORDED, ids=lambda kind: kind.id)
def test_healthy_word_is_never_bad(kind: ReadingKind) -> None:
    """A test that changes nothing on a sound car is as it should be; every other word is not; no answer is neither."""
    healthy = healthy_word(LIBRARY, kind)
    assert healthy in kind.words
    for word in (*NOT_SEEN, healthy):
        assert not is_bad(EMPTY, Reading(kind=kind.id, word=word)), word
    for word in set(kind.words) - {healthy}:
        assert is_bad(EMPTY, Reading(kind=kind.id, word=word)), word


@pytest.mark.parametrize(
    ("kind", "word"), [("ground_lead_added", "same"), ("shakes", "no"), ("air_meter_unplugged", "worse")]
)
def test_healthy_words_by_hand(kind: str, word: str) -> None:
    """A sound engine is no better for one more ground lead, and worse without its air meter."""
    assert healthy_word(LIBRARY, LIBRARY.readings[kind]) == word
