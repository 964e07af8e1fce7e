"""A complaint told by its own words is there, whatever the library says of how often it is felt."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.evidence import Reading
from knowngood.library.load import load
from knowngood.lines import read_line

LIBRARY = load()
FOUR = Car(cylinders=4, form="inline", ignition="coil on plug")
COMPLAINTS = [kind for kind in LIBRARY.readings.values() if kind.complaint and kind.words and kind.says and kind.levels]


@pytest.mark.parametrize("kind", COMPLAINTS, ids=lambda kind: kind.id)
def test_complaint_named_is_never_heard_as_its_good_word(kind: object) -> None:
    """Under no condition of its own: "only in the wet" says beside it that it is well when dry."""
    healthy = max(kind.words, key=lambda word: kind.chance[kind.levels[0]].get(word, 0.0))
    for phrase in kind.says:
        heard = [body for body in read_line(phrase, FOUR, LIBRARY).bodies if isinstance(body, Reading)]
        good = [
            body for body in heard if body.kind == kind.id and body.word == healthy and not phrase.startswith("only")
        ]
        assert not good, phrase
