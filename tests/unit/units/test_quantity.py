"""Readings with their units."""

import pytest

from knowngood.errors import Refused
from knowngood.units import is_usual, read_quantity, read_row


@pytest.mark.parametrize(
    ("text", "kind", "value", "unit"),
    [
        ("~165psi all"[:7], "compression", 1137.635, "psi"),
        ("125 lbs", "compression", 861.845, "psi"),
        ("11kgf/cm2", "compression", 1078.7315, "kgf_cm2"),
        ("1k", "compression", 98.0665, "kgf_cm2"),
        ("9-9.5 bar", "compression", 925.0, "bar"),
        ("300KPa", "fuel_pressure", 300.0, "kPa"),
        ("13.6Kohm", "coil_secondary", 13600.0, "kohm"),
        ("3.2k\u2126", "lead_resistance", 3200.0, "kohm"),
        ("0.003 ohms", "joint_resistance", 0.003, "ohm"),
        ("14.80", "battery_voltage", 14.8, "V"),
        ("0.05v to 0.9v", "sensor_voltage", 0.475, "V"),
        ('8.3" Hg', "vacuum", 28.107, "inHg"),
        ("6.20 g/s", "air_flow", 6.2, "g/s"),
        ("4.9 lb/min", "air_flow", 37.0434, "lb/min"),
        ("201 deg F", "temperature", 93.8889, "degF"),
        ("-30", "temperature", -30.0, "degC"),
        ("1.3mm", "gap", 1.3, "mm"),
        (".039in", "gap", 0.9906, "in"),
        ("330mA", "draw", 0.33, "mA"),
        ("126,000 km", "distance", 126000.0, "km"),
        ("150 thousand miles", "distance", 241401.6, "thousand_mile"),
        ("12万キロ", "distance", 120000.0, "ten_thousand_km"),
        ("+18", "trim", 18.0, "percent"),
        ("$35", "money", 35.0, "money"),
        ("$1.2k", "money", 1200.0, "thousand"),
    ],
)
def test_typed_unit_is_taken(text: str, kind: str, value: float, unit: str) -> None:
    """Forms met in real threads read without a guess."""
    reading = read_quantity(text, kind)
    assert reading.value == pytest.approx(value, rel=1e-5)
    assert (reading.unit, reading.guessed, reading.others) == (unit, False, ())


@pytest.mark.parametrize(
    ("text", "kind", "unit"),
    [
        ("175", "compression", "psi"),
        ("12.1", "compression", "bar"),
        ("1.2", "compression", "MPa"),
        ("1200", "compression", "kPa"),
        ("40", "compression", "psi"),
        ("43", "fuel_pressure", "psi"),
        ("3,0", "fuel_pressure", "bar"),
        (".050", "gap", "in"),
        ("0.9", "gap", "mm"),
        ("35", "gap", "thou"),
        ("5.1", "lead_resistance", "kohm"),
        ("5100", "lead_resistance", "ohm"),
        ("35", "draw", "mA"),
        ("0.3", "draw", "A"),
        ("18", "vacuum", "inHg"),
        ("450", "sensor_voltage", "mV"),
    ],
)
def test_missing_unit_is_guessed_from_size_and_said(text: str, kind: str, unit: str) -> None:
    """The guess is marked as one."""
    reading = read_quantity(text, kind)
    assert (reading.unit, reading.guessed, reading.others) == (unit, True, ())


def test_size_that_fits_two_units_names_both() -> None:
    """125 in a cooling system may be either scale."""
    reading = read_quantity("125", "coolant_temperature")
    assert [(one.unit, one.guessed) for one in reading.candidates] == [("degC", True), ("degF", True)]


def test_spelling_that_fits_two_units_names_both() -> None:
    """126k does not say of what."""
    reading = read_quantity("126k", "distance")
    assert [one.unit for one in reading.candidates] == ["thousand_km", "thousand_mile"]
    assert reading.guessed


def test_unusual_reading_of_two_gives_way() -> None:
    """MOHM on a lead is a million: a thousandth of an ohm would be as unusual, but 5 MOHM on a joint is not."""
    assert read_quantity("5MOHM", "joint_resistance").unit == "mohm"


def test_comma_before_three_digits_is_weighed_by_the_kind() -> None:
    """12,450 V at a battery can only be decimals; 1,250 A may be either; 2.000 is always decimals."""
    assert read_quantity("12,450", "battery_voltage").value == pytest.approx(12.45)
    assert [one.value for one in read_quantity("1,250 A", "current").candidates] == [1.25, 1250.0]
    assert read_quantity("2.000 V", "voltage").others == ()


