"""The nodes and their faults as one network of tables.

Variables: a group of faults, a fault that has a history of its own, the state
of a node, an unknown healthy level. The worst of many, or a count of many, is a
chain of small tables, cylinder after cylinder, so that the cost grows with the
number of faults and not with the number of their sets.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.elimination import Array, Pass, Tree
from knowngood.belief.groups import Group, Rule
from knowngood.belief.nodes import Node
from knowngood.belief.timeline import Instance
from knowngood.car import Place

MERGE_CELLS = 4000
LAST_SEAT = 99
MOST_STATES = 600


@dataclass(frozen=True)
class Clue:
    """Evidence on one node (or one fault): its table over the node's states, or over (level, state).

    ``entry`` is the index of the entry it came from; ``level`` the unknown healthy level it shares, if any.
    """

    entry: int
    table: Array
    node: int = -1
    instance: Instance | None = None
    level: str = ""


class Network:
    """Structure and tables for a set of nodes and clues.

    Parameters
    ----------
    nodes : sequence of Node
    clues : sequence of Clue
    chance : mapping Instance -> float
        Chance of each root instance.
    left_of : mapping Instance -> (Instance, chance that the cure failed)
        Instances that stem from another.
    levels : mapping name -> number of points
        Unknown healthy levels, each even over its grid.
    seat : callable
        Where a place sits along the engine (0: engine or bank; cylinders from 1 on, neighbours next to each other).
        Chains run from seat to seat, so that a cylinder can be summed out before the next is met.
    """

    def __init__(
        self,
        nodes: Sequence[Node],
        clues: Sequence[Clue],
        chance: Mapping[Instance, float],
        left_of: Mapping[Instance, tuple[Instance, float]],
        levels: Mapping[str, int],
        seat: Callable[[Place], int],
    ) -> None:
        self.seat = seat
        self.seats: list[int] = []
        self.nodes = nodes
        self.clues = list(clues)
        self.sizes: list[int] = []
        self.scopes: list[tuple[int, ...]] = []
        self.tables: list[Array] = []
        self.lone: dict[Instance, int] = {}
        self.groups: list[tuple[int, Group, tuple[Instance, ...]]] = []
        self.group_tables: list[int] = []
        self.level_variable = {name: self._variable(points) for name, points in levels.items()}
        for name, points in levels.items():
            self._table((self.level_variable[name],), np.full(points, 1.0 / points))
        feeds = self._feeds(nodes)
        alone = {clue.instance for clue in clues if clue.instance is not None}
        for instance, (parent, _) in left_of.items():
            if instance in feeds or instance in alone:
                alone.update((instance, parent))
        for instance in sorted(alone, key=lambda one: one.generation):
            self._add_lone(instance, chance, left_of)
        inputs = self._add_groups(nodes, feeds, chance)
        self.node_variable = self._add_nodes(nodes, inputs)
        self.clue_index = [self._add_clue(clue) for clue in clues]
        self.tree = Tree(self.scopes, self.sizes)
        self.arranged = [self.tree.arrange(index, table) for index, table in enumerate(self.tables)]

    def _variable(self, size: int, seat: int = 0) -> int:
        self.sizes.append(size)
        self.seats.append(seat)
        return len(self.sizes) - 1

    def _table(self, scope: tuple[int, ...], table: Array) -> int:
        self.scopes.append(scope)
        self.tables.append(np.asarray(table, dtype=float))
        return len(self.scopes) - 1

    @staticmethod
    def _feeds(nodes: Sequence[Node]) -> dict[Instance, list[tuple[int, int]]]:
        feeds: dict[Instance, list[tuple[int, int]]] = {}
        for index, node in enumerate(nodes):
            for instance, contribution in node.faults.items():
                feeds.setdefault(instance, []).append((index, contribution))
        return feeds

    def _add_lone(
        self,
        instance: Instance,
        chance: Mapping[Instance, float],
        left_of: Mapping[Instance, tuple[Instance, float]],
    ) -> None:
        if instance in self.lone:
            return
        variable = self._variable(2, self.seat(instance.home))
        self.lone[instance] = variable
        if instance in left_of:
            parent, failed = left_of[instance]
            self._add_lone(parent, chance, left_of)
            table = np.array([[1.0, 0.0], [1.0 - failed, failed]])
            self._table((self.lone[parent], variable), table)
        else:
            p = chance[instance]
            self._table((variable,), np.array([1.0 - p, p]))

    def _add_groups(
        self,
        nodes: Sequence[Node],
        feeds: Mapping[Instance, list[tuple[int, int]]],
        chance: Mapping[Instance, float],
    ) -> list[list[tuple[int, tuple[int, ...]]]]:
        inputs: list[list[tuple[int, tuple[int, ...]]]] = [[] for _ in nodes]
        gathered: dict[object, list[Instance]] = {}
        for instance, fed in feeds.items():
            if instance in self.lone:
                for node, contribution in fed:
                    inputs[node].append((self.lone[instance], (0, contribution)))
            elif instance.home.kind == "cylinder":
                gathered.setdefault(instance.home, []).append(instance)
            else:
                gathered.setdefault(tuple(node for node, _ in fed), []).append(instance)
        for instances in gathered.values():
            for together in self._foldable(nodes, feeds, instances):
                self._add_group(nodes, feeds, chance, inputs, together)
        return inputs

    def _foldable(
        self, nodes: Sequence[Node], feeds: Mapping[Instance, list[tuple[int, int]]], instances: list[Instance]
    ) -> list[list[Instance]]:
        """All faults of a cylinder as one group where its states are not too many, else by the nodes they touch."""
        bound = 1
        for node in {node for instance in instances for node, _ in feeds[instance]}:
            bound *= len({level for one in instances for at, level in feeds[one] if at == node}) + 1
        if bound <= MOST_STATES:
            return [instances]
        by_nodes: dict[tuple[int, ...], list[Instance]] = {}
        for instance in instances:
            by_nodes.setdefault(tuple(node for node, _ in feeds[instance]), []).append(instance)
        return list(by_nodes.values())

    def _add_group(
        self,
        nodes: Sequence[Node],
        feeds: Mapping[Instance, list[tuple[int, int]]],
        chance: Mapping[Instance, float],
        inputs: list[list[tuple[int, tuple[int, ...]]]],
        instances: list[Instance],
    ) -> None:
        touched = sorted({node for instance in instances for node, _ in feeds[instance]})
        rules = [Rule(nodes[node].op == "add", nodes[node].size - 1) for node in touched]
        vectors = [tuple(dict(feeds[instance]).get(node, 0) for node in touched) for instance in instances]
        group = Group([chance[instance] for instance in instances], vectors, rules)
        variable = self._variable(len(group.states), min(self.seat(instance.home) for instance in instances))
        self.group_tables.append(self._table((variable,), group.prior))
        self.groups.append((variable, group, tuple(instances)))
        for position, node in enumerate(touched):
            inputs[node].append((variable, group.contribution(position)))

    def _add_nodes(self, nodes: Sequence[Node], inputs: list[list[tuple[int, tuple[int, ...]]]]) -> list[int]:
        variables = [-1] * len(nodes)

        def build(index: int) -> int:
            if variables[index] >= 0:
                return variables[index]
            node = nodes[index]
            fed = [*inputs[index], *((build(source), through) for source, through in node.inputs)]
            if node.op == "net":
                variables[index] = self._net(node, fed)
            else:
                variables[index] = self._chain(node, fed)
            return variables[index]

        for index in range(len(nodes)):
            build(index)
        return variables

    def _net(self, node: Node, fed: list[tuple[int, tuple[int, ...]]]) -> int:
        (first, _), (second, _) = fed
        variable = self._variable(node.size)
        if first == second:  # the same counts on both sides: always even
            self._table((variable,), np.eye(1, node.size, node.shift)[0])
            return variable
        table = np.zeros((self.sizes[first], self.sizes[second], node.size))
        for a in range(self.sizes[first]):
            for b in range(self.sizes[second]):
                table[a, b, a - b + node.shift] = 1.0
        self._table((first, second, variable), table)
        return variable

    def _chain(self, node: Node, fed: list[tuple[int, tuple[int, ...]]]) -> int:
        rule = Rule(node.op == "add", node.size - 1)
        fed = sorted(fed, key=lambda one: (self.seats[one[0]] or LAST_SEAT, one[0]))
        variable = self._variable(node.size, self.seats[fed[-1][0]] if fed and node.faults else 0)
        if not fed:
            self._table((variable,), np.eye(1, node.size)[0])
            return variable
        before = -1
        while fed:
            source, through = fed.pop(0)
            scope = [source]
            reach: NDArray[np.intp] = np.array(through, dtype=np.intp)
            if before >= 0:
                scope.insert(0, before)
                reach = self._joined(np.arange(node.size), reach, rule)
            while fed and fed[0][0] not in scope:
                cells = int(np.prod([self.sizes[v] for v in scope])) * self.sizes[fed[0][0]] * node.size
                if cells > MERGE_CELLS or len(scope) > 3:
                    break
                other, also = fed.pop(0)
                scope.append(other)
                reach = self._joined(reach, np.array(also, dtype=np.intp), rule)
            after = variable if not fed else self._variable(node.size, self.seats[fed[0][0]])
            table = np.zeros((*reach.shape, node.size))
            np.put_along_axis(table, reach[..., None], 1.0, axis=-1)
            self._table((*scope, after), table)
            before = after
        return variable

    @staticmethod
    def _joined(a: NDArray[np.intp], b: NDArray[np.intp], rule: Rule) -> NDArray[np.intp]:
        if rule.adds:
            return np.minimum(np.add.outer(a, b), rule.most)
        return np.maximum.outer(a, b)

    def _add_clue(self, clue: Clue) -> int:
        variable = self.lone[clue.instance] if clue.instance is not None else self.node_variable[clue.node]
        scope = (self.level_variable[clue.level], variable) if clue.level else (variable,)
        return self._table(scope, clue.table)

    def chance_of_none(self, absent: frozenset[Instance], log_chance: float) -> float:
        """Chance that none of the instances is there, all evidence counted; ``log_chance`` is that of the evidence."""
        tables = list(self.arranged)
        for instance, variable in self.lone.items():
            if instance in absent:
                index = self.scopes.index((variable,)) if (variable,) in self.scopes else -1
                if index < 0:  # it stems from another: its table is over both
                    index = next(i for i, scope in enumerate(self.scopes) if len(scope) == 2 and scope[1] == variable)
                mask = np.array([1.0, 0.0])
                tables[index] = self.tree.arrange(index, self.tables[index] * mask)
        for index, (_, group, instances) in zip(self.group_tables, self.groups, strict=True):
            gone = frozenset(position for position, instance in enumerate(instances) if instance in absent)
            if gone:
                tables[index] = group.prior_without(gone)
        return float(np.exp(Pass(self.tree, tables).log_chance - log_chance))

    def run(self, without: frozenset[int] = frozenset()) -> Pass:
        """Messages up for the clues whose entry is not in ``without``."""
        tables = list(self.arranged)
        for clue, index in zip(self.clues, self.clue_index, strict=True):
            if clue.entry in without:
                tables[index] = np.ones_like(tables[index])
        return Pass(self.tree, tables)
