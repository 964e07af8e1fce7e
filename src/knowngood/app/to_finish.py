"""What a car still takes, time at the shop's rate included: for what was found, and for all that may be wrong with it.

One way for every door. The repairs are those of fault sets drawn from the belief, access that is shared opened once;
looking for what was found is taken to cost the same in each. The whole car is that, with the faults of which nothing
shows yet, and the base service; what that renews anyway is paid once.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec
import numpy as np

from knowngood.app.answer import Answer
from knowngood.app.service import BaseService, base_service
from knowngood.app.state import State
from knowngood.app.tasks import access_graph, repairs_of
from knowngood.belief.protocol import Array, Bools
from knowngood.planner.problem import AccessGraph, Repair

LOW, HIGH = 0.1, 0.9  # the ends of what is told as "8 times in 10"


class Sums(msgspec.Struct, frozen=True, kw_only=True):
    """Money from here to the end: 1 in 10 is cheaper than low, 1 in 10 dearer than high."""

    low: float
    expected: float
    high: float


class WholeCar(msgspec.Struct, frozen=True, kw_only=True):
    """What all of a car takes: its repairs, hands on them and on the base service, and the base service in money."""

    repairs: Sums
    minutes: float
    service: float

    @property
    def all(self) -> Sums:
        """Repairs and base service."""
        ends = (self.repairs.low, self.repairs.expected, self.repairs.high)
        low, expected, high = (end + self.service for end in ends)
        return Sums(low=low, expected=expected, high=high)


def to_finish(state: State, answer: Answer) -> Sums | None:
    """What was found takes, looking for it included; None while nothing was found. The middle is the planner's."""
    if not answer.next:
        return None
    each, _ = repairs_of_draws(state, _behind_found(state))
    return _sums(each + _looking(answer, each))


def whole_car(state: State, answer: Answer) -> WholeCar:
    """What it takes to bring all of the car back."""
    bundle = base_service(state)
    sums, hands = repairs_of_draws(state, state.scenarios.present & ~_renewed(state, bundle))
    if answer.next:
        sums = sums + _looking(answer, repairs_of_draws(state, _behind_found(state))[0])
    return WholeCar(
        repairs=_sums(sums),
        minutes=float(hands.mean()) + bundle.minutes,
        service=bundle.minutes / 60.0 * state.settings.rate_per_hour + bundle.money,
    )


def _behind_found(state: State) -> Bools:
    matters = state.scenarios.matters
    assert matters is not None
    return matters


def _looking(answer: Answer, repairs: Array) -> float:
    """What the planner's way costs beyond the repairs of what was found."""
    return float(answer.next[0].cost) - float(repairs.mean())


def _sums(each: Array) -> Sums:
    expected = max(0.0, float(each.mean()))
    low, high = (max(0.0, float(end)) for end in np.quantile(each, (LOW, HIGH)))
    return Sums(low=min(low, expected), expected=expected, high=max(high, expected))


def _renewed(state: State, bundle: BaseService) -> Bools:
    """Faults of parts that the base service renews anyway (fault,): they are paid for once."""
    due = {one.name for one in bundle.due}
    parts = {part for item in state.library.services.values() if item.name in due for part in item.parts}
    return np.array([state.library.faults[at.fault].part in parts for at in state.belief.faults], dtype=bool)


def repairs_of_draws(state: State, present: Bools) -> tuple[Array, Array]:
    """Money and minutes the repairs of each fault set come to: both (draw,), access that is shared opened once.

    Parameters
    ----------
    present : bool array (draw, fault)
        The faults to put right in each draw, in the belief's order.
    """
    access, column, rate = access_graph(state), state.belief.model.column, state.settings.rate_per_hour
    cheapest: dict[int, Repair] = {}
    for repair in sorted(repairs_of(state, 0.0), key=lambda repair: _own(repair, rate)):
        for at in repair.fixes:
            cheapest.setdefault(column[at], repair)
    priced: dict[frozenset[str], tuple[float, float]] = {}
    sums = np.zeros((len(present), 2))
    for draw, row in enumerate(present):
        needed = _without_parts_of_sets(cheapest[at] for at in np.flatnonzero(row).tolist() if at in cheapest)
        key = frozenset(needed)
        if key not in priced:
            priced[key] = _together(list(needed.values()), access, rate)
        sums[draw] = priced[key]
    return sums[:, 0], sums[:, 1]


def _without_parts_of_sets(repairs: Iterable[Repair]) -> dict[str, Repair]:
    """Repairs by id, each once; who fits a whole set fits none of it besides."""
    needed = {repair.id: repair for repair in repairs}
    sets = [set(repair.fixes) for repair in needed.values() if repair.all_of]
    return {id: one for id, one in needed.items() if not any(set(one.fixes) < fixes for fixes in sets)}


def _own(repair: Repair, rate: float) -> float:
    return repair.minutes / 60.0 * rate + repair.money


def _together(repairs: Sequence[Repair], access: AccessGraph, rate: float) -> tuple[float, float]:
    """Money, time included, and minutes of some repairs in one go."""
    steps = tuple({step for repair in repairs for step in repair.access})
    hands = access.open_minutes(steps) + access.close_minutes(steps) + sum(repair.minutes for repair in repairs)
    return hands / 60.0 * rate + sum(repair.money for repair in repairs), hands
