"""What is behind what was found: chances that hardly hang on the draws, and draws that hang on what was said alone."""

from __future__ import annotations

from dataclasses import replace

import msgspec
import numpy as np
import pytest

from knowngood.app.state import State, behind_each, state_of
from knowngood.app.suspects import suspected
from knowngood.belief.blame import behind_findings
from tests.told import state_after

NOTES = "V6, coil on plug, port injection, flow meter\nP0171 stored\nP0174 stored\nlt b1 +14 idle\n"
SEEDS = 8


@pytest.fixture(scope="module")
def state() -> State:
    """Two banks that run lean: several causes, near to each other."""
    return state_after(NOTES)


def again(state: State, seed: int) -> State:
    """The same with other draws."""
    scenarios = behind_findings(state.belief, np.random.default_rng(seed))
    return replace(state, scenarios=scenarios, behind=behind_each(state.belief, scenarios))


def test_nothing_is_oftener_behind_than_there(state: State) -> None:
    """A fault is behind something only where it is there."""
    assert (state.behind <= state.belief.chances() + 1e-12).all()
    assert all(one.behind <= 1.0 for one in suspected(state))


def test_other_draws_hardly_move_a_suspect(state: State) -> None:
    """Of eight sets of draws, the spread of each leading suspect is under half of that of its count in them."""
    columns = [[state.belief.model.column[at] for at in one.every] for one in suspected(state)[:5]]
    sets = [again(state, seed) for seed in range(SEEDS)]
    for some in columns:
        said = [one.behind_any(some) for one in sets]
        counted = [float(one.scenarios.matters[:, some].any(axis=1).mean()) for one in sets]  # type: ignore[index]
        assert np.std(said) < 0.5 * np.std(counted)
        assert np.mean(said) == pytest.approx(np.mean(counted), rel=0.1)


def test_draws_hang_on_what_was_said_alone(state: State) -> None:
    """Another word in the library, or a line in other words, changes no draw."""
    library = msgspec.structs.replace(state.library, hash="another")
    entries = [msgspec.structs.replace(entry, line=f"{entry.line}.") for entry in state.entries]
    same = state_of(library, entries)
    assert np.array_equal(same.scenarios.present, state.scenarios.present)
    assert np.array_equal(same.behind, state.behind)
