"""Suspects that nothing tells apart, in words: on one car, and over the whole library."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.app.answer import AlikePair
from knowngood.app.fault_words import fault_words
from knowngood.app.possible import fuel_smelt
from knowngood.app.state import State, state_of
from knowngood.app.suspects import UNLISTED
from knowngood.app.tasks import access_graph, check_places, repairs_of
from knowngood.belief.protocol import FaultAt
from knowngood.library.records import Library
from knowngood.planner.problem import Problem
from knowngood.planner.separation import Alike, not_told_apart
from knowngood.sheets.words import money

WORTH_SAYING = 1.0  # money; pairs that waste less are not worth a line
SHOWN = 3


def alike_pairs(state: State, pairs: Iterable[Alike]) -> list[AlikePair]:
    """The dearest pairs that are worth a line; none while fuel is smelt, when all other checks wait."""
    if fuel_smelt(state):
        return []
    worth = [pair for pair in pairs if pair.cost >= WORTH_SAYING]
    return [_pair(state, pair) for pair in worth[:SHOWN]]


def _pair(state: State, pair: Alike) -> AlikePair:
    first, second = fault_words(state, pair.first), fault_words(state, pair.second)
    costs = f"taking one for the other costs about {money(pair.cost)} on average"
    said = f"No check here tells {first} from {second}: {costs}."
    return AlikePair(first=first, second=second, cost=round(pair.cost, 2), said=said)


def alike_in_library(library: Library) -> list[AlikePair]:
    """Kinds of fault that no check of the library tells apart on a car of which nothing is said, dearest first.

    Every tool is taken to be there. One place stands for all: of each kind the first. The cost is what 1,000
    neglected cars would waste by it.
    """
    state = state_of(library, ())
    kinds: dict[str, FaultAt] = {}
    for at in state.belief.faults:
        if not at.fault.startswith(UNLISTED):
            kinds.setdefault(at.fault, at)
    problem = Problem(
        belief=state.belief,
        repairs=repairs_of(state, least=0.0),
        checks=tuple(one for check in library.checks.values() for one in check_places(state, check)),
        access=access_graph(state),
        tool_share=0.0,
    )
    chances = [(at, library.faults[kind].chance.per_1000 / 1000.0) for kind, at in kinds.items()]
    return [
        AlikePair(
            first=library.faults[pair.first.fault].name,
            second=library.faults[pair.second.fault].name,
            cost=round(1000.0 * pair.cost),
            said=f"{library.faults[pair.first.fault].name} and {library.faults[pair.second.fault].name}: "
            f"{money(1000.0 * pair.cost)} in 1,000 cars",
        )
        for pair in not_told_apart(problem, chances)
    ]
