"""What is shown reads back as what it was."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.units import Amount, Quantity, in_unit, kinds, read_quantity, read_row, show
from knowngood.units.amount import NONE_SEEN, exactly, parse_number
from knowngood.units.kind import Kind

KINDS = kinds()


@st.composite
def amounts(draw: st.DrawFn, kind: Kind) -> Amount:
    """Amounts as a typist can write them: a whole number of last digits; none of it where there is such a thing."""
    decimals = 0 if kind.whole else draw(st.integers(0, 4))
    low, high = sorted(round(draw(st.integers(-(10**7), 10**7)) / 10**decimals, decimals) for _ in range(2))
    sense = draw(st.sampled_from(["exact", "about", "over", "under", "range", *["none_seen"] * kind.zero_is_none]))
    match sense:
        case "none_seen":
            return NONE_SEEN
        case "range":
            return Amount((low + high) / 2, low, high, "range", decimals)
        case "exact":
            return exactly(high, decimals)
        case "about":
            return parse_number(f"about {high:.{decimals}f}")
        case "over":
            return Amount(high, high, None, "over", decimals)
        case _:
            return Amount(high, None, high, "under", decimals)


@st.composite
def quantities(draw: st.DrawFn) -> Quantity:
    """Readings of any kind in any of its units, guessed or not."""
    kind = KINDS[draw(st.sampled_from(sorted(KINDS)))]
    unit = draw(st.sampled_from(list(kind.units.values())))
    amount = draw(amounts(kind))
    return Quantity(kind.name, unit.to_base(amount.value), amount, unit.name, draw(st.booleans()))


@given(quantities())
def test_read_of_show_is_the_same_reading(quantity: Quantity) -> None:
    """parse(show(x)) == x for every kind, unit and sense."""
    assert replace(read_quantity(show(quantity), quantity.kind), others=()) == quantity


@given(quantities(), st.data())
def test_another_unit_loses_no_typed_step(quantity: Quantity, data: st.DataObject) -> None:
    """Shown in any other unit and read back, the value is within half a typed step."""
    unit = data.draw(st.sampled_from(sorted(KINDS[quantity.kind].units)))
    back = read_quantity(show(quantity, unit), quantity.kind)
    assert abs(back.value - quantity.value) <= 0.5001 * quantity.step + 1e-9 * abs(quantity.value)


@given(quantities(), st.data())
def test_in_unit_never_moves_the_value(quantity: Quantity, data: st.DataObject) -> None:
    """Changing the unit shown is no change of the reading."""
    unit = data.draw(st.sampled_from(sorted(KINDS[quantity.kind].units)))
    assert in_unit(quantity, unit).value == quantity.value


@given(st.lists(st.integers(60, 250), min_size=2, max_size=12), st.integers(0, 40))
def test_row_of_bare_numbers_has_one_unit(good_psi: list[int], bad_psi: int) -> None:
    """However low one cylinder is, it is read with the meter of the others."""
    row = read_row([str(value) for value in [*good_psi, bad_psi]], "compression")
    assert {reading.unit for reading in row} == {"psi"}


@given(st.text(max_size=20))
def test_any_text_is_read_or_refused(text: str) -> None:
    """No text brings the reader down with anything but a refusal."""
    from knowngood.errors import Refused

    try:
        reading = read_quantity(text, "compression")
    except Refused:
        return
    assert reading.value == pytest.approx(reading.value)
