"""Every standard error that a topic shows, against the scatter of its readings thrown with their own errors.

The computations below are held to the same by `tests/unit/measure/test_errors_carried.py`; this asks whether a topic
hands each reading's error on: none forgotten, none counted twice.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy
import pytest

from knowngood.app.measuring import topics
from knowngood.app.measuring_entry import Given, fill, read
from knowngood.app.measuring_topic import Topic
from knowngood.app.measuring_typed import split_options
from knowngood.units import kind_named
from tests.unit.measure.computations import with_error

SEED, THROWS, WITHIN, STILL = 2011, 2000, 0.05, 1e-12

TYPED = {
    "leakdown": "80psi 70 60 40 77",
    "lead": "3.1k 4.3k 18k 5.2k 7.0k 9.5k",
    "leaks": "18 29 9 41",  # far from 0, where a leak ends, and from each other, where their order turns
    "drops": "60 75 41 50 kPa",
    "trim": "+2% +14% --short2 1% --long2 4%",
    "wet": "100psi 150psi --swept 500ml --ratio 9.5",
}
"""Other readings than the topic's example, where that stands within its errors of a bend."""

BY_ITS_COMPUTATION = {
    "airflow", "beta", "blend", "curve", "deadtime", "dwell", "freezing", "gear", "orders", "shares", "straight",
    "teeth", "thread", "tyre", "wheel",
}  # fmt: skip
"""Topics whose readings have the errors their computation gives them: nothing is handed on."""

DECIDED = {"pattern"}
"""Which results there are hangs on the readings thrown; the computation has a test of its own."""


class Watched(Given):
    """What was entered; it writes down which errors were asked for, and can give none at all."""

    def __init__(self, given: Given, *, still: bool = False) -> None:
        super().__init__(given.readings, given.numbers, given.words)
        object.__setattr__(self, "asked", {})
        object.__setattr__(self, "still", still)

    def se(self, name: str, least: float, unit: str = "") -> float:
        told = super().se(name, least, unit)
        self.asked[name] = told, unit  # type: ignore[attr-defined]
        return STILL if self.still else told  # type: ignore[attr-defined]


def errors(topic: Topic, given: Given) -> dict[str, tuple[float, float]]:
    """Value and standard error of each result that has one."""
    found = enumerate(topic.work(given).results)
    return {f"{place} {one.name}": (one.value, one.se) for place, one in found if one.se and one.value is not None}


def throw(given: Given, asked: Mapping[str, tuple[float, str]], dice: numpy.random.Generator) -> Given:
    """The readings, each thrown by the error that was asked for."""
    readings = dict(given.readings)
    for name, (se, unit) in asked.items():
        row = []
        for one in readings.get(name, ()):
            kind = kind_named(one.kind) if one is not None else None
            by = 0.0 if kind is None else se * abs(kind.unit(unit or kind.base).factor) * float(dice.standard_normal())
            row.append(None if one is None else replace(one, value=one.value + by))
        readings[name] = tuple(row)
    return Given(readings, given.numbers, given.words)


def entered(topic: Topic) -> Given:
    """The readings of the example, without a window."""
    ordered, named = split_options(TYPED.get(topic.name, topic.example).split(), topic)
    named.pop("window", None)
    return read(topic, fill(topic, ordered, named))


def with_errors() -> list[str]:
    """Topics that show a standard error."""
    return [name for name, topic in topics().items() if errors(topic, entered(topic))]


def test_every_topic_hands_on_errors_or_leaves_them_to_its_computation() -> None:
    """Those that ask for no reading's error rest on a computation whose own test throws them."""
    tested = {function for _, function in with_error()}
    for name in with_errors():
        topic = topics()[name]
        watched = Watched(entered(topic))
        topic.work(watched)
        assert (not watched.asked) == (name in BY_ITS_COMPUTATION), name  # type: ignore[attr-defined]
        assert watched.asked or tested & set(topic.by), name  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", [name for name in with_errors() if name not in BY_ITS_COMPUTATION | DECIDED])
def test_error_shown_is_what_throws_scatter(name: str) -> None:
    """Within 5 %, the part that stays when no reading errs (the model's own) taken off in squares."""
    topic, dice = topics()[name], numpy.random.default_rng(SEED)
    given = entered(topic)
    watched = Watched(given)
    told, own = errors(topic, watched), errors(topic, Watched(given, still=True))
    thrown = [errors(topic, throw(given, watched.asked, dice)) for _ in range(THROWS)]  # type: ignore[attr-defined]
    for key, (_, se) in told.items():
        carried = math.sqrt(max(0.0, se**2 - own.get(key, (0.0, 0.0))[1] ** 2))
        scatter = float(numpy.std([one[key][0] for one in thrown], ddof=1))
        assert carried == pytest.approx(scatter, rel=WITHIN), key
