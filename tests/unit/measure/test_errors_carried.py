"""Every standard error of every computation against the scatter of thrown readings."""

import dataclasses
import inspect
import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy
import pytest

from knowngood.measure.before_after import session_change
from knowngood.measure.misfire import cylinder_shares
from knowngood.measure.obd_scaling import scaled_values
from knowngood.measure.thermistor import beta_of
from knowngood.measure.trim import trim_standing
from knowngood.measure.trim_pattern import trim_pattern
from knowngood.measure.tyre import read_size, size_change
from tests.unit.measure.computations import error_fields, is_se, record_of, with_error, without_se
from tests.unit.measure.examples import EXAMPLES, Example

SEED, THROWS, WITHIN = 2011, 2000, 0.05
BY_OWN_TEST = {
    "before_after.session_change": "sessions are thrown, not readings",
    "misfire.cylinder_shares": "counts are thrown",
    "obd_scaling.scaled_values": "its error is the rounding of the transmitted step",
    "thermistor.beta_of": "its readings come in pairs, its error is a share",
    "trim.trim_standing": "it takes the error and hands it on",
    "trim_pattern.trim_pattern": "its error decides which shape is fitted and cannot be left out meanwhile",
    "tyre.size_change": "makes are thrown, which no argument carries",
}
"""Computations whose errors a test below checks by itself, and why the table cannot."""


def test_every_standard_error_has_an_example() -> None:
    """A computation with a standard error and no example fails here, and so does an example nobody computes."""
    named = {name for name, _ in with_error()}
    assert named - set(EXAMPLES) - set(BY_OWN_TEST) == set()
    assert set(EXAMPLES) | set(BY_OWN_TEST) == named


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_error_is_what_throws_scatter(name: str) -> None:
    """Within 5 % of the scatter, the part of the model (the error left when no reading errs) taken off in squares."""
    function, example = dict(with_error())[name], EXAMPLES[name]
    errors = errors_of(function, example)
    at = {key: value for key, value in example.given.items() if not is_se(key)}
    own = {key: value for key, value in errors.items() if not owners(key, example, function)}
    still = {key: example.still for key in errors if key not in own} | own
    told, model = numbers(name, function(**at, **errors)), numbers(name, function(**at, **still))
    dice = numpy.random.default_rng(SEED)
    thrown = [numbers(name, function(**throw(at, errors, example, function, dice), **still)) for _ in range(THROWS)]
    checked = 0
    for key, (_, se) in told.items():
        carried = math.sqrt(max(0.0, se**2 - model[key][1] ** 2))
        scatter = float(numpy.std([one[key][0] for one in thrown], ddof=1))
        assert carried == pytest.approx(scatter, rel=WITHIN), key
        checked += scatter > 0.0
    assert checked > 0


def errors_of(function: Callable[..., object], example: Example) -> dict[str, float]:
    """Every standard error a function takes, as given or by default; none may be left out or all be zero."""
    taken = inspect.signature(function).parameters.items()
    errors = {key: example.given.get(key, one.default) for key, one in taken if is_se(key)}
    assert all(isinstance(value, float) for value in errors.values()), errors
    return errors


def owners(key: str, example: Example, function: Callable[..., object]) -> tuple[str, ...]:
    """The arguments an error belongs to."""
    if key in example.shared:
        return example.shared[key]
    assert without_se(key) in inspect.signature(function).parameters, f"{key} belongs to no argument"
    return (without_se(key),)


def throw(
    at: Mapping[str, Any],
    errors: Mapping[str, float],
    example: Example,
    function: Callable[..., object],
    dice: numpy.random.Generator,
) -> dict[str, Any]:
    """The arguments with every reading thrown by its own error; arguments left at their defaults are thrown too."""
    thrown = dict(at)
    for key, error in errors.items():
        for owner in owners(key, example, function):
            held = at[owner] if owner in at else inspect.signature(function).parameters[owner].default
            thrown[owner] = moved(held, error, dice)
    return thrown


def moved(held: Any, error: float, dice: numpy.random.Generator) -> Any:
    """A reading, or every reading of a row, with its error thrown; a place not measured stays so."""
    if held is None:
        return None
    if isinstance(held, Mapping):
        return {key: moved(one, error, dice) for key, one in held.items()}
    if isinstance(held, Sequence):
        return [moved(one, error, dice) for one in held]
    return held + error * float(dice.standard_normal())


def numbers(name: str, result: Any) -> dict[str, tuple[float, float]]:
    """Every value of a result with its standard error, rows taken apart."""
    if name == "oxygen.oxygen_from_mv":
        return {"log": (math.log(result[0]), math.log(result[1]))}
    if not dataclasses.is_dataclass(result):
        if isinstance(result[0], float):
            return {"value": (result[0], result[1])}
        return {f"{place}.{key}": pair for place, one in enumerate(result) for key, pair in numbers(name, one).items()}
    found: dict[str, tuple[float, float]] = {}
    for se, value in error_fields(type(result)).items():
        held, errors = getattr(result, value), getattr(result, se)
        if isinstance(held, tuple):
            found |= {f"{value}.{n}": pair for n, pair in enumerate(zip(held, errors, strict=True))}
        else:
            found[value] = (held, errors)
    return found


