"""In which order variables are summed out: the cheapest of some greedy orders."""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
MOST_CELLS = 12_000_000  # of all tables together; at 8 bytes each some hundred megabytes
CHEAP_CELLS = 1_000_000  # no better order is looked for
HOPELESS = 4  # so many times too many cells: other orders will not help
ATTEMPTS, MOST_ATTEMPTS = 4, 30  # other orders to try for a cheap one, and for one that fits at all
NOISE = (0.1, 0.3, 0.6)  # on the rules' scores, which are logs
RULES = ("table", "message", "pairs")


class TooTangled(Exception):
    """The tables needed would not fit; carries the number of cells."""

    def __init__(self, cells: int) -> None:
        super().__init__(f"a table of {cells} cells would be needed")
        self.cells = cells


class _Graph:
    """Which variables share a table, as variables go."""

    def __init__(self, scopes: Sequence[tuple[int, ...]], sizes: Sequence[int]) -> None:
        self.sizes = sizes
        self.weight = [math.log(size) for size in sizes]
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

    def missing(self, variable: int) -> float:
        """Weight of the pairs of neighbours that would be joined anew: the product of the logs of their sizes."""
        around = self.neighbours[variable]
        total = sum(self.weight[other] for other in around)
        missing = 0.0
        for other in around:
            weight = self.weight[other]
            joined = sum(self.weight[one] for one in self.neighbours[other] & around)
            missing += weight * (total - weight - joined)
        return max(missing, 0.0)

    def remove(self, variable: int) -> set[int]:
        """Sum a variable out; returns its neighbours, now all joined."""
        around = self.neighbours[variable]
        for other in around:
            self.neighbours[other] |= around
            self.neighbours[other].discard(variable)
            self.neighbours[other].discard(other)
        return around


def _greedy(
    scopes: Sequence[tuple[int, ...]], sizes: Sequence[int], rule: str, most: float, noise: Array | None = None
) -> tuple[int, list[int]]:
    """Total cells and order when always the variable with the least ``rule`` goes next; no order past ``most`` cells.

    ``noise`` (variable,) is added to the rule's score, so that other orders are tried.
    """
    graph = _Graph(scopes, sizes)

    def score(variable: int) -> float:
        match rule:
            case "table":
                value = math.log(graph.cells(variable))
            case "message":
                value = math.log(graph.cells(variable) / sizes[variable])
            case _:
                value = math.log1p(graph.missing(variable)) + 1e-6 * math.log(graph.cells(variable))
        return value if noise is None else value + noise[variable]

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
    best: tuple[int, list[int]] = min(_greedy(scopes, sizes, rule, HOPELESS * MOST_CELLS) for rule in RULES)
    if CHEAP_CELLS < best[0] <= HOPELESS * MOST_CELLS:
        rng = np.random.default_rng(len(sizes))
        for attempt in range(MOST_ATTEMPTS):
            if best[0] <= (CHEAP_CELLS if attempt < ATTEMPTS else MOST_CELLS):
                break
            noise = rng.gumbel(0.0, NOISE[attempt % len(NOISE)], len(sizes))
            best = min(best, _greedy(scopes, sizes, RULES[1 + attempt % 2], best[0], noise))
    total, order = best
    if total > MOST_CELLS:
        raise TooTangled(total)
    return order
