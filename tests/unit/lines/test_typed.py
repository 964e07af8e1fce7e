"""Lines as strangers type them: slips, short words, open places, complaints with a "no" in them."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.library import load
from knowngood.lines import read_line
from knowngood.lines.scan import plain_line, scan
from knowngood.lines.spelling import spelled
from knowngood.lines.vocabulary import vocabulary_of
from tests.unit.lines.said import text_of

FOUR = Car(cylinders=4, form="inline", ignition="pair coil", injection="port")
SIX = Car(cylinders=6, form="V", ignition="distributor", injection="port")


def said(line: str, car: Car = FOUR) -> list[str]:
    return [text_of(body) for body in read_line(line, car, load()).bodies]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("vacum", "vacuum"),
        ("agian", "again"),
        ("throtle", "throttle"),
        ("pendin", "pending"),
        ("unplugd", "unplugged"),
        ("house", "house"),
        ("valve", "valve"),
        ("qwzrtk", "qwzrtk"),
    ],
)
def test_slip_is_read_as_the_known_word(typed: str, meant: str) -> None:
    """One slip away from one known word; what is near none, or is known, stays."""
    assert spelled(typed, vocabulary_of(load())) == meant


def test_slip_is_shown() -> None:
    """Every guess is shown."""
    assert "'compresion' read as 'compression'" in read_line("compresion 170 171 172 173", FOUR, load()).assumed


def test_token_keeps_what_was_typed() -> None:
    """The text of a corrected word is the typed one."""
    assert scan(plain_line("vacum 18"), vocabulary_of(load()))[0].text == "vacum"


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("no sign of life", ["cranks_dead yes"]),
        ("no power at high speed", ["flat_at_speed yes [high speed]"]),
        ("no heat inside", ["heater_cold yes"]),
        ("no blue smoke", ["blue_smoke no"]),
        ("not overheating", ["needle_red no"]),
        ("no fuel smell", ["fuel_smell no"]),
        ("needle in red", ["needle_red yes"]),
        ("boils", ["needle_red yes"]),
        ("boils over in traffic", ["overheats_traffic yes [hot idle]"]),
        (
            "needle to red in traffic, fine on the move",
            ["overheats_traffic yes [hot idle]", "overheats_moving no [cruise]"],
        ),
        ("loses coolant", ["coolant_loss yes"]),
        ("fan never runs", ["fan_never yes"]),
        ("leaking oil", ["leaks_oil yes"]),
        ("cranks well but wont start", ["slow_crank no", "starting cranks dead"]),
        ("dies hot after 20 min", ["stalls_hot yes [after 20 min]"]),
    ],
)
def test_complaint_is_heard_as_it_is_meant(line: str, bodies: list[str]) -> None:
    """A "no" inside the phrase belongs to the complaint, one before it denies it."""
    assert said(line) == bodies


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("misses cold on 2", ["miss c2 yes"]),
        ("2 is dead", ["miss c2 yes"]),
        ("dead on 3 and 4", ["miss c3 yes", "miss c4 yes"]),
        ("misses on 2 only when wet", ["miss c2 yes [wet]", "miss c2 no"]),
    ],
)
def test_cylinder_is_heard_beside_its_complaint(line: str, bodies: list[str]) -> None:
    """With a preposition or without one."""
    assert said(line) == bodies


@pytest.mark.parametrize(
    ("line", "car", "bodies"),
    [
        (
            "kpa 900 910 ? 890 905 900",
            SIX,
            [f"compression c{n} {kpa} kPa" for n, kpa in ((1, 900), (2, 910), (4, 890), (5, 905), (6, 900))],
        ),
        (
            "comp 1 150 2 148 4 152 5 149 6 151 psi couldnt get to 3",
            SIX,
            [
                f"compression c{n} {psi * 6.894757:.6g} psi"
                for n, psi in ((1, 150), (2, 148), (4, 152), (5, 149), (6, 151))
            ],
        ),
        (
            "comp 9,5,9,8,9,6,4,1 bar",
            FOUR,
            ["compression c1 950 bar", "compression c2 980 bar", "compression c3 960 bar", "compression c4 410 bar"],
        ),
        ("plug 3 gap 1.2", FOUR, ["plug_gap c3 1.2 mm"]),
        ("coil for 1+4 sec 12k", FOUR, ["coil_secondary c1 12000 kohm", "coil_secondary c4 12000 kohm"]),
        (
            "pull inj plugs: 1 drops 2 drops 3 nothing 4 drops",
            FOUR,
            [f"injector_cut c{n} {word}" for n, word in ((1, "drops"), (2, "drops"), (3, "no change"), (4, "drops"))],
        ),
        (
            "5v ref only 1.3, unplug map sensor -> 5.0",
            FOUR,
            ["reference_volts 1.3 V", "reference_volts 5 V [map sensor unplugged]"],
        ),
    ],
)
def test_numbers_find_their_cylinders(line: str, car: Car, bodies: list[str]) -> None:
    """What was not measured gets no number."""
    assert said(line, car) == bodies


def test_plug_number_is_no_gap() -> None:
    """``plug 2 wet, rest tan`` speaks of looks."""
    assert said("plug 2 wet, rest tan")[0] == "plug_look c2 wet with fuel"
    assert not any("plug_gap" in text for text in said("plug 2 wet, rest tan"))
