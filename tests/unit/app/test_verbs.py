"""Work as a mechanic says it: a battery is charged, a gap is set, nobody takes the engine bay out."""

from __future__ import annotations

import pytest

from knowngood.app.verbs import imperative, work_asked
from knowngood.evidence.bodies import WORKS
from knowngood.library.find import work_done
from knowngood.library.load import load

LIBRARY = load()
LEFT = "what was left in the engine bay"


@pytest.mark.parametrize(
    ("work", "part", "asked", "done"),
    [
        ("replaced", "vacuum_hose", "replace vacuum hose", "replaced vacuum hose"),
        ("refilled", "battery", "charge battery", "charged battery"),
        ("adjusted", "plug", "set the gap of the spark plug", "set the gap of the spark plug"),
        (
            "removed",
            "engine_bay",
            "take out what was left in the engine bay",
            "took out what was left in the engine bay",
        ),
        ("cleaned", "battery", "clean battery", "cleaned battery"),
        ("cleared", "", "clear ", "cleared"),
        ("replaced", "horn_bracket", "replace horn bracket", "replaced horn bracket"),
    ],
)
def test_work_is_said_as_it_is_said_of_that_part(work: str, part: str, asked: str, done: str) -> None:
    """Where the kind of work and the part's name do not say it, the part's own words do."""
    assert (work_asked(LIBRARY, work, part), work_done(LIBRARY, work, part)) == (asked, done)


def test_every_work_the_library_asks_for_is_asked_for_as_a_thing_to_do() -> None:
    """No cure is asked for by what was done: each begins with a verb, not with its past."""
    past = {
        work_asked(LIBRARY, cure.do, cure.part or fault.part)
        for fault in LIBRARY.faults.values()
        for cure in fault.cures
        if work_asked(LIBRARY, cure.do, cure.part or fault.part).split()[0] in WORKS
    }
    assert past == set()
    assert imperative("tried") == "try"
