"""Plugs of coils, injectors and sensors, where something was smelt or seen, sizes of engines, "runs now"."""

from __future__ import annotations

import pytest

from knowngood.evidence import Finding, Work
from knowngood.library import load
from knowngood.lines import read_line
from tests.unit.lines.said import FOUR, said


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
