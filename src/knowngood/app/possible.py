"""What the engine can be made to do now: no idle is watched on one that does not start."""

from __future__ import annotations

from knowngood.app.state import State
from knowngood.belief.clues import RUNNING as RUNNING_REGIMES
from knowngood.belief.protocol import Ask
from knowngood.car import ENGINE
from knowngood.evidence import Reading, Work

RUNNING = ("idle", "held at speed", "driven")
CRANKED = ("cranked",)
NO_START = {
    ("starting", "fires and dies"): RUNNING,
    ("starting", "cranks dead"): RUNNING,
    ("starting", "no crank"): (*RUNNING, *CRANKED),
    ("cranks_dead", "yes"): RUNNING,
    ("fires_and_dies", "yes"): RUNNING,
    ("does_not_crank", "yes"): (*RUNNING, *CRANKED),
}
UNLIKELY = 0.8  # chance of not starting above which nothing is planned on the running engine; below it, trying is quick
LEFT_IT_SO = ("no change", "stayed", "returned", "worse")


def impossible_now(state: State) -> frozenset[str]:
    """States of the engine that a check may need and that it does not come to, by what was said last.

    A reading said to be taken on the running engine ends it. Work of which nobody said that it changed nothing leaves
    it to the belief: a mended wire is no reason to plan for a running engine where there still is no spark.
    """
    out: frozenset[str] = frozenset()
    worked_since = False
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Work):
            worked_since = worked_since or body.effect not in LEFT_IT_SO
        elif isinstance(body, Reading) and not body.doubt:
            if (body.kind, body.word) in NO_START:
                out, worked_since = frozenset(NO_START[body.kind, body.word]), False
            elif _ran(body):
                out = frozenset()
    return out & _unlikely_now(state) if out and worked_since else out


def _unlikely_now(state: State) -> frozenset[str]:
    """States of the engine that it hardly comes to, by all that is known."""
    ask = Ask("starting", ENGINE)
    chances, _ = state.belief.outcome_chances(ask)
    shut: dict[str, float] = {}
    for word, chance in zip(state.belief.outcomes(ask), chances, strict=True):
        for one in NO_START.get(("starting", word), ()):
            shut[one] = shut.get(one, 0.0) + float(chance)
    return frozenset(one for one, chance in shut.items() if chance > UNLIKELY)


def _ran(reading: Reading) -> bool:
    if reading.kind == "starting":
        return True
    return any(word in RUNNING_REGIMES for word in reading.conditions)
