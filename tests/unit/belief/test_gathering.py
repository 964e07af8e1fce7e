"""Which faults become one variable: those of a cylinder, those of the engine that overlap, and not too many at once."""

from __future__ import annotations

from knowngood.belief.gathering import MOST_STATES, bundles, gathered
from knowngood.belief.nodes import Node
from knowngood.belief.timeline import Instance
from knowngood.car import ENGINE, Place

A, B, C = (Instance(name, ENGINE) for name in "abc")
ONE, TWO = Place("cylinder", "1"), Place("cylinder", "2")


def sets_of(nodes: list[Node], feeds: dict[Instance, dict[int, tuple[int, ...]]]) -> dict[frozenset[str], object]:
    """Names of the faults of each variable, and the nodes it touches."""
    return {frozenset(one.fault for one in together): touched for together, touched in gathered(nodes, feeds)}


def test_faults_of_the_engine_are_put_together_where_few_joint_states_can_be() -> None:
    """A acts on two levels and B on one of them: 3 joint states of 4 can be. With C, on a level of its own, all can."""
    nodes = [Node("max", 2) for _ in range(3)]
    feeds = {A: {0: (1,), 1: (1,)}, B: {0: (1,)}, C: {2: (1,)}}
    assert sets_of(nodes, feeds) == {frozenset("ab"): (0, 1), frozenset("c"): (2,)}


def test_faults_of_the_engine_that_add_up_stay_apart() -> None:
    """However they overlap: each more of them is another sum."""
    nodes = [Node("add", 9), Node("max", 2)]
    feeds = {A: {0: (1,), 1: (1,)}, B: {0: (1,)}, C: {1: (1,)}}
    assert sets_of(nodes, feeds) == {frozenset("a"): (0, 1), frozenset("b"): (0,), frozenset("c"): (1,)}


def test_faults_of_one_cylinder_go_together_and_a_part_of_two_by_itself() -> None:
    """A coil that was on 1 and is on 2 touches both."""
    nodes = [Node("max", 3, cylinder=1), Node("max", 3, cylinder=1), Node("max", 3, cylinder=2)]
    plug, valve, other, coil = (Instance(name, at) for name, at in zip("pvok", (ONE, ONE, TWO, ONE), strict=True))
    feeds = {plug: {0: (1,)}, valve: {1: (2,)}, other: {2: (1,)}, coil: {0: (2,), 2: (2,)}}
    assert sets_of(nodes, feeds) == {frozenset("pv"): (0, 1), frozenset("o"): (2,), frozenset("k"): (0, 2)}


def test_faults_of_one_cylinder_with_too_many_joint_states_go_by_the_nodes_they_touch() -> None:
    """Nine faults add up to nought to nine on each of three nodes: 10 x 10 x 10 states at once, 10 on each alone."""
    nodes = [Node("add", 10, cylinder=1) for _ in range(3)]
    feeds = {Instance(f"{node} {number}", ONE): {node: (1,)} for node in range(3) for number in range(9)}
    assert MOST_STATES < 10**3
    found = sets_of(nodes, feeds)
    assert sorted(found.values()) == [(0,), (1,), (2,)]
    assert sorted(map(len, found)) == [9, 9, 9]
    few = {one: fed for one, fed in feeds.items() if 2 not in fed}
    assert list(sets_of(nodes, few).values()) == [(0, 1)]


def test_nodes_of_a_cylinder_and_worst_levels_that_reach_one_are_joined_once() -> None:
    """Node 2 is of the engine and feeds the cylinder; 3 is of the engine and feeds nothing; 4 is a sum that feeds."""
    fed_by = [(2, (0, 1)), (4, (0, 1))]
    nodes = [
        Node("max", 2, {A: 1}, cylinder=1, inputs=fed_by),
        Node("max", 2, {B: 1}, cylinder=1),
        Node("max", 2, {A: 1}),
        Node("max", 2, {B: 1}),
        Node("add", 2, {C: 1}),
    ]
    feeds = {A: {0: (1,), 2: (1,)}, B: {1: (1,), 3: (1,)}, C: {4: (1,)}}
    assert bundles(nodes, feeds) == {0: (0, 1), 1: (0, 1), 2: (2,)}
