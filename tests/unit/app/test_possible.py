"""No check is offered that needs an engine to run which does not start."""

from __future__ import annotations

from functools import cache

import pytest

from knowngood.app.possible import CRANKED, RUNNING, impossible_now
from knowngood.app.state import State, state_of
from knowngood.app.tasks import checks_of
from knowngood.app.weigh import entries_of
from knowngood.library.load import load
from knowngood.library.records import Library
from knowngood.lines import read_notes

CAR = "4 cylinders inline, coil on plug, port injection"


@cache
def library() -> Library:
    """Ours."""
    return load()


def state(*lines: str) -> State:
    """After these lines."""
    return state_of(library(), entries_of(read_notes("\n".join((CAR, *lines)), library()).lines))


@pytest.mark.parametrize(
    ("lines", "out"),
    [
        (("shakes",), ()),
        (("cranks, will not start",), RUNNING),
        (("no crank",), (*RUNNING, *CRANKED)),
        (("cranks, will not start", "new fuel pump, no change"), RUNNING),
        (("cranks, will not start", "new fuel pump"), ()),
        (("cranks, will not start", "lt b1 +12 hot idle"), ()),
        (("shakes", "cranks, will not start"), RUNNING),
        (("cranks, will not start", "new fuel pump", "no spark on any cylinder", "crank rpm 0"), RUNNING),
    ],
)
def test_what_the_engine_does_follows_what_was_said_last(lines: tuple[str, ...], out: tuple[str, ...]) -> None:
    """A start that failed shuts running checks until something was done about it, or was read on the running engine."""
    assert impossible_now(state(*lines)) == frozenset(out)


def test_no_running_check_is_offered_for_a_car_that_does_not_start() -> None:
    """Neither an idle nor a drive nor a swap that is judged by a miss."""
    checks = library().checks
    offered = checks_of(state("cranks, will not start"))
    assert offered
    assert not [one.id for one in offered if one.id in checks and checks[one.id].engine in RUNNING]
    assert not [one.id for one in offered if one.kind == "swap"]
