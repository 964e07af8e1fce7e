"""Measurements by topic, from typed text to verdict."""

from __future__ import annotations

import re

import pytest

from knowngood.app.measuring import measure, topics
from knowngood.app.measuring_topic import BAD, GOOD, UNSURE, Worked
from knowngood.app.measuring_typed import split_options
from knowngood.cli.measure import topic_lines, usage_lines, worked_lines
from knowngood.errors import NotMeasurable, Refused
from knowngood.units import kinds


def typed(line: str) -> Worked:
    """A measurement as typed behind the verb."""
    name, *texts = line.split()
    return measure(name, *split_options(texts, topics()[name]))


# What the example of each topic comes to: worked by hand, or by the published row its function is asserted with.
COMES_TO = {
    "compression": "34.3 ± 1.8 %",  # 60 / 175
    "leakdown": "7.5 ± 2.0 %",  # 1 - 74 / 80
    "leaks": "24.0 ± 2.8 points",  # 31 - 7
    "heard": "exhaust valve; rings; piston; bore",
    "hole": "1.05 ± 0.03 mm",
    "tester": "2.0 ± 0.4 %",
    "wet": "50 ± 5 psi (3.45 bar)",
    "puffs": "52.9 ± 1.9 %",  # 90 / 170
    "running": "37.1 ± 1.8 %",  # 65 / 175
    "expected": "919 to 1338 kPa, most likely 1117",  # 1101 to 1603 at the sea, x 84.56 / 101.325
    "altitude": "174 ± 5 psi (12 bar)",  # 145 x 101.325 / 84.56
    "gap": "0.99 ± 0.03 mm",  # 0.039 x 25.4
    "breakdown": "13.1 to 14.4 kV, most likely 13.7",
    "lead": "5.40 ± 0.04 kΩ",
    "plug": "resistor",
    "coil": "0.50 ± 0.04 Ω",  # 0.62 / 1.2358
    "dwell": "6.96 ± 0.18 A",  # 28 (1 - exp(-1 / 3.5))
    "peak": "20 to 80 kV, most likely 40",
    "joint": "4.00 ± 0.10 mΩ",  # 0.42 / 105
    "drop": "0.300 ± 0.010 V",
    "path": "0.470 ± 0.017 V",  # 0.05 + 0.40 + 0.02
    "wire": "29 to 29.8 mΩ, most likely 29.4",  # 17.241 x 4 / 2.5 x 1.05 to 1.08
    "gauge": "2.081 mm²",
    "meter": "81",  # 1 % of 5100 and 3 counts of 10
    "leads": "0.60 ± 0.08 Ω",  # 0.9 - 0.3
    "battery": "50 %, 44 to 60 %",
    "acid": "50 %, 42 to 58 %",
    "drain": "5.2 ± 0.4 days",  # 30 Ah / (24 h x 0.24 A)
    "charging": "14.10 ± 0.03 V",
    "ripple": "0.900 ± 0.020 V",
    "starter": "0.600 ± 0.021 V",  # 0.9 / 1.5
    "sag": "12.0 ± 0.3 mΩ",  # 2.4 / 200
    "sensor": "-9.96 ± 0.20 °C",
    "curve": "80.0 ± 0.3 °C (176 °F)",
    "beta": "3640 ± 40 K",  # ln(2044 / 175.7) / (1 / 298.15 - 1 / 373.15)
    "divider": "330 ± 5 Ω",  # 1000 x 1.24 / 3.76
    "signal": "98.00 ± 0.28 %",  # 4.9 / 5
    "straight": "46.60 ± 0.27",
    "plugged": "sensor open",
    "teeth": "6°",  # 360 / 60
    "oxygen": "rich",
    "trim": "16 ± 4 %",  # 1.02 x 1.14
    "pattern": "lean at low flow",
    "leak": "0.60 ± 0.06 g/s",  # 0.2 x 3
    "intake": "0.60 ± 0.06 g/s",
    "airflow": "33.1 ± 2.4 g/s",
    "blend": "14.10 ± 0.06 to 1",
    "ethanol": "58 ± 3 %",
    "washed": "3.29 to 32.9 ml, most likely 9.86",
    "rail": "41.4 ± 1.4 %",  # root of 2
    "injector": "230.9 ± 2.3 ml/min",  # 200 x root of 4/3
    "across": "316 ± 3 kPa (45.9 psi)",  # 250 + 101.3 - 35
    "duty": "2.00 ± 0.04 %",  # 3 / 150
    "deadtime": "1.00 ± 0.09 ms",
    "balance": "1.0 ± 0.7 %",  # 50 / 49.5
    "drops": "1.0 ± 1.4 kPa (0.145 psi)",  # 60 - 59
    "holds": "120 ± 4 kPa (17.4 psi)",  # 300 - 180
    "boiling": "128.1 ± 1.6 °C (263 °F)",
    "freezing": "-31 ± 4 °C",  # half way from -24.8 to -36.8
    "thermostat": "-8.0 ± 1.0 K",  # 80 - 88
    "coolant": "low for a warm engine",
    "oil": "usual",
    "misfire": "5.33 to 10.8 %, most likely 7.75",  # 31 / 400
    "shares": "2.0 ± 1.4 %",
    "change": "12.23",  # (11 + 13.5 + 12.2) / 3
    "blocks": "34.8 to 93.3 %, most likely 70",  # 7 / 10
    "clean": "229 to 1361 turns, most likely 499",
    "seen": "9.5 %",
    "proof": "22",
    "run": "59.7 km",
    "orders": "6.67 ± 0.08 Hz",  # 0.5 x 800 / 60
    "code": "powertrain",
    "tyre": "615 ± 6 mm",  # 2 x 185 x 0.7 + 14 x 25.4
    "wheel": "34.0 ± 0.7 mm",  # 19.05 + 15
    "thread": "6.0 ± 0.3",
    "speed": "5.0 ± 1.1 km/h (3.11 mph)",
    "timed": "100.0 ± 1.0 km/h",  # 3.6 x 1000 / 36
    "gear": "4",
    "torque": "41 to 76.2 kN, most likely 53.3",  # 96 / (0.15 x 12)
}


