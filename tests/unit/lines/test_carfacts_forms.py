"""Descriptions of cars as people write them: each a fact, nothing left, nothing noted."""

from __future__ import annotations

import json

import pytest

from knowngood.car import Car
from knowngood.evidence import CarFact
from knowngood.library import load
from knowngood.lines import read_line
from tests.unit.lines.said import read, said

PLAIN = Car()

DESCRIBED = [
    ("naturally aspirated", ["turbo = false"]),
    ("turbocharged", ["turbo = true"]),
    ("twin turbo", ["turbo = true"]),
    ("supercharged", ['systems = ["supercharger"]']),
    ("1990s", ["year = 1995"]),
    ("late 1990s", ["year = 1998"]),
    ("late 1990s-2000s", ["year = 2003"]),
    ("2000-2004", ["year = 2002"]),
    ("2004 to 2000", ["year = 2002"]),
    ("1998-02", ["year = 2000"]),
    ("2000s", ["year = 2005"]),
    ("'98", ["year = 1998"]),
    ("'98-'04", ["year = 2001"]),
    ("mid 90s", ["year = 1995"]),
    ("mid to late 1990s", ["year = 1997"]),
    ("early nineties", ["year = 1992"]),
    ("90s estate", ["year = 1995", 'systems = ["estate"]']),
    ("wasted spark with leads", ['ignition = "pair coil"']),
    ("coil packs with leads", ['ignition = "pair coil"']),
    ("coils on covers with short leads", ['ignition = "coil and lead"']),
    ("coil near plug", ['ignition = "coil and lead"']),
    ("individual coils with leads", ['ignition = "coil and lead"']),
    ("individual coils", ['ignition = "coil on plug"']),
    ("coil packs", ['ignition = "coil on plug"']),
    ("with a viscous fan", ['systems = ["viscous fan"]']),
    ("viscous fan", ['systems = ["viscous fan"]']),
    ("electric fans fitted", ['systems = ["electric fan"]']),
    ("has a timing belt", ['systems = ["timing belt"]']),
    ("drive by wire", ['systems = ["electronic throttle"]']),
    ("returnless fuel system", ['systems = ["returnless fuel"]']),
    ("optical distributor", ['ignition = "distributor"']),
    ("distributor with leads", ['ignition = "distributor"']),
    ("multi-point", ['injection = "port"']),
    ("throttle body injection", ['injection = "single point"']),
    ("mono", ['injection = "single point"']),
    ("GDI", ['injection = "direct"']),
    ("direct petrol injection", ['injection = "direct"']),
    ("automated gearbox", ['systems = ["automated gearbox"]']),
    ("5-speed manual", ['systems = ["manual"]']),
    ("six-speed manual gearbox", ['systems = ["manual"]']),
    ("4-speed auto", ['systems = ["automatic"]']),
    ("6-speed", ['systems = ["6-speed gearbox"]']),
    ("CVT", ['systems = ["automatic", "continuously variable gearbox"]']),
    ("auto box", ['systems = ["automatic"]']),
    ("competition car", ['systems = ["competition car"]']),
    ("petrol pickup", ['drive = "petrol"', 'systems = ["pickup"]']),
    ("van", ['systems = ["van"]']),
    ("engine swap", ['last_done = ["engine swap"]']),
    ("1.8 litre", ["displacement_l = 1.8"]),
    ("3.0 l V6", ["displacement_l = 3.0", "cylinders = 6", 'form = "V"']),
    ("2.0 turbo", ["displacement_l = 2.0", "turbo = true"]),
    ("3 litre straight six", ["displacement_l = 3.0", "cylinders = 6", 'form = "inline"']),
    ("two litre flat four", ["displacement_l = 2.0", "cylinders = 4", 'form = "flat"']),
    ("5 cylinders inline", ["cylinders = 5", 'form = "inline"']),
    ("4 cylinders flat", ["cylinders = 4", 'form = "flat"']),
    ("flat four", ["cylinders = 4", 'form = "flat"']),
    ("six-cylinder", ["cylinders = 6"]),
    ("it has a V8", ["cylinders = 8", 'form = "V"']),
    ("about six weeks off the road", ["standing_years = 0.115"]),
    ("laid up for a year", ["standing_years = 1.0"]),
    ("not run for two years", ["standing_years = 2.0"]),
    ("hasn't been started in 18 months", ["standing_years = 1.5"]),
    ("stood 2-3 years in a barn", ["standing_years = 2.5"]),
    ("two and a half years off the road", ["standing_years = 2.5"]),
    ("not run since spring", ["standing_years = 0.5"]),
    (
        "twin turbo V6 petrol estate, late 1990s, coil packs",
        [
            "turbo = true",
            "cylinders = 6",
            'form = "V"',
            'drive = "petrol"',
            'systems = ["estate"]',
            "year = 1998",
            'ignition = "coil on plug"',
        ],
    ),
]


