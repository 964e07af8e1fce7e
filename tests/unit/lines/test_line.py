"""Lines of every kind: what they become, what is asked, what is kept."""

from __future__ import annotations

import pytest
from msgspec import structs

from knowngood.car import Car
from knowngood.errors import Refused
from knowngood.evidence import CarFact, Note, Reading
from knowngood.lines import Recent, areas_named, parts_named, read_line, recent_after
from tests.unit.lines.said import FOUR, SIX, read, said
from tests.unit.lines.small_library import LIBRARY

WORK = [
    ("coil 5>2 miss moved", ["swapped coil 5 with 2: moved 2"]),
    ("coil 4>2, miss stayed on 4", ["swapped coil 4 with 2: stayed 4"]),
    ("swap coil 1 and 3, miss followed to 3", ["swapped coil 1 with 3: moved 3"]),
    ("moved coil from 2 to 6, P0306 now", ["swapped coil 2 with 6: moved 6", "code c6 P0306 now"]),
    ("coil on 2 swapped with 4, misfire stayed on 2", ["swapped coil 2 with 4: stayed 2"]),
    ("coil 5>1 no change", ["swapped coil 5 with 1: no change"]),
    ("new plugs all, no change", ["replaced plug 1+2+3+4+5+6 (other new): no change"]),
    ("replaced coil 3", ["replaced coil 3"]),
    ("replaced coils 1 and 4, better", ["replaced coil 1+4: better"]),
    ("new coil 2 fitted, cured", ["replaced coil 2 (other new): cured"]),
    ("used coil 2 fitted", ["replaced coil 2 (used)"]),
    (
        "replaced plugs, leads with no change",
        ["replaced plug 1+2+3+4+5+6: no change", "replaced lead 1+2+3+4+5+6: no change"],
    ),
    ("new pump fitted, made no difference", ["replaced fuel_pump (other new): no change"]),
    ("good for a week after new plugs", ["replaced plug 1+2+3+4+5+6 (other new): returned"]),
    ("cleaned the maf, codes came back", ["cleaned air_meter: returned"]),
    ("cleared codes", ["cleared"]),
    ("battery off", ["cleared battery"]),
    ("unplug inj 4, no change; unplug inj 2, drops", ["injector_cut c4 no change", "injector_cut c2 drops"]),
]
BAY = [
    ("plenum off", ["plenum_off apart"]),
    ("coil cover apart", ["coil_cover apart"]),
    ("coil cover together", ["coil_cover together"]),
    ("coil 3 left unplugged", ["undone: coil 3 left unplugged at cylinder 3"]),
    ("coil 3 plugged back in", ["put right: coil 3 plugged back in at cylinder 3"]),
    ("fuel rail plug off", ["undone: fuel rail plug off"]),
    ("no leak-down tester", ["leakdown_tester missing"]),
    ("got a leakdown tester", ["leakdown_tester on hand"]),
    ("compression gauge lent till friday", ["compression_gauge lent friday"]),
    ("have spare coil", ["known_good_coil on hand", "1 coil in 0 d"]),
    ("pump ordered, 3 days", ["1 fuel_pump in 3 d"]),
    ("pump ordered", ["1 fuel_pump in 2 d"]),
]
SEEN = [
    ("mouse nest in air box", ["seen nest_in_air_box", "animals = true"]),
    ("no mouse nest in air box", ["not seen nest_in_air_box"]),
    ("hose chewed at regulator", ["seen regulator_hose_off"]),
    ("lead 3 chewed", ["seen lead_chewed at cylinder 3"]),
    ("oil in plug well 2", ["seen plug_well_oil at cylinder 2"]),
    ("leads 2 and 3 crossed", ["seen leads_crossed at leads 2-3"]),
    ("harness chewed by mice near the firewall", ["seen loom", "animals = true"]),
    ("plug 4 wet with fuel, well full of oil", ["plug_look c4 wet with fuel", "seen plug_well_oil at cylinder 4"]),
    ("no spark on 3, others fine", ["spark_test c3 none", *(f"spark_test c{n} good" for n in (1, 2, 4, 5, 6))]),
    ("misfire on cylinder 2 at idle, plug is wet", ["miss c2 yes [hot idle]", "plug_look c2 wet with fuel"]),
    ("compression good", [f"compression c{n} good" for n in range(1, 7)]),
    ("leads checked ok", [f"lead_resistance c{n} good" for n in range(1, 7)]),
    ("spark strong", [f"spark_test c{n} good" for n in range(1, 7)]),
    ("no compression in 3", ["compression c3 0 none seen"]),
    ("no fuel pressure", ["fuel_pressure 0 none seen"]),
    ("no smoke", ["tail_smoke none"]),
    ("does not overheat", ["overheats no"]),
    ("radiator fan does not run", ["fan_runs does not run"]),
    ("runs fine with maf unplugged", ["air_meter_unplugged better"]),
    ("check engine light on with P0171", ["code b1 P0171"]),
    (
        "Cranks well but will not fire when hot; new pump fitted, made no difference; 2.5 bar at the rail, should be 3",
        [
            "cranking_strength strong",
            "starting cranks dead [hot restart]",
            "replaced fuel_pump (other new): no change",
            "fuel_pressure 250 bar",
            'windows = {"fuel_pressure": {"low": 285.0, "high": 315.0, "source": "as told"}}',
        ],
    ),
]
NUMBERS = [
    ("c5 lead 3.1k", ["lead_resistance c5 3100 kohm"]),
    ("lead 2 open", ["lead_resistance c2 1e+06 over Mohm"]),
    ("compression 170 172 168 175 171 and 60 on number 4", None),
    (
        "fuel pressure is 40 psi at idle and drops to 20 under load",
        ["fuel_pressure 275.79 psi [hot idle]", "fuel_pressure 137.895 psi [pull]"],
    ),
    ("alternator puts out 14.2 volts at idle", ["charging_volts 14.2 V [hot idle]"]),
    (
        "injector 2 measures 14 ohms, the others 15",
        ["injector_resistance c2 14 ohm", *(f"injector_resistance c{n} 15 ohm" for n in (1, 3, 4, 5, 6))],
    ),
    ("cylinders 2 and 3 low at 90 psi", ["compression c2 620.528 psi", "compression c3 620.528 psi"]),
    ("drop on engine ground 0.6 V cranking", ["drop_ground_cranking 0.6 V [cranking]"]),
    ("battery 12.1 rested, 9.4 cranking", ["battery_rested 12.1 V [at rest]", "battery_cranking 9.4 V [cranking]"]),
    ("comp dry 120 118 120 119 120 121 wet 160 158 160 150 161 160", None),
    ("idle hunts between 800 and 1500 rpm", ["idle_speed 1150 range rpm [hot idle]"]),
]
CAR_LINES = [
    ("V6", ["cylinders = 6", 'form = "V"']),
    ("straight six", ["cylinders = 6", 'form = "inline"']),
    ("flat four, turbo", ["cylinders = 4", 'form = "flat"', "turbo = true"]),
    ("2.0 l, automatic, hybrid", ["displacement_l = 2.0", 'systems = ["automatic"]', 'drive = "hybrid"']),
    ("lpg", ['drive = "gas conversion"']),
    ("firing order 1-5-3-6-2-4", ["firing_order = [1, 5, 3, 6, 2, 4]"]),
    ("firing order 1,3,4,2", ["firing_order = [1, 3, 4, 2]"]),
    ("mileage unknown", ["mileage_km = null"]),
    ("126,000 miles", ["mileage_km = 202777.3"]),
    ("stood 14 months under a tree", ["standing_years = 1.167"]),
    ("timing belt done at 120k", ['last_done = ["timing belt done at 120k"]']),
    ("head gasket 2 years ago by previous owner", ['last_done = ["head gasket 2 years ago by previous owner"]']),
    ("work done last: not known", ['last_done = ["not known"]']),
]


