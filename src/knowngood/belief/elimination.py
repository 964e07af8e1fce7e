"""Exact sums and products over a network of small tables.

Bucket elimination: variables are summed out one by one; what is left of a
variable's tables is a message to the bucket of the next variable to go. The
messages going up give the chance of the evidence, the messages coming down
give every marginal, and the buckets themselves give draws. The structure
(:class:`Tree`) depends on the scopes only, so that one plan serves many
fillings: every prefix of the evidence, every outcome of a check.

Nothing is subtracted, so nothing cancels: chances as small as the hardware's
smallest number keep all their digits.

References
----------
Dechter, Bucket elimination: a unifying framework for reasoning, Artificial Intelligence 113 (1999), 41-85
(title and pages from memory).
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
MOST_CELLS = 12_000_000


class TooTangled(Exception):
    """The tables needed would not fit; carries the number of cells."""

    def __init__(self, cells: int) -> None:
        super().__init__(f"a table of {cells} cells would be needed")
        self.cells = cells


class _Graph:
    """Which variables share a table, as variables go."""

    def __init__(self, scopes: Sequence[tuple[int, ...]], sizes: Sequence[int]) -> None:
        self.sizes = sizes
        self.neighbours: list[set[int]] = [set() for _ in sizes]
        for scope in scopes:
            for variable in scope:
                self.neighbours[variable].update(scope)
        for variable in range(len(sizes)):
            self.neighbours[variable].discard(variable)

    def cells(self, variable: int) -> int:
        """Cells of the table that summing a variable out would need."""
        product = self.sizes[variable]
        for other in self.neighbours[variable]:
            product *= self.sizes[other]
        return product

    def missing(self, variable: int) -> int:
        """Pairs of neighbours that would be joined anew."""
        around = self.neighbours[variable]
        joined = sum(len(self.neighbours[other] & around) for other in around)
        return (len(around) * (len(around) - 1) - joined) // 2

    def remove(self, variable: int) -> set[int]:
        """Sum a variable out; returns its neighbours, now all joined."""
        around = self.neighbours[variable]
        for other in around:
            self.neighbours[other] |= around
            self.neighbours[other].discard(variable)
            self.neighbours[other].discard(other)
        return around


def _greedy(scopes: Sequence[tuple[int, ...]], sizes: Sequence[int], rule: str) -> tuple[int, list[int]]:
    """Total cells and order when always the variable with the least ``rule`` goes next."""
    graph = _Graph(scopes, sizes)

    def score(variable: int) -> float:
        match rule:
            case "table":
                return graph.cells(variable)
            case "message":
                return graph.cells(variable) / sizes[variable]
        return graph.missing(variable) + 1e-9 * min(graph.cells(variable), 10**8)

    cost = [score(variable) for variable in range(len(sizes))]
    heap = [(cost[variable], variable) for variable in range(len(sizes))]
    heapq.heapify(heap)
    gone = [False] * len(sizes)
    order: list[int] = []
    total = 0
    while heap:
        known, variable = heapq.heappop(heap)
        if gone[variable] or known != cost[variable]:
            continue
        gone[variable] = True
        order.append(variable)
        total += graph.cells(variable)
        if total > MOST_CELLS:
            return total, []
        for other in graph.remove(variable):
            new = score(other)
            if new != cost[other]:
                cost[other] = new
                heapq.heappush(heap, (new, other))
    return total, order


def elimination_order(scopes: Sequence[tuple[int, ...]], sizes: Sequence[int]) -> list[int]:
    """The cheapest of three greedy orders: smallest table, smallest message, fewest new pairs.

    Raises
    ------
    TooTangled
        Even the cheapest needs more than :data:`MOST_CELLS` cells.
    """
    total, order = min(_greedy(scopes, sizes, rule) for rule in ("table", "message", "pairs"))
    if total > MOST_CELLS:
        raise TooTangled(total)
    return order


@dataclass(frozen=True)
class Bucket:
    """One variable's turn: its scope (itself first), and the shapes that lay each table along that scope."""

    scope: tuple[int, ...]
    factors: tuple[tuple[int, tuple[int, ...]], ...]
    children: tuple[tuple[int, tuple[int, ...]], ...]
    parent: int
    shape: tuple[int, ...]
    sum_axes: tuple[tuple[int, ...], ...]


