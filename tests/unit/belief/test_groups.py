"""Faults folded into one variable, and told apart again."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import numpy as np
import pytest

from knowngood.belief.groups import Group, Lattice, Rule
from knowngood.belief.ordering import TooTangled
from knowngood.belief.way_back import WaysBack

WORST = Rule(adds=False, most=2)
COUNT = Rule(adds=True, most=2)


def joined(rule: Rule, a: int, b: int) -> int:
    """Two contributions as one, the slow and obvious way."""
    return min(a + b, rule.most) if rule.adds else max(a, b)


def by_hand(chances: list[float], vectors: list[tuple[int, ...]], rules: list[Rule]) -> dict[tuple[int, ...], float]:
    """Chance of each joint contribution, fault set by fault set."""
    result: dict[tuple[int, ...], float] = {}
    for bits in itertools.product((0, 1), repeat=len(chances)):
        state, chance = (0,) * len(rules), 1.0
        for bit, p, vector in zip(bits, chances, vectors, strict=True):
            chance *= p if bit else 1.0 - p
            if bit:
                state = tuple(joined(rule, a, b) for rule, a, b in zip(rules, state, vector, strict=True))
        result[state] = result.get(state, 0.0) + chance
    return result


def alone(chances: list[float], vectors: list[tuple[int, ...]], rules: list[Rule]) -> Group:
    """Faults of one way each."""
    return Group([(chance,) for chance in chances], [(vector,) for vector in vectors], rules)


def drawn_rows(group: Group, states: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Rows that hold in each draw (draw, row), with another group beside it that must not mix with it."""
    other = alone([0.3], [(1,)], [Rule(adds=False, most=1)])
    ways = WaysBack([other.way_back, group.way_back])
    of, draws = np.repeat([0, 1], len(states)), np.tile(np.arange(len(states)), 2)
    item, row = ways.rows(of, np.concatenate([draws[: len(states)] % 2, states]), rng)
    assert set(draws[item[of[item] == 0]]) == set(range(1, len(states), 2))
    rows = np.zeros((len(states), len(group.chances)), dtype=bool)
    rows[draws[item[of[item] == 1]], row[of[item] == 1]] = True
    return rows


def test_rules() -> None:
    """The worst wins; counts add up to the most."""
    lattice = Lattice([WORST, COUNT, COUNT, Rule(adds=True, most=5)])
    after = lattice.joined(lattice.joined(np.zeros(1, dtype=np.intp), (1, 1, 1, 1)), (2, 2, 1, 2))
    assert [int(lattice.column(after, position)[0]) for position in range(4)] == [2, 2, 2, 3]


def test_two_causes_of_one_thing() -> None:
    """0.1 or 0.2 alone or together: 1 - 0.9 x 0.8 = 0.28; given it, each by its share: 0.1 / 0.28 and 0.2 / 0.28."""
    group = alone([0.1, 0.2], [(1,), (1,)], [Rule(adds=False, most=1)])
    assert group.states == [(0,), (1,)]
    assert group.prior == pytest.approx([0.72, 0.28])
    assert group.split(np.array([0.0, 1.0])) == pytest.approx([0.1 / 0.28, 0.2 / 0.28])
    assert group.split(group.prior) == pytest.approx([0.1, 0.2])


FAULTS = [0.1, 0.2, 0.3, 0.4, 0.05]
VECTORS = [(1, 0), (0, 1), (1, 0), (2, 1), (0, 2)]


@pytest.mark.parametrize("rules", [[WORST, WORST], [WORST, COUNT], [COUNT, COUNT]])
def test_states_and_their_chances(rules: list[Rule]) -> None:
    """Five faults on two nodes, worst wins or counted, as by hand."""
    group = alone(FAULTS, VECTORS, rules)
    expected = {state: chance for state, chance in by_hand(FAULTS, VECTORS, rules).items() if chance > 0.0}
    assert dict(zip(group.states, group.prior, strict=True)) == pytest.approx(expected)
    assert tuple(group.contribution(1)) == tuple(state[1] for state in group.states)