@pytest.mark.parametrize(("line", "facts"), DESCRIBED)
def test_description_reads_to_its_facts(line: str, facts: list[str]) -> None:
    """The facts of a description, in their order."""
    assert said(line, PLAIN) == facts


@pytest.mark.parametrize("line", [line for line, _ in DESCRIBED])
def test_description_leaves_nothing(line: str) -> None:
    """With the whole library, too, all of it is facts of the car: no note, no question."""
    understood = read_line(line, PLAIN, load())
    assert all(isinstance(body, CarFact) for body in understood.bodies)
    assert (understood.left, understood.asks) == ((), ())


@pytest.mark.parametrize(
    ("line", "guess"),
    [
        ("not run since spring", "standing since a season taken as half a year"),
        ("stood over the winter", "standing since a season taken as half a year"),
        ("stood two winters", "a winter taken as a year"),
        ("off the road a few months", "a few taken as three"),
        ("coil packs", "coil packs taken as one coil on each plug"),
    ],
)
def test_guess_is_shown(line: str, guess: str) -> None:
    """What the words leave open is read, and the guess is shown."""
    assert read(line, PLAIN).assumed == (guess,)


def test_word_of_the_car_is_no_slip_of_typing() -> None:
    """A word read as it stands is not said to have been read as another."""
    assert read_line("turbocharged", PLAIN, load()).assumed == ()


@pytest.mark.parametrize("line", ["90s", "5 litres", "coil packs, replaced", "distributor, replaced"])
def test_what_may_be_something_else_is_no_fact(line: str) -> None:
    """Seconds, an amount drained and a part that was worked on do not say what the car is."""
    facts = [body for body in read_line(line, PLAIN, load()).bodies if isinstance(body, CarFact)]
    assert facts == []


def test_a_fact_said_twice_is_echoed_once() -> None:
    """``6 cylinders, v6`` tells the count two times."""
    assert read_line("6 cylinders, v6", PLAIN, load()).echo == "6 cylinders, V engine"


@pytest.mark.parametrize(
    ("line", "drive"),
    [
        ("timing chain", "timing chain"),
        ("4 cylinder inline, chain engine, 180000 km", "timing chain"),
        ("timing chain, no belt", "timing chain"),
        ("no timing belt", "timing chain"),
        ("timing belt", "timing belt"),
        ("it has a cam belt", "timing belt"),
        ("wet belt", "timing belt"),
        ("belt", ""),
        ("chain", ""),
        ("timing belt, water pump replaced", ""),
        ("new timing belt", ""),
        ("cam belt snapped", ""),
    ],
)
def test_what_drives_the_camshafts_is_told(line: str, drive: str) -> None:
    """A belt or chain that was only named with its work, and one that may be another, tell nothing of it."""
    facts = [body for body in read_line(line, PLAIN, load()).bodies if isinstance(body, CarFact)]
    told = [system for fact in facts if fact.field == "systems" for system in json.loads(fact.value)]
    assert [system for system in told if system.startswith("timing")] == ([drive] if drive else [])