class Tree:
    """The plan of elimination for given scopes.

    Parameters
    ----------
    scopes : sequence of tuple of int
        Variables of each table. :meth:`arrange` lays a table's axes as the plan wants them.
    sizes : sequence of int
        Number of states of each variable.
    """

    def __init__(self, scopes: Sequence[tuple[int, ...]], sizes: Sequence[int]) -> None:
        self.sizes = tuple(sizes)
        order = elimination_order(scopes, sizes)
        self.rank = [0] * len(sizes)
        for position, variable in enumerate(order):
            self.rank[variable] = position
        self.transposes: list[tuple[int, ...]] = []
        placed: list[list[tuple[int, tuple[int, ...]]]] = [[] for _ in order]
        for index, scope in enumerate(scopes):
            axes = sorted(range(len(scope)), key=lambda axis: self.rank[scope[axis]])
            self.transposes.append(tuple(axes))
            laid = tuple(scope[axis] for axis in axes)
            if laid:
                placed[self.rank[laid[0]]].append((index, laid))
        messages: list[list[tuple[int, tuple[int, ...]]]] = [[] for _ in order]
        self.buckets: list[Bucket] = []
        for position, variable in enumerate(order):
            variables = {variable}
            for _, laid in placed[position]:
                variables.update(laid)
            for _, laid in messages[position]:
                variables.update(laid)
            scope = tuple(sorted(variables, key=lambda v: self.rank[v]))
            rest = scope[1:]
            parent = self.rank[rest[0]] if rest else -1
            if parent >= 0:
                messages[parent].append((position, rest))
            self.buckets.append(
                Bucket(
                    scope,
                    tuple((index, self._shape(laid, scope)) for index, laid in placed[position]),
                    tuple((child, self._shape(laid, scope)) for child, laid in messages[position]),
                    parent,
                    tuple(self.sizes[v] for v in scope),
                    tuple(
                        tuple(axis for axis, v in enumerate(scope) if v not in laid) for _, laid in messages[position]
                    ),
                )
            )

    def _shape(self, laid: tuple[int, ...], scope: tuple[int, ...]) -> tuple[int, ...]:
        inside = set(laid)
        return tuple(self.sizes[v] if v in inside else 1 for v in scope)

    def arrange(self, index: int, table: Array) -> Array:
        """Lay a table's axes in the order of elimination."""
        return np.ascontiguousarray(np.transpose(table, self.transposes[index]))


class Pass:
    """One filling of a tree: messages up, and on demand down.

    Parameters
    ----------
    tree : Tree
    tables : sequence of arrays
        As arranged by :meth:`Tree.arrange`, one per scope; ``None`` for all ones.

    Attributes
    ----------
    log_chance : float
        Natural logarithm of the total; ``-inf`` when no state has any chance.
    """

    def __init__(self, tree: Tree, tables: Sequence[Array | None]) -> None:
        self.tree = tree
        self.log_chance = float("-inf")
        self._beliefs: list[Array] | None = None
        log_total = 0.0
        messages: list[Array] = []
        self.bucket_tables: list[Array] = []
        for bucket in tree.buckets:
            product: Array | None = None
            for index, shape in bucket.factors:
                table = tables[index]
                if table is not None:
                    laid = table.reshape(shape)
                    product = laid if product is None else product * laid
            for child, shape in bucket.children:
                laid = messages[child].reshape(shape)
                product = laid if product is None else product * laid
            if product is None:
                product = np.ones(bucket.shape)
            elif product.shape != bucket.shape:
                product = np.broadcast_to(product, bucket.shape)
            message = product.sum(axis=0)
            top = float(message.max()) if message.ndim else float(message)
            if not top > 0.0:
                return
            log_total += math.log(top)
            messages.append(message / top)
            self.bucket_tables.append(product)
        self.messages = messages
        self.log_chance = log_total

    def beliefs(self) -> list[Array]:
        """Joint chance of the variables of every bucket, all tables counted; each sums to 1."""
        if self._beliefs is None:
            down: list[Array | None] = [None] * len(self.tree.buckets)
            self._beliefs = list(self.bucket_tables)
            for position in range(len(self.tree.buckets) - 1, -1, -1):
                bucket, belief, above = self.tree.buckets[position], self.bucket_tables[position], down[position]
                belief = belief * above if above is not None else belief / belief.sum()
                self._beliefs[position] = belief
                for (child, _), axes in zip(bucket.children, bucket.sum_axes, strict=True):
                    reduced = belief.sum(axis=axes) if axes else belief
                    message = self.messages[child]
                    # what goes down is as large as it must be for the child to sum to 1
                    own = self.bucket_tables[child].sum(axis=0)
                    down[child] = np.divide(reduced, own, out=np.zeros_like(reduced), where=message > 0.0)
        return self._beliefs

    def marginal(self, variable: int) -> Array:
        """Chance of each state of one variable."""
        belief = self.beliefs()[self.tree.rank[variable]]
        return belief if belief.ndim == 1 else belief.reshape(belief.shape[0], -1).sum(axis=1)

    def marginals(self) -> list[Array]:
        """Chance of each state of every variable, indexed by variable."""
        return [self.marginal(variable) for variable in range(len(self.tree.sizes))]

    def draw(self, n: int, rng: np.random.Generator) -> NDArray[np.intp]:
        """``n`` joint draws: an array (n, variables) of states."""
        states = np.zeros((n, len(self.tree.sizes)), dtype=np.intp)
        for position in range(len(self.tree.buckets) - 1, -1, -1):
            bucket = self.tree.buckets[position]
            table = self.bucket_tables[position]
            index: tuple[object, ...] = (slice(None), *(states[:, v] for v in bucket.scope[1:]))
            given = table[index]  # type: ignore[index]
            if given.ndim == 1:
                given = np.broadcast_to(given[:, None], (given.shape[0], n))
            climbing = np.cumsum(given, axis=0)
            dice = rng.random(n) * climbing[-1]
            states[:, bucket.scope[0]] = (dice[None, :] >= climbing[:-1]).sum(axis=0)
        return states
