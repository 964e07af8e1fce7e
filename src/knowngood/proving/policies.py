"""Ways of working compared on the same simulated cars, for ``make prove``.

Paired by car: what one way of working costs more than another is told far better on the same cars than on others.
Whether a road test misses a complaint that is there is luck, the same for whoever drives; shares of an excess are told
with that luck evened out besides (a control variate: Hammersley and Handscomb, Monte Carlo Methods, 1964, section 5.5).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.belief.elimination import Array
from knowngood.library.records import Library
from knowngood.proving.drawn_again import Rows, over_cars
from knowngood.proving.figures import Figure
from knowngood.proving.kept_work import Kept
from knowngood.proving.simulated import Prices, SimulatedCar
from knowngood.proving.simulated_arrivals import ROAD_TEST_SEES, arrival
from knowngood.proving.simulated_bay import GIVEN_UP, Account, Bay, knows_the_faults, run
from knowngood.proving.simulated_ours import ours, plain_one_step, played_through
from knowngood.proving.simulated_pool import spread
from knowngood.proving.simulated_rules import Textbook, chance_over_cost, cheapest_part_first, likeliest_first
from knowngood.proving.simulated_worlds import OWN, World

Way = Callable[[Bay], None]
KNOWS, OURS, PLAIN, TEXTBOOK, PLAYED = "knows", "ours", "voi1", "textbook", "played"
WAYS: dict[str, Callable[[], Way]] = {
    KNOWS: lambda: knows_the_faults,
    OURS: lambda: ours,
    PLAIN: lambda: plain_one_step,
    TEXTBOOK: Textbook,
    "chance_over_cost": chance_over_cost,
    "likeliest": likeliest_first,
    "by_price": cheapest_part_first,
    PLAYED: lambda: played_through,
}
USUAL = tuple(way for way in WAYS if way != PLAYED)  # that one takes some twenty times as long
CHEAP = (KNOWS, TEXTBOOK, "chance_over_cost", "likeliest", "by_price")  # a second or two a car
SHORT_CARS, FULL_CARS, MANY_CARS = 12, 60, 500  # many: of the cheap ways, in a full run
GOALS = {"excess_share_of_voi1": 0.5, "excess_share_of_textbook": 1.0 / 3.0, "wrong_parts": 0.2}
EVENED = "evened"
COLUMNS = ("wrong_parts", "checks", "repairs", "road_tests", "comebacks", "left")


@dataclass(frozen=True)
class Outcome:
    """What one way of working made of one car.

    Parameters
    ----------
    seed, way
        Of the car; one of :data:`WAYS`.
    account : Account or None
        ``None`` where nothing is behind the complaint.
    total : float
        Money in all [currency].
    faults, behind : int
        Faults the car came with, and those of them behind its complaint.
    complaint : str
    causes : tuple of str
        The faults behind it, with their places.
    """

    seed: int
    way: str
    account: Account | None
    total: float = 0.0
    faults: int = 0
    behind: int = 0
    complaint: str = ""
    causes: tuple[str, ...] = ()

    def evened(self, prices: Prices) -> float:
        """Money in all, had comebacks come as often as road tests miss what is left; the same on average over cars.

        Every road test but the last of a finished car met a complaint that was there.
        """
        assert self.account is not None
        given_up = any(one.heading == GIVEN_UP for one in self.account.done)
        met = max(self.account.road_tests - (0 if given_up else 1), 0)
        return self.total - prices.comeback * (self.account.comebacks - (1.0 - ROAD_TEST_SEES) * met)


def work(library: Library, seed: int, way: str, world: World, prices: Prices) -> Outcome:
    """One car, one way of working."""
    car = SimulatedCar(arrival(seed, world, library, to_be_driven=True))
    faults, causes = len(car.arrival.faults), tuple(str(at) for at in car.behind())
    if not causes:
        return Outcome(seed, way, None)
    account = run(WAYS[way](), Bay(car, library, prices))
    return Outcome(seed, way, account, account.total(prices), faults, len(causes), car.arrival.complaint, causes)


def compare(
    seeds: Sequence[int], ways: Sequence[str] = USUAL, world: World = OWN, prices: Prices | None = None
) -> dict[str, list[Outcome]]:
    """Every way on the same cars: way -> outcomes in order of seed.

    Those whose complaint has something behind it that can be put right: where whoever knows the faults is not done
    after sixty steps, no way's excess over that means anything. What was worked out before, with the same code, is not
    worked out again.
    """
    jobs = [(seed, way, world, prices or Prices()) for seed in seeds for way in ways]
    found = spread(work, jobs, "ways of working", kept=Kept("ways", Outcome))
    some = [one for one in found if one.account is not None]
    hopeless = {one.seed for one in some if one.way == KNOWS and one.account is not None and one.account.left}
    return {way: [one for one in some if one.way == way and one.seed not in hopeless] for way in ways}


def column_of(outcomes: Sequence[Outcome], name: str) -> Array:
    """One column over cars (car,)."""
    if name == "total":
        return np.array([one.total for one in outcomes])
    if name == EVENED:
        return np.array([one.evened(Prices()) for one in outcomes])
    return np.array([float(getattr(one.account, name)) for one in outcomes])


def figures_of_ways(found: dict[str, list[Outcome]], suffix: str = "") -> dict[str, Figure]:
    """Cost over knowing the faults, shares of others' excess, wrong parts; each way besides under its own name."""
    end = f"_{suffix}" if suffix else ""
    cars = len(found[KNOWS])
    result = {f"planner.over_omniscient_c4{end}": over_cars(over_knows(found, OURS), cars)}
    for other, name in ((PLAIN, "excess_share_of_voi1"), (TEXTBOOK, "excess_share_of_textbook")):
        if other in found:
            result[f"planner.{name}{end}"] = over_cars(share_of(found, other), cars, GOALS[name])
            result[f"planner.{name}_evened{end}"] = over_cars(share_of(found, other, column=EVENED), cars)
            result.update({f"planner.{name}.{way}{end}": over_cars(share_of(found, other, way), cars) for way in found})
    wrong = column_of(found[OURS], "wrong_parts")
    result[f"planner.wrong_parts{end}"] = over_cars(mean_of(wrong), cars, GOALS["wrong_parts"])
    return {**result, **figures_of_each(found, suffix)}


