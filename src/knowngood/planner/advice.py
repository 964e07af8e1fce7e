"""What to do next: every check priced against repairing, now and after the next repair, and in pairs.

The price of a step is the expected money to the end when starting with it and
going on with repair plans (:mod:`knowngood.planner.plans`). A check is worth
its price when the plans it leads to cost less, together, than the plan without
it. Comparing "now" with "after the next repair" as well is what keeps the
one-step comparison from buying checks too early (Jensen et al. 2001).

References
----------
Jensen et al., The SACSO methodology for troubleshooting complex systems, AI EDAM 15 (2001), 321-333.
Heckerman, Breese and Rommelse, Decision-theoretic troubleshooting, Communications of the ACM 38(3) (1995), 49-57.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.belief.protocol import Array, Bools, FaultAt
from knowngood.planner.board import Board, board_of
from knowngood.planner.outcomes import Shown, likelihoods, shown_by
from knowngood.planner.plans import NOBODY, Plans, Starts, plan, starts
from knowngood.planner.problem import CheckAt, Problem, Repair

SCENARIOS = 400
SHORTLIST = 20
PAIRED = 3
MOST_PAIR_ROWS = 40
STEPS = 12
TOSS_UP_MINUTES = 5.0
TOSS_UP_SHARE = 0.03
LEAST_CHANCE = 1e-9


@dataclass(frozen=True)
class After:
    """What an outcome leads to.

    Parameters
    ----------
    chance : float
        Of the outcome.
    leading, leading_chance : FaultAt, float
        The fault the outcome raises most, of those that must be put right, and its chance then.
    repair : Repair or None
        What is done next then (``None``: prove).
    check : CheckAt or None
        A second check that is worth its price first.
    """

    outcome: str
    chance: float
    leading: FaultAt
    leading_chance: float
    repair: Repair | None
    check: CheckAt | None = None


@dataclass(frozen=True)
class Step:
    """A step with its price.

    Parameters
    ----------
    action : Repair or CheckAt
    cost : float
        Expected money to the end when starting with it.
    minutes, money : float
        Of the step itself, access that must be opened included.
    opens : tuple of str
        Access steps that must come off first.
    after : tuple of After
        For a check, what each outcome leads to.
    flip_minutes, flip_money : float or None
        The step would no longer be first if it took, or cost, more than this.
    """

    action: Repair | CheckAt
    cost: float
    minutes: float
    money: float
    opens: tuple[str, ...]
    after: tuple[After, ...] = ()
    flip_minutes: float | None = None
    flip_money: float | None = None


@dataclass(frozen=True)
class Advice:
    """The steps, best first, beside the plan that repairs without looking further.

    Parameters
    ----------
    steps : tuple of Step
    replace_now : float
        Expected money of repairing in the best order without any check.
    order : tuple of Repair
        That order.
    toss_up : bool
        The first two steps are within five minutes' worth or 3 %.
    exact : bool
        Priced on all fault sets, not on draws.
    """

    steps: tuple[Step, ...]
    replace_now: float
    order: tuple[Repair, ...]
    toss_up: bool
    exact: bool


class Pricing:
    """One problem on one set of fault sets."""

    def __init__(self, problem: Problem, *, seed: int = 2011, most: int = SCENARIOS) -> None:
        self.problem = problem
        self.scenarios = problem.belief.scenarios(most, np.random.default_rng(seed))
        self.board: Board = board_of(problem, self.scenarios)
        self.weight = self.scenarios.weight

    def shown(self) -> list[Shown]:
        """Outcomes of every check."""
        problem, present = self.problem, self.scenarios.present
        plain = [ask for check in problem.checks if check.after is None for ask in check.asks]
        like = likelihoods(problem.belief, list(dict.fromkeys(plain)), present) if plain else {}
        result = []
        for check in problem.checks:
            if check.after is None:
                result.append(shown_by(problem.belief, check, like, self.weight))
            else:
                changed: Bools = check.after(present)
                moved = likelihoods(problem.belief, check.asks, changed)
                result.append(shown_by(problem.belief, check, moved, self.weight))
        return result

    def step_cost(self, check: CheckAt) -> float:
        """Money of the check itself with what must be opened for it."""
        access = self.problem.access
        opening = access.open_minutes(check.access) + access.close_minutes(check.access)
        return self.problem.check_cost(check) + opening * self.problem.per_minute

    def shortlist(self, shown: Sequence[Shown], most: int) -> list[int]:
        """Checks that move the chances of what matters most for their price."""
        board = self.board
        now = np.clip(self.weight @ board.present, 1e-9, 1 - 1e-9)
        worth = np.minimum(board.cheapest + 1.0, 400.0)
        score = []
        for check, each in zip(self.problem.checks, shown, strict=True):
            joint = each.like * self.weight
            chance = joint.sum(axis=1)
            after = np.clip((joint @ board.present) / np.maximum(chance, 1e-300)[:, None], 1e-9, 1 - 1e-9)
            moved = after * np.log(after / now) + (1 - after) * np.log((1 - after) / (1 - now))
            score.append(float(chance @ (moved @ worth)) / (self.step_cost(check) + 1.0))
        return [index for index in np.argsort(-np.array(score), kind="stable")[:most] if score[index] > 1e-9]

    def leading(self, like: Array, chance: float) -> tuple[FaultAt, float]:
        """The fault an outcome raises most, of those that must be put right, and its chance then."""
        after = (like * self.weight) @ self.scenarios.present / chance
        raised = after - self.weight @ self.scenarios.present
        faults = self.problem.belief.faults
        if self.problem.must is not None:
            raised = np.where([fault in self.problem.must for fault in faults], raised, -2.0)
        index = int(raised.argmax())
        return faults[index], float(after[index])

    def plans_after(self, begin: Starts, opened: Bools) -> Plans:
        """Best repair plans from given starts with some access open besides."""
        return plan(self.board, Starts(begin.weight, begin.opened | opened, begin.left, begin.stopped))

    def priced(self, check: CheckAt, shown: Shown, begin: Starts | None = None) -> tuple[float, Array, Plans]:
        """Money to the end when the check is made now, chance of each outcome, and the plans after each."""
        weights = shown.like * self.weight
        opened = self.board.mask_of(self.problem.access.needed(check.access))
        rows = starts(self.board, weights)
        if begin is not None:
            count = len(weights)
            rows = Starts(
                weights,
                np.repeat(begin.opened, count, axis=0),
                np.repeat(begin.left, count, axis=0),
                np.repeat(begin.stopped, count, axis=0),
            )
        plans = self.plans_after(rows, opened)
        return self.step_cost(check) + float(plans.cost.sum()), weights.sum(axis=1), plans


def advise(problem: Problem, *, seed: int = 2011, most: int = SCENARIOS) -> Advice:
    """Rank what could be done now by the money it leads to.

    Parameters
    ----------
    problem : Problem
    seed : int
        Of the draws; the same state should hand in the same seed.
    most : int
        Fault sets to price on.
    """
    pricing = Pricing(problem, seed=seed, most=most)
    board = pricing.board
    now = starts(board, pricing.weight[None, :])
    bare = plan(board, now)
    base = float(bare.cost[0])
    order = tuple(board.repairs[index] for index in bare.order[0] if index != NOBODY)
    steps = _repair_steps(pricing, now)
    shown = pricing.shown()
    chosen = pricing.shortlist(shown, SHORTLIST)
    singles: list[tuple[float, int, Array, Plans]] = []
    for index in chosen:
        cost, chance, plans = pricing.priced(problem.checks[index], shown[index])
        singles.append((cost, index, chance, plans))
    singles.sort(key=lambda item: item[0])
    better = _with_pairs(pricing, shown, singles)
    for cost, index, chance, plans in singles:
        steps.append(_check_step(pricing, index, better.get(index, (cost, {}))[0], shown[index], chance, plans, better))
    steps = _one_of_a_kind(sorted(steps, key=lambda step: step.cost))
    if singles and steps and isinstance(steps[0].action, CheckAt) and order:
        steps = _later(pricing, shown, singles, steps, bare)
    steps = _flips(problem, steps)
    toss_up = len(steps) > 1 and steps[1].cost - steps[0].cost <= max(
        TOSS_UP_MINUTES * problem.per_minute, TOSS_UP_SHARE * steps[0].cost
    )
    return Advice(tuple(steps[:STEPS]), base, order, toss_up, pricing.scenarios.exact)


def _one_of_a_kind(steps: Sequence[Step]) -> list[Step]:
    """The best place of each check; the same look next door is no other step."""
    met: set[str] = set()
    result = []
    for step in steps:
        if isinstance(step.action, Repair) or step.action.id not in met:
            result.append(step)
            met.add(step.action.id)
    return result


def _repair_steps(pricing: Pricing, now: Starts) -> list[Step]:
    """Each likely repair as the first of a plan."""
    board, problem = pricing.board, pricing.problem
    if not board.repairs:
        return []
    count = min(len(board.repairs), 10)
    gain = (pricing.weight @ board.present) @ board.fixes.T / (board.cost + 1.0)
    first = np.argsort(-gain, kind="stable")[:count]
    rows = starts(board, np.repeat(now.weight, count, axis=0))
    plans = plan(board, rows, first=first)
    result = []
    for row, index in enumerate(first):
        repair = board.repairs[int(index)]
        if gain[index] <= LEAST_CHANCE:
            continue
        opening = problem.access.open_minutes(repair.access) + problem.access.close_minutes(repair.access)
        result.append(
            Step(
                repair,
                float(plans.cost[row]),
                repair.minutes + opening,
                repair.money,
                problem.access.to_open(repair.access),
            )
        )
    return result


def _with_pairs(
    pricing: Pricing, shown: Sequence[Shown], singles: Sequence[tuple[float, int, Array, Plans]]
) -> dict[int, tuple[float, dict[int, int]]]:
    """Cost of the best few checks when another may follow each outcome: check -> (cost, outcome -> second check)."""
    problem = pricing.problem
    best = [index for _, index, _, _ in singles[:PAIRED]]
    result: dict[int, tuple[float, dict[int, int]]] = {}
    for cost, index, _, plans in singles[:PAIRED]:
        alone = plans.cost.copy()
        total, second = alone.copy(), dict[int, int]()
        opened = pricing.board.mask_of(problem.access.needed(problem.checks[index].access))
        for other in best:
            if other == index or problem.checks[index].after is not None or problem.checks[other].after is not None:
                continue
            if len(shown[index].names) * len(shown[other].names) > MOST_PAIR_ROWS:
                continue
            like = shown[index].like[:, None, :] * shown[other].like[None, :, :]
            rows = (like * pricing.weight).reshape(-1, len(pricing.weight))
            after = pricing.plans_after(starts(pricing.board, rows), opened)
            pair = after.cost.reshape(len(shown[index].names), -1).sum(axis=1)
            chance = (shown[index].like * pricing.weight).sum(axis=1)
            pair = pair + chance * pricing.step_cost(problem.checks[other])
            for outcome in np.flatnonzero(pair < total - 1e-9):
                total[outcome] = pair[outcome]
                second[int(outcome)] = other
        result[index] = (cost - float(alone.sum() - total.sum()), second)
    return result


def _check_step(
    pricing: Pricing,
    index: int,
    cost: float,
    shown: Shown,
    chance: Array,
    plans: Plans,
    better: dict[int, tuple[float, dict[int, int]]],
) -> Step:
    problem = pricing.problem
    check = problem.checks[index]
    second = better.get(index, (0.0, {}))[1]
    after = []
    for row, name in enumerate(shown.names):
        first = plans.first(row)
        then = problem.checks[second[row]] if row in second else None
        if chance[row] > LEAST_CHANCE:
            repair = pricing.board.repairs[first] if first != NOBODY else None
            leading, how_likely = pricing.leading(shown.like[row], float(chance[row]))
            after.append(After(name, float(chance[row]), leading, how_likely, repair, then))
    opening = problem.access.open_minutes(check.access) + problem.access.close_minutes(check.access)
    return Step(
        check,
        cost,
        check.minutes + opening,
        check.money + problem.tool_share * check.tool_price,
        problem.access.to_open(check.access),
        tuple(sorted(after, key=lambda one: -one.chance)),
    )


def _later(
    pricing: Pricing,
    shown: Sequence[Shown],
    singles: Sequence[tuple[float, int, Array, Plans]],
    steps: list[Step],
    bare: Plans,
) -> list[Step]:
    """Where the best check is worth more after the next repair, the repair goes first."""
    board, problem = pricing.board, pricing.problem
    first = bare.first(0)
    if first == NOBODY:
        return steps
    repair = board.repairs[first]
    opened = board.opened | board.mask[first]
    left = np.ones((1, board.present.shape[1])) * (1.0 - board.fixes[first])
    extra = float((board.mask[first] & ~board.opened) @ board.access_cost)
    begin = Starts(pricing.weight[None, :], opened[None, :], left, np.zeros((1, len(pricing.weight))))
    best = min(
        (
            board.cost[first] + extra + pricing.priced(problem.checks[index], shown[index], begin)[0]
            for _, index, _, _ in singles[:PAIRED]
        ),
        default=np.inf,
    )
    result = []
    for step in steps:
        if step.action is repair and best < step.cost:
            step = Step(step.action, float(best), step.minutes, step.money, step.opens, step.after)
        result.append(step)
    return sorted(result, key=lambda step: step.cost)


def _flips(problem: Problem, steps: list[Step]) -> list[Step]:
    """At which minutes or price the first step would give way to the second: cost is linear in both."""
    if len(steps) < 2:
        return steps
    first, spare = steps[0], steps[1].cost - steps[0].cost
    flip_minutes = first.minutes + spare / problem.per_minute
    flip_money = first.money + spare if first.money > 0 else None
    head = Step(
        first.action, first.cost, first.minutes, first.money, first.opens, first.after, flip_minutes, flip_money
    )
    return [head, *steps[1:]]
