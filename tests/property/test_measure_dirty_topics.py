"""Every field of every topic with what no meter shows: worked out or refused in words, never a crash, never long."""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest

from knowngood.app.measuring import measure, topics
from knowngood.app.measuring_entry import fill
from knowngood.app.measuring_typed import split_options
from knowngood.errors import KnownGoodError, Refused

DIRT = (
    "0", "-0", "-5", "1e9", "1e308", "1e-300", "999999999", "12345678901234567890", "9" * 400, "0.0000001", "nan",
    "inf", "OL", "none", "over 5", "~0", "1-2", "12.x", "100%", "-100%", "500 %", "\u00bd", "\u0663", "", "-", "/", "x",
)  # fmt: skip


def dirty(name: str) -> Iterator[dict[str, list[str]]]:
    """The example of a topic with one field made dirty, alone and as a row."""
    topic = topics()[name]
    ordered, named = split_options(topic.example.split(), topic)
    window = named.pop("window", ["0-1"])
    texts = fill(topic, ordered, named)
    for one in topic.fields:
        for dirt in DIRT:
            yield {**texts, one.name: [dirt]}
            if one.row:
                yield {**texts, one.name: [dirt] * 3}
    for dirt in DIRT if topic.window else ():
        yield {**texts, "window": [dirt]}
        yield {**texts, "window": [f"{dirt}-{window[0]}"]}


@pytest.mark.parametrize("name", topics())
def test_dirt_is_worked_out_or_refused(name: str) -> None:
    """A result has finite numbers; a refusal says something."""
    for named in dirty(name):
        try:
            worked = measure(name, [], named)
        except KnownGoodError as error:
            assert str(error).strip()
            continue
        for result in worked.results:
            assert not any(math.isnan(value) for value in (result.value, result.se) if value is not None), named


@pytest.mark.parametrize(
    ("name", "named", "told"),
    [
        ("orders", {"cylinders": ["1000000"], "speed": ["800"]}, "cylinders: 1e+06 is more than 16. Type it again."),
        ("lead", {"lead": ["-", "-"]}, "lead: nothing in the row was measured. Type one reading at least."),
        ("joint", {"drop": [""], "current": ["5"]}, "joint: drop is missing (voltage between the two ends while the "
         "load runs). Type for example: knowngood measure joint 0.42V 105A"),
        ("orders", {"cylinders": ["1-2"], "speed": ["800"]}, "cylinders: 1.5 is no whole number. Type one."),
        ("seen", {"tries": ["9" * 400]}, "tries: '99999999999999999999…' is more than can be measured. Type it again."),
        ("rail", {"pressure": ["9" * 400], "wanted": ["3bar"]}, "pressure: '99999999999999999999…' is more than can be "
         "measured. Type it again."),
    ],
)  # fmt: skip
def test_refusals_word_for_word(name: str, named: dict[str, list[str]], told: str) -> None:
    """Counts are whole and of a size that is counted; no number is endless."""
    with pytest.raises(Refused) as refused:
        measure(name, [], named)
    assert str(refused.value) == told
