"""Measurements kept in a car's journal: the line of each topic, what it does to the belief, what is refused."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from knowngood.app.measuring import topics
from knowngood.app.measuring_kept import Kept, keep, line_of
from knowngood.app.measuring_typed import split_options
from knowngood.app.measuring_written import KEPT
from knowngood.app.workshop import Workshop
from knowngood.car import Car
from knowngood.errors import NotMeasurable, Refused
from knowngood.evidence import Note, Reading
from knowngood.library.load import load
from knowngood.lines import read_line
from tests.unit.cli.terminal import Terminal

CAR = "4 cylinders inline, distributor, port injection, flow meter"

# Topic and readings as typed -> the line, and kind, place and base value of each reading in it.
LINES: dict[str, tuple[str, list[tuple[str, str, float]]]] = {
    "compression 172 170 60 175 psi": (
        "comp 172 170 60 175 psi",
        [
            ("compression", "1", 1185.898),  # x 6.894757 kPa
            ("compression", "2", 1172.109),
            ("compression", "3", 413.685),
            ("compression", "4", 1206.583),
        ],
    ),
    "compression 172 - 60 ~175": (
        "comp 172 - 60 about 175",
        [("compression", "1", 1185.898), ("compression", "3", 413.685), ("compression", "4", 1206.583)],
    ),
    "leakdown 80psi 74 72 55 75": (
        "leakdown 7.5 10.0 31.2 6.3 %",  # 1 - 74 / 80 and so on
        [("leakdown", "1", 7.5), ("leakdown", "2", 10.0), ("leakdown", "3", 31.2), ("leakdown", "4", 6.3)],
    ),
    "leakdown 80psi 60psi --place c2": ("leakdown cylinder 2 25.0 %", [("leakdown", "2", 25.0)]),
    "leaks 8 9 7 31": (
        "leakdown 8 9 7 31 %",
        [("leakdown", "1", 8), ("leakdown", "2", 9), ("leakdown", "3", 7), ("leakdown", "4", 31)],
    ),
    "gap .039in --window 0.9-1.1mm --place 2": ("gap cylinder 2 0.039 in", [("plug_gap", "2", 0.9906)]),
    "lead 5.1k open 18k 5.2k": (
        "lead 5.1 kΩ over 1 MΩ 18 kΩ 5.2 kΩ",
        [
            ("lead_resistance", "1", 5100),
            ("lead_resistance", "2", 1e6),
            ("lead_resistance", "3", 18000),
            ("lead_resistance", "4", 5200),
        ],
    ),
    "lead 5.1 OL - 5.4": (
        "lead 5.1 kΩ over 1 MΩ - 5.4 kΩ",
        [("lead_resistance", "1", 5100), ("lead_resistance", "2", 1e6), ("lead_resistance", "4", 5400)],
    ),
    "coil 0.62 --temperature 80C --place cylinder 3": (
        "coil primary cylinder 3 0.62 Ω",
        [("coil_primary", "3", 0.62)],
    ),
    "coil 0.9ohm --leads 0.3ohm --place cylinder 3": ("coil primary cylinder 3 0.6 Ω", [("coil_primary", "3", 0.6)]),
    "coil 9.6k --place cylinder 3": ("coil secondary cylinder 3 9.6 kΩ", [("coil_secondary", "3", 9600)]),
    "drops 60 62 41 58 kPa": (
        "injector balance 60 62 41 58 kPa",
        [("injector_balance", str(number), drop) for number, drop in enumerate((60, 62, 41, 58), start=1)],
    ),
    "battery 12.24V 24h": ("battery rested 12.24 V", [("battery_rested", "", 12.24)]),
    "drain 240mA 60Ah --waited 45min": ("drain 240 mA", [("drain_current", "", 0.24)]),
    "charging 14.1V --temperature 20C": ("charging 14.1 V", [("charging_volts", "", 14.1)]),
    "ripple 0.9V": ("ripple 0.9 V", [("charge_ripple", "", 0.9)]),
    "sag 12.6V 10.2V 200A": (
        "battery rested 12.6 V, battery cranking 10.2 V, starter current 200 A",
        [("battery_rested", "", 12.6), ("battery_cranking", "", 10.2), ("starter_current", "", 200)],
    ),
    "sensor 9.6k --at 20C": (
        "coolant sensor resistance 9.6 kΩ",
        [("coolant_sensor_resistance", "", 9600)],
    ),
    "oxygen 0.82V": ("oxygen 0.82 V", [("oxygen_volts", "1", 0.82)]),
    "trim +2% +14%": ("short trim +2 %, long trim +14 %", [("short_trim", "1", 2), ("long_trim", "1", 14)]),
    "airflow 4.1g/s 2.0l 800rpm 35kPa 25C": ("air flow 4.1 g/s", [("air_flow", "", 4.1)]),
    "coolant 71C 25min": ("coolant temperature 71 °C", [("coolant_reading", "", 71)]),
    "rail 150kPa 300kPa": ("fuel pressure 150 kPa", [("fuel_pressure", "", 150)]),
    "starter 0.9V 150A --place ground side": (
        "drop engine to body while cranking 0.9 V, starter current 150 A",
        [("drop_ground_cranking", "", 0.9), ("starter_current", "", 150)],
    ),
    "starter 0.9V 150A --place positive side": (
        "drop starter cable 0.9 V, starter current 150 A",
        [("drop_starter_cable", "", 0.9), ("starter_current", "", 150)],
    ),
    "drop -0.3V post to clamp": ("drop post to clamp 0.3 V", [("drop_clamps", "", 0.3)]),
    "drop 0.3V positive post to starter stud": ("drop starter cable 0.3 V", [("drop_starter_cable", "", 0.3)]),
    "drop 0.3V sensor ground": ("drop ecu ground 0.3 V", [("drop_ground", "", 0.3)]),
    "joint 0.42V 30A --place alternator output line": (
        "charging cable drop 0.42 V",
        [("charge_line_drop", "", 0.42)],
    ),
}

NOT_KEPT = {
    "tyre 185/70R14": "tyre is not kept: it is no reading that suspects are weighed by. Leave out --for. What is kept: "
    "compression, leakdown, leaks, gap, lead, coil, drops, battery, drain, charging, ripple, sag, sensor, oxygen, "
    "trim, airflow, coolant, rail, starter, drop, joint.",
    "gap 0.9mm": "gap: of which cylinder is not said. Add --place 'cylinder 3'.",
    "gap 0.9mm --place bank 1": "gap: 'bank 1' is no cylinder. Type --place 'cylinder 1'.",
    "gap 0.9mm --place cylinder 7": "'gap cylinder 7 0.9 mm' cannot be kept for wagon: there is no cylinder "
    "7: the engine has 4. There is no cylinder 7 of 4: which one is it, or how many cylinders has the engine?",
    "compression 172 170 psi --place cylinder 3": "compression: 2 readings cannot all be of 'cylinder 3'. "
    "Leave out --place.",
    "compression 172 170 60 175 171 psi": "'comp 172 170 60 175 171 psi' cannot be kept for wagon: 5 numbers for 4 "
    "cylinders. 172 170 60 175 171 psi: which is which of the 4 cylinders?",
    "battery 12.24V 24h --place cylinder 3": "battery is read once in a car; 'cylinder 3' is no place of it. "
    "Leave out --place.",
    "trim 2% 14% --short2 1% --long2 3% --place bank 1": "trim: both banks are given; 'bank 1' is one of them. "
    "Leave out --place.",
    "starter 0.9V 150A": "starter: which side is not said. Add --place 'ground side' or --place 'positive side'.",
    "starter 0.9V 150A --place left": "starter: 'left' is no side of its circuit. "
    "Add --place 'ground side' or --place 'positive side'.",
    "drop 0.3V connector": "drop: 'connector' is no reading that suspects are weighed by. Leave out --for. What is "
    "kept: post to clamp, positive post to starter stud, alternator output line, sensor ground.",
    "joint 0.42V 105A": "joint: a drop without a place is no reading that suspects are weighed by. Leave out --for. "
    "What is kept: post to clamp, positive post to starter stud, alternator output line, sensor ground.",
    "airflow 21g/s 2.0l 2000rpm 100kPa 25C": "airflow at 2000 rpm is not kept: suspects are weighed by the air flow "
    "at warm idle. Measure it under 1200 rpm, or leave out --for.",
    "coolant 40C 5min": "coolant after 5 min is not kept: the engine may be cold still. "
    "Measure it after 15 min or more, or leave out --for.",
    "coil 50ohm --place cylinder 3": "coil: 50 Ω may be of the primary or of the secondary. "
    "Leave out --for, and say it as a line: coil primary cylinder 3 open.",
    "compression 172 170 psi --size 3": "compression takes no '--size'. It takes: --cylinder, --rule, --window.",
}


@pytest.fixture
def workshop(tmp_path: Path) -> Iterator[Workshop]:
    """A workshop with one car in it, ``wagon``."""
    with Workshop(tmp_path, load()) as workshop:
        workshop.say(workshop.new("wagon").code, CAR)
        yield workshop


def kept(workshop: Workshop, typed: str) -> Kept:
    """A measurement as typed behind the verb, kept for the wagon."""
    name, *texts = typed.split()
    return keep(workshop, "wagon", name, *split_options(texts, topics()[name]))


@pytest.mark.parametrize("typed", LINES)
def test_readings_are_in_the_journal(workshop: Workshop, typed: str) -> None:
    """Line, kinds, places and values are what was measured; all of it counts and is echoed."""
    job = workshop.job("wagon").code
    before = len(workshop.entries(job))
    said = kept(workshop, typed).said
    line, wanted = LINES[typed]
    bodies = [entry.body for entry in workshop.entries(job)[before:]]
    assert (said.text, said.counts) == (line, True)
    assert said.echo
    found = [(one.kind, one.place.name, one.value.number) for one in bodies if isinstance(one, Reading) and one.value]
    assert len(found) == len(bodies)
    assert [one[:2] for one in found] == [one[:2] for one in wanted]
    assert [one[2] for one in found] == pytest.approx([one[2] for one in wanted], abs=1e-3)


@pytest.mark.parametrize("typed", [f"{name} {topics()[name].example}" for name in KEPT])
def test_each_line_reads_completely(workshop: Workshop, typed: str) -> None:
    """No topic of the table writes a word that is not understood."""
    name, *texts = typed.split()
    places = {"starter": "ground side", "gap": "cylinder 1", "coil": "cylinder 1"}
    if name in ("drop", "joint"):
        texts = [*texts[:1], *texts[1:2] * (name == "joint"), "--place", "sensor ground"]
    if name == "airflow":
        texts[2] = "800rpm"
    line = line_of(name, *split_options(texts, topics()[name]), places.get(name, ""))
    understood = read_line(line, Car(cylinders=6, form="inline", ignition="distributor"), workshop.library)
    assert understood.left == ()
    assert not any(isinstance(body, Note) for body in understood.bodies)
    assert understood.bodies


def test_both_banks_are_kept(tmp_path: Path) -> None:
    """Trims of a V engine go to their banks."""
    with Workshop(tmp_path, load()) as workshop:
        workshop.say(workshop.new("wagon").code, "V6, coil on plug, port injection")
        said = kept(workshop, "trim 2% 14% --short2 -1% --long2 3%").said
        assert (
            said.text == "short trim bank 1 +2 %, long trim bank 1 +14 %, short trim bank 2 -1 %, long trim bank 2 +3 %"
        )
        assert said.counts
        assert kept(workshop, "oxygen 0.82V --place bank 2").said.text == "oxygen bank 2 0.82 V"


def test_low_compression_makes_its_cylinder_suspected(workshop: Workshop) -> None:
    """60 in a row raises what no longer seals, and the leading place is that cylinder."""
    job = workshop.job("wagon").code
    faults = workshop.library.faults.values()
    sealing = {fault.id for fault in faults if any(act.on == "seal" for act in fault.acts)}
    before = sum(one.chance for one in workshop.answer(job).suspects if one.fault in sealing)
    kept(workshop, "compression 172 170 60 175 psi")
    after = workshop.answer(job).suspects
    assert sum(one.chance for one in after if one.fault in sealing) > max(0.5, 2 * before)
    assert after[0].fault in sealing
    assert after[0].places[0].place == "cylinder 3"


def test_even_compression_suspects_none_of_them(workshop: Workshop) -> None:
    """The same topic with a good row lowers it: the numbers count, not the topic."""
    job = workshop.job("wagon").code
    workshop.say(job, "shakes at cold idle")
    sealing = {fault.id for fault in workshop.library.faults.values() if any(act.on == "seal" for act in fault.acts)}
    before = sum(one.chance for one in workshop.answer(job).suspects if one.fault in sealing)
    kept(workshop, "compression 172 170 173 175 psi")
    after = sum(one.chance for one in workshop.answer(job).suspects if one.fault in sealing)
    assert before > 0.0
    assert after < before / 2


def test_unusual_reading_is_kept_and_asked_about(workshop: Workshop) -> None:
    """It is stored in doubt, not dropped, and does not count."""
    said = kept(workshop, "compression 12 12 60 12 bar").said
    assert not said.counts
    assert "60 bar" in said.ask


@pytest.mark.parametrize("typed", NOT_KEPT)
def test_refused_in_words_and_nothing_stored(workshop: Workshop, typed: str) -> None:
    """What cannot be kept says why; the journal is as it was."""
    before = workshop.entries(workshop.job("wagon").code)
    with pytest.raises(Refused) as refused:
        kept(workshop, typed)
    assert str(refused.value) == NOT_KEPT[typed]
    assert workshop.entries(workshop.job("wagon").code) == before


@pytest.mark.parametrize(
    ("typed", "error"),
    [("compression fast", Refused), ("sag 12.6V 10.2V 0A", NotMeasurable), ("battery 12.24V", Refused)],
)
def test_nothing_is_stored_of_a_measurement_refused(workshop: Workshop, typed: str, error: type[Exception]) -> None:
    """A measurement that cannot be worked out leaves no line behind."""
    before = workshop.entries(workshop.job("wagon").code)
    with pytest.raises(error):
        kept(workshop, typed)
    assert workshop.entries(workshop.job("wagon").code) == before


def test_a_unit_read_otherwise_is_refused(workshop: Workshop) -> None:
    """A bare number that the car's earlier lines turn into another unit is not kept as something else."""
    job = workshop.job("wagon").code
    workshop.say(job, "fuel pressure 300 kPa")
    before = workshop.entries(job)
    with pytest.raises(Refused) as refused:
        kept(workshop, "rail 45 60")
    assert str(refused.value) == (
        "'fuel pressure 45' would be kept for wagon as fuel pressure: 45 kPa, guessed kPa, which is not what was "
        "measured. Type the unit behind the readings."
    )
    assert workshop.entries(job) == before


