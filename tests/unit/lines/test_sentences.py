"""Free sentences of several clauses: history, what others did, judgements of several things, values in a sentence."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.evidence import Reading, Work
from knowngood.library import load
from knowngood.lines import read_line
from tests.unit.lines.said import text_of

FOUR = Car(cylinders=4, form="inline", ignition="coil on plug", injection="port")
EIGHT = Car(cylinders=8, form="V", ignition="coil on plug", injection="port")
DISTRIBUTOR = Car(cylinders=4, form="inline", ignition="distributor")


def said(line: str, car: Car = FOUR) -> list[str]:
    return [text_of(body) for body in read_line(line, car, load()).bodies]


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("code: crank sensor", ["code P0335"]),
        ("misfire code", ["code P0300"]),
        ("codes for misfire on 3 and 4", ["code c3 P0303", "code c4 P0304"]),
        ("codes: misfire 2, catalyst", ["code c2 P0302", "code b1 P0420"]),
        ("lean code bank 2", ["code b2 P0174"]),
        ("stored knock sensor code", ["code P0325 stored"]),
        ("new cam sensor, no change after P0340", ["replaced cam_sensor (other new): no change", "code P0340"]),
    ],
)
def test_code_is_known_by_what_it_speaks_of(line: str, bodies: list[str]) -> None:
    """Generic codes by their meaning (SAE J2012, ISO 15031-6, from memory); the guess is shown."""
    assert said(line) == bodies


def test_code_of_a_cylinder_that_is_not_there_is_asked_for() -> None:
    """The four-cylinder engine has no misfire of cylinder 7."""
    understood = read_line("codes include misfire cylinder 7 and P0420", FOUR, load())
    assert understood.asks == ("There is no cylinder 7 of 4: which one is it, or how many cylinders has the engine?",)
    assert [text_of(body) for body in understood.bodies] == ["note: misfire cylinder 7", "code b1 P0420"]


@pytest.mark.parametrize("line", ["lead 9 12k", "inj 9 14 ohm", "comp 9 120"])
def test_two_numbers_with_no_such_cylinder_are_no_row(line: str) -> None:
    """The first of them names a cylinder the engine does not have."""
    understood = read_line(line, EIGHT, load())
    assert understood.asks[0].startswith("There is no cylinder 9 of 8:")
    assert not any(isinstance(body, Reading) for body in understood.bodies)


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("swapped coil 2 with coil 4, miss moved to 4", ["swapped coil 2 with 4: moved 4"]),
        ("coil 2 and coil 4 changed over, now P0304", ["swapped coil 2 with 4: moved 4", "code c4 P0304 now"]),
        ("plugs 1 and 3 swapped: code comes back on 3", ["swapped plug 3 with 1: stayed 3"]),
        ("injectors swapped: miss stays on 2", ["tried injector 2 (known-good spare): no change"]),
        ("put coil 1 on cylinder 3, misfire moved to 3", ["swapped coil 1 with 3: moved 3"]),
        (
            "throttle cleaned and intake gasket renewed: no change",
            ["cleaned throttle: no change", "replaced intake_gasket (other new): no change"],
        ),
        (
            "replaced alternator, battery: no difference",
            ["replaced alternator: no change", "replaced battery: no change"],
        ),
        ("oil changed", ["refilled oil"]),
        ("cam sensor plug reseated, no change", ["reseated cam_wire: no change"]),
    ],
)
def test_work_of_several_parts_is_told_part_by_part(line: str, bodies: list[str]) -> None:
    """Each with its own verb; "no change" is said of all of it."""
    assert said(line) == bodies


def test_parts_with_one_verb_behind_them_are_all_tried() -> None:
    """Swapped without a number is another one tried, where the part has no cylinder."""
    works = read_line("Coil, module, distributor swapped: no change", DISTRIBUTOR, load()).bodies
    assert [body.part for body in works if isinstance(body, Work)] == ["main_coil", "ignition_module", "distributor"]
    assert {(body.do, body.effect) for body in works if isinstance(body, Work)} == {("tried", "no change")}


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("unplugged inj 3", ["undone: unplugged inj 3 at cylinder 3"]),
        ("pump relay bridged", ["undone: pump relay bridged"]),
        ("rag in intake", ["undone: rag in intake"]),
        ("rag out of the intake", ["put right: rag out of the intake"]),
        ("pump relay bridge removed", ["put right: pump relay bridge removed"]),
        ("unplug inj 3, no change", ["injector_cut c3 no change"]),
    ],
)
def test_what_must_not_stay_so_is_undone(line: str, bodies: list[str]) -> None:
    """Left unplugged, bridged, stuffed; a test with its outcome is a reading."""
    assert said(line) == bodies


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("fuel pressure and heater good", ["fuel_pressure good", "heater hot"]),
        ("oil level and coolant level: nothing wrong", ["oil_level_look right", "coolant_level_look right"]),
        ("coolant clean, oil clean", ["coolant_look clean", "oil_look fair"]),
        ("rpm stays 0 while cranking (200-300 is normal)", ["crank_rpm 0 rpm [cranking]", "windows"]),
        ("fuel pressure 2.1 bar where 3 is expected", ["fuel_pressure 210 bar", "windows"]),
        ("P0335 comes only after about 7 s of cranking", ["code P0335 [after about 7 s, cranking]"]),
        (
            "after the rocker covers, cylinders 2 and 4 are dead",
            ["miss c2 yes [after the rocker covers]", "miss c4 yes [after the rocker covers]"],
        ),
        ("hesitates near 3,500 rpm", ["hesitates yes [cruise, 3500 rpm]"]),
    ],
)
def test_sentence_is_read_whole(line: str, bodies: list[str]) -> None:
    """Nothing of it is left."""
    assert [text.split(" =")[0] for text in said(line)] == bodies
    assert not read_line(line, FOUR, load()).left


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        (
            "spark plugs 2 and 3 oily, 1 and 4 dry",
            ["plug_look c2 oily", "plug_look c3 oily", "plug_look c1 dry", "plug_look c4 dry"],
        ),
        ("hesitation gone after the new fuel filter", ["hesitates no", "replaced fuel_filter (other new): cured"]),
        ("new coil on 3, misfire cured", ["replaced coil 3 (other new): cured"]),
        ("still misfires", ["shakes yes"]),
        (
            "on 3 May comp 150 152 149 90 psi",
            [
                "compression c1 1034.21 psi",
                "compression c2 1048 psi",
                "compression c3 1027.32 psi",
                "compression c4 620.528 psi",
            ],
        ),
        ("hot: knocks", ["knocks yes [hot idle]"]),
        ("heater works, no coolant loss", ["heater hot", "coolant_loss no"]),
    ],
)
def test_what_goes_on_or_is_over_is_heard_so(line: str, bodies: list[str]) -> None:
    """Other cylinders of the same kind, a complaint that is gone, one that is still there; a date is no cylinder."""
    assert said(line) == bodies


@pytest.mark.parametrize(
    ("line", "who"),
    [("compression on 3 low (dealer)", "other workshop"), ("owner says it stalls when hot", "owner")],
)
def test_hearsay_is_kept_as_hearsay(line: str, who: str) -> None:
    """Who read it stands in the reading."""
    body = read_line(line, FOUR, load()).bodies[0]
    assert isinstance(body, Reading)
    assert body.who == who


@pytest.mark.parametrize(
    "line",
    [
        "boost gauge works",
        "fuel stuck half",
        "Repair manual leads elsewhere",
        "smoke from a vent",
        "needle a little higher",
        "Dealer charged 125 for the compression test",
        "switching off and on restores it",
        "in for suspension work",
        "doors rattle on bumps",
        "clutch judders",
        "brakes squeal when cold",
        "wiggling the plug on the throttle body makes the engine stumble",
        "it sits lower and rattles over the gravel",
    ],
)
def test_what_is_not_sure_is_no_reading(line: str) -> None:
    """Kept as a note or as history: never a finding, a fault or a value."""
    kinds = [type(body).__name__ for body in read_line(line, FOUR, load()).bodies]
    assert set(kinds) <= {"Note", "CarFact"}


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("comp 1-4: 155 150 60 158 psi", ["compression c1 1068.69 psi", "compression c2 1034.21 psi",
                                          "compression c3 413.685 psi", "compression c4 1089.37 psi"]),
        ("b1 ltft -12 b2 ltft +1 %", ["long_trim b1 -12 percent", "long_trim b2 1 percent"]),
        ("bat 12.3 eng off", ["battery_rested 12.3 V [at rest]"]),
        ("idle 1150 hot ac off", ["idle_speed 1150 rpm [hot idle, ac off]"]),
        ("swp coil 3<>1 misfire follows", ["swapped coil 3 with 1: moved 1"]),
        ("inj 3 to 1, no diff", ["swapped injector 3 with 1: no change"]),
        ("plugs 1 2 4 tan, 3 wet", ["plug_look c1 normal", "plug_look c2 normal", "plug_look c4 normal",
                                    "plug_look c3 wet with fuel"]),
        ("leakdown 3 40% hiss at tailpipe", ["leakdown c3 40 percent", "leak_heard c3 at the exhaust"]),
        ("no dtcs, lamp off", ["code none", "engine_lamp off"]),
        ("rocker covers off for an oil leak", ["last_done = [\"rocker covers off for an oil leak\"]"]),
        ("comp one after another: the last one, cylinder 2, none", ["compression c2 0 none seen psi"]),
    ],
)  # fmt: skip
def test_short_line_is_read_as_it_is_meant(line: str, bodies: list[str]) -> None:
    """Short words, spans in front of a row, banks behind numbers, parts that change places."""
    assert said(line) == bodies


@pytest.mark.parametrize("line", ["comp all ~12 bar blorp 4 at 7", "rpm drops when wiggle cps plug", "coil prim 0.6"])
def test_row_with_a_word_not_known_is_no_row(line: str) -> None:
    """Which number is of which cylinder may hang on that word."""
    bodies = read_line(line, FOUR, load()).bodies
    assert not any(isinstance(body, Reading | Work) for body in bodies)


@pytest.mark.parametrize(
    "line",
    ["trims go negative with purge hose off", "coil 4 dead on bench"],
)
def test_state_said_of_something_else_is_no_finding(line: str) -> None:
    """A hose off for a test, a coil on the bench: neither a fault seen nor a misfire."""
    assert said(line, EIGHT) == [f"note: {line}"]


def test_value_of_before_does_not_count_now() -> None:
    """What it was stays in the words."""
    assert said("iac cleaned, idle 600 now, was 400") == [
        "cleaned idle_valve",
        "idle_speed 600 rpm [hot idle]",
        "note: was 400",
    ]


def test_row_of_a_bank_is_its_cylinders() -> None:
    """As many numbers as the bank has cylinders, from the pulley end."""
    six = Car(cylinders=6, form="V", ignition="coil on plug")
    assert said("left bank comp 150 155 40 psi", six) == [
        "compression cL1 1034.21 psi",
        "compression cL2 1068.69 psi",
        "compression cL3 275.79 psi",
    ]


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("stalls without warning", ["stalls yes"]),
        ("shakes not when hot", ["shakes no [hot idle]"]),
        ("hesitation gone", ["hesitates no"]),
        ("pump heard no", ["pump_heard silent"]),
        ("found water in the distributor cap", ["seen distributor_cap"]),
        ("engine lamp does not blink", ["note: engine lamp does not blink"]),
        ("charge lamp at key on", ["note: charge lamp at key on"]),
        ("rattle from the catalyst when tapped", ["note: rattle from the catalyst when tapped"]),
    ],
)
def test_denial_is_of_what_it_stands_beside(line: str, bodies: list[str]) -> None:
    """Before it, behind it, or of something else."""
    assert said(line) == bodies


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("plug 1 white 2 tan 3 tan 4 tan", ["plug_look c1 white", *(f"plug_look c{n} normal" for n in (2, 3, 4))]),
        ("spark 1 good 2 none", ["spark_test c1 good", "spark_test c2 none"]),
        ("still overheats after new thermostat", ["needle_red yes", "replaced thermostat (other new): no change"]),
        ("voltage at pump 9.8", ["note: voltage at pump 9.8"]),
        ("oil 2 litres low", ["seen oil_low"]),
        ("have fuel", ["note: have fuel"]),
    ],
)
def test_name_alone_does_not_say_which_value_it_is(line: str, bodies: list[str]) -> None:
    """Cylinder and word take turns; a voltage elsewhere is not the battery's, low oil no pressure."""
    assert said(line) == bodies
