"""Lines of a tired man: heard as what they say, asked about well, or kept as a note; none heard as something else."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.evidence import Finding, Note, Reading
from knowngood.library.healthy import healthy_word
from knowngood.library.load import load
from knowngood.lines import read_line
from tests.unit.lines.said import text_of

FOUR = Car(cylinders=4, form="inline", ignition="coil on plug", injection="port", drive="petrol")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("battery flat, 3.2 V", ["battery_rested 3.2 V"]),
        ("battery was flat at 8.4 V", ["battery_rested 8.4 V"]),
        ("flat battery, 11 volts resting", ["battery_rested 11 V"]),
        ("battery flat, 9.1 V cranking", ["battery_cranking bad", "battery_cranking 9.1 V [cranking]"]),
        ("battery flat", ["battery_cranking bad"]),
        ("jumped the fan relay, fan runs", ["fan_bridged runs"]),
        ("bridged fan relay, no fan", ["fan_bridged does not run"]),
        ("fuel hose to filter wet", ["fuel_leak_look wet"]),
        ("fuel line at the tank seeps", ["fuel_leak_look wet"]),
        ("key on pump runs 2 s then stops", ["pump_heard hums [key on]"]),
        ("pump runs 2 s at key on", ["pump_heard hums [key on]"]),
        ("starter spins but does not engage", ["starter_whirrs yes"]),
        ("starter spins, won't mesh", ["starter_whirrs yes"]),
        ("oil filler puffs at idle", ["breather_pressure blows [hot idle]"]),
        ("smoke puffs from oil filler at idle", ["breather_pressure blows [hot idle]"]),
        ("leakdown 3 60 %, air at oil filler", ["leakdown c3 60 percent", "leak_heard c3 at the filler"]),
        ("lamp off", ["engine_lamp off"]),
        ("engine lamp is out", ["engine_lamp off"]),
        ("a light is out", ["lamps_told a lamp is out"]),
        ("no spark 3, others good", ["spark_test c3 none", *(f"spark_test c{n} good" for n in (1, 2, 4))]),
        ("drove 20 km, no codes", ["code none"]),
        ("codes gone", ["code none"]),
        ("fuel pressure 2.1 drops to 0 overnight", ["fuel_pressure 210 bar", "fuel_hold falls"]),
        ("temp gauge never gets to middle", ["runs_cold yes"]),
        ("top hose hot bottom cold", ["thermostat_hose stays cold"]),
    ],
)
def test_line_is_heard_as_what_it_says(line: str, says: list[str]) -> None:
    """Neither more nor less than was typed."""
    assert [text_of(body) for body in read_line(line, FOUR, load()).bodies] == says


@pytest.mark.parametrize(
    ("line", "asks"),
    [
        ("a lamp is out", "Which lamp"),
        ("lamp out", "Which lamp"),
        ("battery cca 320 of 600", "how many volts"),
        ("battery tests 320 A of 600 A", "how many volts"),
        ("jumped the fan relay", "does it run or not"),
        ("clutch bite point high", "does it slip"),
        ("clutch bites at the top", "does it slip"),
        ("plugs 60000 km old", "how wide is the gap"),
        ("pulled fuse 7, drain gone", "What hangs on that fuse"),
        ("drain goes away with fuse 7 out", "What hangs on that fuse"),
        ("rad fan only on full", "does its slow speed run"),
        ("tyres 8 years old", "under the tread limit"),
        ("water in the boot", ""),
        ("one key here", ""),
        ("only one key, no spare", ""),
        ("battery 5 years old", ""),
    ],
)
def test_line_is_kept_whole_with_its_question(line: str, asks: str) -> None:
    """Nothing of it counts; what has to be known is asked, and nothing where nothing has to be."""
    understood = read_line(line, FOUR, load())
    assert [type(body) for body in understood.bodies] == [Note]
    assert bool(understood.asks) == bool(asks)
    assert all(asks in ask for ask in understood.asks), understood.asks


@pytest.mark.parametrize(
    ("line", "kept", "asks"),
    [
        ("new battery, 85", "85", ("85: what it cost?",)),
        ("replaced alternator, 120", "120", ("120: what it cost?",)),
        ("new battery, 60 Ah, 540 A", "60 Ah, 540 A", ()),
        ("new battery 80 ah", "80 ah", ()),
    ],
)
def test_number_beside_a_new_part_is_asked_for_or_kept(line: str, kept: str, asks: tuple[str, ...]) -> None:
    """The work counts; the number is no reading of it."""
    understood = read_line(line, FOUR, load())
    assert [text_of(body).split(" ")[0] for body in understood.bodies] == ["replaced", "note:"]
    assert [body.text for body in understood.bodies if isinstance(body, Note)] == [kept]
    assert understood.asks == asks


def test_label_of_a_look_is_a_question_and_no_answer() -> None:
    """What is tapped or printed to be filled in ("heater felt: hot") says nothing by itself that is not as it should
    be, and with a word behind it is heard as that word.
    """
    library = load()
    for kind in library.readings.values():
        if kind.complaint or not kind.words or not kind.says or kind.id == "compression_wet":  # a number, mostly
            continue
        alone = read_line(kind.says[0], FOUR, library).bodies
        told = [body for body in alone if isinstance(body, Reading) and body.kind in library.readings and body.word]
        bad = [body for body in told if body.word != healthy_word(library, library.readings[body.kind])]
        assert not any(isinstance(body, Finding) and body.seen for body in alone), kind.says[0]
        assert all(body.doubt for body in bad), kind.says[0]
        bodies = read_line(f"{kind.says[0]}: {kind.words[0]}", FOUR, library).bodies
        assert any(isinstance(body, Reading) and (body.kind, body.word) == (kind.id, kind.words[0]) for body in bodies)