@pytest.mark.parametrize("name", topics())
def test_example_comes_to(name: str) -> None:
    """Every topic's own example gives the result known for it, first."""
    assert typed(f"{name} {topics()[name].example}").results[0].text == COMES_TO[name]


@pytest.mark.parametrize("name", topics())
def test_result_says_all_it_has_to(name: str) -> None:
    """What was entered, formula, working, source and what it cannot tell are there; no name of the code shows."""
    worked = typed(f"{name} {topics()[name].example}")
    assert worked.entered and worked.formula and worked.working and worked.results
    assert worked.sources and worked.cannot_tell and worked.slips
    shown = "\n".join(worked_lines(worked))
    assert not re.search(r"`|\b[a-z]{2,}_[a-z]", shown)
    assert all(len(line) <= 80 for line in shown.splitlines())


@pytest.mark.parametrize("name", topics())
def test_topic_is_data_of_known_kinds(name: str) -> None:
    """Fields name kinds with lawful units and a usual span; the usage names every field; lines keep to 80 columns."""
    topic = topics()[name]
    for field in topic.fields:
        assert field.kind in {"number", "word", "text", *kinds()}
        assert (field.kind == "word") == bool(field.words)
        assert field.name.upper() in topic.usage
    assert not topic.window or topic.window in kinds()
    assert all(len(part) <= 80 for line in usage_lines(topic) for part in line.splitlines())


def test_topics_are_listed_with_one_line_each() -> None:
    """The verb alone lists them all."""
    listed = "\n".join(topic_lines())
    assert all(f"  {name} " in listed for name in topics())


@pytest.mark.parametrize(
    "line",
    ["joint 0.42V 105A", "joint 0,42 V 105 A", "joint 420mV 105", "joint -0.42V 105A", "joint 105A --drop 0.42V"],
)
def test_any_usual_way_of_typing_comes_to_the_same(line: str) -> None:
    """Comma or point, unit joined or apart or left out, probes swapped, in order or by name."""
    assert typed(line).results[0].text == "4.00 ± 0.10 mΩ"


def test_unit_typed_once_holds_for_the_row() -> None:
    """A unit behind the last of a row is the row's, even where a bare number has a unit of its own."""
    assert [one.text for one in typed("balance 50 51 49 ml").entered] == ["50 ml", "51 ml", "49 ml"]
    assert not any(one.guessed for one in typed("compression 172 60 175 psi").entered)


def test_guess_is_shown() -> None:
    """A unit nobody typed is said to be guessed."""
    worked = typed("compression 172 170 60 175")
    assert worked.entered[0].text == "172 psi (11.9 bar, unit guessed)"
    assert worked.entered[0].guessed


def test_bare_number_takes_the_unit_of_the_same_instrument() -> None:
    """6 beside a supply of 80 psi is 6 psi and not 6 bar."""
    assert typed("leakdown 80psi 6").entered[1].text == "6 psi (0.4 bar)"


