"""Every factor and zero against pint, a general-purpose units library."""

import pint
import pytest

from knowngood.units import kinds

NAMES_THERE = {
    "kPa": "kilopascal", "psi": "psi", "bar": "bar", "MPa": "megapascal", "Pa": "pascal", "hPa": "hectopascal",
    "mbar": "millibar", "kgf_cm2": "kilogram_force / centimeter ** 2", "inHg": "inch_Hg", "mmHg": "mmHg",
    "inH2O": "inch * gram * g_0 / centimeter ** 3", "mmH2O": "millimeter * gram * g_0 / centimeter ** 3",
    "ohm": "ohm", "kohm": "kiloohm", "Mohm": "megaohm", "mohm": "milliohm", "V": "volt", "mV": "millivolt",
    "kV": "kilovolt", "A": "ampere", "mA": "milliampere", "Ah": "ampere * hour", "mAh": "milliampere * hour",
    "W": "watt", "kW": "kilowatt", "hp": "horsepower", "metric_hp": "metric_horsepower",
    "degC": "degC", "degF": "degF", "K": "kelvin", "degF_step": "delta_degF",
    "mm": "millimeter", "cm": "centimeter", "m": "meter", "um": "micrometer", "in": "inch", "thou": "thou",
    "ft": "foot",
    "g/s": "gram / second", "kg/h": "kilogram / hour", "lb/min": "pound / minute",
    "ml/min": "milliliter / minute", "l/min": "liter / minute", "l/h": "liter / hour",
    "km/h": "kilometer / hour", "mph": "mile / hour", "m/s": "meter / second",
    "rpm": "revolution / minute", "krpm": "1000 * revolution / minute",
    "km": "kilometer", "mile": "mile", "thousand_km": "1000 * kilometer", "thousand_mile": "1000 * mile",
    "ten_thousand_km": "10000 * kilometer",
    "s": "second", "ms": "millisecond", "min": "minute", "h": "hour", "day": "day", "week": "week", "month": "month",
    "year": "year", "percent": "percent", "lambda": "dimensionless", "Hz": "hertz", "kHz": "kilohertz",
    "l": "liter", "ml": "milliliter", "us_qt": "quart", "us_gal": "gallon", "us_pt": "pint",
    "imp_gal": "imperial_gallon", "imp_pt": "imperial_pint",
    "money": "dimensionless", "count": "dimensionless", "thousand": "1000 * dimensionless",
    "deg": "degree", "rad": "radian", "kg": "kilogram", "g": "gram", "lb": "pound", "oz": "ounce",
    "Nm": "newton * meter", "lbf_ft": "pound_force * foot", "lbf_in": "pound_force * inch",
    "kgf_m": "kilogram_force * meter", "J": "joule", "mJ": "millijoule", "H": "henry", "mH": "millihenry",
    "mm2": "millimeter ** 2", "sg": "dimensionless", "sg_points": "0.001 * dimensionless",
}  # fmt: skip

ROWS = [(kind.name, unit.name) for kind in kinds().values() if kind.family == kind.name for unit in kind.units.values()]


@pytest.fixture(scope="module")
def there() -> pint.UnitRegistry:
    """The library's own registry."""
    return pint.UnitRegistry()


def turned(there: pint.UnitRegistry, value: float, unit: str, base: str) -> float:
    """Value in the base unit, worked out by the library."""
    scale, _, name = unit.partition(" * ") if unit[0].isdigit() else ("1", "", unit)
    return float(there.Quantity(value * float(scale), name).to(base).magnitude)


@pytest.mark.parametrize(("kind", "unit"), ROWS)
@pytest.mark.parametrize("value", [1.0, 37.5])
def test_unit_agrees(there: pint.UnitRegistry, kind: str, unit: str, value: float) -> None:
    """One and 37.5 of every unit give the library's value in the base unit."""
    ours = kinds()[kind]
    expected = turned(there, value, NAMES_THERE[unit], NAMES_THERE[ours.base])
    assert ours.unit(unit).to_base(value) == pytest.approx(expected, rel=1e-9)


def test_inherited_kinds_add_no_units_of_their_own() -> None:
    """So that the families above are all there is to check."""
    assert all(kind.units == kinds()[kind.family].units for kind in kinds().values())