def test_preferred_unit_settles_a_bare_number() -> None:
    """The unit last used at this place is taken, and still called a guess."""
    reading = read_quantity("125", "coolant_temperature", prefer="degF")
    assert (reading.unit, reading.guessed, reading.others) == ("degF", True, ())


@pytest.mark.parametrize("text", ["OL", "O.L.", "open", "infinite", "∞", "no continuity"])
def test_open_line_is_over_the_open_limit(text: str) -> None:
    """A meter over its range is a reading, not a missing one."""
    reading = read_quantity(text, "lead_resistance")
    assert (reading.value, reading.low, reading.high, reading.amount.sense) == (1e6, 1e6, None, "over")


def test_ends_are_in_the_base_unit() -> None:
    """A range in bar has its ends in kPa."""
    reading = read_quantity("9-9.5 bar", "compression")
    assert (reading.low, reading.high, reading.step) == (900.0, 950.0, pytest.approx(10.0))


def test_impossible_value_is_kept_and_questioned() -> None:
    """A misread gauge is a reading to ask about, never one to drop."""
    assert not is_usual(read_quantity("900 psi", "compression"))
    assert is_usual(read_quantity("175 psi", "compression"))


def test_row_takes_one_unit_from_its_highest_number() -> None:
    """40 beside 175 is psi; a 0 too."""
    row = read_row(["175", "170", "12", "0"], "compression")
    assert [(one.unit, one.amount.value) for one in row] == [
        ("psi", 175.0),
        ("psi", 170.0),
        ("psi", 12.0),
        ("psi", 0.0),
    ]


def test_row_takes_the_unit_typed_once() -> None:
    """1.3MPa / 0.8: the second has the unit of the first."""
    assert [one.value for one in read_row(["1.3MPa", "0.8"], "compression")] == pytest.approx([1300.0, 800.0])
    assert [one.unit for one in read_row(["5.1", "5.3", "18k"], "lead_resistance")] == ["kohm"] * 3


def test_row_in_doubt_keeps_both_readings() -> None:
    """Temperatures that fit either scale stay open, for every place alike."""
    row = read_row(["125", "128"], "coolant_temperature")
    assert [[one.unit for one in each.candidates] for each in row] == [["degC", "degF"]] * 2


def test_row_of_a_kind_with_a_bare_unit_needs_no_guess() -> None:
    """Trims are percent."""
    assert [one.guessed for one in read_row(["+18", "4"], "trim")] == [False, False]


def test_empty_row_is_empty() -> None:
    """Nothing read, nothing guessed."""
    assert read_row([], "compression") == ()


def test_no_number_is_refused_word_for_word() -> None:
    """The words met are shown."""
    with pytest.raises(Refused) as refused:
        read_quantity("fine", "compression")
    assert str(refused.value) == "no number in 'fine'. Type one such as 175, 12.4, ~165, 500+ or 1.5-2, then its unit."


def test_foreign_unit_is_refused_with_the_lawful_ones() -> None:
    """Volts are no unit of a trim."""
    with pytest.raises(Refused) as refused:
        read_quantity("12 V", "lead_resistance")
    assert str(refused.value) == "'V' is no unit of lead resistance. Units that are: Ω, kΩ, MΩ, mΩ."


def test_open_line_says_nothing_of_the_others_unit() -> None:
    """One lead reads OL: the bare ones beside it are still kilohms, not megohms; a row of open lines stays open."""
    row = read_row(["5.1", "OL", "5.4"], "lead_resistance")
    assert [reading.value for reading in row] == [5100.0, 1e6, 5400.0]
    assert [reading.amount.sense for reading in row] == ["exact", "over", "exact"]
    assert [reading.value for reading in read_row(["OL", "OL"], "lead_resistance")] == [1e6, 1e6]


def test_none_of_a_temperature_is_refused_and_zero_is_a_number() -> None:
    """Zero kelvin is 273.15 °C below zero; "none" says that nothing was read."""
    assert read_quantity("zero K", "temperature").value == pytest.approx(-273.15)
    assert read_quantity("zero", "coolant_temperature").amount.sense == "exact"
    with pytest.raises(Refused) as refused:
        read_quantity("none K", "coolant_temperature")
    assert str(refused.value) == (
        "'none K' is no coolant temperature: zero of it is a reading like any other. "
        "Type the number; leave out what was not read."
    )
