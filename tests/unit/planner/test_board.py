"""The problem as arrays: what is left out, what is kept, what things cost."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.protocol import Scenarios
from knowngood.planner.board import Board, board_of
from knowngood.planner.problem import AccessGraph, AccessTime, Problem
from tests.naive.toy_belief import fault, independent, one_of
from tests.unit.planner.small import check, repair, told


def board_for(problem: Problem) -> Board:
    return board_of(problem, problem.belief.scenarios(1000, np.random.default_rng(0)))


def ids(board: Board) -> list[str]:
    return [each.id for each in board.repairs]


def test_repairs_of_what_cannot_be_there_are_left_out() -> None:
    """And faults that have no chance with them."""
    board = board_for(told(one_of({"A": 0.6, "B": 0.4, "C": 0.0}), [repair(name, 10.0) for name in "ABC"]))
    assert ids(board) == ["A", "B"]
    assert board.present.shape[1] == 2
    assert board.weight.sum() == pytest.approx(1.0)


def test_only_what_must_be_put_right() -> None:
    """Other faults are in no repair's way: fault sets that differ in them only are one pattern."""
    problem = told(
        independent({"A": 0.5, "B": 0.5}), [repair(name, 10.0) for name in "AB"], must=frozenset({fault("A")})
    )
    board = board_for(problem)
    assert ids(board) == ["A"]
    assert board.present.shape[1] == 1
    assert board.present.tolist() == [[0.0], [1.0]]
    assert board.weight == pytest.approx([1.0 / 3.0, 2.0 / 3.0])  # B alone; A with and without B
    assert board.gathered(np.array([[1.0, 2.0, 4.0]])).sum() == 7.0


def test_faults_that_do_not_matter_where_the_belief_says_so() -> None:
    """A fault present but behind nothing that was found is not repaired."""
    problem = told(one_of({"A": 0.5, "B": 0.5}), [repair(name, 10.0) for name in "AB"])
    sets = np.array([[True, True], [False, True]])
    scenarios = Scenarios(np.array([0.5, 0.5]), sets, True, matters=sets & np.array([True, False]))
    assert ids(board_of(problem, scenarios)) == ["A"]


def test_fault_without_a_repair() -> None:
    """Left out where handing over is no option; else one column that nothing ends."""
    belief = one_of({"A": 0.6, "B": 0.3, "C": 0.1})
    without = board_for(told(belief, [repair("A", 10.0)]))
    assert without.present.tolist() == [[0.0], [1.0]]
    assert without.weight == pytest.approx([0.4, 0.6])
    rest = board_for(told(belief, [repair("A", 10.0)], hand_over=50.0))
    assert rest.present.tolist() == [[0.0, 1.0], [1.0, 0.0]]
    assert rest.fixes.tolist() == [[1.0, 0.0]]


def test_one_repair_may_end_several_faults() -> None:
    """With the chance that it works; the cheapest repair of each is known."""
    belief = one_of({"A": 0.5, "B": 0.5})
    board = board_for(told(belief, [repair("A", 10.0), repair("both", 30.0, "A", "B", works=0.9)]))
    assert board.fixes.tolist() == [[1.0, 0.0], [0.9, 0.9]]
    assert board.cheapest.tolist() == [10.0, 30.0]


def test_access_opening_and_closing_is_one_price() -> None:
    """In money; what lies before a step is needed too; steps only checks need are known as well."""
    graph = AccessGraph(
        {
            "cover": AccessTime(6.0, 4.0),
            "duct": AccessTime(3.0, 5.0, after=("cover",), stays=True),
            "pan": AccessTime(9.0),
        },
        frozenset({"cover"}),
    )
    problem = told(
        one_of({"A": 0.5, "B": 0.5}),
        [repair("A", 10.0, access=("duct",)), repair("B", 10.0)],
        [check("look", 1.0, access=("pan",))],
        access=graph,
        rate_per_hour=30.0,
    )
    board = board_for(problem)
    assert board.steps == ("cover", "duct", "pan")
    assert board.access_cost.tolist() == [5.0, 4.0, 4.5]
    assert board.opened.tolist() == [True, False, False]
    assert board.stays.tolist() == [False, True, False]
    assert board.mask.tolist() == [[True, True, False], [False, False, False]]


def test_wrong_pass_is_priced() -> None:
    """A proof that misses one fault in five brings one car in five back."""
    board = board_for(
        told(one_of({"A": 1.0}), [repair("A", 10.0)], proof_sees=0.8, comeback_minutes=50.0, comeback_money=25.0)
    )
    assert board.wrong_pass_cost == pytest.approx(0.2 * 75.0)
    assert board.comeback_cost == 75.0
