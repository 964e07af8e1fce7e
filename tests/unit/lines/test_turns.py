"""Turns of phrase, notebook signs and whole sentences: the same facts as in a short line."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.evidence import Note
from knowngood.library import load
from knowngood.lines import read_line

CAR = Car(cylinders=6)


@pytest.mark.parametrize(
    ("long", "short"),
    [
        ("comp 1-6: 150 155 150 60 150 155 psi", "comp 150 155 150 60 150 155 psi"),
        ("LD 1/2/3 = 8/9/8 %", "leakdown c1 8 % c2 9 % c3 8 %"),
        ("leakdown nr 3 38 percent", "leakdown c3 38 %"),
        ("13.3. plug 2 black", "plug 2 black"),
        ("On hand: 6 plugs, 1 coil used", "6 plugs on hand, 1 used coil on hand"),
        ("The fuel pressure gauge reads 38 psi at idle", "fuel pressure 38 psi idle"),
        ("Plugs one, two and four look light tan", "plugs 1 2 4 tan"),
        ("It uses about a litre of oil every 1000 km.", "uses oil"),
        ("earth strap off, cleaned, back on", "cleaned earth strap"),
        ("A whistling sound from the intake at idle.", "hisses at idle"),
        ("Inj 4 -> 1, inj 1 -> 4: no change", "inj 4 -> 1, no change"),
        ("comp 2 112 psi, 5 157", "comp c2 112 psi, c5 157 psi"),
        ("nest in the airbox", "nest in the air box"),
        ("leads 2 and 4 put right, cured", "repaired leads 2 and 4, cured"),
        ("boost hose redone", "repaired boost hose"),
        ("insulation gnawed", "wires chewed"),
    ],
)
def test_what_is_said_otherwise_says_the_same(long: str, short: str) -> None:
    """Kind, place, number and word agree; the words as typed may differ."""
    assert [_facts(body) for body in read_line(long, CAR, load()).bodies] == [
        _facts(body) for body in read_line(short, CAR, load()).bodies
    ]


@pytest.mark.parametrize("line", ["oil temp 212", "brake temperature 300", "outside temp 12"])
def test_other_temperatures_are_not_the_coolant(line: str) -> None:
    """Nothing holds them: kept as a note, with a question."""
    read = read_line(line, CAR, load())
    assert [type(body) for body in read.bodies] == [Note]
    assert read.asks


def _facts(body: object) -> tuple[object, ...]:
    assert not isinstance(body, Note), body
    names = ("kind", "place", "value", "word", "part", "places", "do", "fault", "state", "count", "name")
    return (type(body), *(getattr(body, name, None) for name in names))
