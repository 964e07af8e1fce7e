"""Complaints seen a second time: no false alarm, whatever is done next.

Said once, a complaint may be nothing. Whoever sees it again knows that something is behind it. Work may have put that
right, but only where it was what the work puts right: a hose pushed on that was on already makes no road test pass.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from knowngood.app.possible import NO_START
from knowngood.app.state import State
from knowngood.belief.assemble import STILL_THERE
from knowngood.belief.protocol import Bools, Scenarios
from knowngood.evidence import Reading, Work
from knowngood.library.healthy import DENIED, UNTOLD
from knowngood.library.reach import reach_of


@dataclass(frozen=True)
class Again:
    """Kinds of complaint seen twice or more and not denied since.

    Parameters
    ----------
    now : frozenset of str
        Those seen since the last work: something behind them is there now.
    worked_on : frozenset of str
        Those on which work was done since: something was behind them, and may be put right.
    """

    now: frozenset[str] = frozenset()
    worked_on: frozenset[str] = frozenset()


def seen_again(state: State) -> Again:
    """The complaints that were seen again.

    That the engine does not run is none of these: it is found again by every check that needs it running, and may be
    another job (:func:`knowngood.app.possible.impossible_now`). Work of which it was said that it changed nothing
    leaves what was seen as it is.
    """
    times: dict[str, int] = {}
    since: set[str] = set()
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Work) and body.effect not in STILL_THERE:
            since.clear()
        elif isinstance(body, Reading) and _is_complaint(state, body) and (body.kind, body.word) not in NO_START:
            if body.word in DENIED:
                times.pop(body.kind, None)
                since.discard(body.kind)
            else:
                times[body.kind] = times.get(body.kind, 0) + 1
                since.add(body.kind)
    again = frozenset(kind for kind, count in times.items() if count > 1)
    return Again(again & since, again - since)


def without_false_alarms(state: State) -> Scenarios:
    """The state's draws without those in which nothing is behind a complaint that was seen again.

    Of one that was worked on since, those stay in which something was behind it: it may have been put right.
    """
    again, drawn = seen_again(state), state.scenarios
    if again.now and drawn.matters is not None:
        drawn = kept_where(drawn, _marked(drawn.matters, _can_be_behind(state, again.now)))
    if again.worked_on and drawn.mattered is not None:
        drawn = kept_where(drawn, _marked(drawn.mattered, _can_be_behind(state, again.worked_on)))
    return drawn


def something_matters(drawn: Scenarios) -> Bools:
    """The draws (draw,) in which something must be put right."""
    assert drawn.matters is not None
    return _marked(drawn.matters, np.ones(drawn.matters.shape[1], dtype=bool))


def kept_where(drawn: Scenarios, some: Bools) -> Scenarios:
    """The draws in ``some`` (draw,), weighted anew; all of them, where that is none."""
    if not some.any() or some.all():
        return drawn
    weight = drawn.weight[some]
    return Scenarios(
        weight / weight.sum(),
        drawn.present[some],
        exact=False,
        matters=None if drawn.matters is None else drawn.matters[some],
        mattered=None if drawn.mattered is None else drawn.mattered[some],
    )


def _can_be_behind(state: State, complaints: frozenset[str]) -> Bools:
    """The faults (fault,) that can be behind one of these complaints."""
    reach, readings = reach_of(state.library), state.library.readings
    kinds = frozenset[str]().union(*(reach.of_reading(readings[name]) for name in sorted(complaints)))
    return np.array([at.fault in kinds for at in state.belief.faults], dtype=bool)


def _marked(marks: Bools, some: Bools) -> Bools:
    """The draws (draw,) in which one of some faults (fault,) is marked (draw, fault)."""
    return np.asarray((marks & some).any(axis=1), dtype=bool)


def _is_complaint(state: State, reading: Reading) -> bool:
    kind = state.library.readings.get(reading.kind)
    return kind is not None and kind.complaint and not reading.doubt and reading.word not in UNTOLD