@pytest.mark.parametrize("rules", [[WORST, WORST], [WORST, COUNT], [COUNT, COUNT]])
def test_what_is_learnt_of_the_group_is_split_as_by_hand(rules: list[Rule]) -> None:
    """Any chance of its states at all, against each fault set by hand."""
    group = alone(FAULTS, VECTORS, rules)
    learnt = np.random.default_rng(5).random(len(group.states))
    learnt /= learnt.sum()
    factor = dict(zip(group.states, learnt / group.prior, strict=True))
    expected = np.zeros(len(FAULTS))
    for bits in itertools.product((0, 1), repeat=len(FAULTS)):
        state = (0,) * len(rules)
        for bit, vector in zip(bits, VECTORS, strict=True):
            if bit:
                state = tuple(joined(rule, a, b) for rule, a, b in zip(rules, state, vector, strict=True))
        chance = np.prod([p if bit else 1.0 - p for bit, p in zip(bits, FAULTS, strict=True)])
        expected += np.array(bits) * chance * factor[state]
    assert group.split(learnt) == pytest.approx(expected)


def test_without_some_of_its_faults() -> None:
    """Chances of the states with two of five absent sum to the chance that both are."""
    group = alone(FAULTS, VECTORS, [WORST, COUNT])
    without = group.prior_without(frozenset({1, 3}))
    assert without.sum() == pytest.approx(0.8 * 0.6)
    rest = by_hand([0.1, 0.3, 0.05], [(1, 0), (1, 0), (0, 2)], [WORST, COUNT])
    expected = [0.8 * 0.6 * rest.get(state, 0.0) for state in group.states]
    assert without == pytest.approx(expected)


def test_draws_of_a_state_make_that_state() -> None:
    """Faults drawn for a state always join to it, each about as often as its split says."""
    rules = [WORST, COUNT]
    group = alone(FAULTS, VECTORS, rules)
    rng = np.random.default_rng(3)
    states = rng.choice(len(group.states), size=20_000, p=group.prior)
    present = drawn_rows(group, states, rng)
    for row in range(0, 20_000, 500):
        state = (0,) * len(rules)
        for there, vector in zip(present[row], VECTORS, strict=True):
            if there:
                state = tuple(joined(rule, a, b) for rule, a, b in zip(rules, state, vector, strict=True))
        assert state == group.states[states[row]]
    assert present.mean(axis=0) == pytest.approx(FAULTS, abs=0.015)


def test_thirty_causes_of_one_complaint_are_two_states() -> None:
    """As many as there are: the complaint is there or not, and each is split off again."""
    chances = [0.001 * (1 + index) for index in range(30)]
    group = alone(chances, [(1,)] * 30, [Rule(adds=False, most=1)])
    assert len(group.states) == 2
    any_of_them = 1.0 - float(np.prod([1.0 - p for p in chances]))
    assert group.prior == pytest.approx([1.0 - any_of_them, any_of_them])
    assert group.split(np.array([0.0, 1.0])) == pytest.approx([p / any_of_them for p in chances])


WAYS = [((1, 0), (0, 0), (2, 2)), ((0, 1),), ((1, 1), (1, 0)), ((1, 0),)]
SHARES = [(0.1, 0.05, 0.2), (0.3,), (0.15, 0.25), (0.4,)]


def every_way() -> Iterator[tuple[tuple[int, ...], list[bool], float]]:
    """Every choice of a way, or none, for each fault: joint state, rows that hold, chance."""
    for chosen in itertools.product(*(range(len(ways) + 1) for ways in WAYS)):
        state, rows, chance = (0, 0), [], 1.0
        for way, ways, shares in zip(chosen, WAYS, SHARES, strict=True):
            rows += [way == number for number in range(1, len(ways) + 1)]
            chance *= shares[way - 1] if way else 1.0 - sum(shares)
            if way:
                state = tuple(
                    joined(rule, a, b) for rule, a, b in zip([WORST, COUNT], state, ways[way - 1], strict=True)
                )
        yield state, rows, chance


def test_one_way_or_another_as_by_hand() -> None:
    """Faults that are one thing or another: chances of the states, rows told apart, some of them ruled out."""
    group = Group(SHARES, WAYS, [WORST, COUNT])
    learnt = np.random.default_rng(7).random(len(group.states))
    learnt = np.where(group.prior > 0.0, learnt, 0.0) / learnt.sum()
    factor = dict(zip(group.states, learnt / np.where(group.prior > 0.0, group.prior, 1.0), strict=True))
    prior, expected, without = dict.fromkeys(group.states, 0.0), np.zeros(7), dict.fromkeys(group.states, 0.0)
    for state, rows, chance in every_way():
        prior[state] += chance
        expected += np.array(rows) * chance * factor[state]
        without[state] += 0.0 if rows[1] or rows[3] else chance
    assert group.prior == pytest.approx(list(prior.values()))
    assert group.split(learnt) == pytest.approx(expected)
    assert group.prior_without(frozenset({1, 3})) == pytest.approx(list(without.values()))


