"""Whether to buy: what the looks say, the most it may cost, and when to walk away.

What it will be worth, less what putting it right is expected to take. Repairs are those of every fault the car
may have, also where nothing shows of it yet, in fault sets drawn from the belief; what the base service renews anyway
is paid once. Hours are paid at the shop's rate.
"""

from __future__ import annotations

import msgspec
import numpy as np

from knowngood.app.money import HIGH, LOW, repairs_of_draws
from knowngood.app.service import BaseService, base_service
from knowngood.app.stages import BUY, stage_of
from knowngood.app.state import State
from knowngood.belief.protocol import Bools
from knowngood.planner.gates import BAD
from knowngood.sheets.words import minutes, money


class Buying(msgspec.Struct, frozen=True, kw_only=True):
    """What speaks for and against a car.

    Parameters
    ----------
    walk_away : list of str
        Reasons to leave it; empty where none was seen.
    low, expected, high : float
        Money for its repairs, time at the shop's rate included: 1 in 10 is cheaper than low, 1 in 10 dearer than high.
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


def buying_of(state: State) -> Buying:
    """What a car may cost, and what says to leave it."""
    bundle = base_service(state)
    sums, hands = repairs_of_draws(state, state.scenarios.present & ~_renewed(state, bundle))
    low, high = (float(end) for end in np.quantile(sums, (LOW, HIGH)))
    expected = float(sums.mean())
    service = bundle.minutes / 60.0 * state.settings.rate_per_hour + bundle.money
    worth, asked = state.car.worth_done, state.car.price_asked
    top = None if worth is None else worth - expected - service
    surely = None if worth is None else worth - high - service
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
        low=low,
        expected=expected,
        high=high,
        minutes=float(hands.mean()) + bundle.minutes,
        service=service,
        worth=worth,
        asked=asked,
        top=top,
        surely=surely,
        unlooked=len(stands.missing),
    )


def _renewed(state: State, bundle: BaseService) -> Bools:
    """Faults of parts that the base service renews anyway (fault,): they are paid for once."""
    due = {one.name for one in bundle.due}
    parts = {part for item in state.library.services.values() if item.name in due for part in item.parts}
    return np.array([state.library.faults[at.fault].part in parts for at in state.belief.faults], dtype=bool)


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
