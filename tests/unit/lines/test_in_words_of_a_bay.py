"""Lines as they are said in a bay, heard for what they mean: common practice."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.evidence import CarFact, Finding, Note, Work
from knowngood.library.load import load
from knowngood.lines import read_line, read_notes
from knowngood.lines.vocabulary import table
from tests.unit.lines.said import text_of

SIX = Car(cylinders=6)


def said(line: str) -> list[str]:
    """The entries of a line."""
    return [text_of(body) for body in read_line(line, SIX, load()).bodies]


@pytest.mark.parametrize(
    ("line", "entry"),
    [
        ("brake pedal firm", "pedal_look good"),
        ("handbrake holds", "handbrake_look good"),
        ("sills solid", "structure_look good"),
        ("sill rusted through", "structure_look bad"),
        ("no tide line under the carpet", "flood_look good"),
        ("clutch pedal and gears fine", "gearbox_look good"),
        ("brake pipes rusty", "brake_pipes_look bad"),
        ("MAP 101 kPa key on", "map_at_rest 101 kPa [key on]"),
        ("map 35 kPa idle", "map_reading 35 kPa [hot idle]"),
    ],
)
def test_looks_and_readings(line: str, entry: str) -> None:
    """One entry, nothing asked."""
    assert said(line) == [entry]
    assert read_line(line, SIX, load()).asks == ()


def test_every_look_of_the_list_is_known_with_its_words() -> None:
    """A phrase whose look the library lost would be heard as nothing."""
    library = load()
    looks = [entry for entry in table()["outcome"] if entry["kind"].endswith("_look")]
    assert len(looks) > 30
    for entry in looks:
        assert entry["word"] in library.readings[entry["kind"]].words


@pytest.mark.parametrize(
    ("line", "fault", "place"),
    [
        ("no catalyst: sawn off behind the manifold", "catalyst_missing", "engine"),
        ("plug well 5 full of water", "plug_well_water", "cylinder 5"),
        ("plug 5 wet and rusty", "plug_well_water", "cylinder 5"),
    ],
)
def test_findings(line: str, fault: str, place: str) -> None:
    """A plug that comes out rusty stood in water: it is not wet with fuel."""
    (body,) = read_line(line, SIX, load()).bodies
    assert isinstance(body, Finding)
    assert body.words == line
    assert (body.fault, str(body.place)) == (fault, place)


def test_a_battery_is_charged() -> None:
    """By whoever works on the car; by its own alternator it is a reading of volts."""
    (work,) = read_line("charged the battery", SIX, load()).bodies
    assert isinstance(work, Work)
    assert (work.do, work.part) == ("refilled", "battery")
    assert read_line("charged the battery", SIX, load()).echo == "charged battery"
    assert said("alternator charged the battery at 14 V") == ["charging_volts 14 V"]


def test_prices_in_one_line() -> None:
    """What is asked and what it will be worth."""
    bodies = read_line("seller asks 900, worth 3200 when done", SIX, load()).bodies
    assert bodies == (CarFact("price_asked", "900.0"), CarFact("worth_done", "3200.0"))


@pytest.mark.parametrize(
    ("line", "ask"),
    [
        ("replaced hose", "hose: vacuum hose or coolant hoses?"),
        ("new filter", "filter: fuel filter or air filter or oil filter?"),
    ],
)
def test_a_word_for_several_parts_is_asked_about(line: str, ask: str) -> None:
    """Before, a hose was a coolant hose and a filter the fuel filter."""
    found = read_line(line, SIX, load())
    assert found.bodies == (Note(line, "which of several parts is not said", ask),)
    assert found.asks == (ask,)


@pytest.mark.parametrize(
    ("line", "part"),
    [
        ("vacuum hose split, new hose fitted", "vacuum_hose"),
        ("coolant hose leaks, replaced hose", "hoses"),
        ("air filter dirty, new filter", "air_filter"),
        ("replaced oil and filter", "oil_filter"),
    ],
)
def test_what_stands_beside_it_says_which(line: str, part: str) -> None:
    """The part named just before, or the other that goes with it."""
    body = read_line(line, SIX, load()).bodies[-1]
    assert isinstance(body, Work)
    assert body.part == part


@pytest.mark.parametrize(
    ("line", "echo"),
    [
        ("cleared codes", "cleared codes"),
        ("codes wiped", "cleared codes"),
        ("battery disconnected", "cleared codes by taking the battery off"),
    ],
)
def test_clearing_codes_is_echoed_once(line: str, echo: str) -> None:
    """It says what was cleared, and not its own words a second time."""
    assert read_line(line, Car(), load()).echo.split(";")[0] == echo


def test_a_car_is_echoed_in_words() -> None:
    """No name of a field, no year in decimals."""
    (line,) = read_notes("2.9 litre V6, petrol, stood 14 months, 214000 km", load()).lines
    assert line.understood.echo == "2.9 litres, 6 cylinders, V engine, petrol, stood 14 months, 214000 km"


@pytest.mark.parametrize(
    ("line", "entries"),
    [
        ("vacuum hose off", ["seen vacuum_hose_off"]),
        ("vacuum hose off behind the throttle", ["seen vacuum_hose_off"]),
        ("vacuum hose off, whistles", ["seen vacuum_hose_off", "hisses yes"]),
        ("fuel pressure 3 bar, vacuum hose off", ["fuel_pressure 300 bar [hose off]"]),
    ],
)
def test_a_hose_that_is_off_is_found_or_is_how_it_was_read(line: str, entries: list[str]) -> None:
    """By itself it is a finding; behind or before a pressure it is the condition."""
    assert said(line) == entries


@pytest.mark.parametrize("line", ["codes: none", "read codes: none", "codes read, none there", "dtc: none"])
def test_no_codes_by_a_colon(line: str) -> None:
    """Read, and none was there."""
    assert said(line) == ["code none"]


def test_clearing_beside_none_is_both() -> None:
    """Cleared, and none came back."""
    assert said("cleared codes, nothing came back") == ["cleared", "code none"]


@pytest.mark.parametrize(
    "line", ["dried plug well 5", "blew out plug well 5", "dry and clean the plug well of cylinder 5"]
)
def test_a_plug_well_is_no_plug(line: str) -> None:
    """As the next step asks for it."""
    found = read_line(line, SIX, load())
    assert found.echo == "dried and cleaned the plug well 5"
    (work,) = found.bodies
    assert isinstance(work, Work)
    assert (work.do, work.part) == ("cleaned", "plug_well_seal")


def test_a_line_does_not_go_on_with_another_part() -> None:
    """Ohms of an injector's wire are none of the coil read on the line before, and set no limit for coils."""
    lines = (
        "6 cylinders, coil on plug\ncoil 2 ohms 0.8\ninjector 2 wire to ecu 40 ohm, should be under 1\ncoil 3 0.9 ohm"
    )
    first, other, next_coil = (line.understood.bodies for line in read_notes(lines, load()).lines[1:])
    assert text_of(first[0]) == "coil_primary c2 0.8 ohm"
    assert [type(body) for body in other] == [Note]
    assert text_of(next_coil[0]) == "coil_primary c3 0.9 ohm"


@pytest.mark.parametrize(
    ("line", "entries"),
    [
        ("engine strap green", ["seen engine_ground_poor"]),
        ("new engine strap, cranks well", ["replaced engine_ground", "slow_crank no"]),
        ("engine ground strap 0.9 V cranking", ["drop_ground_cranking 0.9 V [cranking]"]),
    ],
)
def test_the_strap_between_engine_and_body(line: str, entries: list[str]) -> None:
    """By the names it has in a bay; green is what corroded copper is."""
    assert [text.replace(" (other new)", "") for text in said(line)] == entries