def test_draws_of_one_way_or_another() -> None:
    """Rows drawn for a state join to it, one way a fault at most, each as often as its split says."""
    group = Group(SHARES, WAYS, [WORST, COUNT])
    rng = np.random.default_rng(3)
    states = rng.choice(len(group.states), size=20_000, p=group.prior)
    rows = drawn_rows(group, states, rng)
    lawful = {(state, tuple(rows)) for state, rows, _ in every_way()}
    assert all((group.states[state], tuple(map(bool, row))) in lawful for state, row in zip(states, rows, strict=True))
    assert rows.mean(axis=0) == pytest.approx([one for shares in SHARES for one in shares], abs=0.015)


def test_more_joint_states_than_whole_numbers_is_said() -> None:
    """Forty nodes of four states: the evidence is then parted, as where a table does not fit."""
    with pytest.raises(TooTangled):
        Lattice([Rule(adds=False, most=3)] * 40)


def test_two_contributions_as_one_place_by_place() -> None:
    """Every pair of joint contributions, against the rule of each place."""
    rules = [WORST, COUNT, Rule(adds=True, most=3)]
    lattice = Lattice(rules)
    states = list(itertools.product(range(3), range(3), range(4)))
    codes = np.array(
        [sum(part * weight for part, weight in zip(state, lattice.weights, strict=True)) for state in states]
    )
    for state, code in zip(states, codes.tolist(), strict=True):
        both = lattice.both(np.full(len(codes), code), codes)
        for position, rule in enumerate(rules):
            expected = [joined(rule, state[position], other[position]) for other in states]
            assert lattice.column(both, position).tolist() == expected


def test_reachable_stops_beyond_the_most() -> None:
    """Three faults of a count to 2 beside one of a worst level reach six states: five are too few for them."""
    members = [((1, 0),), ((1, 0),), ((0, 2),)]
    lattice = Lattice([COUNT, WORST])
    found = lattice.reachable(members, 6)
    assert found is not None
    assert len(found) == 6
    assert lattice.reachable(members, 5) is None


def test_a_group_that_would_eat_all_memory_is_said() -> None:
    """Twenty faults, each with a node of its own, can do a million things together: tangled, before they are made."""
    rules = [Rule(adds=False, most=1)] * 20
    vectors = [tuple(int(node == fault) for node in range(20)) for fault in range(20)]
    with pytest.raises(TooTangled):
        alone([0.1] * 20, vectors, rules)
    assert len(alone([0.1] * 10, [vector[:10] for vector in vectors[:10]], rules[:10]).codes) == 1024


def test_ways_times_states_are_held_too() -> None:
    """One fault that shows or not in each of twelve looks: as many ways as states, and a table of both."""
    rules = [Rule(adds=False, most=1)] * 12
    ways = tuple(itertools.product((0, 1), repeat=12))[1:]
    with pytest.raises(TooTangled):
        Group([(0.1 / len(ways),) * len(ways)], [ways], rules)


@pytest.mark.parametrize("seed", range(20))
def test_what_can_be_reached_is_what_every_choice_of_faults_does(seed: int) -> None:
    """Many of them alike, some that add up, some that are one thing or another."""
    rng = np.random.default_rng(seed)
    rules = [Rule(adds=False, most=3), Rule(adds=bool(seed % 2), most=3)]
    kinds = [tuple(tuple(map(int, rng.integers(0, 3, 2))) for _ in range(rng.integers(1, 3))) for _ in range(3)]
    members = [kinds[kind] for kind in rng.integers(0, 3, 6)]
    expected = set()
    for chosen in itertools.product(*([(0, 0), *ways] for ways in members)):
        state = (0, 0)
        for one in chosen:
            state = tuple(joined(rule, a, b) for rule, a, b in zip(rules, state, one, strict=True))
        expected.add(state)
    lattice = Lattice(rules)
    found = lattice.reachable(members, 100)
    assert found is not None
    assert {(code // lattice.weights[0], code % lattice.weights[0]) for code in found.tolist()} == expected
