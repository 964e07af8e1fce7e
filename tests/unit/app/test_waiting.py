"""Parts on the shelf, ordered and to buy; tools lent out and missing; an engine too hot: each has its price."""

from __future__ import annotations

from dataclasses import replace

import pytest

from knowngood.app.state import State
from knowngood.app.tasks import problem_of
from knowngood.app.waiting import days_until, engine_now, wait_words
from knowngood.evidence import Tool
from knowngood.library.load import load
from knowngood.planner.problem import CheckAt, Problem, Repair
from tests.told import state_after

CAR = ("4 cylinders in line, coil on plug, port injection, 180000 km", "P0302 stored", "shakes at hot idle")
LIBRARY = load()


def told(*lines: str) -> State:
    """A car that misses on one cylinder, and what is said besides."""
    return state_after(*CAR, *lines)


def coil_of(problem: Problem) -> Repair:
    """Replacing the coil of cylinder 2."""
    return next(one for one in problem.repairs if one.part == "coil" and str(one.place) == "cylinder 2")


def check_of(problem: Problem, name: str) -> CheckAt:
    """The first check of that name."""
    return next(check for check in problem.checks if check.id == name)


def test_part_on_the_shelf_costs_nothing_more() -> None:
    """To buy: price and wait of the library. On the shelf: neither. Ordered: paid, and the wait that is said."""
    coil = LIBRARY.parts["coil"]
    bought = coil_of(problem_of(told()))
    assert (bought.money, bought.wait_days) == (coil.price, coil.wait_days)
    shelf = coil_of(problem_of(told("spare coil on the shelf")))
    assert (shelf.money, shelf.wait_days) == (0.0, 0.0)
    ordered = coil_of(problem_of(told("coil ordered, 5 days")))
    assert (ordered.money, ordered.wait_days) == (0.0, 5.0)
    both = coil_of(problem_of(told("spare coil on the shelf", "coil ordered, 5 days")))
    assert (both.money, both.wait_days) == (0.0, 0.0)


def test_wait_is_said_only_where_there_is_one() -> None:
    """Of a tool and of a part; one day is no days."""
    problem = problem_of(told("got a compression gauge"))
    check = replace(check_of(problem, "compression_row"), engine="")
    coil = coil_of(problem)
    assert wait_words(problem, check) == wait_words(problem, replace(coil, wait_days=0.0)) == ""
    assert wait_words(problem, replace(check, wait_days=1.0)) == "the tool is back in about 1 day"
    assert wait_words(problem, replace(coil, wait_days=3.0)) == "the part comes in about 3 days"


def test_day_of_waiting_has_a_price() -> None:
    """A coil that comes in three days costs two days more than one that comes tomorrow."""
    problem = problem_of(told())
    coil = coil_of(problem)
    later = replace(coil, wait_days=coil.wait_days + 2.0)
    assert problem.repair_cost(later) - problem.repair_cost(coil) == pytest.approx(2.0 * problem.money_per_day)
    assert problem.money_per_day > 0.0


def test_tool_lent_out_is_waited_for_and_a_missing_one_is_bought() -> None:
    """Never a dead end: the check stays, with days for the one and a price for the other."""
    stayed = "coil 2>3, miss stayed"  # so that sealing is well among the suspects, whatever the draws
    here = check_of(problem_of(told(stayed, "got a compression gauge")), "compression_row")
    lent = check_of(problem_of(told(stayed, "compression gauge lent till tomorrow")), "compression_row")
    gone = check_of(problem_of(told(stayed, "no compression gauge")), "compression_row")
    assert (here.wait_days, here.tool_price) == (0.0, 0.0)
    assert (lent.wait_days, lent.tool_price) == (1.0, 0.0)
    assert (gone.wait_days, gone.tool_price) == (0.0, LIBRARY.tools["compression_gauge"].price)


@pytest.mark.parametrize(
    ("back", "days"),
    [
        ("now", 0.0),
        ("today", 0.0),
        ("tomorrow", 1.0),
        ("in 2 days", 2.0),
        ("in two days", 2.0),
        ("in a fortnight", 14.0),
        ("three weeks", 21.0),
        ("in two months", 60.0),
        ("some months", 30.0),
        ("next week", 7.0),
        ("a few weeks", 7.0),
        ("2 weeks", 14.0),
        ("in 2 months", 60.0),
        ("friday", 3.0),
        ("not known", 3.0),
        ("nobody knows", 3.0),
        ("", 3.0),
    ],
)
def test_days_until_a_tool_is_back(back: str, days: float) -> None:
    """As said; a weekday without a date, and nothing said or known, is half a week: "not known" is not now."""
    assert days_until(Tool("compression_gauge", "lent", back)) == days


def test_engine_is_as_the_last_reading_says() -> None:
    """Hot after a reading at hot idle; not known where nothing was read."""
    assert engine_now(told().entries) == "hot"
    assert engine_now(told("comp 170 172 171 169 cold").entries) in ("cold", "")
    assert engine_now(()) == ""


def check(engine: str = "", **more: object) -> CheckAt:
    """A check of a minute."""
    return CheckAt(id="t", name="t", asks=(), minutes=1.0, engine=engine, **more)  # type: ignore[arg-type]


def test_hot_engine_has_to_cool_for_a_cold_check() -> None:
    """Two hours at a quarter of the rate; ten minutes at the whole rate to warm up; nothing where it is so already."""
    problem = replace(problem_of(told()), rate_per_hour=60.0, engine_now="hot")
    assert problem.check_cost(check("hot")) == pytest.approx(1.0)
    assert problem.check_cost(check("cold")) == pytest.approx(1.0 + 0.25 * 120.0)
    cold = replace(problem, engine_now="cold")
    assert cold.check_cost(check("hot")) == pytest.approx(1.0 + 10.0)
    assert replace(problem, engine_now="").check_cost(check("cold")) == pytest.approx(1.0)


def test_words() -> None:
    """What is waited for, word for word."""
    problem = replace(problem_of(told()), engine_now="hot")
    assert wait_words(problem, check()) == ""
    assert wait_words(problem, check("cold")) == "let the engine cool first, about 2 h 00"
    assert wait_words(problem, check(wait_days=1.0)) == "the tool is back in about 1 day"
    assert wait_words(replace(problem, engine_now="cold"), check("hot")) == "warm the engine up first, about 10 min"
    coil = coil_of(problem)
    assert wait_words(problem, replace(coil, wait_days=2.0)) == "the part comes in about 2 days"
