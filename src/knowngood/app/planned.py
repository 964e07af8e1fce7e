"""The belief as the planner asks it: its fault sets are the state's own draws, with what matters marked."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from knowngood.app.possible import impossible_now, must_not_run
from knowngood.app.seen_again import kept_where, something_matters, without_false_alarms
from knowngood.app.state import State
from knowngood.belief.protocol import Array, Ask, Belief, Bools, Scenarios


class Planned:
    """The belief as the planner asks it: its fault sets are the state's own draws, with what matters marked.

    Where a complaint was seen again, sets with nothing behind it are left out: a road test that has just failed does
    not pass by being made again, nor after work that put nothing right. So are sets without anything that matters where
    the engine was last said not to run, or must not, unless most are such: then what keeps it from running is not the
    job.
    """

    def __init__(self, state: State) -> None:
        self._belief = state.belief
        drawn = without_false_alarms(state)
        if not _may_drive(state) and _mostly_wrong(drawn):
            drawn = kept_where(drawn, something_matters(drawn))
        self._scenarios = drawn
        self.faults = state.belief.faults

    def chances(self) -> Array:
        """As the belief."""
        return self._belief.chances()

    def outcomes(self, ask: Ask) -> tuple[str, ...]:
        """As the belief."""
        return self._belief.outcomes(ask)

    def outcome_chances(self, ask: Ask) -> tuple[Array, Array]:
        """As the belief."""
        return self._belief.outcome_chances(ask)

    def given(self, ask: Ask, outcome: str) -> Belief:
        """As the belief; what matters is then to be found anew."""
        return self._belief.given(ask, outcome)

    def likelihood(self, ask: Ask, present: Bools) -> Array:
        """As the belief."""
        return self._belief.likelihood(ask, present)

    def likelihoods(self, asks: Sequence[Ask], present: Bools) -> list[Array]:
        """As the belief."""
        return self._belief.likelihoods(asks, present)

    def scenarios(self, most: int, rng: np.random.Generator) -> Scenarios:
        """Some of the state's draws, from all over them, as neighbours may share their ancestors; evenly weighted."""
        drawn = self._scenarios
        assert drawn.matters is not None
        count = min(most, len(drawn.weight))
        rows = np.arange(count) * len(drawn.weight) // count
        return Scenarios(np.full(count, 1.0 / count), drawn.present[rows], exact=False, matters=drawn.matters[rows])


def _may_drive(state: State) -> bool:
    return not impossible_now(state) and not must_not_run(state)


def _mostly_wrong(drawn: Scenarios) -> bool:
    """Whether something matters in half of the draws or more."""
    return bool(something_matters(drawn).mean() >= 0.5)
