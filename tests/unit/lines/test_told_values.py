"""Whole lines that say one number of the car: the odometer, a tightening value; and the clock."""

from __future__ import annotations

import json

import pytest

from knowngood.car import Car
from knowngood.evidence import CarFact, Clock, Note, Work
from knowngood.library.load import load
from knowngood.lines import read_line

CAR = Car(cylinders=6, mileage_km=182000.0)


@pytest.mark.parametrize(
    ("line", "km"),
    [
        ("odo now 182400", 182400.0),
        ("182 400 km", 182400.0),
        ("odometer reads 182.400 km", 182400.0),
        ("km 182400", 182400.0),
        ("now 182400 km", 182400.0),
        ("mileage now 182,400", 182400.0),
        ("odo 113k miles", 181855.9),  # 1 mile = 1.609344 km, NIST SP 811, Appendix B.8
    ],
)
def test_odometer_is_the_mileage_of_the_car(line: str, km: float) -> None:
    """However it is written down."""
    (body,) = read_line(line, CAR, load()).bodies
    assert body == CarFact("mileage_km", json.dumps(km))


def test_odometer_that_runs_back_is_shown_as_such() -> None:
    """It is taken, and said."""
    assert "less than the 182000 km told before" in read_line("odo now 102400", CAR, load()).echo


@pytest.mark.parametrize("line", ["comp 172 170 175 171 168 173", "182 400", "plugs done at 120000 km"])
def test_other_numbers_are_no_odometer(line: str) -> None:
    """A row, a bare number, work told with its mileage."""
    bodies = read_line(line, CAR, load()).bodies
    assert not any(isinstance(body, CarFact) and body.field == "mileage_km" for body in bodies)


@pytest.mark.parametrize(
    ("line", "echo"),
    [
        ("plugs 25 Nm", "plugs: 25 N·m"),
        ("tighten plugs to 25 Nm", "plugs: 25 N·m"),
        ("drain plug 25-30 Nm", "drain plug: 25 to 30 N·m"),
        ("wheel bolts: 80 ft lb", "wheel bolts: 108.5 N·m"),  # 1.355818 N·m each, NIST SP 811, Appendix B.9
        ("head bolts 20 Nm + 90 + 90", "head bolts: 20 N·m, then 90°, then 90°"),
    ],
)
def test_tightening_value_is_kept_under_its_words(line: str, echo: str) -> None:
    """In newton metres, angles behind it."""
    assert read_line(line, CAR, load()).echo == echo


def test_tightening_value_beyond_all_measure_is_asked_about() -> None:
    """Kept as a note with its question."""
    understood = read_line("wheel bolts 5000 Nm", CAR, load())
    assert isinstance(understood.bodies[0], Note)
    assert understood.asks == ("What does the car's data say?",)


def test_tightened_is_work_and_no_value() -> None:
    """What was done is not what the data want."""
    assert isinstance(read_line("tightened plugs", CAR, load()).bodies[0], Work)


@pytest.mark.parametrize(
    ("line", "running"), [("clock on", True), ("start the clock", True), ("timer off", False), ("stop timer", False)]
)
def test_clock_starts_and_stops(line: str, running: bool) -> None:
    """By any of its names."""
    assert read_line(line, CAR, load()).bodies == (Clock(running),)


def test_time_counts_with_a_price_behind_it() -> None:
    """Minutes and money of one piece of work, in either order."""
    for line in ("replaced coil 3, 20 min, paid 45", "replaced coil 3 paid 45, 20 min"):
        (work,) = read_line(line, CAR, load()).bodies
        assert isinstance(work, Work)
        assert (work.minutes, work.price) == (20.0, 45.0)


@pytest.mark.parametrize(
    ("line", "low", "high"),
    [
        ("compression should be 150 to 190 psi", 150.0, 190.0),
        ("spec compression 150-190 psi", 150.0, 190.0),
        ("comp spec at least 140 psi", 140.0, None),
    ],
)
def test_what_a_reading_should_be_is_no_reading(line: str, low: float, high: float | None) -> None:
    """One window of the car, in kPa (1 psi = 6.894757 kPa, NIST SP 811, Appendix B.8), and nothing read anywhere."""
    (body,) = read_line(line, CAR, load()).bodies
    assert isinstance(body, CarFact)
    (told,) = json.loads(body.value).values()
    assert told["low"] == pytest.approx(low * 6.894757, rel=1e-6)
    assert told["high"] == (pytest.approx(high * 6.894757, rel=1e-6) if high is not None else None)


def test_row_and_what_it_should_be_stand_in_one_line() -> None:
    """Four readings and the window, nothing left over."""
    bodies = read_line("comp 172 170 60 175 psi, should be 150-190", CAR, load()).bodies
    assert [type(body).__name__ for body in bodies] == ["Reading"] * 4 + ["CarFact"]
