"""What a check is worth: the plans it leads to against the plans without it.

A pool of repair plans, each the best if some repair were known to be needed, or
known not to be, is priced once in every fault set. Under the weights an outcome
leaves, the cheapest of the pool is an upper bound on what is left to pay, at
the price of one product of matrices for all checks together; that makes the
shortlist. Checks on it get plans of their own.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from knowngood.belief.protocol import Array, Ask, Bools, Scenarios
from knowngood.planner.board import Board, board_of, foresight
from knowngood.planner.improve import best_plan
from knowngood.planner.looking import Look, Looking, looking_with
from knowngood.planner.outcomes import Shown, likelihoods, shown_by
from knowngood.planner.plans import Ints, Plans, Style, plan
from knowngood.planner.problem import CheckAt, Problem
from knowngood.planner.starts import starts
from knowngood.planner.steps import Moved
from knowngood.planner.ties import firm, firm_money, firm_order

POOLED_REPAIRS = 10
DEAREST_POOLED = 400.0  # money beyond which a repair is not more worth a plan of its own; from memory
POOL_DOUBT = 0.03  # a plan for "it is not needed" still has to end where it is
MOST_ROWS_OF_READINGS = 6
WORTHLESS = 1e-9  # share of the money to the end: a gain below it is rounding
ALMOST_NEVER = 1e-12  # a chance to divide by
FEW_LEFT, MANY_LEFT = Style(0.1), Style(0.7, True)  # with one fault or two, and with several: each best in its field
PLAN_DOUBT = 1e-3  # share of the weights before an outcome that a plan after it still minds
NO_CHECK = -1


@dataclass
class Option:
    """A check with its price, as it is worked out.

    Parameters
    ----------
    index : int
        Of the check in the problem.
    shown : Shown
    chance : array (outcome,)
    plans : Plans
        Repair plans after each outcome, one row each.
    own : float
        Money of the check itself, access included.
    left : array (outcome,)
        Money to the end after each outcome, times its chance; looking on is counted.
    share : array (outcome,)
        What a little more money for repairs adds to that.
    seconds : dict
        Outcome to what is left to pay, times its chance, by the check made second (-1: none).
    later : float
        Least expected money when a repair or a proof comes first and the check after it.
    """

    index: int
    shown: Shown
    chance: Array
    plans: Plans
    own: float
    left: Array
    share: Array
    seconds: dict[int, dict[int, float]] = field(default_factory=dict)
    later: float = np.inf

    @property
    def cost(self) -> float:
        """Expected money to the end when this check comes now."""
        return self.own + float(self.left.sum())

    def second(self, outcome: int) -> int:
        """The check worth its price after an outcome, or -1."""
        paid = self.seconds.get(outcome)
        return min(paid, key=lambda index: paid[index]) if paid else NO_CHECK

    def uses(self, repairs: int) -> Array:
        """What each repair's price counts for: the chance that it is made, so far as the plans are paid."""
        return self.plans.uses_of_all(repairs, self.share)