@pytest.mark.parametrize(("line", "bodies"), [*WORK, *BAY, *SEEN, *CAR_LINES])
def test_line_becomes_its_bodies(line: str, bodies: list[str]) -> None:
    """Each line says what a mechanic means by it."""
    assert said(line, SIX) == bodies


@pytest.mark.parametrize(("line", "bodies"), [pair for pair in NUMBERS if pair[1] is not None])
def test_numbers_become_readings(line: str, bodies: list[str]) -> None:
    """Numbers find their kind, their cylinder and their conditions."""
    assert said(line, SIX) == bodies


def test_number_beside_a_cylinder_leaves_the_others_in_counting_order() -> None:
    """The numbers without a cylinder fill the cylinders not named."""
    bodies = said("compression 170 172 168 175 171 and 60 on number 4", SIX)
    assert [text.split()[1] for text in bodies] == ["c1", "c2", "c3", "c5", "c6", "c4"]


def test_wet_and_dry_rows_are_two_kinds() -> None:
    """A row behind "wet" is the wet compression."""
    bodies = said("comp dry 120 118 120 119 120 121 wet 160 158 160 150 161 160", SIX)
    assert [text.split()[0] for text in bodies] == ["compression"] * 6 + ["compression_wet"] * 6


def test_empty_line_is_refused() -> None:
    """An empty line says what to type."""
    with pytest.raises(Refused) as refused:
        read("  \t ")
    assert str(refused.value) == (
        "The line is empty. Type what was seen, measured or done, such as 'comp 175 180 60 175'."
    )


