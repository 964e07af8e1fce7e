"""What the engine can be made to do now: no idle is watched on one that does not start."""

from __future__ import annotations

from knowngood.app.state import State
from knowngood.belief.clues import RUNNING as RUNNING_REGIMES
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
LEFT_IT_SO = ("no change", "stayed", "returned", "worse")


def impossible_now(state: State) -> frozenset[str]:
    """States of the engine that a check may need and that it does not come to, by what was said last.

    A reading said to be taken on the running engine ends it, and so does work of which nobody said that it changed
    nothing.
    """
    out: frozenset[str] = frozenset()
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Work):
            out = out if body.effect in LEFT_IT_SO else frozenset()
        elif isinstance(body, Reading) and not body.doubt:
            if (body.kind, body.word) in NO_START:
                out = frozenset(NO_START[body.kind, body.word])
            elif _ran(body):
                out = frozenset()
    return out


def _ran(reading: Reading) -> bool:
    if reading.kind == "starting":
        return True
    return any(word in RUNNING_REGIMES for word in reading.conditions)
