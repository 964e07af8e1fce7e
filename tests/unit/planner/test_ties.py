"""The same advice on every machine: what differs in the last digits only chooses nothing."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import pytest

from knowngood.app.state import seed_of
from knowngood.app.tasks import problem_of
from knowngood.belief.protocol import Array, Ask, Belief, Bools, FaultAt, Scenarios
from knowngood.planner.advice import Advice, advise
from knowngood.planner.problem import AccessGraph, AccessTime, Problem
from knowngood.planner.ties import firm
from tests.naive.toy_belief import one_of
from tests.told import state_after
from tests.unit.planner.small import check, repair, shows, told

HAIR = 1e-12


@dataclass(frozen=True)
class Shaken:
    """A belief whose every likelihood is off by a hair, otherwise for every seed."""

    of: Belief
    seed: int

    @property
    def faults(self) -> tuple[FaultAt, ...]:
        return self.of.faults

    def chances(self) -> Array:
        return self.of.chances()

    def outcomes(self, ask: Ask) -> tuple[str, ...]:
        return self.of.outcomes(ask)

    def outcome_chances(self, ask: Ask) -> tuple[Array, Array]:
        return self.of.outcome_chances(ask)

    def given(self, ask: Ask, outcome: str) -> Belief:
        return self.of.given(ask, outcome)

    def likelihood(self, ask: Ask, present: Bools) -> Array:
        like = self.of.likelihood(ask, present)
        noise = np.random.default_rng([self.seed, len(like)]).uniform(-HAIR, HAIR, like.shape)
        return like * (1.0 + noise)

    def scenarios(self, most: int, rng: np.random.Generator) -> Scenarios:
        drawn = self.of.scenarios(most, rng)
        noise = np.random.default_rng(self.seed).uniform(-HAIR, HAIR, len(drawn.weight))
        return replace(drawn, weight=drawn.weight * (1.0 + noise))


def said(advice: Advice) -> list[tuple[str, str]]:
    return [(step.action.id, str(step.action.place)) for step in advice.steps]


def same_however_shaken(problem: Problem, seed: int) -> None:
    steps = said(advise(problem, seed=seed))
    for shake in range(3):
        assert said(advise(replace(problem, belief=Shaken(problem.belief, shake)), seed=seed)) == steps


@pytest.mark.parametrize(
    "notes",
    [
        "4 cylinders inline, coil on plug, port injection\nP0302, shakes\n",
        "8 cylinders, port injection\nP0303, misfires\n",
        "4 cylinders\ncranks slowly\nhard to start hot\n",
    ],
)
def test_advice_on_a_car_is_the_same_a_hair_off(notes: str) -> None:
    """Steps and their order, on fault sets drawn from the whole library."""
    state = state_after(notes)
    problem = problem_of(state)
    assert problem.must
    same_however_shaken(problem, seed_of(state.entries))


def test_advice_of_even_steps_is_the_same_a_hair_off() -> None:
    """Six faults alike in every way, six checks alike: all prices are equal but for the last digits."""
    names = [f"f{index}" for index in range(6)]
    belief = one_of(dict.fromkeys(names, 1.0), {name: shows(name, 0.9, 0.05) for name in names})
    problem = told(belief, [repair(name, 60.0) for name in names], [check(f"look {name}", 2.0, name) for name in names])
    same_however_shaken(problem, 2011)


def test_of_one_price_the_quicker_then_the_cheaper_then_what_is_open_comes_first() -> None:
    """Two looks that tell the same at the same price: the one that takes no time, then the one without a cover."""
    belief = one_of({"A": 1.0, "B": 1.0, "C": 1.0}, {"a": shows("A"), "b": shows("A"), "c": shows("A")})
    repairs = [repair(name, 90.0) for name in "ABC"]
    paid, quick = check("a", 0.0, money=4.0), check("b", 4.0)
    assert advise(told(belief, repairs, [quick, paid])).step.action.id == "a"
    graph = AccessGraph({"cover": AccessTime(1.0, 1.0)})
    behind, bare = check("a", 2.0, access=("cover",)), check("c", 4.0)
    assert advise(told(belief, repairs, [behind, bare], access=graph)).step.action.id == "c"
    one, other = check("b", 4.0), check("a", 4.0)
    assert advise(told(belief, repairs, [one, other])).step.action.id == "a"


def test_what_differs_by_a_hair_is_the_same() -> None:
    """Rounded to nine digits of the greatest; what differs more stays apart."""
    values = np.array([[3.0, 3.0 * (1 + 1e-13), 1.0], [1e-9, 2e-9, 0.0]])
    cut = firm(values)
    assert cut[0, 0] == cut[0, 1]
    assert cut[1, 1] == pytest.approx(2e-9, rel=1e-6) and cut[1, 0] != cut[1, 1]
    assert np.isneginf(firm(np.array([-np.inf, 1.0]))[0])
