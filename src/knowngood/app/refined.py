"""Next steps worked out further than the first answer, for as long as one waits."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

from knowngood.app.answer import NextStep
from knowngood.app.next_steps import Advised, next_steps
from knowngood.app.state import State, seed_of
from knowngood.app.tasks import problem_of
from knowngood.planner.refine import refine
from knowngood.planner.rollout import Played
from knowngood.sheets.words import money, small


@dataclass(frozen=True)
class Refined:
    """Next steps after playing the leading ones through.

    Parameters
    ----------
    steps : list of NextStep
    changed : str
        What is said where another step comes first than at first; empty where none does.
    points : int
        Points of plans that were priced anew.
    ended : bool
        All was played through before the time was up.
    """

    steps: list[NextStep]
    changed: str
    points: int
    ended: bool


def refined(
    state: State,
    seconds: float,
    *,
    clock: Callable[[], float] = time.perf_counter,
    wanted: Callable[[], bool] = lambda: True,
    heard: Callable[[Played], None] = lambda played: None,
) -> Refined | None:
    """Play the leading steps through for at most so many seconds.

    Parameters
    ----------
    clock : callable
        Seconds, from any start.
    wanted : callable
        Asked after every point whether the rest is still wanted.
    heard : callable
        Told how far it has come, after every point.

    Returns
    -------
    Refined or None
        ``None`` while nothing is known to be wrong.
    """
    problem = problem_of(state)
    if not problem.must:
        return None
    began, waiting = clock(), 0

    def go_on(played: Played) -> bool:
        nonlocal waiting
        waiting = played.waiting
        heard(played)
        return wanted() and clock() - began < seconds

    advice = refine(problem, seed=seed_of(state.entries), go_on=go_on)
    steps = next_steps(state, Advised(problem, advice))
    changed = ""
    if advice.changed_from is not None:
        was = advice.changed_from.action.name
        saved = advice.changed_from.cost - advice.step.cost
        first = f"Played through, {small(steps[0].name)} comes before {small(was)}"
        changed = f"{first}: about {money(saved)} less than I first thought."
    return Refined(steps, changed, advice.played, waiting == 0)