@pytest.mark.parametrize(
    ("line", "place", "text"),
    [
        ("wire 2.5 4", 1, "4 m (13 ft, unit guessed)"),
        ("balance 50 51 49", 0, "50 ml (unit guessed)"),
        ("timed 1000 36", 0, "1000 m (3281 ft, unit guessed)"),
        ("wheel 6.5 50 8 35", 2, "8 in (203 mm, unit guessed)"),
    ],
)
def test_bare_number_takes_what_is_meant_here(line: str, place: int, text: str) -> None:
    """A wire of 4 is 4 m and not 4 mm, a glass of 50 holds ml and not litres; both are said to be guessed."""
    assert typed(line).entered[place].text == text


def test_few_firings_clear_no_engine() -> None:
    """No misfire in 50 firings is no proof of less than 5 %; none in 400 is."""
    assert [one.word for one in typed("misfire 0 25 4").verdicts] == [UNSURE, UNSURE]
    assert [one.word for one in typed("misfire 0 200 4").verdicts] == [GOOD, GOOD]


def test_size_may_be_typed_apart() -> None:
    """A text takes all that is typed for it."""
    assert typed("tyre 205/55 R16").results[0].text == "632 ± 6 mm"


def test_doubtful_unit_is_told() -> None:
    """125 as a coolant temperature may be either scale."""
    worked = typed("oil 125")
    assert (
        worked.check[0]
        == "oil was read as 125 °C (257 °F, unit guessed); it could be 125 °F (52 °C, unit guessed). Type the unit."
    )


def test_unusual_value_is_kept_and_told() -> None:
    """A value outside the usual span is worked out all the same and looked at again."""
    worked = typed("compression 172bar 170bar")
    assert worked.results[0].value is not None
    assert worked.check[0].startswith("cylinder 1 172 bar (2495 psi) lies outside what is usual, 0 to 2100 kPa.")


def test_limit_taken_as_reading_is_told() -> None:
    """`over` on a reading makes the result a limit."""
    assert "is a limit and was taken as the reading" in typed("joint >0.42V 105A").check[0]


def test_rough_reading_has_a_wider_error() -> None:
    """`about` and a range bring their own width into the error."""
    rough, fine = typed("joint 0.3-0.5V 105A").results[0], typed("joint 0.4V 105A").results[0]
    assert rough.se is not None and fine.se is not None and rough.se > 3.0 * fine.se


@pytest.mark.parametrize(
    ("line", "word", "text"),
    [
        ("gap 1.0mm --window 0.9-1.1mm", GOOD, "gap 1.00 ± 0.03 mm: inside the window 0.9 to 1.1 mm"),
        ("gap .051in --window 0.9-1.1mm", BAD, "gap 1.30 ± 0.03 mm: over the window by 0.195 mm"),
        ("gap 0.7 --window=0.9-1.1mm", BAD, "gap 0.70 ± 0.03 mm: under the window by 0.2 mm"),
        (
            "gap 1.08 --window 0.9-1.1mm",
            UNSURE,
            "gap 1.08 ± 0.03 mm: too near to 1.1 mm to tell, within two standard errors",
        ),
        ("battery 12.7V 24h --window over 12.4V", GOOD, "voltage 12.700 ± 0.020 V: inside the window over 12.4 V"),
    ],
)
def test_verdict_against_the_window(line: str, word: str, text: str) -> None:
    """The car's own window decides, and near an end it does not."""
    verdict = typed(line).verdicts[-1]
    assert (verdict.word, verdict.text, verdict.source) == (word, text, "the window entered")


def test_no_limit_is_invented() -> None:
    """Without a window and without common practice there is no verdict, and it says how to get one."""
    worked = typed("joint 0.42V 105A")
    assert worked.verdicts == []
    assert worked.check == ["No verdict without the car's own figures: add the window, LOW-HIGH with its unit."]


@pytest.mark.parametrize(
    ("line", "word", "text"),
    [
        ("compression 172 170 168 175 psi", GOOD, "row: none under 131 psi, 75 % of the best"),
        ("compression 172 170 60 175 psi", BAD, "cylinder 3 low: under 131 psi, 75 % of the best"),
        (
            "compression 172 170 132 175 psi",
            UNSURE,
            "cylinder 3: too near to 131 psi, 75 % of the best, to tell; measure again",
        ),
        ("leaks 8 9 7 11", GOOD, "row: alike, 4 points apart"),
        ("lead 5.1k 5.3k OL 5.2k", BAD, "lead 3 open"),
        ("acid 1.25 1.26 1.18", BAD, "cell 3 0.05 or more under the best"),
        ("gap 1.1 1.1 0.5 1.1", BAD, "plug 3 off the middle of the row"),
        ("balance 50 51 50 49 ml", GOOD, "row: alike within 10 %"),
    ],
)
def test_verdict_against_the_row(line: str, word: str, text: str) -> None:
    """Cylinders are held against each other."""
    assert (word, text) in [(one.word, one.text) for one in typed(line).verdicts]


