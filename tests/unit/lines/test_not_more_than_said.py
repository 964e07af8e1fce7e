"""Lines of which more was once heard than they say."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.evidence import Stock
from knowngood.library import load
from knowngood.lines import read_line, read_notes
from tests.unit.lines.said import text_of

SIX = Car(cylinders=6)


def said(line: str) -> list[str]:
    """The entries of a line."""
    return [text_of(body) for body in read_line(line, SIX, load()).bodies]


@pytest.mark.parametrize("line", ["battery is new", "plugs are new", "coil 3 seems new but misfires"])
def test_new_is_no_judgement(line: str) -> None:
    """A new part is a part that was renewed; nothing was measured."""
    assert all(text.startswith("replaced") for text in said(line))


@pytest.mark.parametrize(("line", "word"), [("about 8.5v at coil 3", "low"), ("~5v at injector 2", "low")])
def test_rough_voltage_is_a_voltage(line: str, word: str) -> None:
    """ "About" in front of it makes it no battery voltage."""
    (entry,) = said(line)
    assert f" {word}" in entry


@pytest.mark.parametrize(
    "line",
    [
        "boost 1.2 bar should be 0.9",
        "boost is back to 0.2 bar",
        "spark test r1-3: good",
        "2.5 grand",
    ],
)
def test_kept_as_a_note(line: str) -> None:
    """What is not sure counts for nothing, and raises nothing."""
    assert all(text.startswith("note") for text in said(line))


@pytest.mark.parametrize(
    ("line", "word"), [("boost 0.4 wants 0.9", "short"), ("boost peaks 0.85 bar, should be 0.9 bar", "reached")]
)
def test_boost_is_set_against_what_is_wanted(line: str, word: str) -> None:
    """Under four fifths of it is short."""
    (entry,) = said(line)
    assert word in entry


def test_numbers_and_parts_stay_what_they_are() -> None:
    """Tenths of thousands, oil with coolant in it, a reading nobody trusts."""
    assert said("idles at 2.5 grand") == ["idle_speed 2500 rpm"]
    assert "refilled" not in " ".join(said("new coolant in the oil"))
    assert said("comp 3 90 psi but i dont trust it") == ["compression c3 620.528 psi"]


@pytest.mark.parametrize(
    "line",
    ["it stood" + " under cover dry" * 35, "shakes: no" + ", misfires: no" * 14 + " tail"],
    ids=["where", "shown"],
)
def test_long_lines_are_read_at_all(line: str) -> None:
    """Each took twice as long for every word more."""
    assert said(line)


@pytest.mark.parametrize(
    ("line", "entries"),
    [
        (
            "shakes badly at idle, need to check plugs",
            ["shakes yes [hot idle]", "note: need to check plugs"],
        ),
        ("misfires on 3, still to check the coil", ["miss c3 yes", "note: still to check the coil"]),
        ("misfires on 3 havent checked the coil yet", ["miss c3 yes", "note: havent checked the coil yet"]),
        ("oil level low, need to check for leaks", ["seen oil_low", "note: need to check for leaks"]),
        ("compression not measured, battery flat", ["battery_cranking bad", "note: compression not measured"]),
        (
            "fuel pressure under load not done, hose too short",
            ["note: fuel pressure under load not done, hose too short"],
        ),
    ],
)
def test_what_was_not_done_takes_nothing_else_with_it(line: str, entries: list[str]) -> None:
    """A complaint beside what is still to be checked counts; the reason why not is kept with it."""
    assert said(line) == entries


@pytest.mark.parametrize(
    ("line", "entries"),
    [
        ("o2 b1s1 0.1-0.9 v, b2s1 0.45 v", ["oxygen_volts b1 0.5 range V", "oxygen_volts b2 0.45 V"]),
        ("o2 b1s1 0.45 v b1s2 0.7 v", ["oxygen_volts b1 0.45 V", "note: s2 0.7 v"]),
        ("o2 b1s2 0.7 v", ["note: o2 b1s2 0.7 v"]),
        ("o2 sensor bank 1 sensor 2 lazy", ["note: o2 sensor bank 1 sensor 2 lazy"]),
    ],
)
def test_number_of_a_sensor_is_no_voltage(line: str, entries: list[str]) -> None:
    """Each position is one of its own; the sensor behind the catalyst is not the one before it."""
    assert said(line) == entries


@pytest.mark.parametrize(
    ("line", "entries"),
    [
        ("have 2 coils and a pump", ["2 coil in 0 d", "1 fuel_pump in 0 d"]),
        ("have coil and 2 pumps", ["1 coil in 0 d", "2 fuel_pump in 0 d"]),
        ("have two good coils", ["2 coil in 0 d"]),
        ("€40 coil on the shelf", ["1 coil in 0 d"]),
        ("4 cyl 16v, 2 coils", ["cylinders = 4", 'systems = ["16 valves"]', "note: 2 coils"]),
    ],
)
def test_how_many_is_said_of_one_part(line: str, entries: list[str]) -> None:
    """No number of another part, no price, and no reading."""
    assert said(line) == entries


@pytest.mark.parametrize(("line", "price"), [("€40 coil on the shelf", 40.0), ("ordered coil 1,200 eur", 1200.0)])
def test_price_of_a_part(line: str, price: float) -> None:
    """Wherever it stands; a mark before three digits parts thousands, as in every price."""
    (stock,) = read_line(line, SIX, load()).bodies
    assert isinstance(stock, Stock)
    assert stock.price == price


@pytest.mark.parametrize(
    ("line", "entries"),
    [
        ("two thousand at night", ["note: two thousand at night"]),
        ("twelve thousand a year ago", ["note: twelve thousand a year ago"]),
        ("stood in barn for 6 mths", ["standing_years = 0.5"]),
    ],
)
def test_small_words_are_no_numbers(line: str, entries: list[str]) -> None:
    """ "A" behind a thousand; a number cut out of a clause is no year."""
    assert said(line) == entries


@pytest.mark.parametrize(
    ("line", "entries"),
    [
        ("oil pressure lamp out after 2 s", ["oil_lamp no [after 2 s]"]),
        ("charge lamp out with engine running", ["charge_lamp no [hot idle]"]),
        ("breather hose off, never put back on", ["undone: breather hose off"]),
        ("never put the breather hose back on", ["undone: never put the breather hose back on"]),
        ("coil 3 not plugged back in", ["undone: coil 3 not plugged back in at cylinder 3"]),
        ("did not replace coil 3", ["note: did not replace coil 3"]),
        ("codes wiped, 30 km, nothing came back", ["cleared", "code none", "note: 30 km"]),
        ("214000 km", ["mileage_km = 214000.0"]),
        ("replaced vacuum hose behind the throttle, no change", ["replaced vacuum_hose: no change"]),
        ("one behind the throttle split", ["note: one behind the throttle split"]),
        ("new plugs only front bank", ["replaced plug (other new)"]),
        ("comp 2 176", ["compression c2 1213.48 psi"]),
        ("comp 2 12", ["compression c2 1200 bar"]),
        ("lead 3 8.1", ["lead_resistance c3 8100 kohm"]),
        ("coil 2 ohms 0.8", ["coil_primary c2 0.8 ohm"]),
        ("leakdown 3 45", ["note: leakdown 3 45"]),
    ],
)
def test_nothing_is_heard_as_its_opposite_or_of_another(line: str, entries: list[str]) -> None:
    """A lamp that goes out, a distance driven, what only says where, one cylinder and what it reads."""
    assert said(line) == entries


def test_two_numbers_that_may_be_a_cylinder_and_its_reading_are_asked() -> None:
    """Either way would be a guess at which cylinder is bad."""
    (ask,) = read_line("leakdown 3 45", SIX, load()).asks
    assert ask == "3 45: cylinder 3 reads 45, or cylinders 1 and 2 read one each?"


@pytest.mark.parametrize(
    ("line", "entries"),
    [
        ("coil 3 cracked and lead 3 burnt", ["seen coil_cracked at cylinder 3", "seen lead_broken at cylinder 3"]),
        ("plug wires chewed and nest in the airbox", ["seen lead_chewed", "seen nest_in_air_box"]),
        ("coolant hose cracked and leaking at the clip", ["seen coolant_hose_leaks"]),
    ],
)
def test_two_findings_in_a_clause_are_two(line: str, entries: list[str]) -> None:
    """A part and what is wrong with it stands on both sides of the "and"."""
    assert said(line) == entries


@pytest.mark.parametrize(
    ("line", "entries"),
    [
        ("new wire to injector 2, runs on three", ["replaced injector_wire 2 (other new)", "shakes yes"]),
        ("drop across starter cable 1.9 V cranking", ["drop_starter_cable 1.9 V [cranking]"]),
        ("gap 0.9 mm", [f"plug_gap c{n} 0.9 mm" for n in range(1, 7)]),
        ("gap 0.044 mm", [f"plug_gap c{n} 0.044 mm ?" for n in range(1, 7)]),
    ],
)
def test_number_and_unit_are_of_what_is_named(line: str, entries: list[str]) -> None:
    """How many cylinders fire is no cylinder; a gap in hundredths of a millimetre was read in inches."""
    assert said(line) == entries


def test_numbers_behind_both_banks_go_in_their_order() -> None:
    """The condition in front of them is of both."""
    vee = Car(cylinders=6, form="V")
    bodies = read_line("trims at idle: bank 1 +24, bank 2 +22, at 2500 rpm +6 +5", vee, load()).bodies
    assert [text_of(body) for body in bodies[2:]] == [
        "trim_sum b1 6 percent [cruise, 2500 rpm]",
        "trim_sum b2 5 percent [cruise, 2500 rpm]",
    ]


def test_side_of_a_bank_goes_by_the_car() -> None:
    """Where bank 1 is the right one, the left bank is bank 2."""
    right = Car(cylinders=6, form="V", first_bank="right")
    bodies = read_line("left bank no spark", right, load()).bodies
    assert [text_of(body) for body in bodies] == [f"spark_test c{n} none" for n in (4, 5, 6)]


def test_scale_of_the_trims_is_asked_once() -> None:
    """What was told or asked on one line holds for the lines behind it."""
    notes = read_notes("petrol, 6 cylinders V, port injection\nlt b1 112 b2 110\nlt b1 108 b2 104\nlt b1 +3", load())
    asked = [line.understood.asks for line in notes.lines]
    assert asked == [(), ("Trims of this car: is 0 or 100 neutral?",), (), ()]
    assert text_of(notes.lines[3].understood.bodies[0]) == "long_trim b1 3 percent"
