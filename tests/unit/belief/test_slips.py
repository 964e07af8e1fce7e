"""Numbers that fit the rest only in another unit, and lines that the others deny."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

import pytest

from knowngood.app.weigh import weigh_notes
from knowngood.belief.assemble import believe
from knowngood.belief.exact import ExactBelief
from knowngood.belief.slips import Slip, in_unit, unit_slips
from knowngood.car import ENGINE, Car, Place, layout_of
from knowngood.evidence import Entry, Reading, Value
from knowngood.library.load import load
from knowngood.library.records import Act, Healthy, Ladder, Library, ReadingKind, Spread
from tests.in_turn import in_turn
from tests.unit.belief.tiny import fault, library, word

CAR = Car(cylinders=4, form="inline")
PSI, BAR = 6.894757293168361, 100.0


def small() -> Library:
    """A fuel pump that gives nothing, and cylinders that leak."""
    fuel = Ladder(id="fuel", name="fuel", place="engine", levels=("enough", "none"))
    seal = Ladder(id="seal", name="seal", place="cylinder", levels=("tight", "leaking"))
    common = {"source": "memory", "words": (), "gross": 0.02}
    return library(
        [fuel, seal],
        [
            fault("pump_dead", 20.0, part="pump", acts=[Act(on="fuel", level="none")]),
            fault("valve_burnt", 20.0, part="valve", place="cylinder", acts=[Act(on="seal", level="leaking")]),
        ],
        [
            ReadingKind(
                id="fuel",
                name="fuel",
                place="engine",
                on="fuel",
                quantity="fuel_pressure",
                spread={"enough": Spread(at=320.0, spread=40.0), "none": Spread(low=1.0, high=200.0, zero=0.2)},
                **common,  # type: ignore[arg-type]
            ),
            ReadingKind(
                id="compression",
                name="compression",
                place="cylinder",
                on="seal",
                quantity="compression",
                relative=True,
                healthy=Healthy(low=800.0, high=1600.0, source="memory"),
                spread={"tight": Spread(at=1.0, spread=0.06), "leaking": Spread(low=0.05, high=0.8, zero=0.1)},
                **common,  # type: ignore[arg-type]
            ),
            word("runs", "fuel", {"enough": 0.97, "none": 0.01}),
        ],
    )


def entries(*bodies: Reading, line: str = "") -> list[Entry]:
    """One entry each; of one line where ``line`` names it."""
    return in_turn(bodies, line=line)


def number(kind: str, typed: float, unit: str, factor: float, place: Place = ENGINE) -> Reading:
    """A number as it was typed."""
    return Reading(kind=kind, place=place, value=Value(typed * factor, unit=unit, step=factor))


def slips(said: Sequence[Entry]) -> tuple[ExactBelief, list[Slip]]:
    """The belief, and what may have been meant."""

    def anew(changed: Sequence[Entry]) -> ExactBelief:
        return believe(small(), CAR, layout_of(CAR), changed)

    belief = anew(said)
    return belief, unit_slips(belief, said, anew)


RUNS = Reading(kind="runs", word="yes")


def test_three_psi_on_a_car_that_runs_is_three_bar() -> None:
    """How many times better: the chance of all that was said with bar over that with psi."""
    said = entries(RUNS, number("fuel", 3, "psi", PSI))
    belief, found = slips(said)
    meant = believe(small(), CAR, layout_of(CAR), entries(RUNS, number("fuel", 3, "bar", BAR)))
    assert [(slip.entries, slip.typed, slip.meant) for slip in found] == [((1,), "psi", "bar")]
    assert found[0].times == pytest.approx(math.exp(meant.log_chance - belief.log_chance))


@pytest.mark.parametrize("body", [number("fuel", 45, "psi", PSI), number("fuel", 3, "bar", BAR), RUNS])
def test_what_fits_is_left_alone(body: Reading) -> None:
    """A healthy number in its unit, and a word."""
    assert not slips(entries(RUNS, body))[1]


def test_a_dead_pump_is_no_slip() -> None:
    """Three psi where it does not run: the pump explains it, and the unit explains it only a little better."""
    denied = Reading(kind="runs", word="no")
    with_run, without = (
        slips(entries(RUNS, number("fuel", 3, "psi", PSI)))[1],
        slips(entries(denied, number("fuel", 3, "psi", PSI)))[1],
    )
    assert not without or without[0].times < with_run[0].times / 30.0


def test_a_row_is_turned_together() -> None:
    """Twelve psi in all four is twelve bar; 175 175 40 175 psi is one leaking cylinder."""
    places = [Place("cylinder", str(n)) for n in (1, 2, 3, 4)]
    row = entries(*(number("compression", 12, "psi", PSI, place) for place in places), line="comp 12 12 12 12 psi")
    found = slips(row)[1]
    assert [(slip.entries, slip.meant) for slip in found] == [((0, 1, 2, 3), "bar")]
    low = [175.0, 175.0, 40.0, 175.0]
    leak = [number("compression", psi, "psi", PSI, place) for psi, place in zip(low, places, strict=True)]
    assert not slips(entries(*leak, line="comp 175 175 40 175 psi"))[1]


def test_ends_of_a_range_are_turned_too() -> None:
    """Two to four psi taken as bar."""
    value = in_unit(Value(3 * PSI, sense="range", low=2 * PSI, high=4 * PSI, unit="psi"), "fuel_pressure", "bar")
    assert (value.number, value.low, value.high) == pytest.approx((300.0, 200.0, 400.0))


def test_the_answer_says_it_word_for_word() -> None:
    """Among the surprises of a notes file, with the size of it, which hangs on the library's chances."""
    notes = "4 cylinders inline, coil on plug, port injection\nruns well\nfuel 3 psi\n"
    said = r'"fuel 3 psi" fits (\d{2,3}|over 1000) times better in bar than in psi\. '
    said += r"Look at the gauge; if so, type it again with that unit\."
    assert [one for one in weigh_notes(notes, load()).surprises if re.fullmatch(said, one)]


def test_surprise_is_a_ratio_of_chances() -> None:
    """Runs, and no fuel: by hand, the chance of "runs" after the number over its chance before anything."""
    belief = slips(entries(number("fuel", 0, "psi", PSI), RUNS))[0]
    dead = 0.02
    before = 0.97 * (1.0 - dead) + 0.01 * dead
    alone = believe(small(), CAR, layout_of(CAR), entries(number("fuel", 0, "psi", PSI)))
    p = float(alone.chances()[0])
    assert belief.surprise(1) == pytest.approx((0.97 * (1.0 - p) + 0.01 * p) / before, rel=1e-9)
    assert belief.surprise(1) < 0.6
