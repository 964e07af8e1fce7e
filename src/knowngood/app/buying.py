"""Whether to buy: what the looks say, the most it may cost, and when to walk away.

What it will be worth, less what all of it is expected to take: see :mod:`knowngood.app.to_finish`.
"""

from __future__ import annotations

import msgspec

from knowngood.app.answer import Answer
from knowngood.app.stages import BUY, stage_of
from knowngood.app.state import State
from knowngood.app.to_finish import whole_car
from knowngood.planner.gates import BAD
from knowngood.sheets.words import minutes, money


class Buying(msgspec.Struct, frozen=True, kw_only=True):
    """What speaks for and against a car.

    Parameters
    ----------
    walk_away : list of str
        Reasons to leave it; empty where none was seen.
    low, expected, high : float
        Money for its repairs, looking and time at the shop's rate included: 1 in 10 is cheaper than low, 1 in 10 dearer
        than high.
    minutes : float
        Hands on the repairs, expected; they are in the money already.
    service : float
        Money for the base service, time included.
    worth, asked : float or None
        When done, as told; what the seller wants.
    top : float or None
        The most it may cost so that it pays on average; None where the worth was not told.
    surely : float or None
        The most it may cost so that it still pays when the repairs come dear.
    unlooked : int
        Looks of this stage that were not made.
    """

    walk_away: list[str]
    low: float
    expected: float
    high: float
    minutes: float
    service: float
    worth: float | None
    asked: float | None
    top: float | None
    surely: float | None
    unlooked: int


def buying_of(state: State, answer: Answer) -> Buying:
    """What a car may cost, and what says to leave it."""
    whole = whole_car(state, answer)
    worth, asked = state.car.worth_done, state.car.price_asked
    top = None if worth is None else worth - whole.all.expected
    surely = None if worth is None else worth - whole.all.high
    stage, stands = state.library.stages[BUY], stage_of(state, BUY)
    walk = [
        f"{look.name}: bad; {stage.walk_away[look.kind]}"
        for look in stands.looks
        if look.state == BAD and look.kind in stage.walk_away
    ]
    if top is not None and top <= 0.0:
        walk.append(f"to put it right takes more than the {money(worth or 0.0)} it will be worth")
    elif top is not None and asked is not None and asked > top:
        walk.append(f"{money(asked)} is asked, {money(asked - top)} over what it may cost")
    return Buying(
        walk_away=walk,
        low=whole.repairs.low,
        expected=whole.repairs.expected,
        high=whole.repairs.high,
        minutes=whole.minutes,
        service=whole.service,
        worth=worth,
        asked=asked,
        top=top,
        surely=surely,
        unlooked=len(stands.missing),
    )


def price_words(told: Buying) -> list[str]:
    """The top price with its sum, and whether to walk away, in sentences; the answer first."""
    lines = [f"Walk away: {reason}." for reason in told.walk_away]
    spread = f"about {money(told.expected)} ({money(told.low)} to {money(told.high)}, 8 times in 10)"
    sums = f"repairs {spread} and base service {money(told.service)}, in all about {minutes(told.minutes)} of work"
    if told.worth is None or told.top is None or told.surely is None:
        lines.append(f"Expected: {sums}. Say what it will be worth, such as 'worth 2400 when done', for a top price.")
    elif told.top > 0.0:
        lines.append(f"Top price {money(told.top)}: {money(told.worth)} when done, less {sums}.")
        if told.surely > 0.0:
            lines.append(f"At {money(told.surely)} or less it also pays when the repairs come dear.")
        else:
            lines.append("No price is safe: when the repairs come dear it does not pay even as a gift.")
    else:
        lines.append(f"No top price: {money(told.worth)} when done, less {sums}.")
    if told.unlooked:
        looks = "look is" if told.unlooked == 1 else "looks are"
        lines.append(f"{told.unlooked} {looks} not made yet; what they may find is in the range.")
    return lines
