"""Measurements where the workshop likes its own units: bare numbers are read in them, results are shown in them."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.measuring import measure, topics
from knowngood.app.measuring_typed import split_options
from knowngood.app.settings import UNITS, Settings, settings_in
from knowngood.app.workshop import Workshop
from knowngood.evidence import Reading
from knowngood.library.load import load
from knowngood.units import kind_named
from tests.unit.cli.terminal import Terminal

LIKED = {"compression": "bar", "pressure": "psi", "temperature": "degF", "gap": "in", "air flow": "kg/h"}
WANTED = Settings(units=LIKED).by_kind()


def shown(line: str, wanted: dict[str, str] = WANTED) -> list[str]:
    """Names and texts of the results of a line as typed behind the verb."""
    name, *texts = line.split()
    worked = measure(name, *split_options(texts, topics()[name]), units=wanted)
    return [f"{result.name}: {result.text}" for result in worked.results]


def test_each_kind_gets_the_unit_of_its_setting() -> None:
    """Compression has its own; other pressures go by their family."""
    assert WANTED["compression"] == "bar"
    assert {WANTED[kind] for kind in ("tester_pressure", "fuel_pressure", "cap_pressure")} == {"psi"}
    assert WANTED["coolant_temperature"] == "degF"
    assert WANTED["lash"] == "in"
    assert "length" not in WANTED
    assert Settings().by_kind() == {}


def test_bare_numbers_are_read_in_the_wanted_unit() -> None:
    """And shown as guessed; the other pressures of the same topic in theirs."""
    worked = measure("boiling", ["234", "16", "50"], units=WANTED)
    assert [one.text for one in worked.entered[:2]] == [
        "234 °F (112 °C, unit guessed)",
        "16 psi (1.1 bar, unit guessed)",
    ]
    assert measure("gap", [".039"], units=WANTED).entered[0].text == "0.039 in (0.99 mm, unit guessed)"


def test_typed_unit_wins() -> None:
    """The reading stays as it was typed; what it comes to is shown as wanted."""
    worked = measure("compression", ["172", "170", "60", "175psi"], units=WANTED)
    assert [one.unit for one in worked.entered[:4]] == ["psi"] * 4
    assert worked.results[1].text == "9.95 ± 0.10 bar (144 psi)"  # 144.25 x 6.894757 / 100


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("expected 9.5 50 88mm 148mm", "a healthy cylinder reads: 11 to 16 bar, most likely 13.4"),  # 1101 to 1603 kPa
        ("boiling 112C 16psi 50%", "boils at: 267.5 ± 2.7 °F (131 °C)"),  # 1.8 x 130.8 + 32
        ("boiling 112C 16psi 50%", "left to boiling: 18.8 ± 2.5 K"),  # a difference stays one
        ("hole 80psi 60psi", "hole: 0.0412 ± 0.0012 in (1.05 mm)"),  # 1.046 / 25.4
        ("leak 20% 3g/s", "unmetered air: 2.16 ± 0.23 kg/h (0.6 g/s)"),  # 0.6 x 3.6
        ("joint 0.42V 105A", "resistance: 4.00 ± 0.10 mΩ"),
    ],
)
def test_results_are_shown_in_the_wanted_unit(line: str, told: str) -> None:
    """With what they were worked out in behind, so that formula and working can be followed."""
    assert told in shown(line)


@pytest.mark.parametrize("name", topics())
def test_no_topic_shows_another_unit_than_the_wanted_one(name: str) -> None:
    """Every number of a kind for which a unit was chosen stands in that unit, differences in kelvins apart."""
    topic = topics()[name]
    worked = measure(name, *split_options(topic.example.split(), topic), units=WANTED)
    kinds = {kind for kind in (*(one.kind for one in topic.fields), topic.window, topic.gives) if kind in WANTED}
    wrong = {
        unit.symbol
        for kind in kinds
        for unit in kind_named(kind).units.values()
        if unit.name not in {WANTED[other] for other in kinds} and unit.symbol != "K"
    }
    assert [result.text for result in worked.results if result.unit in wrong] == []


def test_every_setting_of_a_unit_is_heeded() -> None:
    """Each speaks of at least one kind that some topic measures."""
    measured = {one.kind for topic in topics().values() for one in topic.fields}
    for name, (_, units) in UNITS.items():
        wanted = Settings(units={name: units[-1]}).by_kind()
        assert measured & set(wanted), name


def test_terminal_heeds_the_settings(tmp_path: Path) -> None:
    """Those of the workshop it works in; without one, none, and none is made."""
    terminal = Terminal(tmp_path / "home")
    assert "11.9 bar (173 psi, unit guessed)" in terminal.done("measure", "compression", "11.9", "11.5").out
    assert "0.9 mm (0.04 in, unit guessed)" in terminal.done("measure", "gap", "0.9").out
    assert not (tmp_path / "home").exists()
    terminal.done("settings", "gap", "in")
    assert "0.9 in (23 mm, unit guessed)" in terminal.done("measure", "gap", "0.9").out
    assert "gap: 0.0354 ± 0.0012 in (0.9 mm)" in terminal.done("measure", "gap", "0.9mm").out


def test_damaged_workshop_does_not_keep_from_measuring(tmp_path: Path) -> None:
    """The verbs that need the workshop say what is wrong with it."""
    terminal = Terminal(tmp_path)
    terminal.done("settings", "gap", "in")
    for file in tmp_path.glob("*.sqlite*"):
        file.write_bytes(b"no workshop")
    assert settings_in(tmp_path) == Settings()
    assert "0.9 mm" in terminal.done("measure", "gap", "0.9").out


def test_kept_reading_keeps_the_unit_it_was_read_in(tmp_path: Path) -> None:
    """The line of the journal names it, so that it is not guessed anew."""
    terminal = Terminal(tmp_path)
    terminal.done("new", "wagon")
    terminal.done("say", "wagon", "4 cylinders inline")
    terminal.done("settings", "compression", "kPa")
    out = terminal.done("measure", "compression", "200", "180", "190", "195", "--for", "wagon").out
    assert "comp 200 180 190 195 kPa" in out
    with Workshop(tmp_path, load()) as workshop:
        bodies = [entry.body for entry in workshop.entries(workshop.job("wagon").code)]
    assert [body.value.number for body in bodies if isinstance(body, Reading) and body.value] == [200, 180, 190, 195]


def test_the_same_is_not_said_twice() -> None:
    """A result that stands in two units stands in the wanted one alone."""
    assert len(shown("expected 9.5 50 88mm 148mm")) == 1
    assert len(shown("expected 9.5 50 88mm 148mm", {})) == 2
