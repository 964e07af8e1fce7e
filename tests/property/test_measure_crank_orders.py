"""Crank-speed orders: what all engines share."""

from hypothesis import given
from hypothesis import strategies as st

from knowngood.measure.crank_orders import roughness, torque_orders

ENGINES = st.sampled_from([2, 3, 4, 5, 6, 8, 10, 12])


@given(ENGINES, st.data())
def test_dead_and_alive_are_each_other_turned(cylinders: int, data: st.DataObject) -> None:
    """Off the firing orders, killing a set of places gives the amplitudes of killing all the others."""
    dead = data.draw(st.sets(st.integers(1, cylinders), max_size=cylinders))
    alive = set(range(1, cylinders + 1)) - dead
    one, other = (
        {line.order: line.amplitude for line in torque_orders(cylinders, places) if line.order % (cylinders / 2)}
        for places in (dead, alive)
    )
    assert set(one) == set(other)
    assert all(abs(one[order] - other[order]) < 1e-9 for order in one)


@given(ENGINES, st.integers(1, 12))
def test_which_cylinder_is_dead_changes_phases_only(cylinders: int, place: int) -> None:
    """Amplitudes are the same for every single dead cylinder."""
    first, other = torque_orders(cylinders, {1}), torque_orders(cylinders, {1 + place % cylinders})
    assert [round(line.amplitude, 9) for line in first] == [round(line.amplitude, 9) for line in other]


@given(st.floats(5.0, 200.0), st.floats(0.001, 0.3), st.floats(1.5, 4.0))
def test_roughness_does_not_depend_on_the_clock(first: float, slower: float, factor: float) -> None:
    """Times k longer make the index k squared smaller, and a slower next segment is always positive."""
    index, _ = roughness(first, first * (1.0 + slower))
    stretched, _ = roughness(factor * first, factor * first * (1.0 + slower))
    assert index > 0.0
    assert abs(stretched * factor**2 / index - 1.0) < 1e-9
