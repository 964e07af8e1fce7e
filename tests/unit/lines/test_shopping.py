"""What is bought, what it costs, what the car is worth, what work took."""

from __future__ import annotations

import json

import pytest

from knowngood.evidence import CarFact, Note, Stock, Tool, Work
from tests.unit.lines.said import SIX, read, said


@pytest.mark.parametrize(
    ("line", "stock"),
    [
        ("ordered coil 38 two days", Stock(part="coil", price=38.0, wait_days=2.0, state="ordered")),
        ("coil ordered, 38.50, 2 days", Stock(part="coil", price=38.5, wait_days=2.0, state="ordered")),
        ("ordered coil 3 38 tomorrow", Stock(part="coil", price=38.0, wait_days=1.0, state="ordered")),
        (
            "ordered 6 plugs 4 each, 1 week from the breaker",
            Stock(part="plug", count=6, price=24.0, wait_days=7.0, state="ordered", source="breaker"),
        ),
        ("coil arrived", Stock(part="coil", state="arrived")),
        ("bought a coil for 30 from the breaker", Stock(part="coil", price=30.0, state="arrived", source="breaker")),
        ("returned coil", Stock(part="coil", state="returned")),
        ("want a coil", Stock(part="coil", state="wanted")),
    ],
)
def test_part_is_followed_from_wanted_to_returned(line: str, stock: Stock) -> None:
    """One line, one part, its stage, price, wait and source."""
    assert read(line, SIX).bodies == (stock,)


def test_number_that_may_be_a_cylinder_is_no_price_and_says_so() -> None:
    """Coil 3 is the coil of cylinder 3."""
    understood = read("ordered coil 3", SIX)
    assert understood.bodies[0] == Stock(part="coil", wait_days=1.0, state="ordered")
    assert "3 taken as the cylinder, not as its price" in understood.echo


@pytest.mark.parametrize(
    ("line", "field", "value"),
    [
        ("worth 2500 when done", "worth_done", 2500.0),
        ("worth about 1,800 as it stands", "worth_now", 1800.0),
        ("bought the car for 900", "price_paid", 900.0),
        ("asking 1.200", "price_asked", 1200.0),
    ],
)
def test_worth_and_price_are_facts_of_the_car(line: str, field: str, value: float) -> None:
    """A point or comma before three digits parts thousands."""
    assert read(line).bodies == (CarFact(field, json.dumps(value)),)


def test_bought_tool_is_on_hand_with_its_price() -> None:
    """A compression gauge for 45."""
    (tool,) = read("bought compression gauge 45").bodies
    assert isinstance(tool, Tool)
    assert (tool.state, tool.price) == ("on hand", 45.0)


@pytest.mark.parametrize(
    ("line", "minutes"), [("replaced coil 3, 40 min", [40.0]), ("replaced coils 1 and 2, took 1.5 h", [90.0])]
)
def test_time_behind_work_is_what_it_took(line: str, minutes: list[float]) -> None:
    """Minutes or hours, at the end of the line."""
    assert [body.minutes for body in read(line).bodies if isinstance(body, Work)] == minutes


def test_time_of_several_works_is_shared_out() -> None:
    """Two parts in an hour are half an hour each."""
    works = [body for body in read("replaced coil 3, cleaned plug 3, 1 h").bodies if isinstance(body, Work)]
    assert [work.minutes for work in works] == [30.0, 30.0]


@pytest.mark.parametrize("line", ["sent back the coil, no change", "code returned on 3", "bought a hat 12"])
def test_line_that_says_more_is_not_taken_for_shopping(line: str) -> None:
    """Nothing typed is swallowed: what does not fit goes the way it went before."""
    bodies = read(line).bodies
    assert not any(isinstance(body, (Stock, Tool)) for body in bodies)
    assert any(isinstance(body, Note) for body in bodies) or said(line)
