"""Repair plans: their price against walking through every case, where proofs fall, what comes first."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

import knowngood.planner.plans as plans_module
from knowngood.planner.board import Board, board_of
from knowngood.planner.improve import best_plan
from knowngood.planner.plans import NOBODY, Plans, Style, plan
from knowngood.planner.problem import AccessGraph, AccessTime, Problem
from knowngood.planner.starts import starts
from tests.naive.toy_belief import Toy, fault, independent, one_of
from tests.unit.planner.small import repair, told

LETTERS = "ABCD"


def drawn(seed: int, *, returns: bool = False) -> Problem:
    """Four independent faults behind two things that come off, one of which may stay; repairs may fail.

    With ``returns`` some parts that were not needed go back.
    """
    rng = np.random.default_rng(seed)
    chance = dict(zip(LETTERS, map(float, rng.uniform(0.05, 0.5, 4)), strict=True))
    behind: list[tuple[str, ...]] = [(), ("cover",), ("duct",), ("cover", "duct")]
    return told(
        independent(chance),
        [
            repair(
                name,
                float(rng.uniform(5.0, 80.0)),
                works=float(rng.choice([1.0, 0.9, 0.7])),
                access=behind[int(rng.integers(4))],
                refund=float(rng.choice([0.0, 3.0])) if returns else 0.0,
            )
            for name in LETTERS
        ],
        proof_minutes=float(rng.uniform(0.0, 30.0)),
        proof_sees=float(rng.choice([1.0, 0.8])),
        access=AccessGraph({"cover": AccessTime(6.0, 4.0), "duct": AccessTime(3.0, 5.0, stays=True)}),
    )


def board_for(problem: Problem) -> Board:
    return board_of(problem, problem.belief.scenarios(1000, np.random.default_rng(0)))


def walked(problem: Problem, board: Board, plans: Plans, row: int) -> float:
    """The money of one plan by walking through every set of faults and every failure of a repair."""
    order = [int(each) for each in plans.order[row] if each != NOBODY]
    proofs = [bool(each) for each in plans.proof[row][: len(order)]]
    faults = [each.fault for each in problem.belief.faults]

    def proof(there: frozenset[str]) -> float:
        return problem.proof_cost + ((1.0 - problem.proof_sees) * problem.comeback_cost if there else 0.0)

    def on(at: int, there: frozenset[str], opened: frozenset[str], came: frozenset[str]) -> float:
        if at == len(order):
            return proof(there) + (problem.comeback_cost if there else 0.0)
        paid = 0.0
        if proofs[at]:
            paid += proof(there)
            if not there:
                return paid
            opened = frozenset(step for step in opened if problem.access.steps[step].stays)
        made = board.repairs[order[at]]
        needed = problem.access.needed(made.access)
        steps = [problem.access.steps[step] for step in needed - opened]
        paid += problem.repair_cost(made) + sum(step.open_minutes + step.close_minutes for step in steps)
        paid -= made.refund if came.isdisjoint(each.fault for each in made.fixes) else 0.0
        gone = there - {each.fault for each in made.fixes}
        if gone == there:
            return paid + on(at + 1, there, opened | needed, came)
        return (
            paid
            + made.works * on(at + 1, gone, opened | needed, came)
            + (1.0 - made.works) * on(at + 1, there, opened | needed, came)
        )

    sets = problem.belief.scenarios(1000, np.random.default_rng(0))
    return sum(
        float(weight)
        * on(
            0,
            came := frozenset(name for name, is_there in zip(faults, some, strict=True) if is_there),
            frozenset(),
            came,
        )
        for weight, some in zip(sets.weight, sets.present, strict=True)
    )


@pytest.mark.parametrize("returns", [False, True])
@pytest.mark.parametrize("seed", range(12))
def test_price_of_an_order_is_what_walking_through_it_costs(seed: int, returns: bool) -> None:
    """All 24 orders, with proofs where the planner puts them; parts that were not needed go back where they can."""
    problem = drawn(seed, returns=returns)
    board = board_for(problem)
    orders = np.array(list(itertools.permutations(range(4))))
    plans = plan(board, starts(board, np.repeat(board.weight[None, :], len(orders), axis=0)), order=orders)
    assert plans.cost == pytest.approx([walked(problem, board, plans, row) for row in range(len(orders))], rel=1e-9)


@pytest.mark.parametrize("returns", [False, True])
@pytest.mark.parametrize("seed", range(12))
def test_best_plan_is_no_dearer_than_any_order_it_could_follow(seed: int, returns: bool) -> None:
    """Moving one repair at a time from several beginnings ends within 1 % of the best of all 24 orders."""
    problem = drawn(seed, returns=returns)
    board = board_for(problem)
    orders = np.array(list(itertools.permutations(range(4))))
    every = plan(board, starts(board, np.repeat(board.weight[None, :], len(orders), axis=0)), order=orders)
    best = best_plan(board, starts(board, board.weight[None, :]))
    assert best.cost[0] <= every.cost.min() * 1.01
    assert best.cost[0] == pytest.approx(walked(problem, board, best, 0), rel=1e-9)


@pytest.mark.parametrize("seed", range(30))
def test_first_repair_is_that_of_the_best_run_behind_what_comes_off(seed: int) -> None:
    """Against every choice of repairs behind every set of steps, none passed over."""
    rng = np.random.default_rng(seed)
    steps = ("cover", "duct", "manifold")
    problem = told(
        independent(dict(zip("ABCDEFG", map(float, rng.uniform(0.05, 0.5, 7)), strict=True))),
        [
            repair(
                name,
                float(rng.uniform(5.0, 80.0)),
                access=tuple(step for step in steps if index and rng.random() < 0.5),
            )
            for index, name in enumerate("ABCDEFG")
        ],
        access=AccessGraph({step: AccessTime(float(rng.uniform(1.0, 90.0)), 4.0) for step in steps}),
    )
    board = board_for(problem)
    gain = (board.weight @ board.present) @ board.fixes.T
    ratio, masked = gain / board.cost, board.mask.any(axis=1)
    best, first = 0.0, NOBODY
    for target in board.targets:
        behind = np.flatnonzero(masked & ~(board.mask & ~target).any(axis=1))
        for some in (list(one) for size in range(len(behind)) for one in itertools.combinations(behind, size + 1)):
            worth = gain[some].sum() / (board.access_cost[target].sum() + board.cost[some].sum())
            if worth > best * (1.0 + 1e-9):
                best, first = worth, int(behind[ratio[behind].argmax()])
    free = np.flatnonzero(~masked)
    if ratio[free].max() >= best:
        first = int(free[ratio[free].argmax()])
    assert plan(board, starts(board, board.weight[None, :]), [Style(fade=1.0)]).first(0) == first


def test_plans_of_one_call_do_not_disturb_each_other() -> None:
    """Each row costs what it costs alone, whatever stands beside it."""
    board = board_for(drawn(3))
    rng = np.random.default_rng(7)
    weights = rng.dirichlet(np.ones(len(board.weight)), size=6)
    together = plan(board, starts(board, weights))
    for row in range(6):
        alone = plan(board, starts(board, weights[row : row + 1]))
        assert together.cost[row] == pytest.approx(float(alone.cost[0]), rel=1e-12)
        length = alone.order.shape[1]
        assert together.order[row, :length].tolist() == alone.order[0].tolist()
        assert (together.order[row, length:] == NOBODY).all() or together.reach[row, length:].max() < 1e-9


def test_price_goes_with_the_weight() -> None:
    """Half the weight costs half: an outcome's plans add up to money."""
    board = board_for(drawn(5))
    whole = plan(board, starts(board, board.weight[None, :]))
    half = plan(board, starts(board, 0.5 * board.weight[None, :]))
    assert half.cost[0] == pytest.approx(0.5 * float(whole.cost[0]), rel=1e-12)
    assert half.order.tolist() == whole.order.tolist()


