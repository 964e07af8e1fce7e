"""Taps make the entries that the line beside them would make."""

from __future__ import annotations

import pytest

from knowngood.app.answer import Asked, NextStep
from knowngood.app.apart import said
from knowngood.app.step_form import form_of, question_of
from knowngood.app.taps import read_taps
from knowngood.car import Car
from knowngood.errors import Refused
from knowngood.evidence import Access
from knowngood.library.healthy import healthy_word
from knowngood.library.load import load
from knowngood.lines import read_line

LIBRARY = load()
SHOWN_UNITS = {
    "battery_rested": ["V", "mV"],
    "coil_primary": ["Ω"],
    "coil_secondary": ["kΩ", "Ω"],
    "oxygen_heater_resistance": ["Ω", "kΩ", "MΩ"],
}
SIX = Car(cylinders=6, form="inline", ignition="coil on plug")


@pytest.mark.parametrize(
    ("fields", "line"),
    [
        ([("word|spark_test|cylinder 3", "weak")], "spark 3: weak"),
        (
            [
                ("number|compression|cylinder 1", "172"),
                ("number|compression|cylinder 2", "170,5"),
                ("unit|compression", "psi"),
            ],
            "compression 1 172, 2 170,5 psi",
        ),
        ([("number|coil_secondary|cylinder 3", "OL"), ("unit|coil_secondary", "kohm")], "coil secondary 3 OL"),
        (
            [
                ("number|coil_secondary|cylinder 1", "OL"),
                ("number|coil_secondary|cylinder 2", "12.1"),
                ("unit|coil_secondary", "kohm"),
            ],
            "coil secondary 1 OL, 2 12.1 kΩ",
        ),
        ([("swap|coil|cylinder 2|cylinder 5", "moved")], "swapped ignition coil 2 with 5, miss moved"),
        ([("spare|coil|cylinder 3", "cured")], "tried known-good ignition coil 3, cured"),
        ([("work|replaced|coil|cylinder 3", "no change")], "replaced ignition coil 3, no change"),
        ([("work|refilled|battery|engine", "no change")], "charged battery, no change"),
        ([("tool|infrared_thermometer", "missing")], "no infrared thermometer"),
        (
            [("work|replaced|plug|cylinder 1,cylinder 2,cylinder 3", "no change")],
            "replaced spark plug 1, 2, 3, no change",
        ),
        ([("access|plenum_off", "off"), ("access|engine_cover", "on")], "plenum off, engine cover back on"),
        ([("word|hard_start|engine", "yes"), ("when", "hot restart")], "hard to start hot"),
        ([("word|hard_start_hot|engine", "yes"), ("when", "hot restart")], "hard to start hot"),
        ([("word|crank_sound|engine", "turns")], "sound at start: turns"),
    ],
)
def test_tapped_line_reads_back(fields: list[tuple[str, str]], line: str) -> None:
    """What the terminal would make of the same words."""
    tapped = read_taps(LIBRARY, fields)
    assert tapped.line == line
    assert read_line(line, SIX, LIBRARY).bodies == tapped.bodies


def test_paid_and_took_are_kept_with_the_work() -> None:
    """With a comma or a point."""
    tapped = read_taps(LIBRARY, [("work|replaced|coil|cylinder 3", ""), ("paid", "45,5"), ("took", "12")])
    (work,) = tapped.bodies
    assert (work.price, work.minutes) == (45.5, 12.0)  # type: ignore[union-attr]


@pytest.mark.parametrize(("typed", "price"), [("1,200", 1200.0), ("1.200", 1200.0), ("12,50", 12.5), ("0", 0.0)])
def test_price_is_read_as_in_a_line(typed: str, price: float) -> None:
    """Three digits behind a mark are thousands."""
    (stock,) = read_taps(LIBRARY, [("stock|ordered|coil", "yes"), ("price", typed)]).bodies
    assert stock.price == price  # type: ignore[union-attr]


@pytest.mark.parametrize("typed", ["1,2,3", "dear", "-4", "nan", "inf"])
def test_price_that_is_none_is_refused(typed: str) -> None:
    """Word for word."""
    with pytest.raises(Refused) as refused:
        read_taps(LIBRARY, [("stock|ordered|coil", "yes"), ("price", typed)])
    assert str(refused.value) == f"'{typed}' is no price or time. Type a number, such as 45 or 12,50."


def test_odd_number_is_kept_and_questioned() -> None:
    """With the usual span and the likely slip."""
    tapped = read_taps(LIBRARY, [("number|compression|cylinder 1", "1720"), ("unit|compression", "psi")])
    assert len(tapped.bodies) == 1
    assert "1720 psi is outside the usual" in tapped.odd
    assert "kPa meant?" in tapped.odd


