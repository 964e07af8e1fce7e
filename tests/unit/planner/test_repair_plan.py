"""What one job takes, by hand: what is closed, warmed, cooled, opened before it."""

from __future__ import annotations

from dataclasses import fields

import pytest

from knowngood.planner.problem import AccessGraph, AccessTime, Problem
from knowngood.planner.repair_plan import Job, Waits, repair_plan

STEPS = {"cover": AccessTime(5.0, 6.0, (), False), "shield": AccessTime(2.0, 3.0, (), True)}
WAITS = Waits(warm_minutes=10.0, cool_minutes=60.0, cool_share=0.5, day_minutes=7.0)


def moves(engine: str, *, opened: tuple[str, ...] = (), hot: bool = False, access: tuple[str, ...] = ()) -> list[str]:
    """The moves for one job of four minutes."""
    job = Job(id="job", name="job", minutes=4.0, access=access, engine=engine)
    plan = repair_plan([job], AccessGraph(STEPS, frozenset(opened)), hot=hot, waits=WAITS)
    assert plan.minutes == pytest.approx(sum(move.minutes for move in plan.moves))
    return [f"{move.do} {move.what} {move.minutes:g}" for move in plan.moves]


def test_engine_is_not_run_with_a_cover_off() -> None:
    """What may not stay off is closed before it runs or warms; what may stay off is not."""
    assert moves("running", opened=("cover", "shield"))[:2] == ["close cover 6", "do job 4"]
    assert moves("hot", opened=("cover", "shield"))[:3] == ["close cover 6", "warm  10", "do job 4"]


def test_engine_that_does_not_run_may_stay_open() -> None:
    """Nothing is closed before a cold job, nor before a hot one on an engine that is hot."""
    assert moves("cold", opened=("cover",)) == ["do job 4", "close cover 6"]
    assert moves("hot", opened=("cover",), hot=True) == ["do job 4", "close cover 6"]


def test_cold_job_waits_for_a_hot_engine_only() -> None:
    """Half an hour of sixty minutes: the other half something else is done; nothing on a cold engine."""
    assert moves("cold", hot=True) == ["cool  30", "do job 4"]
    assert moves("cold") == ["do job 4"]
    assert moves("hot") == ["warm  10", "do job 4"]


def test_what_the_job_itself_needs_stays_open() -> None:
    """A job on the running engine behind the cover: it is opened, not closed, before, and closed after."""
    assert moves("running", opened=("cover",), access=("cover",)) == ["do job 4", "close cover 6"]
    assert moves("running", access=("cover",)) == ["open cover 5", "do job 4", "close cover 6"]


def test_job_on_a_later_day_finds_the_engine_cold() -> None:
    """Two days of waiting at seven minutes each, then it is warmed."""
    job = Job(id="job", name="job", minutes=4.0, engine="hot", day=2)
    plan = repair_plan([job], AccessGraph(STEPS), hot=True, waits=WAITS)
    assert [(move.do, move.what, move.minutes) for move in plan.moves] == [
        ("wait", "until day 2", 14.0),
        ("warm", "", 10.0),
        ("do", "job", 4.0),
    ]


def test_waiting_costs_the_same_in_the_advice_and_in_the_order() -> None:
    """Warming and cooling are one thing, whether a check is priced or a plan is laid."""
    waits, told = Waits(), {field.name: field.default for field in fields(Problem)}
    assert waits.warm_minutes == told["warm_minutes"]
    assert waits.cool_minutes == told["cool_minutes"]
    assert waits.cool_share == told["cooling_share"]
