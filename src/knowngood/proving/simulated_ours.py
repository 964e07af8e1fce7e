"""Working as the program advises; and as plain one-step value of information would, on the same chances."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from knowngood.app.led_to_anyway import without_needless_checks
from knowngood.app.near_steps import by_telling
from knowngood.app.state import State, behind_each, seed_of, state_of
from knowngood.app.tasks import problem_of
from knowngood.belief.protocol import Array, Bools
from knowngood.planner.advice import SCENARIOS, advise
from knowngood.planner.outcomes import likelihoods
from knowngood.planner.problem import CheckAt, Problem, Repair
from knowngood.planner.refine import refine
from knowngood.planner.steps import PROVE, Advice
from knowngood.proving.simulated_arrivals import Truth
from knowngood.proving.simulated_bay import Bay

MOST_PATTERNS = 100  # of one check's readings taken together
ALMOST_NOTHING = 1e-9
POINTS = 20  # points of plans priced anew: about what 3 s of one core do


def gives_complaint(state: State, complaint: str) -> Bools:
    """Which faults of ours would give the complaint alone, by our library (fault,)."""
    model = state.belief.model
    return Truth(model).complains(model.library.readings[complaint], np.eye(len(model.faults), dtype=bool))


def state_now(bay: Bay) -> State:
    """What is known, with the complaint as the job: other things that are found wrong may stay."""
    state = state_of(bay.library, bay.car.entries)
    if bay.gives is None:
        bay.gives = gives_complaint(state, bay.car.arrival.complaint)
    return about_the_complaint(state, bay.gives)


def about_the_complaint(state: State, gives: Bools) -> State:
    """The state with only those faults behind what was found that give the complaint (fault,)."""
    drawn = state.scenarios
    assert drawn.mattered is not None
    scenarios = replace(drawn, matters=drawn.present & gives, mattered=(drawn.mattered | drawn.present) & gives)
    return replace(state, scenarios=scenarios, behind=behind_each(state.belief, scenarios))


def problem_now(bay: Bay) -> tuple[State, Problem]:
    """What the planner is told now: without checks that cannot be made, at the bay's prices."""
    state = state_now(bay)
    problem = problem_of(state)
    prices = bay.prices
    return state, replace(
        problem,
        checks=tuple(check for check in problem.checks if bay.can_make(check)),
        rate_per_hour=prices.rate_per_hour,
        proof_minutes=prices.road_test_minutes,
        comeback_minutes=prices.comeback_minutes,
        comeback_money=prices.comeback_money,
    )


def ours(bay: Bay) -> None:
    """One step: what the program puts first."""
    _first_of(bay, advise)


def played_through(bay: Bay) -> None:
    """One step: what the program puts first once its leading steps have been played through for a while."""
    _first_of(bay, lambda problem, seed: refine(problem, seed=seed, go_on=lambda played: played.done < POINTS))


def _first_of(bay: Bay, advising: Callable[..., Advice]) -> None:
    state, problem = problem_now(bay)
    if not problem.must or not problem.repairs:
        bay.drive()
        return
    advice = advising(problem, seed=seed_of(state.entries))
    action = without_needless_checks(
        by_telling(state, problem, advice.steps, advice.spared_by, advice.unlooked), advice.foretold
    )[0].action
    if isinstance(action, Repair):
        bay.repair(action)
    elif action.kind == PROVE:
        bay.drive()
    else:
        bay.check(action)


def plain_one_step(bay: Bay) -> None:
    """One step by plain value of information: each check now or never, against repairs by chance over cost.

    A road test follows every repair. Langseth and Jensen 2003 call it myopic; the figure to stay well under.
    """
    _, problem = problem_now(bay)
    if not problem.must or not problem.repairs:
        bay.drive()
        return
    base = _Base(bay, problem)
    best, first = base.cost(base.weight)
    chosen = None
    for check in problem.checks:
        if check.after is None:
            total = (check.minutes + bay.access_minutes(check.access)) * bay.prices.per_minute + check.money
            total += sum(base.cost(group)[0] for group in base.groups(check))
            if total < best - 1e-9:
                best, chosen = total, check
    if chosen is not None:
        bay.check(chosen)
    else:
        if first is not None:
            bay.repair(first)
        bay.drive()


class _Base:
    """Repairs by chance over cost, a road test after each, on drawn fault sets."""

    def __init__(self, bay: Bay, problem: Problem) -> None:
        drawn = problem.belief.scenarios(SCENARIOS, np.random.default_rng(0))
        assert drawn.matters is not None
        fixed = {at for repair in problem.repairs for at in repair.fixes}
        columns = [
            column for column, at in enumerate(problem.belief.faults) if at in fixed and drawn.matters[:, column].any()
        ]
        faults = [problem.belief.faults[column] for column in columns]
        self.matters = drawn.matters[:, columns]
        self.weight = drawn.weight
        self.repairs = [repair for repair in problem.repairs if set(repair.fixes) & set(faults)]
        self.fixes = np.array([[at in repair.fixes for at in faults] for repair in self.repairs], dtype=bool)
        self.price = np.array([bay.price_of(repair) for repair in self.repairs]) + bay.prices.road_test
        self.helps = (self.matters.astype(float) @ self.fixes.T.astype(float)) > 0 if self.repairs else self.matters
        asks = list(dict.fromkeys(ask for check in problem.checks if check.after is None for ask in check.asks))
        self.like = likelihoods(problem.belief, asks, drawn.present)

    def cost(self, weight: Array) -> tuple[float, Repair | None]:
        """Expected money until all that matters is put right, and the first repair."""
        chance = weight @ self.helps if self.repairs else np.zeros(0)
        order = np.argsort(-chance / self.price, kind="stable") if self.repairs else np.zeros(0, dtype=int)
        if not len(order) or chance[order[0]] <= ALMOST_NOTHING:
            return 0.0, None
        position = self.fixes[order].argmax(axis=0) + 1
        last = (self.matters * position).max(axis=1)
        paid = np.concatenate([[0.0], np.cumsum(self.price[order])])
        return float(weight @ paid[last]), self.repairs[int(order[0])]

    def groups(self, check: CheckAt) -> Array:
        """Weights of the fault sets after each pattern of outcomes of the first readings (pattern, s)."""
        groups = self.weight[None, :]
        for ask in check.asks:
            like = self.like[ask]
            if len(groups) * len(like) > MOST_PATTERNS:
                break
            groups = (groups[:, None, :] * like[None, :, :]).reshape(-1, len(self.weight))
        return groups
