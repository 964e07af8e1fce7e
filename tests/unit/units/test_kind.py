"""Kinds of measurement as data."""

import subprocess
import sys

import pytest

from knowngood.errors import Refused
from knowngood.units import Kind, Unit, kind_named, kinds

ALL = list(kinds().values())


@pytest.mark.parametrize("kind", ALL, ids=lambda kind: kind.name)
def test_base_is_a_unit_with_factor_one(kind: Kind) -> None:
    """A value in the base unit is the value kept."""
    base = kind.unit(kind.base)
    assert (base.factor, base.zero) == (1.0, 0.0)


@pytest.mark.parametrize("kind", ALL, ids=lambda kind: kind.name)
def test_names_used_in_a_kind_are_its_units(kind: Kind) -> None:
    """Bare, guessed, open and also-shown units exist."""
    named = [kind.bare, *(guess.unit for guess in kind.guesses), *(unit.also for unit in kind.units.values())]
    if kind.open_line:
        named.append(kind.open_line[1])
    assert {name for name in named if name} <= set(kind.units)


@pytest.mark.parametrize("kind", ALL, ids=lambda kind: kind.name)
def test_guess_spans_lie_inside_the_usual_span(kind: Kind) -> None:
    """What is guessed from size is never at once questioned as unusual."""
    low, high = kind.usual
    for guess in kind.guesses:
        unit = kind.unit(guess.unit)
        assert low - 1e-9 <= unit.to_base(guess.low) <= unit.to_base(guess.high) <= high * 1.2


@pytest.mark.parametrize("kind", ALL, ids=lambda kind: kind.name)
def test_symbol_spells_its_own_unit_first(kind: Kind) -> None:
    """What is shown can be read back without doubt."""
    for unit in kind.units.values():
        if unit.symbol:
            assert [found.name for found in kind.spelled(unit.symbol)] == [unit.name]


@pytest.mark.parametrize("kind", ALL, ids=lambda kind: kind.name)
def test_there_and_back_is_the_same_value(kind: Kind) -> None:
    """Offset and factor undo each other."""
    for unit in kind.units.values():
        assert unit.from_base(unit.to_base(37.5)) == pytest.approx(37.5, rel=1e-12)


@pytest.mark.parametrize(
    ("kind", "spelling", "unit"),
    [
        ("pressure", "KPa", "kPa"),
        ("pressure", "PSI", "psi"),
        ("pressure", "mpa", "MPa"),
        ("pressure", "kgf/cm2", "kgf_cm2"),
        ("vacuum", '" Hg', "inHg"),
        ("resistance", "\u2126", "ohm"),
        ("resistance", "\u03a9", "ohm"),
        ("resistance", "k\u2126", "kohm"),
        ("resistance", "Kohm", "kohm"),
        ("resistance", "MΩ", "Mohm"),
        ("resistance", "mΩ", "mohm"),
        ("voltage", "v", "V"),
        ("voltage", "ｍＶ", "mV"),
        ("temperature", "deg F", "degF"),
        ("temperature", "℃", "degC"),
        ("temperature", "c", "degC"),
        ("length", '"', "in"),
        ("length", "thou", "thou"),
        ("speed", "MPH", "mph"),
        ("air_flow", "lb/min", "lb/min"),
        ("engine_speed", "RPM", "rpm"),
    ],
)
def test_spelling_is_known(kind: str, spelling: str, unit: str) -> None:
    """Either ohm sign, either case, fullwidth and words."""
    assert [found.name for found in kind_named(kind).spelled(spelling)] == [unit]


def test_case_that_decides_nothing_names_both() -> None:
    """MOHM is either a thousandth or a million ohm."""
    assert {unit.name for unit in kind_named("resistance").spelled("MOHM")} == {"Mohm", "mohm"}


def test_unknown_spelling_is_no_unit() -> None:
    """The reader can tell where a unit ends."""
    assert kind_named("pressure").spelled("cold") == ()


def test_kind_takes_units_from_another_but_not_its_guesses() -> None:
    """Compression is a pressure that is never given bare in kPa by rule."""
    compression = kind_named("compression")
    assert compression.family == "pressure"
    assert compression.units == kind_named("pressure").units
    assert compression.bare == ""


def test_unknown_kind_is_refused_with_the_nearest() -> None:
    """The near miss is offered."""
    with pytest.raises(Refused) as refused:
        kind_named("compresion")
    assert str(refused.value) == "no kind of measurement is called 'compresion'. Did you mean 'compression'?"


def test_unknown_unit_name_is_refused_with_the_list() -> None:
    """The lawful ones are listed."""
    with pytest.raises(Refused) as refused:
        kind_named("voltage").unit("bar")
    assert str(refused.value) == "'bar' is no unit of voltage. Units that are: V, mV, kV."


def test_zero_is_taken_off_before_the_factor() -> None:
    """212 °F is 100 °C."""
    assert Unit("degF", "°F", 5 / 9, 32.0, "", ()).to_base(212.0) == pytest.approx(100.0)


def test_import_stays_light() -> None:
    """The doors start fast: no array library, no units library, no record library is pulled in."""
    code = "import sys, knowngood.units; print(' '.join(sorted(sys.modules)))"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not {"numpy", "scipy", "pint", "msgspec", "tomllib"} & set(loaded)
