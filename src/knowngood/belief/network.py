"""The nodes and their faults as one network of tables.

Variables: what the faults of one place do together, a fault that has a history of its own, an unknown healthy level,
and the few node states through which cylinders and engine speak to each other. Everything else follows from those
(:mod:`knowngood.belief.fabric`). The worst of many, or a count of many, is a chain of small tables, cylinder after
cylinder, so that the cost grows with the number of faults and not with the number of their sets.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping, Sequence
from copy import copy
from functools import cached_property

import numpy as np

from knowngood.belief.clue import Clue
from knowngood.belief.common_causes import causes_in_state
from knowngood.belief.courses import Course, root_of
from knowngood.belief.elimination import Array, Pass, Tree
from knowngood.belief.fabric import Fabric, Levels, View
from knowngood.belief.follow_on import Stem
from knowngood.belief.gathering import Fed, bundles, fed_by, gathered, vector_of
from knowngood.belief.groups import Lattice, Rule, group_of
from knowngood.belief.lone import laid_alone
from knowngood.belief.nodes import Node
from knowngood.belief.spreading import Spreading
from knowngood.belief.thresholds import below, looked_through, steps
from knowngood.belief.timeline import Instance
from knowngood.car import Place

ALONE = np.ones(1)
NONE = -1  # no variable, or no table yet
LOCAL_CELLS = 3_000  # joint states a chain inside a cylinder carries along; those of a bank or the engine meet many
WHOLE_CELLS = 30


class Network:
    """Structure and tables for a set of nodes and clues.

    Parameters
    ----------
    nodes : sequence of Node
    clues : sequence of Clue
    chance : mapping Instance -> array (cause,)
        Chance of each root instance in each state of the common causes.
    stems : mapping Instance -> Stem
        Root instances that stem from others.
    courses : mapping Instance -> Course
        Of every root that the nodes, the clues or the stems meet.
    levels : mapping name -> number of points
        Unknown healthy levels, each even over its grid.
    seat : callable
        Where a place sits along the engine (0: engine or bank; cylinders from 1 on, neighbours next to each other).
        Chains run from seat to seat, so that a cylinder can be summed out before the next is met.
    asked : sequence of int
        Nodes whose states will be asked for.
    common : array (cause,)
        Chance of each state of the common causes; one state where there are none.
    short : bool
        Whether what a cylinder's node hands on has a variable of its own where that tells few of many states apart:
        more variables in smaller tables. Which way needs less is seen only when both are laid out.
    thresholds : bool
        Whether worst levels of the whole engine that are read and not asked for are laid out below thresholds
        (:mod:`knowngood.belief.thresholds`); tables then have signs, and no draws can be made of them.

    Raises
    ------
    TooTangled
        The tables would not fit.

    Attributes
    ----------
    shortens : bool
        Whether it would be another one, were it ``short``.
    """

    def __init__(
        self,
        nodes: Sequence[Node],
        clues: Sequence[Clue],
        chance: Mapping[Instance, Array],
        stems: Mapping[Instance, Stem],
        courses: Mapping[Instance, Course],
        levels: Mapping[str, int],
        seat: Callable[[Place], int],
        asked: Sequence[int] = (),
        common: Array = ALONE,
        *,
        short: bool = False,
        thresholds: bool = False,
    ) -> None:
        self.seat = seat
        self.short, self.shortens = short, False
        self.nodes = nodes
        self.clues = list(clues)
        self.fabric = fabric = Fabric()
        self.lone: dict[Instance, int] = {}
        self.groups: list[Fed] = []
        self.level_variable = {name: fabric.variable(points) for name, points in levels.items()}
        for name, points in levels.items():
            fabric.table((self.level_variable[name],), np.full(points, 1.0 / points))
        self.parts: list[list[View]] = [[] for _ in nodes]
        self.courses = courses
        self.feeds = fed_by(nodes, courses)
        self.below: dict[int, int] = dict.fromkeys(below(nodes, self.clues, asked) if thresholds else (), NONE)
        self.through = looked_through(nodes, self.clues, self.below)
        self.bundle_of = {} if thresholds else bundles(nodes, self.feeds)
        self._views: dict[int, View] = {}
        self._handed: dict[tuple[int, tuple[int, ...]], View] = {}
        self._joined: set[tuple[int, ...]] = set()
        self._owned = self._to_be_owned()
        self.common = common
        self.cause = fabric.variable(len(common)) if len(common) > 1 else NONE
        if self.cause != NONE:
            fabric.table((self.cause,), common)
        self._add_faults(chance, stems)
        self.sinks = self._sinks()
        self.marks = {scope: fabric.table(scope, None) for scope in self.sinks}
        read = [(clue, self._read(clue)) for clue in self.clues]
        self.clue_view = [view for _, view in read]
        self.clue_index = [self._add_clue(clue, view) for clue, view in read]
        self.asked = {node: fabric.table(self.view(node).scope, None) for node in asked}
        self.tree = Tree(fabric.scopes, fabric.sizes)
        self.arranged = [
            None if table is None else self.tree.arrange(index, table) for index, table in enumerate(fabric.tables)
        ]

    def _sinks(self) -> list[tuple[int, ...]]:
        """Variables whose joint chances tell those of the faults: lone ones, groups (with the common causes where these
        bear on them), and the common causes."""
        lone = [(variable,) for variable in self.lone.values()]
        return [*lone, *(self._scope_of(one) for one in self.groups), *([(self.cause,)] if self.cause != NONE else [])]

    def _scope_of(self, one: Fed) -> tuple[int, ...]:
        return (self.cause, one.variable) if len(one.by_cause) > 1 else (one.variable,)

    def _add_faults(self, chance: Mapping[Instance, Array], stems: Mapping[Instance, Stem]) -> None:
        # a fixed order, not a set's: that of elimination hangs on it, and with it every draw
        alone = dict.fromkeys(root_of(clue.instance) for clue in self.clues if clue.instance is not None)
        for root, stem in stems.items():
            alone.update(dict.fromkeys((root, *(parent for parent, _ in stem.parents))))
        for root in alone:
            self._add_lone(root, chance, stems)
            for fed, ways in self.feeds.get(root, {}).items():
                self.parts[fed].append(View((self.lone[root],), np.array([0, *ways])))
        rules = [Rule(node.op == "add", node.size - 1) for node in self.nodes]
        folded = {root: fed for root, fed in self.feeds.items() if root not in self.lone}
        for roots, touched in gathered(self.nodes, folded):
            self._add_group(roots, touched, rules, chance)

    def _add_lone(self, root: Instance, chance: Mapping[Instance, Array], stems: Mapping[Instance, Stem]) -> None:
        """A fault as a variable of its ways, those it stems from before it."""
        if root in self.lone:
            return
        stem = stems.get(root)
        base = chance[root] if stem is None else stem.base
        parents = () if stem is None else stem.parents
        for parent, _ in parents:
            self._add_lone(parent, chance, stems)
        brought = [(self.lone[parent], self.courses[parent], share) for parent, share in parents]
        self.lone[root] = laid_alone(self.fabric, self.cause, base, self.courses[root], brought, self.seat(root.home))

    def _add_group(
        self,
        roots: Sequence[Instance],
        touched: tuple[int, ...],
        rules: Sequence[Rule],
        chance: Mapping[Instance, Array],
    ) -> None:
        vectors = tuple(vector_of(self.feeds[root], touched) for root in roots)
        ruled = tuple(rules[node] for node in touched)
        courses = tuple(self.courses[root] for root in roots)
        given = np.array([chance[root] for root in roots])  # (fault, cause)
        columns = given.T if np.ptp(given, axis=1).any() else given.T[:1]
        by_cause = tuple(
            group_of(
                tuple(course.spread(one) for one, course in zip(column, courses, strict=True)),
                vectors,
                ruled,
            )
            for column in columns.tolist()
        )
        seat = min(self.seat(root.home) for root in roots)
        fed = Fed(self.fabric.variable(len(by_cause[0].codes), seat), by_cause, courses)
        self.fabric.table(self._scope_of(fed), fed.prior)
        self.groups.append(fed)
        for position, node in enumerate(touched):
            self.parts[node].append(View((fed.variable,), by_cause[0].contribution(position)))

    def _to_be_owned(self) -> frozenset[int]:
        """Nodes that get a variable: read with an unknown level, or met by another cylinder or all of the engine."""
        owned = {clue.node for clue in self.clues if clue.level}
        for node in (node for index, node in enumerate(self.nodes) if index not in self.below):
            for source, _ in node.inputs:
                common = source in self.bundle_of and not self.nodes[source].cylinder
                if not common and (
                    self.nodes[source].cylinder != node.cylinder or not (node.cylinder or node.op == "net")
                ):
                    owned.add(source)
        return frozenset(owned)

    def view(self, index: int) -> View:
        """State of a node by the variables it follows from."""
        known = self._views.get(index)
        if known is None:
            bundle = self.bundle_of.get(index)
            if bundle is not None and bundle not in self._joined:
                self._joined.add(bundle)
                self._bundle(bundle)
            if index in self.below:
                known = self._from_below(index)
            else:
                known = self._follow(self.nodes[index], self.parts[index])
            if not known.scope:  # nothing bears on it: it stands on its first state
                known = View((self.fabric.variable(1),), known.value.reshape(1))
            if index in self._owned:
                known = self.fabric.own(known, self.nodes[index].size)
            self._views[index] = known
        return known

    def _bundle(self, members: tuple[int, ...]) -> None:
        """Join what the faults of several variables do to some nodes once for all of these: few joint states can be."""
        lattice = Lattice([Rule(self.nodes[index].op == "add", self.nodes[index].size - 1) for index in members])
        parts: dict[tuple[int, ...], View] = {}
        for position, index in enumerate(members):
            for part in self.parts[index]:
                code = View(part.scope, part.value * lattice.weights[position])
                known = parts.get(part.scope)
                parts[part.scope] = code if known is None else View(part.scope, known.value + code.value)
        if len(parts) > 1:
            joined = self.fabric.gathered(list(parts.values()), lattice)
            for position, index in enumerate(members):
                self.parts[index] = [View(joined.scope, lattice.column(joined.value, position))]

    def _follow(self, node: Node, parts: Sequence[View]) -> View:
        fabric = self.fabric
        fed = [self._through(source, through) for source, through in node.inputs]
        if node.op == "net":
            first, second = fed
            scope = tuple(sorted({*first.scope, *second.scope}))
            return View(scope, fabric.laid(first, scope) - fabric.laid(second, scope) + node.shift)
        rule = Rule(node.op == "add", node.size - 1)
        return fabric.chained([*parts, *fed], rule, LOCAL_CELLS if node.cylinder else WHOLE_CELLS)

    def _from_below(self, index: int) -> View:
        """A threshold as a variable that no contribution exceeds."""
        levels = np.arange(self.nodes[index].size)
        threshold = self.fabric.variable(len(levels))
        for part in self._contributions(index, levels):
            self.fabric.table((*part.scope, threshold), (part.value[..., None] <= levels).astype(float))
        return View((threshold,), levels)

    def _contributions(self, index: int, through: Levels) -> Iterator[View]:
        """What each of its faults and inputs adds to a worst level, as ``through`` hands it on."""
        for part in self.parts[index]:
            yield View(part.scope, through[part.value])
        for source, handed in self.nodes[index].inputs:
            onward = through[np.array(handed)]
            if source in self.through:
                yield from self._contributions(source, onward)
            else:
                view = self.view(source)
                yield View(view.scope, onward[view.value])

    def _through(self, source: int, through: tuple[int, ...]) -> View:
        """What a node hands on; where it tells few of many states apart, that has a variable of its own."""
        known = self._handed.get((source, through))
        if known is None:
            view = self.view(source)
            known = View(view.scope, np.array(through)[view.value])
            if 2 * len(set(through)) <= self.fabric.cells(view.scope):
                short = self.short or not self.nodes[source].cylinder
                known = self.fabric.coded(known) if short else known
                self.shortens |= not short
            self._handed[(source, through)] = known
        return known

    def _read(self, clue: Clue) -> View:
        if clue.instance is None:
            return self.view(clue.node)
        root = root_of(clue.instance)
        return View((self.lone[root],), np.array([0, *(clue.instance in holds for holds in self.courses[root].holds)]))

    @cached_property
    def instances(self) -> dict[Instance, int]:
        """Faces of faults that evidence bears on, and states of the common causes; their place in :meth:`there`."""
        every = [face for root in self.lone for face in self.courses[root].faces]
        every += [face for one in self.groups for face in one.faces]
        every += [causes_in_state(state) for state in range(len(self.common))]
        return {instance: position for position, instance in enumerate(every)}

    def there(self, run: Pass) -> Array:
        """Chance of each face of each fault that evidence bears on (instance,)."""
        return self._opened({scope: run.joint(scope) for scope in self.sinks}, np.ones(()))

    def _opened(self, by_scope: Mapping[tuple[int, ...], Array], total: Array) -> Array:
        """Chances of faults from those of states (state, ...) that sum to ``total`` (...), folds opened."""
        lone = [
            np.tensordot(self.courses[root].table.astype(float), by_scope[variable,][1:], axes=1)
            for root, variable in self.lone.items()
        ]
        folded = [one.split(by_scope[self._scope_of(one)]) for one in self.groups]
        return np.concatenate([*lone, *folded, by_scope.get((self.cause,), total[None])])

    @cached_property
    def _spreading(self) -> Spreading:
        views = [self.view(node) for node in self.asked]
        return Spreading(self.tree, views, [self.nodes[node].size for node in self.asked], self.sinks)

    def states_asked(self, run: Pass) -> dict[int, tuple[Array, Array]]:
        """Of each node asked for: chance of its states (state,), and of each fault in each state (instance, state)."""
        chance, joint = self._spreading.spread(run)
        there = np.divide(
            self._opened(joint, chance), chance, out=np.zeros((len(self.instances), len(chance))), where=chance > 0.0
        )
        ends = self._spreading.start
        return {
            node: (chance[a:b], there[:, a:b])
            for node, (a, b) in zip(self.asked, itertools.pairwise(ends), strict=True)
        }

    def given(self, node: int, table: Array) -> Network:
        """The same with a reading on a node that may be asked for: its chance in each state (state,)."""
        after, index, view = copy(self), self.asked[node], self.view(node)
        laid = self.tree.arrange(index, table[view.value])
        known = self.arranged[index]
        after.arranged = list(self.arranged)
        after.arranged[index] = laid if known is None else known * laid
        return after

    def _add_clue(self, clue: Clue, view: View) -> int:
        if clue.node in self.below and clue.instance is None:
            if self.below[clue.node] == NONE:
                self.below[clue.node] = self.fabric.table(
                    view.scope, steps(self.clues, clue.node, self.nodes[clue.node].size)
                )
            return self.below[clue.node]
        if clue.level:
            level = self.level_variable[clue.level]  # before all others: its axis is the first
            return self.fabric.table((level, *view.scope), clue.table[:, view.value])
        return self.fabric.table(view.scope, clue.table[view.value])

    def chance_of_none(self, absent: frozenset[Instance], beside: Array, full: Pass) -> float:
        """Chance that none of the instances is there, all evidence counted, nor any of those no evidence bears on.

        Parameters
        ----------
        absent : set of Instance
        beside : array (cause,)
            Chance that none of those outside the network is there, in each state of the common causes.
        full : Pass
            With all evidence.
        """
        share: dict[tuple[int, ...], Array] = {}
        for root, variable in self.lone.items():
            gone = [not holds.isdisjoint(absent) for holds in self.courses[root].holds]
            if any(gone):
                share[variable,] = 1.0 - np.array([0.0, *gone])
        for one in self.groups:
            left = one.prior_without(absent)
            if left is not None:
                share[self._scope_of(one)] = left / np.where(one.prior > 0.0, one.prior, 1.0)
        if self.cause != NONE:
            share[self.cause,] = beside
        elif len(share) < 2:  # what one variable tells is known
            alone = sum(float((full.joint(scope) * table).sum()) for scope, table in share.items())
            return (alone if share else 1.0) * float(beside[0])
        tables = list(self.arranged)
        for scope, table in share.items():
            tables[self.marks[scope]] = self.tree.arrange(self.marks[scope], table)
        without = float(np.exp(Pass(self.tree, tables, full, kept=False).log_chance - full.log_chance))
        return without if self.cause != NONE else without * float(beside[0])

    def log_chance(self, without: frozenset[int], like: Pass) -> float:
        """Log of the chance of all clues but those of some entries; nothing of the tables is kept for it."""
        return Pass(self.tree, self._filled(without), like, kept=False).log_chance

    def run(self, without: frozenset[int] = frozenset(), like: Pass | None = None, *, thresholds: str = "read") -> Pass:
        """Messages up for the clues whose entry is not in ``without``; what another filling shares is taken from it.

        ``thresholds``: ``read``; ``unsigned`` for the size of what cancels.
        """
        return Pass(self.tree, self._filled(without, thresholds), like)

    def _filled(self, without: frozenset[int], thresholds: str = "read") -> list[Array | None]:
        tables = list(self.arranged)
        for clue, index in zip(self.clues, self.clue_index, strict=True):
            if clue.entry in without:
                tables[index] = None
        for node, index in self.below.items():
            if tables[index] is None or thresholds != "read":
                left = [clue for clue in self.clues if clue.entry not in without]
                says = steps(left, node, self.nodes[node].size)
                tables[index] = np.abs(says) if thresholds == "unsigned" else says
        return tables