def test_every_error_field_names_its_value() -> None:
    """No record carries an error of nothing."""
    for name, function in with_error():
        record = record_of(function)
        if record is not None:
            fields = {field.name for field in dataclasses.fields(record)}
            assert set(error_fields(record).values()) <= fields, name


def test_error_of_session_change() -> None:
    """Few sessions tell their own scatter: right in the mean of its squares, not each time."""
    dice = numpy.random.default_rng(SEED)
    found = [session_change(list(dice.normal(12.0, 2.0, 6)), list(dice.normal(3.0, 2.0, 4))) for _ in range(THROWS)]
    told = math.sqrt(sum(one.se**2 for one in found) / THROWS)
    assert told == pytest.approx(numpy.std([one.difference for one in found], ddof=1), rel=WITHIN)


def test_error_of_cylinder_shares() -> None:
    """Misfires that fall on the cylinders by their shares."""
    dice = numpy.random.default_rng(SEED)
    counts = {1: 60, 2: 20, 3: 90, 4: 30}
    told = cylinder_shares(counts)
    thrown = dice.multinomial(200, [n / 200 for n in counts.values()], size=THROWS)
    shares = [cylinder_shares(dict(zip(counts, map(int, one), strict=True))).shares_pct for one in thrown]
    for cylinder in counts:
        scatter = numpy.std([one[cylinder] for one in shares], ddof=1)
        assert told.shares_se_pct[cylinder] == pytest.approx(scatter, rel=WITHIN)


def test_error_of_scaled_values() -> None:
    """Speeds rounded to the step of the parameter, a quarter of a turn a minute."""
    dice = numpy.random.default_rng(SEED)
    true = dice.uniform(700.0, 900.0, THROWS)
    found = [scaled_values(0x0C, round(4.0 * one).to_bytes(2, "big"))[0] for one in true]
    off = [one.value - rpm for one, rpm in zip(found, true, strict=True) if one.value is not None]
    assert found[0].se == pytest.approx(numpy.std(off, ddof=1), rel=WITHIN)


def test_error_of_beta() -> None:
    """Two points thrown by half a kelvin and one per cent."""
    dice = numpy.random.default_rng(SEED)
    points = [(25.0, 2044.0), (100.0, 175.7)]
    thrown = [
        beta_of(*((c + dice.normal(0.0, 0.5), ohm * dice.normal(1.0, 0.01)) for c, ohm in points))[0]
        for _ in range(THROWS)
    ]
    assert beta_of(*points)[1] == pytest.approx(numpy.std(thrown, ddof=1), rel=WITHIN)


def test_error_of_trim_standing() -> None:
    """What is handed in comes back with the total."""
    standing = trim_standing(12.0, 2.1)
    assert (standing.total_pct, standing.se_pct) == (12.0, 2.1)


def test_error_of_trim_pattern() -> None:
    """Trims of a leak thrown by half a per cent about their curve."""
    dice = numpy.random.default_rng(SEED)
    flows = [3.0, 4.0, 6.0, 9.0, 14.0, 25.0, 40.0]
    trims = [4.0 + 80.0 / flow for flow in flows]
    told = trim_pattern(flows, trims, "air_flow", trim_se_pct=0.5)
    thrown = [
        trim_pattern(flows, [one + dice.normal(0.0, 0.5) for one in trims], "air_flow", trim_se_pct=0.5)
        for _ in range(THROWS)
    ]
    assert told.unmetered_se_g_s == pytest.approx(numpy.std([one.unmetered_g_s for one in thrown], ddof=1), rel=WITHIN)
    assert told.scale_se_pct == pytest.approx(numpy.std([one.scale_pct for one in thrown], ddof=1), rel=WITHIN)


def test_error_of_size_change() -> None:
    """Diameters of both makes thrown by one per cent."""
    dice = numpy.random.default_rng(SEED)
    told = size_change(read_size("185/70R14"), read_size("195/50R15"))
    old, new = told.old_mm * dice.normal(1.0, 0.01, THROWS), told.new_mm * dice.normal(1.0, 0.01, THROWS)
    assert told.shown_error_se_pct == pytest.approx(100.0 * numpy.std(old / new, ddof=1), rel=WITHIN)
    assert told.shown_over_true_se == pytest.approx(0.01 * told.shown_error_se_pct)
    assert told.ride_height_se_mm == pytest.approx(numpy.std(0.5 * (new - old), ddof=1), rel=WITHIN)
    assert (told.old_se_mm, told.new_se_mm) == pytest.approx((0.01 * told.old_mm, 0.01 * told.new_mm))
