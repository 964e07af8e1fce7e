"""``make prove``: real cases and simulated cars, printed and written; ``FULL=1``: many cars, kept in the docs."""

from __future__ import annotations

import os
import sys
import time
from dataclasses import asdict

from knowngood.errors import Refused
from knowngood.library.load import load
from knowngood.proving import calibration_run, development, policies
from knowngood.proving.asked import DEVELOP, Asked, asked
from knowngood.proving.blind import figures_of_blind
from knowngood.proving.cases import FOLDER, figures_of, score_all
from knowngood.proving.figures import NOT_NAMED, Figure, commit, line, write
from knowngood.proving.hands import figures_of_hands
from knowngood.proving.kept import command_line, keep
from knowngood.proving.seeds import fresh
from knowngood.proving.shorthand import figures_of_shorthand
from knowngood.proving.small_plans import figures_of_small_plans


def main() -> int:
    """Score, print, write; 0 also where a goal is not reached: the figure says so."""
    if not FOLDER.is_dir():
        print(f"There are no cases in {FOLDER}: run this from the checkout.", file=sys.stderr)
        return 2
    try:
        wanted = asked(os.environ)
    except Refused as refused:
        print(refused, file=sys.stderr)
        return refused.exit_code
    command = command_line()
    commit()
    if DEVELOP in wanted.parts:
        cars, ways = wanted.cars or development.CARS, wanted.ways or development.WAYS
        print(development.develop(cars, ways, wanted.first))
    for part, figures in {"cases": of_cases, "plans": of_plans, "chances": of_chances, "ways": of_ways}.items():
        if part in wanted.parts:
            began = time.perf_counter()
            found = figures(wanted)
            for name, figure in found.items():
                print(line(name, figure))
            write(found, command=command, seconds=time.perf_counter() - began)
    return 0


def of_cases(_wanted: Asked) -> dict[str, Figure]:
    """Real repairs with known causes, and lines in shorthand."""
    library = load()
    scores = score_all(library)
    for score in scores:
        rank = "-" if score.rank == NOT_NAMED else str(score.rank)
        lines = f"{score.understood}/{score.lines}"
        print(f"{score.name} {score.stage:<8} rank {rank:>2}  lines {lines}  good next {score.good_next}")
    return {
        **figures_of(scores),
        **figures_of_shorthand(library),
        **figures_of_blind(library),
        **figures_of_hands(library),
    }


def of_plans(wanted: Asked) -> dict[str, Figure]:
    """How near the planner comes to the best plan on small cars; what it does with wrong numbers."""
    return figures_of_small_plans(wanted.full)


def of_chances(wanted: Asked) -> dict[str, Figure]:
    """Whether chances mean what they say."""
    cars = wanted.cars or (calibration_run.FULL_CARS if wanted.full else calibration_run.SHORT_CARS)
    figures, tables = calibration_run.calibrate(fresh(cars))
    keep("chances", {"cars": cars, "bins": tables}, full=wanted.full)
    return figures


def of_ways(wanted: Asked) -> dict[str, Figure]:
    """What ways of working cost; in a full run those that take little on many more cars besides."""
    cars = wanted.cars or (policies.FULL_CARS if wanted.full else policies.SHORT_CARS)
    found = policies.compare(fresh(cars), wanted.ways or policies.USUAL)
    table = table_shown(found)
    came = policies.drawn(found[policies.KNOWS])
    print("least, mean, most of", "  ".join(f"{name} {counts}" for name, counts in came.items()))
    figures = policies.figures_of_ways(found)
    shown = {name: {**asdict(figure), "holds": figure.holds} for name, figure in figures.items()}
    content = {"seeds": cars, **came, "ways": table, "figures": shown}
    if wanted.full:
        many = policies.compare(fresh(policies.MANY_CARS), policies.CHEAP)
        content["many"] = table_shown(many)
        figures.update(policies.figures_of_each(many, "many"))
    keep("ways", content, full=wanted.full)
    return figures


def table_shown(found: dict[str, list[policies.Outcome]]) -> dict[str, dict[str, float]]:
    """The table of some ways, printed."""
    table = policies.table_of_ways(found)
    for way, row in table.items():
        print(f"{way:<18}", "  ".join(f"{name} {value:g}" for name, value in row.items()))
    return table


if __name__ == "__main__":
    sys.exit(main())
