"""A belief that is nothing but a list of fault sets with their chances: fills the protocol by counting."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from knowngood.belief.protocol import Array, Ask, Bools, FaultAt, Scenarios
from knowngood.car import ENGINE


def fault(name: str) -> FaultAt:
    """A fault of the engine."""
    return FaultAt(name, ENGINE)


def ask(name: str) -> Ask:
    """A reading of the engine."""
    return Ask(name, ENGINE)


@dataclass(frozen=True)
class Toy:
    """Fault sets (row) with chances; each reading has outcomes and a function from one set to their chances."""

    faults: tuple[FaultAt, ...]
    sets: Bools
    weight: Array
    readings: Mapping[str, tuple[tuple[str, ...], Callable[[frozenset[str]], tuple[float, ...]]]]

    def chances(self) -> Array:
        return self.weight @ self.sets

    def outcomes(self, ask: Ask) -> tuple[str, ...]:
        return self.readings[ask.reading][0]

    def likelihood(self, ask: Ask, present: Bools) -> Array:
        _, table = self.readings[ask.reading]
        names = [each.fault for each in self.faults]
        rows = [table(frozenset(name for name, there in zip(names, row, strict=True) if there)) for row in present]
        return np.array(rows, dtype=float).T

    def outcome_chances(self, ask: Ask) -> tuple[Array, Array]:
        joint = self.likelihood(ask, self.sets) * self.weight
        chance = joint.sum(axis=1)
        return chance, (joint @ self.sets) / np.maximum(chance, 1e-300)[:, None]

    def given(self, ask: Ask, outcome: str) -> Toy:
        joint = self.likelihood(ask, self.sets)[self.outcomes(ask).index(outcome)] * self.weight
        return replace(self, weight=joint / joint.sum())

    def scenarios(self, most: int, rng: np.random.Generator) -> Scenarios:
        some = self.weight > 0
        if some.sum() <= most:
            return Scenarios(self.weight[some], self.sets[some], exact=True)
        drawn = rng.choice(len(self.weight), size=most, p=self.weight)
        return Scenarios(np.full(most, 1.0 / most), self.sets[drawn], exact=False)


def one_of(chances: Mapping[str, float], readings: Mapping = {}) -> Toy:
    """Exactly one of the faults is there."""
    weight = np.array(list(chances.values()), dtype=float)
    return Toy(tuple(map(fault, chances)), np.eye(len(weight), dtype=bool), weight / weight.sum(), readings)


def independent(priors: Mapping[str, float], readings: Mapping = {}, *, bad: bool = True) -> Toy:
    """Independent faults; ``bad``: it is known that at least one is there."""
    sets = np.array(list(product((False, True), repeat=len(priors))), dtype=bool)
    prior = np.array(list(priors.values()), dtype=float)
    weight = np.where(sets, prior, 1.0 - prior).prod(axis=1)
    if bad:
        weight[~sets.any(axis=1)] = 0.0
    return Toy(tuple(map(fault, priors)), sets, weight / weight.sum(), readings)


def sets_of(chances: Mapping[frozenset[str], float], readings: Mapping = {}) -> Toy:
    """Fault sets as they are given."""
    names = sorted({name for each in chances for name in each})
    sets = np.array([[name in each for name in names] for each in chances], dtype=bool)
    weight = np.array(list(chances.values()), dtype=float)
    return Toy(tuple(map(fault, names)), sets, weight / weight.sum(), readings)