def test_place_not_measured_keeps_its_number() -> None:
    """A dash holds the place of a cylinder that was not measured."""
    worked = typed("compression 172 - 60 175 psi")
    assert worked.entered[1].text == "not measured"
    assert worked.verdicts[0].text.startswith("cylinder 3 low")


def test_place_decides_the_allowed_drop() -> None:
    """A place brings its usual limit, with its source."""
    verdict = typed("joint 0.42V 105A --place frame to ground post").verdicts[0]
    assert (verdict.word, verdict.source) == (BAD, "common practice, one maker's text")


def test_words_may_be_begun() -> None:
    """The beginning of a word is enough when only one begins so."""
    assert typed("freezing 45% --kind prop").entered[1].text == "propylene"


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("joint 0.42V", "joint: current is missing (current through it at the same moment). "
         "Type for example: knowngood measure joint 0.42V 105A"),
        ("joint 0.42V 105A 3", "joint: '3' is left over. It is typed so: "
         "knowngood measure joint DROP CURRENT [--at AT] [--place PLACE] [--window LOW-HIGH]"),
        ("hole 80psi 60psi --orfice 1mm", "hole takes no '--orfice'. Did you mean '--orifice'?"),
        ("torque 12mm 96Nm --state rusty", "torque: no state is called 'rusty'. It is one of: dry, oiled."),
        ("peak 400V --window 1-2V", "peak takes no window. It is typed so: knowngood measure peak PEAK"),
        ("gap 1mm --window 1mm", "The window '1mm' has no end. Type two ends such as 0.9-1.1mm, or one: 'under 0.5', "
         "'over 9.6'."),
        ("curve 20C 30C / 100 200 / 300", "2 temperatures and 2 resistances. Give three points: 'T T T / R R R / R'."),
        ("joint 0.42V 105psi", "'psi' is no unit of current. Units that are: A, mA."),
    ],
)  # fmt: skip
def test_refusal_says_what_to_type(line: str, message: str) -> None:
    """What cannot be read is refused with what is so and what to do."""
    with pytest.raises(Refused) as refused:
        typed(line)
    assert str(refused.value) == message


def test_unknown_topic_names_the_nearest() -> None:
    """A slip of typing is answered with the nearest topic."""
    with pytest.raises(Refused) as refused:
        measure("compresion", ["1"])
    assert str(refused.value) == "There is no measurement 'compresion'. Did you mean 'compression'?"


def test_numbers_that_carry_nothing_are_refused() -> None:
    """An unloaded joint tells nothing, however bad it is."""
    with pytest.raises(NotMeasurable):
        typed("joint 0.01V 0.1A")


def test_source_that_runs_over_lines_is_shown_whole() -> None:
    """Up to its last word, though its second line is not set in."""
    told = " ".join(typed("running 175psi 65psi 140psi").sources)
    assert "at idle and 0.65 to 0.95 at a snap are usual (from memory)" in told


@pytest.mark.parametrize(
    ("word", "hint"),
    [
        ("comp", "Did you mean 'compression'?"),
        ("compresion", "Did you mean 'compression'?"),
        ("nernst", "'knowngood measure' lists them."),
        ("ethanol in", "Did you mean 'ethanol'?"),
    ],
)
def test_topic_that_is_not_there(word: str, hint: str) -> None:
    """Word for word: by its beginning, by a slip of the keys, or the list."""
    with pytest.raises(Refused) as refused:
        measure(word, [])
    assert str(refused.value) == f"There is no measurement '{word}'. {hint}"


def test_open_winding_is_an_answer() -> None:
    """OL on a coil is no number to reckon with: it is open, and the probes are doubted first."""
    worked = typed("coil OL")
    assert worked.results[0].text == "no continuity"
    assert worked.verdicts[0].word == "not as it should be"
    assert worked.check[0].startswith("Touch the probes together")


def test_supply_left_out_of_a_leakdown_row_is_asked_about() -> None:
    """The first cylinder was taken for the supply; another one reads above it."""
    worked = typed("leakdown 74 72 55 75")
    assert "cylinder 3 reads above the supply of 74 psi: was the supply typed first?" in worked.check
