"""What a check tells: the mutual information between its outcomes and which suspect is behind what was found."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from itertools import islice

import numpy as np

from knowngood.app.seen_again import without_false_alarms
from knowngood.app.state import State
from knowngood.app.suspects import suspected
from knowngood.belief.protocol import Array, Ask, FaultAt
from knowngood.planner.problem import CheckAt

DRAWN = 600
SUSPECTS = 10
SETTLED = 0.97  # share of draws in which a suspect is behind, from which on it tells nothing apart
MOST_OUTCOMES = 64


def entropy(chance: Array) -> float:
    """Bits of a distribution (any shape), given up to its sum.

    >>> round(entropy(np.array([0.5, 0.5])), 3), round(entropy(np.array([1.0, 0.0])), 3)
    (1.0, 0.0)
    """
    share = chance[chance > 0.0] / chance.sum()
    return float((share * -np.log2(share)).sum())


def told_by(like: Array, kinds: Array) -> float:
    """Mutual information [bits] of outcomes and kinds of fault set.

    Parameters
    ----------
    like : array (outcome, draw)
        Chance of each outcome in each draw; draws are alike in weight.
    kinds : int array (draw,)
        Which suspect is behind in each draw.
    """
    joint = np.stack([like[:, kinds == kind].sum(axis=1) for kind in np.unique(kinds)], axis=1)
    joint /= joint.sum()
    return entropy(joint.sum(axis=1)) + entropy(joint.sum(axis=0)) - entropy(joint)


def which_is_behind(state: State, draws: int = DRAWN, gone: Collection[FaultAt] = ()) -> Array:
    """The first suspect of the list that is behind what was found, in each draw (draw,).

    What is behind in nearly every draw, as a fault that was seen, is left out: no check tells anything of it, and the
    rest is still to be told apart. So is what is ``gone``, as if it had been put right. That a complaint seen again was
    nothing is no suspect.
    """
    matters = without_false_alarms(state).matters
    assert matters is not None
    matters = matters[:draws]
    column = state.belief.model.column
    left = ([column[at] for at in one.every if at not in gone] for one in suspected(state))
    behind = (matters[:, columns].any(axis=1) for columns in left)
    open_yet = list(islice((each for each in behind if each.mean() <= SETTLED), SUSPECTS))
    kinds = np.full(len(matters), SUSPECTS)
    for index, each in reversed(list(enumerate(open_yet))):
        kinds[each] = index
    return kinds


def shown_in_draws(state: State, checks: Iterable[CheckAt], draws: int = DRAWN) -> dict[Ask, Array]:
    """Of all readings of checks that move no part: chance of each outcome in each draw (outcome, draw); in one go."""
    asks = list(dict.fromkeys(ask for check in checks if check.after is None for ask in check.asks))
    return dict(zip(asks, state.belief.likelihoods(asks, without_false_alarms(state).present[:draws]), strict=True))


def tells(
    state: State,
    check: CheckAt,
    kinds: Array,
    gone: Collection[FaultAt] = (),
    shown: Mapping[Ask, Array] | None = None,
) -> float:
    """What a check tells of which suspect is behind [bits]; nothing for proving.

    With faults that are ``gone``: what it would tell once they are put right. Else what its readings show may be handed
    in, as :func:`shown_in_draws` has it.
    """
    joint = outcomes_in_draws(state, check, len(kinds), gone, shown)
    return told_by(joint, kinds) if len(joint) > 1 else 0.0


def outcomes_in_draws(
    state: State,
    check: CheckAt,
    draws: int,
    gone: Collection[FaultAt] = (),
    shown: Mapping[Ask, Array] | None = None,
) -> Array:
    """Chance of each outcome of a check, its readings taken together, in each draw (outcome, draw)."""
    joint = np.ones((1, draws))
    if shown is None or gone or check.after is not None:
        likes = _likes(state, check, draws, gone)
    else:
        likes = [shown[ask] for ask in check.asks]
    for like in likes:
        wider = (joint[:, None, :] * like[None, :, :]).reshape(-1, draws)
        if len(wider) > MOST_OUTCOMES:
            break  # a long row: its first readings stand for it
        joint = wider
    return joint


def _likes(state: State, check: CheckAt, draws: int, gone: Collection[FaultAt]) -> list[Array]:
    present = without_false_alarms(state).present[:draws]
    if gone:
        present = present.copy()
        present[:, [state.belief.model.column[at] for at in gone]] = False
    if check.after is not None:
        present = check.after(present)
    return state.belief.likelihoods(check.asks, present)