@pytest.mark.parametrize(("proof", "expected"), [(0.0, [False, True, True]), (5.0, [False, False, True])])
def test_proof_waits_the_longer_the_dearer_it_is(proof: float, expected: list[bool]) -> None:
    """A .5, B .3 costing 3: proving after A saves .5 x 3 and costs .5 x proof more."""
    problem = told(
        one_of({"A": 0.5, "B": 0.3, "C": 0.2}),
        [repair("A", 2.0), repair("B", 3.0), repair("C", 4.0)],
        proof_minutes=proof,
    )
    board = board_for(problem)
    plans = plan(board, starts(board, board.weight[None, :]))
    assert plans.proof[0].tolist() == expected


def test_plan_that_ends_by_handing_over_has_neither_repair_nor_proof_behind_it() -> None:
    """A for 10, then what is left is handed over for 30 rather than B put right for 100; a proof costs 20."""
    problem = told(
        one_of({"A": 0.5, "B": 0.5}), [repair("A", 10.0), repair("B", 100.0)], proof_minutes=20.0, hand_over=30.0
    )
    board = board_for(problem)
    plans = plan(board, starts(board, board.weight[None, :]), first=np.array([0]))
    made = [index for index in plans.order[0] if index != NOBODY]
    assert [board.repairs[index].id for index in made] == ["A"]
    assert plans.proof[0].tolist() == [False] * len(plans.order[0])
    assert plans.reach[0].tolist() == [1.0] + [0.0] * (len(plans.order[0]) - 1)


def test_reach_is_the_chance_that_a_repair_is_made() -> None:
    """Each after the failures of those before it."""
    board = board_for(told(one_of({"A": 0.5, "B": 0.3, "C": 0.2}), [repair(name, 10.0) for name in "ABC"]))
    plans = plan(board, starts(board, board.weight[None, :]))
    by_name = {board.repairs[row].id: reach for row, reach in zip(plans.order[0], plans.reach[0], strict=True)}
    assert by_name == pytest.approx({"A": 1.0, "B": 0.5, "C": 0.2})


