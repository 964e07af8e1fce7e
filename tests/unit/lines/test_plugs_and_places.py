"""Plugs of coils, injectors and sensors, where something was smelt or seen, sizes of engines, "runs now"."""

from __future__ import annotations

import pytest

from knowngood.evidence import Finding, Work
from knowngood.library import load
from knowngood.lines import read_line
from tests.unit.lines.said import FOUR, said, text_of


@pytest.mark.parametrize(
    ("line", "found", "reseated"),
    [
        ("crank sensor plug was off, pushed on", ("crank_wire_damaged", ""), "crank_wire"),
        ("crank sensor plug off", ("crank_wire_damaged", ""), ""),
        ("found plug off crank sensor", ("crank_wire_damaged", ""), ""),
        ("maf plug loose", ("air_meter_wire_broken", ""), ""),
        ("injector 3 plug off", ("injector_connector_off", "3"), ""),
        ("inj 3 plug was off, pushed on", ("injector_connector_off", "3"), "injector_connector"),
        ("coil 2 plug off", ("coil_plug_not_on", "2"), ""),
        ("plug off at cyl 3 coil", ("coil_plug_not_on", "3"), ""),
    ],
)
def test_plug_found_off_is_the_librarys_fault_of_that_plug(line: str, found: tuple[str, str], reseated: str) -> None:
    """No spark plug: a plug belongs to the part it is on."""
    bodies = read_line(line, FOUR, load()).bodies
    findings = [(body.fault, body.place.name) for body in bodies if isinstance(body, Finding)]
    assert findings == [found]
    assert [body.part for body in bodies if isinstance(body, Work)] == ([reseated] if reseated else [])
    assert len(bodies) == 1 + bool(reseated)


@pytest.mark.parametrize(
    ("line", "parts"),
    [
        ("coils and plugs new", ["coil", "plug"]),
        ("replaced injectors and plugs", ["injector", "plug"]),
        ("coil and plug of 3 replaced", ["coil", "plug"]),
        ("all coils and three plugs replaced since", ["coil"]),
    ],
)
def test_a_part_and_plugs_are_two_parts(line: str, parts: list[str]) -> None:
    """With "and" between them the plugs are spark plugs; how many without which is asked."""
    assert [body.part for body in read_line(line, FOUR, load()).bodies if isinstance(body, Work)] == parts


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("coil 2 plug black", ["plug_look c2 black"]),
        ("left crank sensor plug off", ["undone: left crank sensor plug off"]),
        ("pushed crank sensor plug on", ["reseated crank_sensor"]),
        ("clicked coil 3 plug home", ["reseated coil 3"]),
        (
            "pull inj plugs: 1 drops 2 drops 3 nothing 4 drops",
            [f"injector_cut c{n} {w}" for n, w in ((1, "drops"), (2, "drops"), (3, "no change"), (4, "drops"))],
        ),
        ("leak at injector 3", ["seen injector at cylinder 3"]),
        ("wet at injector 3", ["seen injector at cylinder 3"]),
        ("fuel smell near cyl 3 injector", ["raw_fuel_smell smells [near cyl 3 injector]"]),
        ("leak 12 - 9 14", [f"leakdown c{n} {v} percent" for n, v in ((1, 12), (3, 9), (4, 14))]),
        ("leak cyl 3 40%", ["leakdown c3 40 percent"]),
        ("2.4 petrol 4 cyl", ["displacement_l = 2.4", 'drive = "petrol"', "cylinders = 4"]),
        ("4 cyl, 1.6, dist", ["cylinders = 4", "displacement_l = 1.6", 'ignition = "distributor"']),
        ("16v 4 cyl", ['systems = ["16 valves"]', "cylinders = 4"]),
        ("2.4", ["note: 2.4"]),
        ("12v", ["note: 12v"]),
        ("runs now", ["starting starts"]),
        ("runs fine now", ["shakes smooth"]),
        ("runs fine cold, rough hot", ["shakes smooth [cold idle]", "shakes shakes [hot idle]"]),
        ("was running fine", ["note: was running fine"]),
        ("replaced coil 2, runs now", ["replaced coil 2: cured"]),
        ("new crank sensor, runs fine now", ["replaced crank_sensor (other new): cured"]),
    ],
)
def test_short_lines_say_what_they_say(line: str, bodies: list[str]) -> None:
    """A bare number is no size of an engine; a leak at a part is seen there, not the part's own fault."""
    assert said(line, FOUR) == bodies


@pytest.mark.parametrize(
    ("line", "bodies"),
    [
        ("soldered inj 4 wire, c4 miss gone", ["repaired injector_wire 4: cured"]),
        (
            "misfire count c3 112 c4 40 others 0",
            ["miss c3 yes [112 counts]", "miss c4 yes [40 counts]", "miss c1 no [0 counts]", "miss c2 no [0 counts]"],
        ),
        ("idle 650-900 hunting", ["idle_speed 775 range rpm [hot idle]", "hunts yes"]),
        ("P0204 ff 820 rpm ect 24", ["code c4 P0204 [stored with it: 820 rpm ect 24]"]),
        ("P0204, ff 820 rpm ect 24", ["code c4 P0204 [stored with it: 820 rpm ect 24]"]),
        ("0303 back in 2 min", ["code c3 P0303 [after 2 min]"]),
        ("no codes after 10 min idle", ["code none [after 10 min, hot idle]"]),
        ("shakes idle, smooth above 2000", ["shakes yes [hot idle]", "shakes no [cruise, over 2000 rpm]"]),
        ("odo now 142 310, drove 30 km no light", ["mileage_km = 142310.0", "engine_lamp off [30 km]"]),
        (
            "2 coil packs, man. box, no ac",
            ['systems = ["2 coil packs"]', 'systems = ["manual"]', 'systems = ["no air conditioning"]'],
        ),
        ("oil ok no mayo", ["milky_oil no", "note: oil"]),
        ("tick from top c3 cold + hot", ["ticks yes [cold and hot, from top c3]"]),
        ("cold start 4-5 tries, hot ok", ["starting hard [cold start, 4-5 tries]", "starting starts [hot restart]"]),
        ("ground strap hanging on 3 strands", ["seen engine_ground", "note: 3"]),
        ("no oil on belt", ["note: no oil on belt"]),
    ],
)
def test_short_lines_with_the_whole_library(line: str, bodies: list[str]) -> None:
    """Amounts, moments and places stay with what they are of; what is denied behind a judgement is a statement."""
    assert [text_of(body) for body in read_line(line, FOUR, load()).bodies] == bodies
