"""Small problems for the planner's tests: money only, one a minute, a free proof unless told."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from knowngood.planner.problem import CheckAt, Problem, Repair
from tests.naive.toy_belief import Toy, ask, fault

Table = tuple[tuple[str, ...], Callable[[frozenset[str]], tuple[float, ...]]]


def repair(name: str, cost: float, *fixes: str, **more: Any) -> Repair:
    """A repair of the faults named, or of the one it is named for."""
    return Repair(id=name, name=name, fixes=tuple(map(fault, fixes or (name,))), minutes=cost, **more)


def check(name: str, cost: float, *reads: str, **more: Any) -> CheckAt:
    """A check that takes the readings named, or the one it is named for."""
    return CheckAt(id=name, name=name, asks=tuple(map(ask, reads or (name,))), minutes=cost, **more)


def told(belief: Toy, repairs: Iterable[Repair], checks: Iterable[CheckAt] = (), **more: Any) -> Problem:
    """A problem with an hour at 60."""
    return Problem(
        belief=belief,
        repairs=tuple(repairs),
        checks=tuple(checks),
        **{"rate_per_hour": 60.0, "proof_minutes": 0.0, **more},
    )


def shows(name: str, sees: float = 1.0, false_alarm: float = 0.0) -> Table:
    """Yes or no to one fault."""

    def table(there: frozenset[str]) -> tuple[float, float]:
        yes = sees if name in there else false_alarm
        return yes, 1.0 - yes

    return ("yes", "no"), table


def which(*names: str) -> Table:
    """Says which of the faults it is, where exactly one is there."""
    return names, lambda there: tuple(float(name in there) for name in names)


def nothing(there: frozenset[str]) -> tuple[float, float]:
    """A coin thrown, whatever is there."""
    return 0.5, 0.5
