"""How far a line moved a chance: additive where exact, clear of the draws' error where not."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.app.example import example_lines
from knowngood.app.ledger import LEAST_WEIGHT, log_odds, moved_by_line
from knowngood.app.state import State, state_of
from tests.told import state_after

BATTERY = "battery 12.5 rested, 10.9 cranking"
DROP = "drop engine to body while cranking 0.9 V"


def _told(notes: str) -> State:
    return state_after(notes)


def _column(state: State, fault: str, place: str = "engine") -> int:
    return next(number for number, at in enumerate(state.belief.faults) if at.fault == fault and str(at.place) == place)


@pytest.fixture(scope="module")
def example() -> State:
    """The example car before any work, whose evidence is worked out by draws."""
    return _told("\n".join(example_lines("work")))


def test_weights_of_an_exact_belief_add_up() -> None:
    """From the chance before any line to the chance now; a car of four cylinders with two lines."""
    state = _told("4 cylinders inline, coil on plug, port injection\nP0302\ncoil 2>3, now P0303\n")
    assert state.belief.exact
    column = _column(state, "coil_dead", "cylinder 3")
    bearing = sorted(entry for entry in state.belief.entries_in() if entry >= 0)
    (moved,) = moved_by_line(state, [column], {entry: entry for entry in bearing})
    before = float(log_odds(state.belief.chances_by_entry(bearing))[0, column])
    now = float(log_odds(state.belief.chances())[column])
    assert len(moved) >= 2
    assert before + sum(moved.values()) == pytest.approx(now, abs=LEAST_WEIGHT * len(bearing))
    sizes = [abs(weight) for weight in moved.values()]
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[-1] >= LEAST_WEIGHT


def test_a_line_that_tells_nothing_of_a_fault_is_not_named_for_it(example: State) -> None:
    """A weak battery says nothing of a chewed hose or a worn plug; the drop over the ground says much of the strap."""
    assert not example.belief.exact
    line_of = {entry: example.entries[entry].line for entry in example.belief.entries_in() if entry >= 0}
    numbers = {text: number for number, text in enumerate(dict.fromkeys(line_of.values()), 1)}
    lines = {entry: numbers[text] for entry, text in line_of.items()}
    hose, strap = _column(example, "vacuum_hose_split"), _column(example, "engine_ground_poor")
    of_hose, of_strap = moved_by_line(example, [hose, strap], lines)
    assert numbers[BATTERY] not in of_hose
    assert of_strap[numbers[DROP]] > 10.0
    assert next(iter(of_strap)) == numbers[DROP]


def test_other_draws_bear_the_moves_out(example: State) -> None:
    """Every move of the first suspects is that to the car never told the line, which is drawn by itself: within 2 of
    10 log10, where each has its own error, and what is said of one cylinder shares it."""
    line_of = {number: example.entries[number].line for number in example.belief.entries_in() if number >= 0}
    texts = list(dict.fromkeys(line_of.values()))
    columns = list(np.argsort(-example.behind)[:12])
    moves = moved_by_line(example, columns, {number: texts.index(text) for number, text in line_of.items()})
    now = log_odds(example.belief.chances())
    told = 0
    for row, text in enumerate(texts):
        if not any(row in moved for moved in moves):
            continue
        never = state_of(example.library, [one for one in example.entries if one.line != text])
        place = {at: number for number, at in enumerate(never.belief.faults)}
        other = log_odds(never.belief.chances())
        for column, moved in zip(columns, moves, strict=True):
            if row in moved:
                assert now[column] - other[place[example.belief.faults[column]]] == pytest.approx(moved[row], abs=2.0)
                told += 1
    assert told >= 6


def test_what_was_asked_without_a_line_is_not_worked_out_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """The page of a suspect asks what the list of suspects has asked; a belief summed anew asks again."""
    state = _told("4 cylinders inline, coil on plug, port injection\nP0302\ncoil 2>3, now P0303\n")
    belief, runs = state.belief, 0
    run = type(belief.network).run

    def counted(*given: object) -> object:
        nonlocal runs
        runs += 1
        return run(*given)

    monkeypatch.setattr(type(belief.network), "run", counted)
    bearing = sorted(entry for entry in belief.entries_in() if entry >= 0)
    first = belief.chances_by_entry(bearing)
    asked = runs
    assert asked == 1 + len(bearing)
    np.testing.assert_array_equal(belief.chances_by_entry(bearing), first)
    assert runs == asked
    again = belief.anew()
    np.testing.assert_array_equal(again.chances_by_entry(bearing), first)
    assert runs == 2 * asked + 1
