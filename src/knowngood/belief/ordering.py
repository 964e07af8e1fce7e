"""In which order variables are summed out: the cheapest of some greedy orders."""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from copy import copy

import numpy as np

from knowngood.belief.protocol import Array

MOST_CELLS = 12_000_000  # of all tables together; at 8 bytes each some hundred megabytes
CHEAP_CELLS = 1_000_000  # no better order is looked for
HOPELESS = 4  # so many times too many cells: other orders will not help
ATTEMPTS, MOST_ATTEMPTS = 4, 30  # other orders to try for a cheap one, and for one that fits at all
NOISE = (0.1, 0.3, 0.6)  # on the rules' scores, which are logs
RULES = ("pairs", "message", "table")  # the one that is mostly the cheapest first: others are given up past it
DIGITS = 9  # of a score


class TooTangled(Exception):
    """The tables needed would not fit; carries the number of cells."""

    def __init__(self, cells: int) -> None:
        super().__init__(f"a table of {cells} cells would be needed")
        self.cells = cells


class _Graph:
    """Which variables share a table, as variables go, and what the rules ask of each, kept up with every one gone.

    Weights are logs of sizes. ``around``: weight of the neighbours of each variable; ``missing``: weight of the pairs
    of them that would be joined anew, each the product of two weights.
    """

    def __init__(self, scopes: Sequence[tuple[int, ...]], sizes: Sequence[int]) -> None:
        self.sizes = sizes
        self.weight = weight = [math.log(size) for size in sizes]
        self.neighbours: list[set[int]] = [set() for _ in sizes]
        for scope in scopes:
            for variable in scope:
                self.neighbours[variable].update(scope)
        for variable, some in enumerate(self.neighbours):
            some.discard(variable)
        self.around = [sum([weight[other] for other in some]) for some in self.neighbours]
        self.missing = [self._missing(variable) for variable in range(len(sizes))]

    def _missing(self, variable: int) -> float:
        around, weight = self.neighbours[variable], self.weight
        apart = 0.0
        for other in around:
            apart += weight[other] * sum([weight[one] for one in around - self.neighbours[other] if one > other])
        return apart

    def copy(self) -> _Graph:
        """The same to be taken apart."""
        other = copy(self)
        other.neighbours = [set(some) for some in self.neighbours]
        other.around, other.missing = list(self.around), list(self.missing)
        return other

    def cells(self, variable: int) -> int:
        """Cells of the table that summing a variable out would need."""
        return math.prod([self.sizes[other] for other in self.neighbours[variable]], start=self.sizes[variable])

    def remove(self, variable: int) -> set[int]:
        """Sum a variable out; returns its neighbours, now all joined."""
        gone, weight = self.neighbours[variable], self.weight
        for one in gone:
            for other in gone - self.neighbours[one]:
                if other > one:
                    self._join(one, other)
        for other in gone:
            # all else that the variable met is joined to this one by now: what is left did not meet the variable
            left = self.around[other] - weight[variable] - (self.around[variable] - weight[other])
            self.missing[other] -= weight[variable] * left
            self.around[other] -= weight[variable]
            self.neighbours[other].discard(variable)
        return gone

    def _join(self, one: int, other: int) -> None:
        first, second = self.neighbours[one], self.neighbours[other]
        both, weight = first & second, self.weight
        pair, met = weight[one] * weight[other], 0.0
        for common in both:
            self.missing[common] -= pair
            met += weight[common]
        self.missing[one] += weight[other] * (self.around[one] - met)
        self.missing[other] += weight[one] * (self.around[other] - met)
        self.around[one] += weight[other]
        self.around[other] += weight[one]
        first.add(other)
        second.add(one)


def _greedy(graph: _Graph, rule: str, most: float, noise: Array | None = None) -> tuple[int, list[int]]:
    """Total cells and order when always the variable with the least ``rule`` goes next; no order past ``most`` cells.

    ``noise`` (variable,) is added to the rule's score, so that other orders are tried.
    """
    graph, added = graph.copy(), [0.0] * len(graph.sizes) if noise is None else noise.tolist()
    around, weight, missing = graph.around, graph.weight, graph.missing

    def score(variable: int) -> float:
        match rule:
            case "table":
                value = around[variable] + weight[variable]
            case "message":
                value = around[variable]
            case _:
                table = around[variable] + weight[variable]
                value = math.log1p(max(missing[variable], 0.0)) + 1e-6 * table
        # what differs by rounding alone is a tie, and the first goes
        return round(value + added[variable], DIGITS)

    cost = [score(variable) for variable in range(len(weight))]
    heap = [(cost[variable], variable) for variable in range(len(weight))]
    heapq.heapify(heap)
    gone = [False] * len(weight)
    order: list[int] = []
    total = 0
    while heap:
        known, variable = heapq.heappop(heap)
        if gone[variable] or known != cost[variable]:
            continue
        gone[variable] = True
        order.append(variable)
        total += graph.cells(variable)
        if total > most:
            return total, []
        for other in graph.remove(variable):
            new = score(other)
            if new != cost[other]:
                cost[other] = new
                heapq.heappush(heap, (new, other))
    return total, order


def elimination_order(scopes: Sequence[tuple[int, ...]], sizes: Sequence[int]) -> list[int]:
    """The cheapest of three greedy orders; where that is dear, of many more with a little noise, always the same ones.

    The rules: smallest table, smallest message, least weight of new pairs.

    Raises
    ------
    TooTangled
        Even the cheapest needs more than :data:`MOST_CELLS` cells.
    """
    graph = _Graph(scopes, sizes)
    best: tuple[float, list[int]] = (math.inf, [])
    for rule in RULES:
        best = min(best, _greedy(graph, rule, min(best[0], HOPELESS * MOST_CELLS)))
    if CHEAP_CELLS < best[0] <= HOPELESS * MOST_CELLS:
        rng = np.random.default_rng(len(sizes))
        for attempt in range(MOST_ATTEMPTS):
            if best[0] <= (CHEAP_CELLS if attempt < ATTEMPTS else MOST_CELLS):
                break
            noise = rng.gumbel(0.0, NOISE[attempt % len(NOISE)], len(sizes))
            best = min(best, _greedy(graph, RULES[(1 + attempt) % 2], best[0], noise))
    total, order = best
    if total > MOST_CELLS:
        raise TooTangled(int(total))
    return order
