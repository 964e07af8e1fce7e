"""Whole notes files: the car first, every line read completely, the echo shows every guess."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from knowngood.evidence import Note
from knowngood.library import Library, load
from knowngood.lines import read_notes
from tests.unit.lines.said import text_of
from tests.unit.lines.small_library import LIBRARY

SALOON = """\
# a notebook page
6 cylinders inline, coil on plug, port injection, flow meter, 181000 km, about 2001
stood 20 months in a barn

done last: rocker cover gasket by a friend, coils were off
new parts: plugs all
shakes at cold idle, better at 2500, fuel smell at the tail pipe
P0303 stored, P0300 pending
unplug inj 3, no change; unplug inj 5, drops
coil 3>1, miss stayed on 3
comp 181 178 180 176 179 182 psi, plugs out, throttle open
lt b1 -8 idle, -3 2500
plug 3 wet with fuel, well full of oil
"""
ESTATE = """\
6 cyl V, distributor and leads, port injection, manifold pressure
mileage unknown, stood in a shed two winters
cranks strong, fires and dies
fuel 40 psi key on, 11 after ten seconds
battery 12.3 rested, 9.8 cranking
drop engine to body while cranking 0.7 V
leads: 4.1k 4.3k 16k 4.2k 5.0k 4.5k
no codes, battery was off last month
"""
SMALL_CAR = """\
4 cylinders, ignition not known, head gasket 3000 km ago by previous owner
needle to red in traffic, fine on the move, heater cold at idle
fan runs when bridged; unplug coolant sensor, fan comes on
topped up 1.2 l, bubbles for a minute then none
leakdown 1 9 %, 2 8, 3 6, 4 12, nothing in the coolant
stat housing 58 C when gauge says 98
"""


@pytest.mark.parametrize("library_of", [lambda: LIBRARY, load], ids=["small library", "our library"])
@pytest.mark.parametrize("text", [SALOON, ESTATE, SMALL_CAR], ids=["saloon", "estate", "small car"])
def test_every_line_is_read_completely(text: str, library_of: Callable[[], Library]) -> None:
    """No word is left over, nothing is a note, nothing is asked, nothing is in doubt."""
    for line in read_notes(text, library_of()).lines:
        assert line.understood.left == (), line.text
        assert line.understood.asks == (), line.text
        assert not any(isinstance(body, Note) for body in line.understood.bodies), line.text
        assert not any(getattr(body, "doubt", "") for body in line.understood.bodies), line.text


def test_car_is_folded_from_its_lines() -> None:
    """The first lines say what the car is."""
    car = read_notes(SALOON, LIBRARY).car
    assert (car.cylinders, car.form, car.ignition, car.injection) == (6, "inline", "coil on plug", "port")
    assert (car.air_meter, car.mileage_km, car.year, car.standing_years) == ("flow meter", 181000.0, 2001, 1.667)
    assert car.last_done == ("rocker cover gasket by a friend", "coils were off")
    assert car.new_parts == ("plugs all",)


def test_line_numbers_are_those_of_the_file() -> None:
    """Blank lines and lines with # are passed over but counted."""
    assert [line.line_no for line in read_notes(SALOON, LIBRARY).lines][:3] == [2, 3, 5]


def test_car_lines_may_stand_anywhere() -> None:
    """A row is read with the count that is told behind it."""
    notes = read_notes("comp 181 178 180\n6 cylinders\n", LIBRARY)
    assert notes.car.cylinders == 6
    assert not notes.car.cylinders_doubtful
    assert notes.lines[0].understood.assumed[0] == "taken as cylinders 1 to 3, 4, 5, 6 not measured"


def test_row_sets_a_doubtful_count_once_and_asks() -> None:
    """Where no line tells the count, the first row does, in doubt; later rows go on with it."""
    notes = read_notes("comp 181 178 180 176\nleads 4k 5k 4k 5k\n", LIBRARY)
    assert (notes.car.cylinders, notes.car.cylinders_doubtful) == (4, True)
    assert notes.lines[0].understood.asks == ("4 numbers: has the engine 4 cylinders?",)
    assert notes.lines[1].understood.asks == ()


ECHOES = {
    SALOON: [
        "6 cylinders, inline engine, ignition: coil on plug, injection: port, air meter: flow meter, "
        "181000 km, year: 2001",
        "stood 20 months",
        "last done: rocker cover gasket by a friend, coils were off",
        "new parts: plugs all",
        "shakes: shakes (cold idle); shakes: uneven (cruise, 2500 rpm); raw fuel smell: smells, better: uneven",
        "code P0303 stored; code P0300 pending",
        "injector cut 3: no change; injector cut 5: drops",
        "swapped coil 3 with 1, stayed at 3",
        "compression 1..6: 181 178 180 176 179 182 psi (plugs out, throttle open), counting order",
        "long trim bank 1: -8 % (hot idle); long trim bank 1: -3 % (cruise, 2500 rpm)",
        "plug look 3: wet with fuel; seen: well full of oil, cylinder 3, at cylinder 3",
    ],
    ESTATE: [
        "6 cylinders, V engine, ignition: distributor, injection: port, air meter: manifold pressure",
        "mileage km not known, stood 2 years, a winter taken as a year",
        "cranking strength: strong; starting: fires and dies",
        "fuel pressure: 40 psi (key on); fuel hold: 11 psi, falls (after 10 seconds), fuel pressure falls: 28 % left",
        "battery rested: 12.3 V (at rest); battery cranking: 9.8 V (cranking)",
        "drop ground cranking: 0.7 V (cranking)",
        "lead resistance 1..6: 4.1 4.3 16 4.2 5.0 4.5 kΩ, counting order",
        "no codes; cleared codes by taking the battery off",
    ],
}


@pytest.mark.parametrize("text", ECHOES, ids=["saloon", "estate"])
def test_echo_says_what_was_understood(text: str) -> None:
    """One short line for each, guesses at its end."""
    assert [line.understood.echo for line in read_notes(text, LIBRARY).lines] == ECHOES[text]


def test_readings_keep_their_regime_first() -> None:
    """Conditions attach to the nearest reading; the regime stands first."""
    lines = read_notes(SALOON, LIBRARY).lines
    assert [text_of(body) for body in lines[9].understood.bodies] == [
        "long_trim b1 -8 percent [hot idle]",
        "long_trim b1 -3 percent [cruise, 2500 rpm]",
    ]
