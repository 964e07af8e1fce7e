"""Which checks are offered at all."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from knowngood.app.answered import answered
from knowngood.app.possible import RUNNING, only_after_a_drive
from knowngood.app.tasks import check_places, checks_of, read_last
from knowngood.car import Place
from knowngood.evidence import Reading, Work
from knowngood.planner.problem import CheckAt
from tests.told import state_with


@pytest.mark.parametrize(("complaint", "runs"), [("does_not_crank", False), ("shakes", True)])
def test_checks_of_a_running_engine_are_offered_where_it_may_run(complaint: str, runs: bool) -> None:
    """No vacuum at idle is asked for on a car that does not crank; on one that shakes it is."""
    state = state_with(Reading(kind=complaint, word="yes"))
    offered = [state.library.checks[check.id] for check in checks_of(state) if check.id in state.library.checks]
    assert any(check.engine in RUNNING for check in offered) is runs
    assert offered


@pytest.mark.parametrize("complaint", ["coolant_loss", "needle_red"])
def test_looks_after_50_km_are_no_way_to_find_out_what_is_wrong(complaint: str) -> None:
    """Levels against where they were before the drive: two minutes, after a drive that nobody has made."""
    state = state_with(Reading(kind=complaint, word="yes"))
    after = only_after_a_drive(state.library)
    assert "levels_again_look" in after
    read = {ask.reading for check in checks_of(state) for ask in check.asks}
    assert read
    assert not read & after


def plug_wells(*bodies: Reading | Work) -> list[CheckAt]:
    """The looks into plug wells that are offered on a misfiring four after these entries."""
    state = state_with(Reading(kind="misfires", word="now and then"), *bodies)
    return list(
        check_places(
            state,
            state.library.checks["plug_wells_looked"],
            answered(state),
            at_it=read_last(state) in state.library.checks["plug_wells_looked"].reads,
        )
    )


def test_a_row_reads_all_that_its_check_reads() -> None:
    """Boot and well are looked at in one go, at every cylinder; the boots are not left for four looks more."""
    *each, row = plug_wells()
    assert [len(one.asks) for one in each] == [2, 2, 2, 2]
    assert len(row.asks) == 8
    assert row.minutes == pytest.approx(2.0 + 3 * 1.5)


def test_who_is_at_it_goes_on_for_the_minutes_of_a_further_place() -> None:
    """With one well looked into the next takes 1.5 minutes, not 2 from the start; all four take the same as the row."""
    first = Place("cylinder", "1")
    words = {"plug_well_look": "dry", "boot_look": "good"}
    seen = [Reading(kind=kind, place=first, word=word) for kind, word in words.items()]
    *each, row = plug_wells(*seen)
    assert [(str(one.place), one.minutes) for one in each] == [(f"cylinder {at}", 1.5) for at in (2, 3, 4)]
    assert row.minutes == pytest.approx(3 * 1.5)
    assert len(row.asks) == 6


def test_who_has_done_something_else_begins_anew() -> None:
    """After work in between the lamp has to be fetched again."""
    seen = Reading(kind="plug_well_look", place=Place("cylinder", "1"), word="dry")
    assert {one.minutes for one in plug_wells(seen)[:-1]} == {1.5}
    assert {one.minutes for one in plug_wells(seen, Work(do="cleaned", part="air_meter"))[:-1]} == {2.0}
    assert {one.minutes for one in plug_wells(replace(seen, who="owner"))[:-1]} == {2.0}
