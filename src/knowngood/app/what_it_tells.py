"""What a check is made for, and what each of its answers makes likely, in words.

An answer moves every suspect a little, be it by the draws alone. Named is what it moves by as much as is worth saying;
two suspects that both rise, each by another answer, are told apart by it.
"""

from __future__ import annotations

import math

from knowngood.app.fault_words import fault_words
from knowngood.app.state import State
from knowngood.belief.protocol import FaultAt
from knowngood.planner.advice import SCENARIOS
from knowngood.planner.problem import CheckAt, Repair
from knowngood.planner.steps import HAND_OVER, PROVE, After, Moved, Step
from knowngood.sheets.words import in_words

MOVED = 0.05  # of chance: a suspect that an answer moves by less is not what it is asked for
CLEAR = 2.0  # standard errors of the planner's draws by which it must be moved
WITHOUT_ANSWERS = {
    PROVE: "No look or repair pays better now: the road shows whether anything is left.",
    HAND_OVER: "What may be left costs less to be told of than to look for.",
}
LITTLE_NEW = "little is told by it"


def what_it_tells(state: State, step: Step) -> str:
    """Which suspects the answers of a check move; of a row over cylinders, that it shows which."""
    now = _now(state, step)
    moves: dict[FaultAt, float] = {}
    worth: dict[FaultAt, float] = {}  # its rises, each with the chance of the answer
    for after in step.after:
        raised = after.leading
        if _is_clear(raised, after):
            worth[raised.at] = worth.get(raised.at, 0.0) + after.chance * raised.by
        for one in (one for one in (raised, after.fallen) if _is_clear(one, after)):
            moves[one.at] = max(moves.get(one.at, 0.0), abs(one.by))
    if not moves:
        kind = step.action.kind if isinstance(step.action, CheckAt) else ""
        return WITHOUT_ANSWERS.get(kind, "No answer moves a suspect by much.")
    rivals = sorted(worth, key=lambda at: -worth[at])
    if len(rivals) > 1 and _is_of_cylinders(step.action):
        kinds = {at.fault for at in rivals}
        which = "It shows which cylinder it is"
        return f"{which}, and what." if len(kinds) > 1 else f"{which}: {state.library.faults[kinds.pop()].name}."
    if len(rivals) > 1:
        first, second = sorted(rivals[:2], key=lambda at: -now[at])
        return f"It tells {_with_chance(state, first, now)} from {_with_chance(state, second, now)}."
    most = max(moves, key=lambda at: moves[at])
    return f"It shows whether it is {_with_chance(state, most, now)}."


def likely_then(state: State, after: After) -> str:
    """What an answer makes likely, or else unlikely; neither where it hardly moves anything."""
    raised, fallen = after.leading, after.fallen
    if _is_clear(raised, after):
        return f"{fault_words(state, raised.at)} {in_words(raised.chance)}"
    if _is_clear(fallen, after):
        return f"{fault_words(state, fallen.at)} only {in_words(fallen.chance)}"
    return LITTLE_NEW


def tells_something(step: Step) -> bool:
    """Whether an answer of a check moves a suspect by more than the draws do by themselves."""
    return any(_is_clear(one, after) for after in step.after for one in (after.leading, after.fallen))


def _now(state: State, step: Step) -> dict[FaultAt, float]:
    chances, column = state.belief.chances(), state.belief.model.column
    return {at: float(chances[column[at]]) for after in step.after for at in (after.leading.at, after.fallen.at)}


def _is_clear(moved: Moved, after: After) -> bool:
    """Whether an answer moves a suspect by what is worth saying, and by more than few draws of that answer would."""
    spread = moved.chance * (1.0 - moved.chance) / max(SCENARIOS * after.chance, 1.0)
    return abs(moved.by) >= max(MOVED, CLEAR * math.sqrt(max(spread, 0.0)))


def _is_of_cylinders(action: Repair | CheckAt) -> bool:
    """Whether a check reads several cylinders in a row."""
    if not isinstance(action, CheckAt) or action.after is not None:
        return False
    return len({ask.place for ask in action.asks if ask.place.kind == "cylinder"}) > 1


def _with_chance(state: State, at: FaultAt, now: dict[FaultAt, float]) -> str:
    return f"{fault_words(state, at)} ({in_words(now[at])})"
