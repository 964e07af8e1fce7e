"""Readings as text."""

import pytest

from knowngood.errors import Refused
from knowngood.units import in_unit, read_quantity, show


@pytest.mark.parametrize(
    ("text", "kind", "shown"),
    [
        ("175psi", "compression", "175 psi (12.1 bar)"),
        ("175", "compression", "175 psi (12.1 bar, unit guessed)"),
        ("5.1k", "lead_resistance", "5.1 kΩ"),
        ("~165psi", "compression", "about 165 psi (11.4 bar)"),
        ("9-9.5 bar", "compression", "9.0 to 9.5 bar (131 to 138 psi)"),
        ("500+ C", "temperature", "over 500 °C (932 °F)"),
        ("none", "compression", "none seen (0 psi, unit guessed)"),
        (".039in", "gap", "0.039 in (0.99 mm)"),
        ("14.80", "battery_voltage", "14.80 V"),
        ("-22%", "trim", "-22 %"),
        ("10 deg", "angle", "10°"),
        ("3", "count", "3"),
        ("OL", "resistance", "over 1 MΩ"),
        ("-0.0", "trim", "0.0 %"),
    ],
)
def test_shown_as_typed_with_the_other_unit_behind(text: str, kind: str, shown: str) -> None:
    """Digits are as typed, the other unit about as fine, a guess is said."""
    assert show(read_quantity(text, kind)) == shown


def test_shown_in_another_unit() -> None:
    """No typed step is lost: one psi is more than a hundredth of a bar."""
    assert show(read_quantity("175psi", "compression"), "bar") == "12.07 bar (175.0 psi)"


def test_in_unit_keeps_value_and_sense() -> None:
    """Only the way of writing changes."""
    turned = in_unit(read_quantity("over 500 °F", "temperature"), "degC")
    assert turned.value == pytest.approx(260.0)
    assert (turned.amount.sense, turned.amount.low, turned.amount.high) == ("over", pytest.approx(260.0), None)


def test_foreign_unit_is_refused() -> None:
    """A pressure has no ohms."""
    with pytest.raises(Refused, match="'ohm' is no unit of compression"):
        show(read_quantity("175psi", "compression"), "ohm")
