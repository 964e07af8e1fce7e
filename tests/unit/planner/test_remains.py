"""What is left, in the order to work it off."""

from __future__ import annotations

import itertools

from knowngood.planner.remains import COMFORT, COST, DANGER, HARM, Remaining, grouped, in_order

BEST_FIRST = [
    Remaining("left unplugged", "", DANGER, 1.0, 2.0),
    Remaining("brake hose", "", DANGER, 0.1, 60.0),
    Remaining("burning", "", HARM, 0.9, 30.0),
    Remaining("sooting", "", HARM, 0.9, 45.0),
    Remaining("wears on", "", COST, 0.1, 5.0),
    Remaining("a", "", COMFORT, 0.5, 10.0),
    Remaining("b", "", COMFORT, 0.5, 10.0),
    Remaining("c", "", COMFORT, 0.2, 1.0),
]


def test_danger_then_harm_then_waiting() -> None:
    """Urgency first, however unlikely; then the likelier, then the quicker, then by name."""
    for start in range(len(BEST_FIRST)):
        turned = BEST_FIRST[start:] + BEST_FIRST[:start]
        assert in_order(turned) == BEST_FIRST
        assert in_order(turned[::-1]) == BEST_FIRST


def test_order_of_what_goes_in_does_not_matter() -> None:
    """Every order of the first five comes out alike, and the list handed in is left as it was."""
    for shuffled in itertools.permutations(BEST_FIRST[:5]):
        given = list(shuffled)
        assert in_order(given) == BEST_FIRST[:5]
        assert given == list(shuffled)


def test_nothing_left() -> None:
    """An empty list is an answer."""
    assert in_order([]) == []


def test_one_heading_for_one_reason() -> None:
    """Things of one urgency and one reason stand together, the most urgent heading first, each in the order given."""
    belt = Remaining("belt", "", DANGER, reason="before the first start")
    hose, lamp, rattle = Remaining("hose", "", DANGER), Remaining("lamp", "", COMFORT), Remaining("rattle", "", HARM)
    oil = Remaining("oil", "", DANGER, reason="before the first start")
    assert grouped([lamp, belt, hose, oil, rattle]) == [
        ("Must not wait: before the first start", [belt, oil]),
        ("Must not wait", [hose]),
        ("Gets worse by driving", [rattle]),
        ("Comfort", [lamp]),
    ]
    assert grouped([]) == []
