"""Which faults are behind what was found, not only there."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.blame import behind_findings, is_abnormal
from knowngood.belief.exact import ExactBelief
from knowngood.car import ENGINE
from knowngood.evidence import Finding, Reading, Value, Work
from knowngood.library.records import Act, Cure, Ladder, ReadingKind
from tests.unit.belief.tiny import after, chance, fault, library, word

LADDER = Ladder(id="burn", name="burn", place="engine", levels=("steady", "poor", "dead"))
SUM = Ladder(id="mix", name="mix", place="engine", combine="sum", low=-2, high=2)
WORN = fault("worn", 500, acts=[Act(on="burn", level="poor")])
BROKEN = fault("broken", 200, acts=[Act(on="burn", level="dead")])
LEAN = fault("lean", 300, acts=[Act(on="mix", shift=-2)])
RICH = fault("rich", 300, acts=[Act(on="mix", shift=2)])
SILENT = fault("silent", 400)
RECORDS = library(
    [LADDER, SUM],
    [WORN, BROKEN, LEAN, RICH, SILENT],
    [
        word("stops", "burn", {"steady": 0.0001, "poor": 0.0001, "dead": 0.9999}),
        word("runs", "burn", {"steady": 0.9999, "poor": 0.0001, "dead": 0.0001}),
        ReadingKind(id="trim", name="trim", place="engine", source="memory", on="mix", per_step=-5.0, noise=2.0),
    ],
)


def behind(belief: ExactBelief) -> dict[str, float]:
    """Chance of each fault to be behind something that was found."""
    seen = behind_findings(belief, np.random.default_rng(2))
    assert seen.matters is not None
    assert not np.any(seen.matters & ~seen.present)
    return {at.fault: float(share) for at, share in zip(belief.faults, seen.weight @ seen.matters, strict=True)}


@pytest.mark.parametrize(
    ("table", "abnormal"),
    [([0.9, 0.1], False), ([0.79, 1.0], True), ([0.81, 1.0], False), ([[0.1, 0.9], [0.9, 0.2]], False)],
)
def test_what_speaks_for_another_level(table: list, abnormal: bool) -> None:
    """Less than four fifths of the best level's chance at the healthy one; of unknown levels the kindest."""
    assert is_abnormal(np.array(table)) is abnormal


def test_worn_is_there_but_the_broken_one_is_behind_it() -> None:
    """A dead engine: the worn part, there in half of all, reaches poor only; the broken one is behind it."""
    belief = after(RECORDS, Reading(kind="stops", word="yes"))
    share = behind(belief)
    assert chance(belief, "worn") == pytest.approx(0.5, abs=0.01)
    assert share["worn"] == pytest.approx(0.0, abs=0.01)
    assert share["broken"] == pytest.approx(1.0, abs=0.01)
    assert share["silent"] == share["lean"] == 0.0


def test_nothing_is_behind_what_is_as_it_should_be() -> None:
    """An engine that runs blames no one."""
    assert set(behind(after(RECORDS, Reading(kind="runs", word="yes"))).values()) == {0.0}


def test_a_finding_blames_its_fault() -> None:
    """What was seen beyond doubt matters, whether or not anything shows it; what was not seen does not."""
    assert behind(after(RECORDS, Finding(fault="silent")))["silent"] == pytest.approx(1.0)
    assert behind(after(RECORDS, Finding(fault="silent", seen=False)))["silent"] == 0.0


def test_a_trim_blames_the_side_it_is_on() -> None:
    """Much fuel added: what leans is behind it, and hardly ever what enriches."""
    belief = after(RECORDS, Reading(kind="trim", value=Value(10.0, step=1.0)))
    share = behind(belief)
    assert share["lean"] == pytest.approx(chance(belief, "lean"), abs=0.03)
    assert share["lean"] > 0.8
    assert share["rich"] < 0.02  # the meter may have erred grossly


def test_what_work_left_is_still_behind_what_was_found_before_it() -> None:
    """Charged, and not told what came of it: three in four times the battery is as it was, and it is what was found."""
    cure = Cure(do="refilled", minutes=10, works=0.25, source="memory")
    tired = fault("tired", 300, part="battery", acts=[Act(on="burn", level="dead")], cures=[cure])
    stops = word("stops", "burn", {"steady": 0.0001, "poor": 0.0001, "dead": 0.9999})
    records = library([LADDER], [tired], [stops])
    found, charged = Reading(kind="stops", word="yes"), Work(do="refilled", part="battery", places=(ENGINE,))
    assert behind(after(records, found, charged))["tired"] == pytest.approx(0.75, abs=0.02)
    assert behind(after(records, charged))["tired"] == 0.0