def test_second_try_where_it_is_worth_one() -> None:
    """Works .5, two tries: 10 + .5 x 10, and .25 of a car that comes back for 100."""
    belief = one_of({"A": 1.0})
    more = {"comeback_minutes": 100.0, "comeback_money": 0.0}
    once = board_for(told(belief, [repair("A", 10.0, works=0.5)], **more))
    twice = board_for(told(belief, [repair("A", 10.0, works=0.5, tries=2)], **more))
    assert plan(once, starts(once, once.weight[None, :])).cost[0] == pytest.approx(10.0 + 0.5 * 100.0)
    assert plan(twice, starts(twice, twice.weight[None, :])).cost[0] == pytest.approx(15.0 + 0.25 * 100.0)


def test_first_repair_can_be_told() -> None:
    """The rest is chosen: B first, then A, then C."""
    board = board_for(told(one_of({"A": 0.5, "B": 0.3, "C": 0.2}), [repair(name, 10.0) for name in "ABC"]))
    row = {each.id: index for index, each in enumerate(board.repairs)}
    plans = plan(board, starts(board, board.weight[None, :]), first=np.array([row["B"]]))
    assert [board.repairs[index].id for index in plans.order[0] if index != NOBODY] == ["B", "A", "C"]
    assert plans.cost[0] == pytest.approx(10.0 + 0.7 * 10.0 + 0.2 * 10.0)


def many_faults(count: int) -> Problem:
    """As many independent faults as said, two or three there on average, each repaired for 10."""
    names = [f"F{at:02d}" for at in range(count)]
    rng = np.random.default_rng(5)
    sets = rng.random((400, count)) < 2.5 / count
    sets[~sets.any(axis=1), 0] = True
    belief = Toy(tuple(map(fault, names)), sets, np.full(len(sets), 1.0 / len(sets)), {})
    return told(belief, [repair(name, 10.0) for name in names], proof_minutes=5.0)


def test_plan_is_never_cut_short() -> None:
    """Thirty suspects: all thirty repairs stand in the plan, for a car that comes back must not be how one looks."""
    board = board_for(many_faults(30))
    plans = plan(board, starts(board, board.weight[None, :]))
    assert sorted(plans.order[0].tolist()) == list(range(len(board.repairs)))
    assert len(board.repairs) == 30


def test_choosing_several_at_a_time_far_down_costs_next_to_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Within 2 % of choosing each repair anew."""
    board = board_for(many_faults(30))
    begin = starts(board, board.weight[None, :])
    several = plan(board, begin).cost[0]
    monkeypatch.setattr(plans_module, "ONE_BY_ONE", 100)
    one_by_one = plan(board, begin).cost[0]
    assert several == pytest.approx(one_by_one, rel=0.02)


@pytest.mark.parametrize(
    ("proof", "expected"),
    [
        (1.0, [False, True, True]),
        (5.0, [False, True, False]),  # after A .8 x 3 against .2 x 5; after B .05 x 5 against .15 x 5
        (10.0, [False, True, False]),
        (13.0, [False, False, True]),  # not after A: .8 x 3 against .2 x 13; after B .85 x 5 against .15 x 13
    ],
)
def test_what_a_proof_has_shown_counts_no_second_time(proof: float, expected: list[bool]) -> None:
    """A .8, then B .05 costing 3, then C costing 5: after B only what B added can be shown."""
    problem = told(
        one_of({"A": 0.8, "B": 0.05, "C": 0.15}),
        [repair("A", 1.0), repair("B", 3.0), repair("C", 5.0)],
        proof_minutes=proof,
    )
    board = board_for(problem)
    row = {each.id: index for index, each in enumerate(board.repairs)}
    order = np.array([[row["A"], row["B"], row["C"]]])
    plans = plan(board, starts(board, board.weight[None, :]), order=order)
    assert plans.proof[0].tolist() == expected
    assert plans.cost[0] == pytest.approx(walked(problem, board, plans, 0))


def test_proof_is_put_off_where_it_would_be_closed_for() -> None:
    """A and B behind one cover of 10: proving between them saves .5 x 10 and costs .5 x (proof + 10 to open again)."""
    cover = AccessGraph({"cover": AccessTime(6.0, 4.0)})
    stays = AccessGraph({"cover": AccessTime(6.0, 4.0, stays=True)})
    belief = one_of({"A": 0.5, "B": 0.5})
    repairs = [repair(name, 10.0, access=("cover",)) for name in "AB"]
    for access, between in ((cover, False), (stays, True)):
        board = board_for(told(belief, repairs, proof_minutes=5.0, access=access))
        plans = plan(board, starts(board, board.weight[None, :]))
        assert plans.proof[0].tolist() == [False, between]