@pytest.mark.parametrize(
    ("kind", "unit", "typed", "meant"),
    [
        ("fuel_pressure", "psi", "3.5", "bar"),
        ("lead_resistance", "ohm", "4.2", "kΩ"),
        ("map_at_rest", "kPa", "29", "inHg"),
        ("map_reading", "kPa", "28", ""),  # a sound car at idle
        ("back_pressure", "kPa", "1", ""),
        ("drain_current", "mA", "3", ""),
        ("drop_ground_cranking", "V", "0.9", ""),  # bad, and no size of millivolts
        ("charge_ripple", "V", "0.5", ""),
    ],
)
def test_unit_that_was_hardly_meant_is_asked_about(kind: str, unit: str, typed: str, meant: str) -> None:
    """Where the number is a sound car's in another unit and no sound car's in the one beside the field."""
    tapped = read_taps(LIBRARY, [(f"unit|{kind}", unit), (f"number|{kind}|engine", typed)])
    assert len(tapped.bodies) == 1
    assert (f"{meant} meant?" in tapped.odd) if meant else tapped.odd == ""


def test_row_of_another_unit_is_kept_and_questioned_as_one() -> None:
    """11.8 psi in every cylinder is a row in bar."""
    row = [("number|compression|cylinder 1", "11,8"), ("number|compression|cylinder 2", "11,6")]
    assert read_taps(LIBRARY, [("unit|compression", "psi"), *row]).odd == (
        "these are far from sound in psi, as on a sound car in bar; bar meant?"
    )
    assert read_taps(LIBRARY, [("unit|compression", "bar"), *row]).odd == ""


def test_what_was_seen_is_said_once() -> None:
    """The echo says "seen" by itself."""
    (found,) = read_taps(LIBRARY, [("found|vacuum_hose_chewed|engine", "yes")]).bodies
    assert found.words == "vacuum hose chewed by animals"  # type: ignore[union-attr]


def test_what_comes_off_is_known_or_refused() -> None:
    """Word for word."""
    with pytest.raises(Refused) as refused:
        read_taps(LIBRARY, [("access|bonnet", "off")])
    assert str(refused.value) == "Nothing is called 'bonnet', or it cannot be 'off'. Open the page again."


def step(do: str, what: str, place: str = "engine", *reads: tuple[str, str]) -> NextStep:
    """A step as the answer gives it."""
    return NextStep(
        do=do, what=what, name=what, place=place, minutes=1, money=0, cost=0, why="", answers=[], cautions=[],
        reads=[Asked(kind, where) for kind, where in reads],
    )  # fmt: skip


def test_row_asks_every_place_in_one_unit() -> None:
    """Units to choose from, the one used last first."""
    reads = [("compression", f"cylinder {number}") for number in (1, 2, 3)]
    form = form_of(LIBRARY, step("measure", "compression", "engine", *reads), {"compression": "bar"})
    assert form.is_row
    assert [label for _, label in form.questions[0].cells] == ["1", "2", "3"]
    assert form.questions[0].units[0].name == "bar"


def test_only_units_are_offered_that_such_a_number_is_read_in() -> None:
    """No kilovolts for a battery, no megohms for a primary winding; a span that tells nothing is not shown."""
    asked = {kind: question_of(LIBRARY, LIBRARY.readings[kind], ["engine"]) for kind in SHOWN_UNITS}
    assert {kind: [unit.symbol for unit in one.units] for kind, one in asked.items()} == SHOWN_UNITS
    assert asked["coil_primary"].opens
    assert not asked["battery_rested"].opens
    assert asked["battery_rested"].usual == "0 to 18 V"
    assert asked["oxygen_heater_resistance"].usual == ""
    ripple = question_of(LIBRARY, LIBRARY.readings["charge_ripple"], ["engine"])
    assert (ripple.usual, ripple.signed) == ("0 to 10 V", False)
    for kind in LIBRARY.readings.values():
        if kind.quantity and not kind.words:
            assert "e+" not in question_of(LIBRARY, kind, ["engine"]).usual, kind.id


def test_every_check_of_the_library_can_be_answered() -> None:
    """Whatever step comes, each of its readings has words or a unit, and the healthy word is one of its own."""
    for check in LIBRARY.checks.values():
        kinds = [LIBRARY.readings[name] for name in check.reads if name in LIBRARY.readings]
        form = form_of(LIBRARY, step("measure", check.id, "engine", *((kind.id, "engine") for kind in kinds)))
        assert len(form.questions) == len(kinds)
        for question in form.questions:
            assert question.words or question.units, (check.id, question.kind)
            if question.words:
                assert question.healthy in LIBRARY.readings[question.kind].words


def test_healthy_word_of_a_gate_look_is_its_first() -> None:
    """As the gates take it."""
    for gate in LIBRARY.gates.values():
        for name in gate.looks:
            kind = LIBRARY.readings[name]
            assert healthy_word(LIBRARY, kind) == kind.words[0], name


def test_what_goes_back_on_is_said_in_plain_words() -> None:
    """No step is said to be off and together at once, and each line is read as what it says."""
    library = load()
    for step in library.access.values():
        off, on = (said(library, step, is_open=is_open) for is_open in (True, False))
        assert "together" not in on and "apart" not in off, (off, on)
    under = library.access["under_car"]
    assert (said(library, under, is_open=True), said(library, under, is_open=False)) == ("car up", "car down again")
    assert read_line("car on stands", Car(), library).bodies == (Access("under_car", True),)
    assert read_line("car down again", Car(), library).bodies == (Access("under_car", False),)