ASKED = [
    (FOUR, "cyl 9 lead 4k", "There is no cylinder 9 of 4: which one is it, or how many cylinders has the engine?"),
    (FOUR, "coil 9>1", "There is no cylinder 9 of 4: which one is it, or how many cylinders has the engine?"),
    (FOUR, "comp 175 180 60 175 170", "175 180 60 175 170: which is which of the 4 cylinders?"),
    (FOUR, "comp 170", "170: which cylinder is it?"),
    (FOUR, "comp 250-260 in three, zero in one", "comp 250-260 in three, zero in one: which cylinders are they?"),
    (FOUR, "replaced coil", "coil: which cylinder was it?"),
    (FOUR, "plug wet with fuel", "plug look wet with fuel: at which cylinder?"),
    (Car(), "comp 175 180 60 175", "4 numbers: has the engine 4 cylinders?"),
    (FOUR, "code 42", "Code 42: what does the car's own list say it is?"),
    (SIX, "ltft +8", "long trim: of which bank?"),
    (FOUR, "lt 125%", "Trims of this car: is 0 or 100 neutral?"),
    (FOUR, "wobbly thing 12", "'wobbly thing 12': what was seen, measured or done, and where?"),
    (
        FOUR,
        "c3 comp 2500 psi",
        "compression of cylinder 3: 2500 psi is outside the usual 0 to 304.6 psi; decimal point slipped (250)? "
        "Really so?",
    ),
]


@pytest.mark.parametrize(("car", "line", "question"), ASKED, ids=[line for _, line, _ in ASKED])
def test_doubtful_line_asks_one_question(car: Car, line: str, question: str) -> None:
    """What is in doubt is asked, once, and the words are kept."""
    understood = read(line, car)
    assert understood.asks == (question,)
    assert understood.bodies


def test_impossible_value_is_kept_in_doubt_and_counts_when_confirmed() -> None:
    """Accept, flag, never drop; "really so" lifts the doubt."""
    reading = read("c3 comp 2500 psi").bodies[0]
    assert isinstance(reading, Reading)
    assert reading.doubt == "2500 psi is outside the usual 0 to 304.6 psi; decimal point slipped (250)?"
    sure = read("c3 comp 2500 psi really so").bodies[0]
    assert isinstance(sure, Reading)
    assert (sure.doubt, sure.value) == ("", reading.value)


