"""A line that decides much is named for what it bears on, also where the draws do not tell how far."""

from __future__ import annotations

import pytest

from knowngood.app.ledger import log_odds, moved_by_line
from knowngood.app.not_weighed import not_weighed
from knowngood.app.state import State
from tests.told import state_after

NOTES = """flat four, port injection, pair coil, 168000 km
stood 4 years
mice in the loom
last done: new plugs and leads, exhaust manifold gasket
fires and dies
P0335 P0201
injector 2 no pulse, 1 3 4 pulse
fuel smells of varnish
fuel pressure 2.2 bar
spark good 1
wires in sight: good
miss on 4
plug 4 wet
compression 145 150 142 60 psi
leak down 4 45 %
P0171
trims b1 +12 b2 +2
vacuum 17 inhg
"""


def _told(notes: str) -> State:
    return state_after(notes)


@pytest.fixture(scope="module")
def drawn() -> State:
    """A car whose evidence is worked out by draws, one code of which leaves few cars standing."""
    state = _told(NOTES)
    assert not state.belief.exact
    return state


def test_line_that_the_draws_cannot_do_without_is_named_for_what_it_sees(drawn: State) -> None:
    """The code of the crank sensor bears on its wire, and nothing of how far is made up; without it that wire is far
    less likely (the car never told it, drawn by itself)."""
    texts = list(dict.fromkeys(entry.line for entry in drawn.entries))
    lines = {index: texts.index(entry.line) for index, entry in enumerate(drawn.entries)}
    number = texts.index("P0335 P0201")
    untold = not_weighed(drawn, lines)
    assert {"crank_wire_loose", "injector_open"} <= untold[number]
    assert "battery_dead" not in untold[number]
    column = next(at for at, one in enumerate(drawn.belief.faults) if one.fault == "crank_wire_loose")
    assert number not in moved_by_line(drawn, [column], lines)[0]
    never = _told(NOTES.replace("P0335 P0201\n", ""))
    other = next(at for at, one in enumerate(never.belief.faults) if one.fault == "crank_wire_loose")
    moved = log_odds(drawn.belief.chances())[column] - log_odds(never.belief.chances())[other]
    assert moved > 3.0


def test_exact_belief_leaves_nothing_unweighed() -> None:
    """There every line has its weight."""
    state = _told("4 cylinders inline, coil on plug, port injection\nP0302\n")
    assert state.belief.exact
    assert not_weighed(state, {index: index for index in range(len(state.entries))}) == {}
