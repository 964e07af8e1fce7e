"""Contributions joined part after part: the same chances however soon what was joined gets a variable of its own."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.fabric import Fabric, View
from knowngood.belief.groups import Lattice, Rule
from tests.unit.belief.test_groups import joined
from tests.unit.belief.test_lone import marginal

SIZES = (2, 3, 4, 2)
CHANCES = [np.array([0.6, 0.4]), np.array([0.5, 0.3, 0.2]), np.array([0.4, 0.3, 0.2, 0.1]), np.array([0.9, 0.1])]
VALUES = [np.array([0, 1]), np.array([0, 1, 2]), np.array([0, 2, 1, 2]), np.array([0, 2])]


def woven() -> tuple[Fabric, list[View]]:
    """Four variables with their chances, each of which contributes up to two."""
    fabric = Fabric()
    parts = []
    for size, chance, value in zip(SIZES, CHANCES, VALUES, strict=True):
        variable = fabric.variable(size, seat=1 + len(parts) % 2)
        fabric.table((variable,), chance)
        parts.append(View((variable,), value))
    return fabric, parts


def by_hand(rule: Rule) -> list[float]:
    """Chance of each joint contribution, one variable after another."""
    known = {0: 1.0}
    for chance, value in zip(CHANCES, VALUES, strict=True):
        after: dict[int, float] = {}
        for so_far, weight in known.items():
            for one, more in zip(chance.tolist(), value.tolist(), strict=True):
                state = joined(rule, so_far, more)
                after[state] = after.get(state, 0.0) + weight * one
        known = after
    return [known.get(state, 0.0) for state in range(rule.most + 1)]


@pytest.mark.parametrize("rule", [Rule(adds=False, most=2), Rule(adds=True, most=3)])
@pytest.mark.parametrize("most_cells", [1, 4, 8, 1000])
def test_chained_is_joined_one_after_another(rule: Rule, most_cells: int) -> None:
    """Worst wins or counted, all in one table or carried along."""
    fabric, parts = woven()
    whole = fabric.own(fabric.chained(parts, rule, most_cells), rule.most + 1)
    assert whole.value.tolist() == list(range(rule.most + 1))
    assert marginal(fabric, whole.scope[0]) == pytest.approx(by_hand(rule))


def test_gathered_codes_are_joint_contributions() -> None:
    """To two nodes at once, a worst level and a count: the chance of each code is that of its pair, by hand."""
    fabric, parts = woven()
    rules = [Rule(adds=False, most=2), Rule(adds=True, most=3)]
    lattice = Lattice(rules)
    codes = [View(part.scope, part.value * lattice.weights[0] + part.value * lattice.weights[1]) for part in parts]
    view = fabric.own(fabric.gathered(codes, lattice), 12)
    for position, rule in enumerate(rules):
        chance = [0.0] * (rule.most + 1)
        for state, one in enumerate(marginal(fabric, view.scope[0])):
            chance[int(lattice.column(view.value[[state]], position)[0])] += one
        assert chance == pytest.approx(by_hand(rule))


def test_no_more_cells_than_said_where_states_are_few() -> None:
    """Carried along in a variable of three states, no view spans more than twelve cells; let go, one spans 48."""
    fabric, parts = woven()
    assert fabric.cells(fabric.chained(parts, Rule(adds=False, most=2), 12).scope) <= 12
    fabric, parts = woven()
    assert fabric.cells(fabric.chained(parts, Rule(adds=False, most=2), 1000).scope) == 48


def test_variable_of_few_states_needs_no_other() -> None:
    """A view of one variable of no more states stays as it is; of more states it gets one."""
    fabric, parts = woven()
    assert fabric.own(parts[1], 3) is parts[1]
    assert fabric.own(parts[2], 3).scope == (len(SIZES),)
    nothing = View((), np.zeros((), dtype=np.intp))
    assert fabric.own(nothing, 3) is nothing


def test_seat_of_the_whole_engine_comes_last() -> None:
    """A view sits where the first of its variables does; one of nothing but the engine behind all cylinders."""
    fabric = Fabric()
    engine, third, first = fabric.variable(2), fabric.variable(2, 3), fabric.variable(2, 1)
    square = np.zeros((2, 2), dtype=np.intp)
    assert fabric.seat_of(View((engine, third), square)) == 3
    assert fabric.seat_of(View((third, first), square)) == 1
    assert fabric.seat_of(View((engine,), square[0])) > 12
