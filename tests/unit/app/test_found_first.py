"""What is as good as certain is put right before more is looked for, where it bears on a complaint."""

from __future__ import annotations

import pytest

from knowngood.app.answer import NextStep
from knowngood.app.telling import SETTLED, which_is_behind
from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load
from tests.told import state_after

CAR = "4 cylinders inline, coil on plug, port injection, flow meter\nstood 3 years, mice\n"
CHEWED = "chewed insulation on the loom at the valve cover\n"
RUNS_BADLY = "shakes at hot idle\ncodes p0300 p0302 p0171\n"


def first(notes: str) -> NextStep:
    """The first step of a notes file."""
    return weigh_notes(notes, load()).next[0]


def test_a_chewed_loom_is_mended_before_more_is_measured() -> None:
    """Seen, so needed in any case, and it can make the engine shake."""
    step = first(CAR + RUNS_BADLY + CHEWED)
    assert (step.do, step.what) == ("repair", "loom")
    assert step.why == "It was found not as it should be; until it is put right do not connect the battery."
    assert not step.toss_up


def test_without_a_finding_nothing_is_certain() -> None:
    """The same car, the loom not looked at: a check comes first."""
    assert first(CAR + RUNS_BADLY).do in ("look", "measure")


@pytest.mark.parametrize(("found", "part"), [("brake pipes rusted", "brake_pipes"), ("radiator cap leaks", "cap")])
def test_what_bears_on_no_complaint_waits(found: str, part: str) -> None:
    """A rusted brake pipe that was found is no help in finding a misfire."""
    steps = weigh_notes(CAR + RUNS_BADLY + found, load()).next
    assert steps[0].what != part
    assert part in load().parts


def test_what_is_certain_hides_no_suspect() -> None:
    """The finding is behind in every draw; the others are still told apart."""
    state = state_after(CAR + RUNS_BADLY + CHEWED)
    kinds = which_is_behind(state)
    shares = [float((kinds == kind).mean()) for kind in set(kinds.tolist())]
    assert len(shares) > 3
    assert max(shares) <= SETTLED
