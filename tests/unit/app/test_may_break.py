"""What may break while something comes off is in its price, and said."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from knowngood.app.may_break import risk_of, step_words
from knowngood.app.tasks import access_graph
from knowngood.library.job_records import Breaks
from knowngood.library.load import load
from tests.told import state_after

STUD = Breaks(what="a stud", per_1000=100, minutes=60, money=10.0, source="memory")


def test_one_in_ten_times_an_hour_and_ten() -> None:
    """0.1 x (60 min at 40 an hour + 10) = 5, for each thing that may break."""
    step = replace(load().access["exhaust_manifold_off"], breaks=(STUD,))
    assert risk_of(step, 40.0) == pytest.approx(5.0)
    assert risk_of(replace(step, breaks=(STUD, STUD)), 40.0) == pytest.approx(10.0)
    assert risk_of(replace(step, breaks=()), 40.0) == 0.0


def test_it_is_said_beside_what_comes_off() -> None:
    """With how often; a step at which nothing breaks is only named."""
    step = replace(load().access["exhaust_manifold_off"], breaks=(STUD,))
    assert step_words(step) == "exhaust manifold (a stud may break: about 1 in 10)"
    assert step_words(replace(step, breaks=())) == "exhaust manifold"


def test_it_is_in_the_price_of_what_lies_behind_until_it_is_off() -> None:
    """The graph of the car adds it up over what still has to come off."""
    notes = "4 cylinders inline, coil on plug, port injection\nP0420\n"
    state = state_after(notes)
    graph = access_graph(state)
    steps = graph.needed(("exhaust_manifold_off",))
    assert {"front_pipe_off", "exhaust_manifold_off"} <= steps
    both = [risk_of(state.library.access[step], state.settings.rate_per_hour) for step in steps]
    assert graph.risk(("exhaust_manifold_off",)) == pytest.approx(sum(both))
    assert graph.risk(("exhaust_manifold_off",)) > 0.0
    assert type(graph)(graph.steps, steps).risk(("exhaust_manifold_off",)) == 0.0
