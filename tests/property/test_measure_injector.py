"""Injectors: the pressure law, the line through two runs, and rows that do not care for order."""

from random import Random

from hypothesis import given
from hypothesis import strategies as st

from knowngood.measure.fuel_dilution import fuel_washed_into_oil
from knowngood.measure.injector import dead_time, flow_at_pressure
from knowngood.measure.injector_balance import drop_balance, flow_balance
from tests.unit.measure.scatter import scatter

PRESSURE = st.floats(100.0, 800.0)
AMOUNTS = st.lists(st.floats(20.0, 80.0), min_size=3, max_size=8)


@given(st.floats(50.0, 600.0), PRESSURE, PRESSURE, PRESSURE)
def test_pressure_steps_can_be_joined(flow: float, one: float, two: float, three: float) -> None:
    """By way of a third pressure it is the same flow, and more pressure is more flow."""
    there = flow_at_pressure(flow, one, two)[0]
    assert abs(flow_at_pressure(flow_at_pressure(flow, one, three)[0], three, two)[0] - there) < 1e-9 * there
    assert (there > flow) == (two > one) or abs(two - one) < 1e-9


@given(st.floats(0.3, 1.5), st.floats(100.0, 500.0), st.floats(2.0, 4.0), st.floats(6.0, 12.0))
def test_line_is_found_again(dead: float, flow: float, short: float, long: float) -> None:
    """Amounts made from a dead time and a flow give both back."""
    amounts = [flow / 60_000.0 * (pulse - dead) * 1000 for pulse in (short, long)]
    line = dead_time(short, amounts[0], long, amounts[1], 1000, amount_se_ml=0.05)
    assert abs(line.dead_time_ms - dead) < 1e-6
    assert abs(line.flow_ml_min - flow) < 1e-6


@given(AMOUNTS, st.randoms(use_true_random=False), st.floats(0.5, 2.0))
def test_balance_keeps_to_the_cylinder(amounts: list[float], dice: Random, scale: float) -> None:
    """Order and run time do not matter; the words move with the cylinder."""
    row = dict(enumerate(amounts, start=1))
    order = list(row)
    dice.shuffle(order)
    one = {share.cylinder: share for share in flow_balance(row)}
    other = {share.cylinder: share for share in flow_balance({number: row[number] for number in order})}
    longer = flow_balance({number: scale * ml for number, ml in row.items()}, amount_se_ml=0.5 * scale)
    assert one == other
    assert all(abs(share.from_middle - one[share.cylinder].from_middle) < 1e-6 for share in longer)


@given(AMOUNTS, st.floats(-20.0, 20.0))
def test_a_leaking_rail_moves_no_injector(drops: list[float], leak: float) -> None:
    """The same loss added to all drops changes no deviation."""
    row = dict(enumerate(drops, start=1))
    moved = drop_balance({number: kpa + leak for number, kpa in row.items()})
    assert all(
        abs(one.from_middle - other.from_middle) < 1e-9 for one, other in zip(drop_balance(row), moved, strict=True)
    )


@given(st.floats(1.0, 20.0), st.integers(3, 12), st.floats(1.0, 500.0), st.floats(2.0, 10.0), st.floats(1.1, 3.0))
def test_fuel_in_the_oil_rises_with_time(flow: float, cylinders: int, minutes: float, oil: float, more: float) -> None:
    """And with air flow; the range stays in order."""
    one = fuel_washed_into_oil(flow, cylinders, minutes, oil).share_pct
    assert 0.0 < one.low < one.value < one.high < 100.0
    assert fuel_washed_into_oil(flow, cylinders, more * minutes, oil).share_pct.value > one.value
    assert fuel_washed_into_oil(more * flow, cylinders, minutes, oil).share_pct.value > one.value


@given(PRESSURE, PRESSURE, st.floats(0.005, 0.05))
def test_error_of_a_flow_is_what_throws_scatter(one: float, two: float, share: float) -> None:
    """Within 5 % at any pair of pressures."""
    errors = (2.0, share * one, share * two)
    _, se = flow_at_pressure(200.0, one, two, flow_se_ml_min=2.0, from_se_kpa=errors[1], to_se_kpa=errors[2])
    thrown = scatter(lambda q, a, b: flow_at_pressure(q, a, b)[0], (200.0, one, two), errors)
    assert abs(se / thrown - 1.0) < 0.05
