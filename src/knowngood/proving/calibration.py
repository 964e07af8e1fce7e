"""Whether a chance means what it says: of all suspects given 3 in 10, are 3 in 10 there?

References
----------
Brier, Verification of forecasts expressed in terms of probability, Monthly Weather Review 78 (1950). Good, Rational
decisions, J. Royal Statistical Society B 14 (1952), for the logarithmic score.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.app.state import State, state_of
from knowngood.app.suspects import SHOWN, Suspected, suspected
from knowngood.belief.elimination import Array
from knowngood.errors import KnownGoodError
from knowngood.library.records import Library
from knowngood.proving.drawn_again import over_cars
from knowngood.proving.figures import NOT_NAMED, Figure, share
from knowngood.proving.simulated import SimulatedCar
from knowngood.proving.simulated_arrivals import arrival
from knowngood.proving.simulated_evidence import MEASURED, gather
from knowngood.proving.simulated_ours import about_the_complaint, gives_complaint
from knowngood.proving.simulated_worlds import World, dice

LEAST = 0.01
BINS = 10
TOPS = (1, 3, 5)
DOUBTFUL = 0.2  # an error bound over this: too few draws agree with the readings, and the chances may be anything
SURE = 0.9
LEAST_FOR_LOG = 1e-6
CYLINDERS = (4, 4, 4, 4, 4, 4, 4, 6, 6, 8)  # by the last digit of the seed
ECE_GOALS = {"": 0.03, "early": 0.03, "disturbed": 0.08, "disturbed_05": 0.08, "disturbed_10": 0.08, "structure": 0.10}
NAMED, NAMED_GOAL = 3, 0.85  # of so many suspects named first, one is behind the complaint: on how many cars
Score = Callable[[Sequence["Judged"]], float]


@dataclass(frozen=True)
class Judged:
    """What was thought of one car, beside the truth.

    Parameters
    ----------
    seed : int
        Of the car.
    chance, prior, there : array (suspect,)
        Chance now, chance before any reading, and 1 where the fault is there; suspects over 0.01 only.
    rank : int
        Of the best-ranked kind that is truly behind the complaint; 0 where nothing is behind it, ``NOT_NAMED`` where
        none of them is named.
    rank_of_complaint : int
        The same among suspects that can be behind the complaint: a worn part that was found beside it is no rival.
    expected : float
        How likely the belief itself holds it that one of the first three of those is behind the complaint.
    exact : bool
        The belief was worked out by tables, not by draws.
    error_bound : float
        What the belief itself says its error may be.
    refused : bool
        The belief would not have the readings: no chance of anything was said, and nothing was named.
    """

    seed: int
    chance: Array
    prior: Array
    there: Array
    rank: int
    exact: bool
    error_bound: float = 0.0
    rank_of_complaint: int = 0
    expected: float = 0.0
    refused: bool = False


def judged(seed: int, world: World, library: Library, checks: int = MEASURED) -> Judged:
    """One car with its evidence, thought about; one whose readings are refused has named nothing."""
    car = SimulatedCar(arrival(seed, world, library, CYLINDERS[seed % 10]))
    gather(car, library, checks)
    behind = {at.fault for at in car.behind()}
    try:
        state = state_of(library, car.entries)
    except KnownGoodError:
        nothing, missed = np.zeros(0), _rank((), behind)
        return Judged(seed, nothing, nothing, nothing, missed, exact=False, rank_of_complaint=missed, refused=True)
    faults = set(car.arrival.faults)
    belief = state.belief
    chance = belief.chances()
    rows = np.flatnonzero(chance > LEAST)
    complained = about_the_complaint(state, gives_complaint(state, car.arrival.complaint))
    leading = suspected(complained)[:SHOWN]
    return Judged(
        seed=seed,
        chance=chance[rows],
        prior=np.array([belief.model.priors[belief.faults[row]] for row in rows]),
        there=np.array([belief.faults[row] in faults for row in rows], dtype=float),
        rank=_rank(suspected(state)[:SHOWN], behind),
        exact=belief.exact,
        error_bound=belief.error_bound,
        rank_of_complaint=_rank(leading, behind),
        expected=_any_of(complained, {kind for one in leading[:NAMED] for kind in one.kinds}),
    )


def _rank(named: Sequence[Suspected], behind: set[str]) -> int:
    """Place of the first suspect with a kind that is truly behind the complaint; 0 where none is."""
    if not behind:
        return 0
    return next((place for place, one in enumerate(named, start=1) if not behind.isdisjoint(one.kinds)), NOT_NAMED)


def _any_of(complained: State, kinds: set[str]) -> float:
    """Chance that one of these kinds is behind the complaint, given that something is."""
    matters = complained.scenarios.matters
    assert matters is not None
    something = matters.any(axis=1)
    if not something.any():
        return 0.0
    columns = [column for column, at in enumerate(complained.belief.faults) if at.fault in kinds]
    return float(
        complained.scenarios.weight[something & matters[:, columns].any(axis=1)].sum()
        / complained.scenarios.weight[something].sum()
    )


def reliability(chance: Array, there: Array) -> tuple[Array, Array, Array]:
    """Mean chance, share that is there, and count, in ten bins of equal count (bin,)."""
    order = np.argsort(chance, kind="stable")
    parts = [part for part in np.array_split(order, BINS) if len(part)]
    return (
        np.array([chance[part].mean() for part in parts]),
        np.array([there[part].mean() for part in parts]),
        np.array([len(part) for part in parts], dtype=float),
    )


def ece(chance: Array, there: Array) -> float:
    """Mean gap between chance and share over the bins, each weighing as much as it holds."""
    said, seen, count = reliability(chance, there)
    return float((count * np.abs(said - seen)).sum() / count.sum())


def brier(chance: Array, there: Array) -> float:
    """Mean squared gap between chance and truth."""
    return float(((chance - there) ** 2).mean())


def log_score(chance: Array, there: Array) -> float:
    """Mean of minus the natural log of the chance given to what is so; chances held inside 1e-6 .. 1 - 1e-6."""
    held = np.clip(chance, LEAST_FOR_LOG, 1.0 - LEAST_FOR_LOG)
    return float(-(there * np.log(held) + (1.0 - there) * np.log(1.0 - held)).mean())


def by_chance_alone(cars: Sequence[Judged], draws: int = 100) -> float:
    """The ece these many suspects would have were every chance right: no figure can be told from less."""
    chance = np.concatenate([car.chance for car in cars])
    rng = dice(0, "by chance alone", len(chance))
    return float(np.mean([ece(chance, (rng.random(len(chance)) < chance).astype(float)) for _ in range(draws)]))


def _figure(score: Score, cars: Sequence[Judged], goal: float | None = None) -> Figure:
    return over_cars(lambda rows: score([cars[row] for row in rows]), len(cars), goal)


def _over(score: Callable[[Array, Array], float], *, prior: bool = False) -> Score:
    def of(cars: Sequence[Judged]) -> float:
        chance = np.concatenate([car.prior if prior else car.chance for car in cars])
        return score(chance, np.concatenate([car.there for car in cars]))

    return of


def figures_of_world(cars: Sequence[Judged], suffix: str) -> dict[str, Figure]:
    """All figures of one world; ``n`` is cars.

    A car whose readings were refused is in every share of cars, as one on which nothing was named and nothing exact.
    It said no chance, so it is not among the cars behind a score of chances.
    """
    every, cars = cars, [car for car in cars if not car.refused]
    end = f"_{suffix}" if suffix else ""
    ece_goal = ECE_GOALS[suffix]
    scores: dict[str, tuple[Score, float | None]] = {
        "ece": (_over(ece), ece_goal),
        "brier": (_over(brier), None),
        "brier_prior": (_over(brier, prior=True), None),
        "log": (_over(log_score), None),
        "log_prior": (_over(log_score, prior=True), None),
    }
    result: dict[str, Figure] = {}
    for name, (score, goal) in scores.items() if cars else ():
        result[f"calibration.{name}{end}"] = _figure(score, cars, goal)
    if cars:
        result[f"calibration.ece_by_chance_alone{end}"] = Figure(round(by_chance_alone(cars), 4), len(cars))
    for kept, which in (("sure", False), ("sure_but_doubtful", True)):
        result.update(_of_the_sure([car for car in cars if (car.error_bound > DOUBTFUL) == which], kept, end))
    found = [car for car in every if car.rank]
    for top in TOPS:
        hits = sum(car.rank <= top for car in found)
        goal = NAMED_GOAL if top == NAMED and not suffix else None
        result[f"calibration.top{top}{end}"] = share(hits, len(found), goal)
        of_complaint = sum(car.rank_of_complaint <= top for car in found)
        result[f"calibration.top{top}_of_complaint{end}"] = share(of_complaint, len(found))
    if found:
        result[f"calibration.top{NAMED}_expected{end}"] = _figure(_expected, found)
    result[f"calibration.refused{end}"] = share(len(every) - len(cars), len(every))
    result[f"calibration.exact{end}"] = share(sum(car.exact for car in every), len(every))
    result[f"calibration.doubtful{end}"] = share(sum(car.error_bound > DOUBTFUL for car in every), len(every))
    return result


def _expected(cars: Sequence[Judged]) -> float:
    return float(np.mean([car.expected for car in cars]))


def _of_the_sure(cars: Sequence[Judged], name: str, end: str) -> dict[str, Figure]:
    """Of suspects said to be there at 0.9 or more: how many are, beside the mean that was said.

    The mean gap over all suspects does not show these few, and they are the ones a mechanic acts on. Cars on which the
    belief itself says that its error may be large are counted apart.
    """
    chance = np.concatenate([np.zeros(0), *(car.chance for car in cars)])
    there = np.concatenate([np.zeros(0), *(car.there for car in cars)])[chance >= SURE]
    if not len(there):
        return {}
    said = float(chance[chance >= SURE].mean())
    return {
        f"calibration.{name}_said{end}": Figure(round(said, 4), len(there)),
        f"calibration.{name}_there{end}": share(int(there.sum()), len(there)),
    }