def figures_of_each(found: dict[str, list[Outcome]], suffix: str = "") -> dict[str, Figure]:
    """Of each way its cost over knowing the faults, and the mean of every column."""
    end, cars, result = f"_{suffix}" if suffix else "", len(found[KNOWS]), {}
    for way in found:
        result[f"planner.over_omniscient_c4.{way}{end}"] = over_cars(over_knows(found, way), cars)
        for name in COLUMNS:
            shown = "left_unrepaired" if name == "left" else name
            result[f"planner.{shown}.{way}{end}"] = over_cars(mean_of(column_of(found[way], name)), cars)
    return result


def over_knows(found: dict[str, list[Outcome]], way: str) -> Callable[[Rows], float]:
    """Mean cost of a way over that of knowing the faults, of some cars."""
    total, knows = column_of(found[way], "total"), column_of(found[KNOWS], "total")
    return lambda rows: float(total[rows].mean() / knows[rows].mean())


def share_of(
    found: dict[str, list[Outcome]], other: str, way: str = OURS, column: str = "total"
) -> Callable[[Rows], float]:
    """Mean excess of a way over knowing the faults as a share of another's, of some cars."""
    knows, one, against = (column_of(found[each], column) for each in (KNOWS, way, other))
    return lambda rows: float(
        (one[rows].mean() - knows[rows].mean()) / max(against[rows].mean() - knows[rows].mean(), 1e-9)
    )


def mean_of(values: Array) -> Callable[[Rows], float]:
    """Mean of a column over some cars."""
    return lambda rows: float(values[rows].mean())


def table_of_ways(found: dict[str, list[Outcome]]) -> dict[str, dict[str, float]]:
    """Way -> mean, median and 90 % point of the cost, and the mean of every column."""
    result = {}
    for way, outcomes in found.items():
        total = column_of(outcomes, "total")
        row = {"mean": total.mean(), "median": np.median(total), "p90": np.quantile(total, 0.9), "cars": len(total)}
        row.update({name: column_of(outcomes, name).mean() for name in COLUMNS})
        result[way] = {name: round(float(value), 2) for name, value in row.items()}
    return result


def drawn(outcomes: Sequence[Outcome]) -> dict[str, list[float]]:
    """Least, mean and most of the faults the cars came with, and of those behind the complaint."""
    counts = {
        "faults": np.array([one.faults for one in outcomes]),
        "behind": np.array([one.behind for one in outcomes]),
    }
    return {name: [int(count.min()), round(float(count.mean()), 2), int(count.max())] for name, count in counts.items()}
