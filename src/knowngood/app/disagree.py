"""Two readings of one thing that do not agree: which of them is right is asked, not guessed."""

from __future__ import annotations

import math
from collections.abc import Iterator

from knowngood.app.state import State
from knowngood.car import ENGINE, Place
from knowngood.evidence import Reading, Work

APART_SHARE = 0.1  # two numbers this near to each other, as a share of the larger, are one reading taken twice
AGREEING = 0.98  # two looks at one thing that agree make each other likelier: the ratio is above 1


def disagreements_of(state: State) -> list[str]:
    """A question for each pair of lines that read one thing twice, with no work between, and do not agree.

    Judged by the belief: the chance of both together is less than if they had nothing to do with each other. A fault
    that comes and goes explains two such readings, and is then no disagreement. Nothing is asked where the belief is
    worked out by draws.
    """
    if not state.belief.exact:
        return []
    asked: dict[tuple[str, str], list[str]] = {}
    for earlier, later in _repeats(state):
        if together(state, earlier, later) < AGREEING:
            lines = (state.entries[earlier].line, state.entries[later].line)
            body = state.entries[later].body
            assert isinstance(body, Reading)
            asked.setdefault(lines, []).append(_thing(state, body))
    return [
        f'"{first}" and "{second}" do not agree on {", ".join(dict.fromkeys(things))}. '
        "Which is right? Take the other back."
        for (first, second), things in asked.items()
    ]


def together(state: State, earlier: int, later: int) -> float:
    """Chance of two entries together against the product of their chances, each without any other reading."""
    network = state.belief.network
    every = state.belief.entries_in()
    both, first, second, none = (
        float(network.run(every - kept).log_chance)
        for kept in (frozenset((earlier, later)), frozenset((earlier,)), frozenset((later,)), frozenset[int]())
    )
    return math.exp(both - first - second + none)


def _repeats(state: State) -> Iterator[tuple[int, int]]:
    last: dict[tuple[str, Place, tuple[str, ...]], int] = {}
    bearing = state.belief.entries_in()
    for index, entry in enumerate(state.entries):
        body = entry.body
        if isinstance(body, Work):
            last.clear()
        elif isinstance(body, Reading) and not body.doubt and index in bearing:
            key = (body.kind, body.place, body.conditions)
            earlier = last.get(key)
            last[key] = index
            if earlier is not None and _differ(state.entries[earlier].body, body):
                yield earlier, index


def _differ(earlier: object, later: Reading) -> bool:
    assert isinstance(earlier, Reading)
    if earlier.value is None or later.value is None:
        return (earlier.word, earlier.value) != (later.word, later.value)
    a, b = earlier.value.number, later.value.number
    return abs(a - b) > APART_SHARE * max(abs(a), abs(b))


def _thing(state: State, reading: Reading) -> str:
    kind = state.library.readings.get(reading.kind)
    name = kind.name if kind is not None else reading.kind.replace("_", " ")
    return name if reading.place == ENGINE else f"{name}, {state.layout.by_number(reading.place)}"
