"""What must not wait and why: by what a fault does, not by its name."""

from __future__ import annotations

from collections import Counter

import pytest

from knowngood.app.urgency import urgency_of
from knowngood.library.load import load
from knowngood.planner.remains import COMFORT, COST, DANGER, HARM


# the order of the trade: danger, harm from driving, cost of waiting, comfort (common practice)
@pytest.mark.parametrize(
    ("fault", "urgency", "why"),
    [
        ("fuel_hose_leaks", DANGER, "a stop item"),
        ("coil_weak", HARM, "fuel that does not burn in the cylinder burns in the catalyst"),
        ("exhaust_valve_burnt", HARM, "fuel that does not burn in the cylinder burns in the catalyst"),
        ("water_pump_impeller", HARM, "heat takes the head gasket"),
        ("clutch_slips", HARM, "it wears on with every kilometre"),
        ("gauge_sensor_lies", HARM, "what would warn does not"),
        ("fuel_filter_blocked", COST, "in time fuel pump weak"),
        ("throttle_sticks", HARM, "throttle or brake may not do what the foot asks"),
        ("timing_belt_old", HARM, "in time valve timing far off, belt or chain broken or jumped"),
        ("papers_missing", COST, "it cannot be registered"),
        ("battery_weak", COST, "it may leave the car standing"),
        ("air_meter_reads_low", COST, "it costs fuel on every drive"),
        ("rear_oxygen_dead", COST, "an inspection asks for it"),
        ("heater_core_blocked", COMFORT, ""),
        ("idle_valve_open", COMFORT, ""),
    ],
)
def test_urgency_follows_from_what_a_fault_does(fault: str, urgency: str, why: str) -> None:
    """One of each class and reason."""
    library = load()
    assert urgency_of(library, library.faults[fault]) == (urgency, why)


def test_every_class_has_faults_and_comfort_is_the_least() -> None:
    """No class stands empty, and little of an engine is comfort alone."""
    library = load()
    counts = Counter(urgency_of(library, fault)[0] for fault in library.faults.values())
    assert set(counts) == {DANGER, HARM, COST, COMFORT}
    assert counts[COMFORT] == min(counts.values())