def test_opinion_is_kept_and_does_not_count() -> None:
    """What somebody thinks is no finding."""
    assert read("I think the head gasket is gone").bodies == (
        Note("I think the head gasket is gone", "an opinion: kept, not counted"),
    )


def test_note_is_kept_without_a_question() -> None:
    """A line that says it is a note is one."""
    understood = read("note: keys are under the mat")
    assert understood.bodies == (Note("keys are under the mat"),)
    assert understood.asks == ()


def test_unknown_kind_is_kept_in_doubt() -> None:
    """A kind the library does not have is kept, and does not count."""
    lean = LIBRARY.__class__(
        **{**{f: getattr(LIBRARY, f) for f in LIBRARY.__struct_fields__}, "hash": "lean", "readings": {}}
    )
    reading = read_line("c2 lead 5k", FOUR, lean).bodies[0]
    assert isinstance(reading, Reading)
    assert (reading.kind, reading.doubt) == ("lead_resistance", "no such kind")


def test_bare_row_goes_on_with_the_kind_before() -> None:
    """A row without a name goes on with what was read last, in its unit."""
    recent = recent_after(None, read("comp 12 11 12 12 bar"))
    assert recent == Recent(kind="compression", units={"compression": "bar"})
    assert said("11 11 12 12", FOUR, recent) == [
        f"compression c{n} {k} bar" for n, k in ((1, 1100), (2, 1100), (3, 1200), (4, 1200))
    ]


def test_trim_scale_is_asked_once() -> None:
    """Once the scale was asked nothing is asked again."""
    assert read("lt 125%", FOUR, Recent(trims_asked=True)).asks == ()


@pytest.mark.parametrize(
    ("neutral", "line", "percent"),
    [(100.0, "lt 112%", 12.0), (100.0, "lt 52%", -48.0), (100.0, "lt +3%", 3.0), (0.0, "lt 112%", 112.0)],
)
def test_neutral_trim_of_the_car_says_what_a_trim_is(neutral: float, line: str, percent: float) -> None:
    """It is not asked either; what can be no trim about 100 was read on another instrument."""
    understood = read(line, structs.replace(FOUR, neutral_trim=neutral))
    assert [body.value.number for body in understood.bodies if isinstance(body, Reading)] == [percent]
    assert "Trims of this car: is 0 or 100 neutral?" not in understood.asks


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("100 is neutral", ["100.0"]),
        ("trims neutral 100", ["100.0"]),
        ("trims: 0 is neutral", ["0.0"]),
        ("lt 125 (100 is neutral on this one)", ["100.0"]),
        ("oil level 0 is normal", []),
    ],
)
def test_neutral_trim_is_a_fact_of_the_car(line: str, told: list[str]) -> None:
    """By itself or beside a trim, and of nothing else."""
    bodies = read(line, FOUR).bodies
    assert [body.value for body in bodies if isinstance(body, CarFact) and body.field == "neutral_trim"] == told


def test_no_temperature_is_no_reading_of_it() -> None:
    """Zero of a temperature is a reading like any other: "none" is asked about."""
    assert read("coolant temp none", FOUR).asks == (
        "'none' is no coolant temperature: zero of it is a reading like any other. "
        "Type the number; leave out what was not read.",
    )


def test_told_words_name_parts_and_areas() -> None:
    """ "Done last" and "new parts" can be looked up."""
    assert parts_named("plugs all", FOUR, LIBRARY) == ("plug",)
    assert areas_named("rocker cover gasket by a neighbour", LIBRARY) == ("rocker_cover",)


def test_coil_is_the_coil_this_car_has() -> None:
    """The same word names another part on a car with one coil for two cylinders."""
    assert said("replaced coil 2", Car(cylinders=4, ignition="pair coil")) == ["replaced pair_coil 2"]