class Pricing:
    """One problem on one set of fault sets.

    Over fault sets (s,) or over their patterns (p,), see :class:`knowngood.planner.board.Board`. Money is expected
    money to the end.

    Parameters
    ----------
    problem : Problem
    seed, most : int
        Of the draws, and how many at most.

    Attributes
    ----------
    scenarios, board
        The fault sets, and the problem as arrays over them.
    weight : array (s,)
        Of each fault set, those left out that cannot be priced.
    now : Starts
        How things stand: one row.
    matters : int array (fault,)
        Places in the belief's order of the faults that must be put right.
    present : array (s, fault)
        1 where one of these is there; ``chances`` (fault,) are its means.
    style : Style
        How plans pick their next repair: whichever came out cheaper.
    looks_on, looking
        Whether it is taken that one goes on looking, and what that costs; found by the first :meth:`priced`.
    seen_all : array (p,)
        Money for whoever sees the faults; ``least`` is its mean.
    bare : Plans
        The best plan without any check: one row.
    pool : array (plan, p)
        Money of plans for what an outcome may say; ``priced_in_pool`` (s, plan) is the same times the weight.
    heads : int array (plan,)
        First repair of each plan of the pool, -1 for a proof.
    base : float
        Money of the cheapest plan without a check; :meth:`priced` lowers it where it comes upon a cheaper one.
    like : dict Ask -> array (outcome, s)
        Chance of each outcome of each reading that changes nothing on the car.
    """

    def __init__(self, problem: Problem, *, seed: int, most: int) -> None:
        self.problem = problem
        self.seed = seed
        self.scenarios: Scenarios = problem.belief.scenarios(most, np.random.default_rng(seed))
        self.board: Board = board_of(problem, self.scenarios)
        self.weight = self.board.weight_of_sets
        self.now = starts(self.board, self.board.weight[None, :])
        must = problem.must
        matters = [must is None or fault in must for fault in problem.belief.faults]
        self.matters = np.flatnonzero(matters)
        self.present = self.scenarios.present[:, self.matters].astype(float)
        self.chances = self.weight @ self.present
        self.style = FEW_LEFT
        self.looks_on = not self.scenarios.exact and problem.hand_over is None
        self.looking = Looking()
        self.seen_all = foresight(self.board)  # what each pattern costs whoever sees it
        self.least = float(self.board.weight @ self.seen_all)
        self.bare = best_plan(self.board, self.now)
        self.pool, self.heads = self._pool()
        self.base = min(float(self.bare.cost[0]), float((self.pool @ self.board.weight).min()))
        self.priced_in_pool = self.weight[:, None] * self.pool.T[self.board.pattern]
        plain = [ask for check in problem.checks if check.after is None for ask in check.asks]
        self.like: dict[Ask, Array] = likelihoods(problem.belief, list(dict.fromkeys(plain)), self.scenarios.present)

    def onward(self, blind: Array, known: Array, chance: Array) -> Array:
        """Money to the end when one goes on looking, times the chance of getting there.

        Parameters
        ----------
        blind, known : array (n,)
            Of going on with repairs only, and of whoever sees the faults, times the chance.
        chance : array (n,)
        """
        there = np.maximum(chance, ALMOST_NEVER)
        paid: Array = known + chance * self.looking.paid((blind - known) / there)
        return paid

    @property
    def unlooked(self) -> float:
        """Money to the end as things stand, what to look at not yet chosen."""
        return float(self.onward(np.array([self.base]), np.array([self.least]), np.ones(1))[0])

    def cheapest_from(self, head: int) -> float:
        """Money to the end by the cheapest plan of the pool that begins with a repair, or with a proof (-1).

        Infinite where none does. A check is priced with the best of all plans after each outcome; so must be what is
        set against it, or a check that tells nothing seems to save what is only a better plan.
        """
        return float((self.pool[self.heads == head] @ self.board.weight).min(initial=np.inf))

    def _pool(self) -> tuple[Array, Ints]:
        """Cost in each pattern (plan, p) of plans for what an outcome may say, and what each begins with (plan,)."""
        board = self.board
        if not board.repairs:
            return self.bare.each, self.bare.heads
        needed = (board.fixes > 0).astype(float) @ board.present.T > 0
        chance = needed @ board.weight
        worth = chance * np.minimum(board.cost + board.proof_cost, DEAREST_POOLED)
        top = firm_order(worth)[:POOLED_REPAIRS]
        doubted = (1.0 - POOL_DOUBT) * np.concatenate([needed[top], ~needed[top]]) + POOL_DOUBT
        rows, count = board.weight * doubted, len(doubted)
        both = plan(board, starts(board, np.tile(rows, (2, 1))), [FEW_LEFT] * count + [MANY_LEFT] * count)
        self.style = FEW_LEFT if both.cost[:count].sum() <= both.cost[count:].sum() else MANY_LEFT
        return np.concatenate([self.bare.each, both.each]), np.concatenate([self.bare.heads, both.heads])

    def joint(self, like: Array) -> Array:
        """Chance of outcome and pattern together (outcome, p), from that of the outcome in each fault set."""
        return self.board.gathered(like * self.weight)

    def opening(self, check: CheckAt, opened: Bools) -> float:
        """Money to open, and later close, what a check needs beyond what is open."""
        return float(self.board.access_cost[self.mask(check) & ~opened].sum())

    def shown(self, check: CheckAt) -> Shown:
        """Outcomes of a check as things are now."""
        if check.after is None:
            return shown_by(self.problem.belief, check, self.like, self.priced_in_pool)
        moved = likelihoods(self.problem.belief, check.asks, check.after(self.scenarios.present))
        return shown_by(self.problem.belief, check, moved, self.priced_in_pool)

    def shortlist(self, most: int) -> list[tuple[int, Shown]]:
        """Checks worth plans of their own: cheapest to the end by the pool, then most saved for their money.

        Of swaps and rows of readings only a few are looked at: swaps first, then the rows whose single readings promise
        most.
        """
        checks = self.problem.checks
        own = [self.problem.check_cost(check) for check in checks]
        access = [self.opening(check, self.board.opened) for check in checks]
        single = self._gain_of_readings()
        shown: dict[int, Shown] = {}
        gain: dict[int, float] = {}
        rows: list[tuple[float, int]] = []
        for index, check in enumerate(checks):
            if check.after is not None:
                rows.append((np.inf, index))
            elif len(check.asks) == 1:
                gain[index] = single[check.asks[0]]
            else:
                rows.append((sum(single[ask] for ask in check.asks) - own[index] - access[index], index))
        for _, index in sorted(rows, key=lambda row: (-row[0], row[1]))[:MOST_ROWS_OF_READINGS]:
            shown[index] = self.shown(checks[index])
            gain[index] = self._pool_gain(shown[index])
        useful = [index for index in gain if gain[index] > WORTHLESS * max(self.base, 1.0)]
        rankings = (
            sorted(useful, key=lambda index: own[index] + access[index] - gain[index]),
            sorted(useful, key=lambda index: -gain[index] / (own[index] + access[index] + 1.0)),
            sorted(useful, key=lambda index: own[index] - gain[index]),
        )
        chosen: list[int] = []
        for ranking, share in zip(rankings, (0.5, 0.8, 1.0), strict=True):
            wanted = int(share * most) - len(chosen)
            chosen += [index for index in ranking if index not in chosen][: max(wanted, 0)]
        return [(index, shown.get(index) or self.shown(checks[index])) for index in chosen]

    def _gain_of_readings(self) -> dict[Ask, float]:
        """What each single reading would save by the pool, all in one product."""
        if not self.like:
            return {}
        stacked = np.concatenate(list(self.like.values()))
        cheapest = (stacked @ self.priced_in_pool).min(axis=1)
        ends = np.cumsum([len(rows) for rows in self.like.values()])
        starts_at = np.concatenate([[0], ends[:-1]])
        left = np.add.reduceat(cheapest, starts_at)
        return {ask: firm_money(self.base - float(each)) for ask, each in zip(self.like, left, strict=True)}

    def _pool_gain(self, shown: Shown) -> float:
        return firm_money(self.base - float((shown.like @ self.priced_in_pool).min(axis=1).sum()))

    def priced(self, chosen: Sequence[tuple[int, Shown]]) -> list[Option]:
        """Every check of a shortlist with plans of its own after each outcome, all built together.

        What is found on the way holds for all that is priced later: a cheaper plan without a check (``base``), and at
        the first call what looking on costs (``looking``).
        """
        if not chosen:
            return []
        checks = self.problem.checks
        counts = [len(shown.names) for _, shown in chosen]
        rows = self.joint(np.concatenate([shown.like for _, shown in chosen]))
        opened = np.repeat(
            [self.board.opened | self.mask(checks[index]) for index, _ in chosen], counts, axis=0
        ).reshape(len(rows), len(self.board.opened))
        plans = plan(self.board, starts(self.board, self._doubted(rows), opened), [self.style])
        as_now = ~(opened & ~self.board.opened).any(axis=1)  # found for an outcome, good for all: nothing more is open
        pooled = self._with_all(plans.each[as_now], plans.heads[as_now], rows)
        blind = np.minimum(np.einsum("op,op->o", rows, plans.each), pooled)
        known, chance = rows @ self.seen_all, rows.sum(axis=1)
        ends = np.cumsum([0, *counts])
        some = [slice(int(begin), int(end)) for begin, end in itertools.pairwise(ends)]
        own = [
            self.problem.check_cost(checks[index]) + self.opening(checks[index], self.board.opened)
            for index, _ in chosen
        ]
        waste = np.maximum(blind - known, 0.0) / np.maximum(chance, ALMOST_NEVER)
        if self.looks_on and np.isinf(self.looking.per_nat):
            looks = [Look(price, chance[each], waste[each]) for price, each in zip(own, some, strict=True)]
            self.looking = looking_with(self.base - self.least, looks)
        left, share = self.onward(blind, known, chance), self.looking.share(waste)
        return [
            Option(index, shown, chance[each], plans.some(each), price, left[each].copy(), share[each])
            for (index, shown), each, price in zip(chosen, some, own, strict=True)
        ]

    def _with_all(self, found: Array, heads: Ints, rows: Array) -> Array:
        """Cost of each row of weights (row, p) by the best of all plans, those just found (plan, p) included.

        A plan found for one outcome is there for every other, and for whoever does not look: else the check for whose
        outcome it happened to be found would be credited with it. Those found that are best for some row are kept.
        """
        every = np.concatenate([self.pool, found])
        self.base = min(self.base, float((found @ self.board.weight).min(initial=np.inf)))
        cost = firm(rows @ every.T)
        best_for_some = np.unique(cost.argmin(axis=1))
        kept = best_for_some[best_for_some >= len(self.pool)] - len(self.pool)
        self.pool, self.heads = np.concatenate([self.pool, found[kept]]), np.concatenate([self.heads, heads[kept]])
        best: Array = cost.min(axis=1)
        return best

    def _doubted(self, rows: Array) -> Array:
        """Weights after each outcome (outcome, p) with a little of those before, where fault sets are drawn.

        A plan made for what few draws show would stop where these end, one for what none shows at once. Held against
        other sets, it would leave them to a car that comes back, which is no way out of looking.
        """
        if self.scenarios.exact:
            return rows
        return rows + PLAN_DOUBT * np.maximum(rows.sum(axis=1, keepdims=True), PLAN_DOUBT) * self.board.weight

    def mask(self, check: CheckAt) -> Bools:
        """Access steps a check needs (step,), those that are open already among them."""
        return self.board.mask_of(self.problem.access.needed(check.access))

    def pair_up(self, options: Sequence[Option], firsts: int, seconds: int) -> None:
        """After each outcome of the best few checks, see whether one more check is worth its price."""
        by_cost = sorted(options, key=lambda option: (firm_money(option.cost), option.index))
        others = sorted(by_cost[:seconds], key=lambda option: option.index)
        for option in self._both_ways(by_cost, firsts):
            check = self.problem.checks[option.index]
            opened = self.board.opened | self.mask(check)
            option.seconds = {outcome: {NO_CHECK: float(left)} for outcome, left in enumerate(option.left)}
            rows = option.shown.like * self.weight
            for other in others:
                if other.index == option.index:
                    continue
                # Plans made for the other check's outcomes hold too: more is open then, never less.
                pool = np.concatenate([self.pool, option.plans.each, other.plans.each])
                price = self.problem.check_cost(self.problem.checks[other.index]) + self.opening(
                    self.problem.checks[other.index], opened
                )
                both = (rows[:, None, :] * other.shown.like[None, :, :]).reshape(-1, rows.shape[1])
                joint = self.board.gathered(both)
                onward = self.onward((joint @ pool.T).min(axis=1), joint @ self.seen_all, joint.sum(axis=1))
                after = onward.reshape(len(rows), -1).sum(axis=1) + option.chance * price
                for outcome, total in enumerate(after):
                    if total < option.seconds[outcome][NO_CHECK] - WORTHLESS * max(self.base, 1.0):
                        option.seconds[outcome][other.index] = float(total)
            option.left = np.array([min(paid.values()) for paid in option.seconds.values()])

    def _both_ways(self, by_cost: Sequence[Option], firsts: int) -> list[Option]:
        """The cheapest to the end, and those that save most for their money: what is quick may spare what is long."""
        saves = sorted(
            by_cost, key=lambda option: -firm_money((self.unlooked - float(option.left.sum())) / (option.own + 0.1))
        )
        half = firsts - firsts // 2
        return list({option.index: option for option in (*by_cost[:half], *saves[: firsts - half])}.values())

    def bundles(self, options: Sequence[Option], size: int = 3) -> list[tuple[tuple[int, ...], Option]]:
        """Checks that need the same things open, read in one go: the best ``size`` of each such group."""
        groups: dict[frozenset[str], list[Option]] = {}
        for option in options:
            check = self.problem.checks[option.index]
            if check.after is None:
                groups.setdefault(self.problem.access.needed(check.access) - self.problem.access.open, []).append(
                    option
                )
        result = []
        for needed, group in groups.items():
            best = sorted(group, key=lambda option: (firm_money(option.cost), option.index))[:size]
            asks = tuple(dict.fromkeys(ask for option in best for ask in self.problem.checks[option.index].asks))
            if not needed or len(best) < size or len(asks) > 2 * size:
                continue
            checks = [self.problem.checks[option.index] for option in best]
            usual = {reading: word for check in checks for reading, word in check.usual.items()}
            together = CheckAt(id="", name="", asks=asks, minutes=0.0, access=checks[0].access, usual=usual)
            shown = shown_by(self.problem.belief, together, self.like, self.priced_in_pool)
            (option,) = self.priced([(best[0].index, shown)])
            option.own = sum(map(self.problem.check_cost, checks)) + self.opening(checks[0], self.board.opened)
            result.append((tuple(each.index for each in best), option))
        return result

    def leading(self, like: Array, chance: float) -> tuple[Moved, Moved]:
        """The faults an outcome raises most and lowers most, of those that must be put right."""
        after = (like * self.weight) @ self.present / chance
        moved, faults = after - self.chances, self.problem.belief.faults
        raised, fallen = (
            Moved(faults[self.matters[end]], float(after[end]), float(moved[end]))
            for end in (moved.argmax(), moved.argmin())
        )
        return raised, fallen
