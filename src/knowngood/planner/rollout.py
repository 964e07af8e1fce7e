"""The best few first steps played through: each outcome met with the best step there, and so on.

The ranking of first steps looks two checks ahead and takes it that only repairs
follow. Here the planner is asked again after each outcome, repair and proof of
the leading steps, on the same fault sets for all of them, and the prices of
what it would do there take the place of the first guess: one round after the
other, the likeliest first, until the caller has waited long enough. Following
a policy one step and then going on with it can only improve on it where
expectations are exact (policy improvement); what draws add to that is in the
error of the price.

References
----------
Bertsekas and Castanon, Rollout algorithms for stochastic scheduling problems, Journal of Heuristics 5 (1999), 89-108.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from dataclasses import dataclass, field

from knowngood.planner.candidates import Candidate
from knowngood.planner.pricing import Pricing
from knowngood.planner.problem import Repair
from knowngood.planner.ranking import LIGHT, Effort, ranked
from knowngood.planner.standing import Standing, standing_of
from knowngood.planner.steps import HAND_OVER, PROVE

FIRST_STEPS = 5
DEEPEST = 12
LEAST_REACH = 0.02  # what is reached more seldom keeps its first price
WITHIN = 1.25  # beyond the first round, steps this much dearer than the best are left as they are


@dataclass
class Branch:
    """A point of a plan: how likely it is reached, and what is still to pay from there.

    Parameters
    ----------
    chance : float
        Given the step before.
    guess : float
        Money from here by the price of the step before.
    standing : Standing or None
        ``None``: the work is over here.
    """

    chance: float
    guess: float
    standing: Standing | None
    paid: float = 0.0
    then: list[Branch] = field(default_factory=list)
    played: bool = False

    @property
    def value(self) -> float:
        """Money from here, as far as it has been played through."""
        if not self.then:
            return self.guess
        return self.paid + sum(branch.chance * branch.value for branch in self.then)


@dataclass(frozen=True)
class Played:
    """How far it has been played.

    Parameters
    ----------
    done : int
        Points of plans priced anew.
    waiting : int
        Points still in the queue.
    costs : tuple of float
        Money to the end for each of the first steps, in the order of the ranking.
    round : int
        Steps looked ahead throughout.
    """

    done: int
    waiting: int
    costs: tuple[float, ...]
    round: int


def play(
    pricing: Pricing, candidates: list[Candidate], *, first_steps: int = FIRST_STEPS, effort: Effort = LIGHT
) -> Iterator[Played]:
    """Play the first steps through, yielding what they cost after every point that was priced anew.

    Parameters
    ----------
    pricing : Pricing
        Of the state itself.
    candidates : list of Candidate
        Ranked.
    first_steps : int
        How many of them are played.
    effort : Effort
        Of the ranking at every point.
    """
    root = standing_of(pricing.problem, pricing.scenarios, pricing.like, pricing.seed)
    tops = [Branch(1.0, candidate.step.cost, root) for candidate in candidates[:first_steps]]
    queue: list[tuple[int, float, int, int, Branch]] = []
    count = 0
    for number, (branch, candidate) in enumerate(zip(tops, candidates, strict=False)):
        _follow(branch, pricing, candidate)
        count = _enqueue(queue, count, branch, 1, 1.0, number)
    done = 0
    yield Played(done, len(queue), tuple(branch.value for branch in tops), 0)
    while queue:
        depth, minus_reach, _, number, branch = heapq.heappop(queue)
        if depth > 1 and tops[number].value > WITHIN * min(top.value for top in tops):
            continue
        assert branch.standing is not None
        here = Pricing(branch.standing.problem, seed=pricing.seed, most=len(branch.standing.belief.sets.weight))
        best = ranked(here, effort)[0]
        branch.guess = min(branch.guess, best.step.cost)
        _follow(branch, here, best)
        count = _enqueue(queue, count, branch, depth + 1, -minus_reach, number)
        done += 1
        yield Played(done, len(queue), tuple(top.value for top in tops), depth)


def _enqueue(
    queue: list[tuple[int, float, int, int, Branch]], count: int, branch: Branch, depth: int, reach: float, number: int
) -> int:
    """Queue what follows a branch, the nearest and likeliest first."""
    for then in branch.then:
        if then.standing is not None and reach * then.chance >= LEAST_REACH and depth <= DEEPEST:
            heapq.heappush(queue, (depth, -reach * then.chance, count, number, then))
            count += 1
    return count


def _follow(branch: Branch, pricing: Pricing, candidate: Candidate) -> None:
    """Make the step and see where it leads; the guesses add up to its price."""
    action, standing = candidate.step.action, branch.standing
    assert standing is not None
    board = pricing.board
    fixed = (board.present.sum(axis=1) == 0)[board.pattern]
    finished = float(pricing.weight[fixed].sum())
    if isinstance(action, Repair):
        paid = pricing.problem.repair_cost(action) + standing.opening(action)
        paid -= board.refunded(board.repairs.index(action))
        branch.then = [Branch(1.0, candidate.step.cost - paid, standing.after_repair(action))]
    elif action.kind == PROVE:
        paid = board.proof_cost + (1.0 - finished) * board.wrong_pass_cost
        branch.then = [Branch(finished, 0.0, None)]
        if finished < 1.0 - LEAST_REACH * 1e-6 and board.repairs:
            failing = 1.0 - finished
            rest = (candidate.step.cost - paid) / failing
            branch.then.append(Branch(failing, rest, standing.after_failed_proof(~fixed)))
    elif action.kind == HAND_OVER or candidate.option is None:
        return
    else:
        paid = candidate.option.own
        branch.then = [
            Branch(float(chance), float(left / chance), standing.after_check(action, like))
            for chance, left, like in zip(
                candidate.option.chance, candidate.option.left, candidate.option.shown.like, strict=True
            )
            if chance > 1e-12
        ]
    branch.paid = paid
