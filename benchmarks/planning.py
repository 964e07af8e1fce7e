"""How soon the next step is there, and how soon it has been played one round through, at eight cylinders."""

from __future__ import annotations

import statistics
import time
from pathlib import Path

from knowngood.app.next_steps import advised
from knowngood.app.refined import refined
from knowngood.app.state import State, state_of
from knowngood.app.weigh import entries_of, read_notes
from knowngood.library.records import Library
from knowngood.planner.rollout import Played
from knowngood.proving.figures import Figure

RUNS = 5


def planning_figures(library: Library, notes: Path) -> dict[str, Figure]:
    """First advice from the weighed state [ms]: median, least, most of five; one round of playing through [s].

    The round asks the planner anew after every outcome, repair and proof of the five leading steps that comes at least
    once in fifty.
    """
    state = state_of(library, entries_of(read_notes(notes.read_text(encoding="utf-8"), library).lines))
    advised(state)
    firsts, rounds = [], []
    for _ in range(RUNS):
        began = time.perf_counter()
        advised(state)
        firsts.append(1000.0 * (time.perf_counter() - began))
    for _ in range(RUNS // 2 + 1):
        rounds.append(_one_round(state))
    return {
        "planner.first_ms_c8": _spread(firsts, 1, 150.0),
        "planner.refined_s_c8": _spread(rounds, 2, 3.0),
    }


def _one_round(state: State) -> float:
    """Seconds until every point of the first round has its own price."""
    began = time.perf_counter()
    ended = began
    in_second_round = False

    def heard(played: Played) -> None:
        nonlocal ended, in_second_round
        in_second_round = played.round > 1
        ended = ended if in_second_round else time.perf_counter()

    refined(state, 1.0, clock=lambda: float(in_second_round), heard=heard)
    return ended - began


def _spread(values: list[float], digits: int, goal: float) -> Figure:
    low, high = round(min(values), digits), round(max(values), digits)
    return Figure(round(statistics.median(values), digits), len(values), low, high, goal, at_least=False)
