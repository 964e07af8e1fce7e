"""How good the order of chosen repairs is, and how long a sheet takes to print.

Small graphs are compared with every order walked through by hand. Sets of repairs are drawn from the library's own
repairs on a typical engine, each as likely as it is needed on a neglected car, and done one by one in the order
p / ((c + access)(1 - p)), each opened and closed for itself.
"""

from __future__ import annotations

import statistics
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from knowngood.app.example import tell_example
from knowngood.app.repair_order import job_of
from knowngood.app.sheets import SHEETS, sheet_of
from knowngood.app.state import State, state_of
from knowngood.app.tasks import access_graph, repairs_of
from knowngood.app.workshop import Workshop
from knowngood.car import Car
from knowngood.evidence import Entry
from knowngood.library.load import load
from knowngood.library.records import Library
from knowngood.lines import Recent, read_line
from knowngood.planner.problem import AccessGraph, Repair
from knowngood.planner.repair_plan import repair_plan
from knowngood.proving.figures import Figure, line, share
from knowngood.sheets.as_pdf import as_pdf
from tests.naive.all_orders import fewest_minutes
from tests.naive.small_plans import some_case

GRAPHS = 100
SETS = 200
LEAST, MOST = 3, 9
ENGINES = (
    "inline four, coil on plug, port injection, flow meter, 180000 km",
    "V6, coil on plug, port injection, flow meter, 180000 km",
)
RUNS = 5


def finishing_figures() -> dict[str, Figure]:
    """Plans against every order and against one by one; printing."""
    return {
        "plan.equal_to_brute_force": equal_to_brute_force(),
        "plan.minutes_saved_pct": minutes_saved_pct(load()),
        **render_ms(),
    }


def equal_to_brute_force(graphs: int = GRAPHS) -> Figure:
    """Share of small graphs on which no order is shorter than the plan."""
    equal = 0
    for seed in range(graphs):
        jobs, access, hot, waits = some_case(1000 + seed, 2 + seed % 5)
        plan = repair_plan(jobs, access, hot=hot, waits=waits)
        equal += abs(plan.minutes - fewest_minutes(jobs, access, hot, waits)) < 1e-9
    return share(equal, graphs, goal=1.0)


def minutes_saved_pct(library: Library, sets: int = SETS) -> Figure:
    """Mean share of the minutes that the plan saves, with its 95 % interval."""
    rng = np.random.default_rng(20)
    saved: list[float] = []
    for engine in ENGINES:
        state = state_of(library, told(library, ("petrol", engine)))
        access = access_graph(state)
        pool = [(repair, _needed(state, repair)) for repair in repairs_of(state, 0.0005)]
        weights = np.array([chance for _, chance in pool])
        for _ in range(sets // len(ENGINES)):
            count = int(rng.integers(LEAST, MOST + 1))
            drawn = rng.choice(len(pool), count, replace=False, p=weights / weights.sum())
            chosen = _by_ratio([pool[index] for index in drawn], access)
            plan = repair_plan([job_of(repair) for repair in chosen], access)
            saved.append(100.0 * (1.0 - plan.minutes / plan.one_by_one))
    mean, half = statistics.mean(saved), 1.96 * statistics.stdev(saved) / len(saved) ** 0.5
    return Figure(round(mean, 1), len(saved), round(mean - half, 1), round(mean + half, 1))


def told(library: Library, lines: Sequence[str]) -> list[Entry]:
    """Entries of a car from lines of the car itself."""
    entries: list[Entry] = []
    for told in lines:
        for body in read_line(told, Car(), library, Recent()).bodies:
            stamp = f"2026-01-01T00:00:00.{len(entries):06}"
            entries.append(Entry(id=str(len(entries)), at=stamp, entered=stamp, line=told, body=body))
    return entries


def _needed(state: State, repair: Repair) -> float:
    return min(state.belief.chance_of_any(list(repair.fixes)), 0.99)


def _by_ratio(chosen: Sequence[tuple[Repair, float]], access: AccessGraph) -> list[Repair]:
    def ratio(one: tuple[Repair, float]) -> float:
        repair, chance = one
        minutes = repair.minutes + access.open_minutes(repair.access) + access.close_minutes(repair.access)
        return chance / (minutes * (1.0 - chance))

    return [repair for repair, _ in sorted(chosen, key=ratio, reverse=True)]


def render_ms() -> dict[str, Figure]:
    """Milliseconds from a sheet to its PDF, median of five: each sheet of the example car, and the slowest of them."""
    found: dict[str, Figure] = {}
    with tempfile.TemporaryDirectory() as folder:
        code, _ = tell_example(Path(folder), load(), until="")
        with Workshop(Path(folder), load()) as workshop:
            state, answer = workshop.state(code), workshop.answer(code)
            for name in SHEETS:
                sheet = sheet_of(name, state, answer, "2026-05-01")
                as_pdf(sheet)
                times = []
                for _ in range(RUNS):
                    began = time.perf_counter()
                    as_pdf(sheet)
                    times.append(1000.0 * (time.perf_counter() - began))
                found[f"sheets.render_ms_{name}"] = Figure(
                    round(statistics.median(times), 1), RUNS, round(min(times), 1), round(max(times), 1)
                )
    slowest = max(found.values(), key=lambda figure: figure.value)
    return {"sheets.render_ms": slowest, **found}


if __name__ == "__main__":
    for name, figure in finishing_figures().items():
        print(line(name, figure))