def test_terminal_shows_and_keeps(tmp_path: Path) -> None:
    """Shown as without ``--for``, the line and its echo behind it; the JSON has one key more."""
    terminal = Terminal(tmp_path)
    terminal.done("new", "wagon", CAR)
    typed = ("measure", "compression", "172", "170", "60", "175", "psi")
    plain = terminal.done(*typed).out
    shown = terminal.done(*typed, "--for", "wagon").out
    assert shown == plain + (
        "Kept         for wagon: comp 172 170 60 175 psi\n"
        "             compression 1..4: 172 170 60 175 psi, counting order\n"
    )
    told = terminal.done(*typed, "--for", "wagon", "--json").json
    assert told.pop("kept")["text"] == "comp 172 170 60 175 psi"
    assert told == terminal.done(*typed, "--json").json
    exported = terminal.done("export", "wagon").out
    assert sum(json.loads(row).get("line") == "comp 172 170 60 175 psi" for row in exported.splitlines()) == 8


def test_terminal_refuses(tmp_path: Path) -> None:
    """Exit code 2, one sentence, nothing shown."""
    terminal = Terminal(tmp_path)
    terminal.done("new", "wagon", CAR)
    told = terminal("measure", "gap", "0.9mm", "--for", "wagon")
    assert (told.code, told.out) == (2, "")
    assert "of which cylinder is not said" in told.err
    told = terminal("measure", "gap", "0.9mm", "--for", "van", "--place", "cylinder 3")
    assert (told.code, told.out) == (2, "")
    assert "There is no car 'van' here." in told.err
