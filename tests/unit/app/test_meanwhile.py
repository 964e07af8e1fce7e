"""A part that was ordered and is not here: what can be done now leads, and the waiting is said."""

from __future__ import annotations

from knowngood.app.next_steps import next_steps
from tests.told import advised_after

TOLD = ("petrol, 4 cylinders inline, coil on plug, port injection, flow meter, 187000 km", "shakes at cold idle")
HOSE = (*TOLD, "P0303 stored", "vacuum hose chewed")


def names(*lines: str) -> list[str]:
    """The steps after these lines."""
    state, told = advised_after(*lines)
    return [step.name for step in next_steps(state, told)]


def test_repair_whose_part_is_on_its_way_gives_way_to_what_can_be_done_now() -> None:
    """The hose is needed in any case; until it comes something else is looked at, and the wait stands beside that."""
    state, told = advised_after(*HOSE, "vacuum hose ordered, 3 days")
    first, second = next_steps(state, told)[:2]
    assert first.reads and not first.wait
    assert first.against_replace == "Replace vacuum hose waits: the part comes in about 3 days. Meanwhile this."
    assert not first.toss_up and first.flips == []
    assert (second.name, second.wait) == ("replace vacuum hose", "the part comes in about 3 days")


def test_repair_leads_once_its_part_is_here_or_while_it_is_not_ordered() -> None:
    """It was ordered, and came; or nobody ordered it yet: ordering is what comes next."""
    assert names(*HOSE)[0] == "replace vacuum hose"
    assert names(*HOSE, "vacuum hose ordered, 3 days", "vacuum hose arrived")[0] == "replace vacuum hose"
