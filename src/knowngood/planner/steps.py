"""What the planner hands back."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field

from knowngood.belief.protocol import FaultAt
from knowngood.planner.problem import CheckAt, Repair

PROVE, HAND_OVER = "prove", "hand over"


@dataclass(frozen=True)
class Moved:
    """A fault and its chance after an outcome; ``by``: how much that is more than before, less where negative.

    Both of the fault sets that prices are worked out on: exact chances and draws differ by as much as an answer moves.
    """

    at: FaultAt
    chance: float
    by: float


@dataclass(frozen=True)
class After:
    """What an outcome leads to.

    Parameters
    ----------
    outcome : str
    chance : float
        Of the outcome.
    leading, fallen : Moved
        The fault the outcome raises most, of those that must be put right, and the one it lowers most.
    repair : Repair or None
        What is done next then (``None``: prove).
    check : CheckAt or None
        A second check that is worth its price first.
    """

    outcome: str
    chance: float
    leading: Moved
    fallen: Moved
    repair: Repair | None
    check: CheckAt | None = None


@dataclass(frozen=True)
class Step:
    """A step with its price.

    Parameters
    ----------
    action : Repair or CheckAt
        A check of kind ``prove`` or ``hand over`` stands for just that.
    cost : float
        Expected money to the end when starting with it.
    minutes, money : float
        Of the step itself, access that must be opened (and closed again) included.
    opens : tuple of str
        Access steps that must come off first.
    after : tuple of After
        For a check, what each outcome leads to, the likeliest first.
    together : tuple of CheckAt
        Further checks the price counts on, made in the same go because the access is open then.
    later : float or None
        For a check: expected money when the best repairs up to the next proof come first and the check only if that
        fails.
    in_vain : float
        Of a repair: money that making it before any check adds at most, see
        :func:`knowngood.planner.candidates.in_vain_of`; infinite where that is not known.
    flip_minutes, flip_money : float or None
        The step would no longer be first if it took, or cost, more than this.
    error : float or None
        Of the first step: one standard error of its price from the draws; ``None`` where all fault sets are known.
    """

    action: Repair | CheckAt
    cost: float
    minutes: float
    money: float
    opens: tuple[str, ...]
    after: tuple[After, ...] = ()
    together: tuple[CheckAt, ...] = ()
    later: float | None = None
    in_vain: float = math.inf
    flip_minutes: float | None = None
    flip_money: float | None = None
    error: float | None = None


@dataclass(frozen=True)
class Flip:
    """A number at which the advice changes.

    Parameters
    ----------
    action : Repair or CheckAt
        Whose number it is.
    quantity : str
        ``minutes`` or ``money``.
    now, at : float
        What it is taken to be, and where the advice changes.
    then : Repair or CheckAt
        What would be done first beyond that.
    """

    action: Repair | CheckAt
    quantity: str
    now: float
    at: float
    then: Repair | CheckAt


@dataclass(frozen=True)
class Held:
    """A replacement that waits.

    Parameters
    ----------
    repair : Repair
    by : tuple of (FaultAt, float)
        What may have killed the old part and still stand, with its chance where that part is dead; likeliest first.
    check : CheckAt or None
        What answers the question best for its money; ``None`` where no check at hand does.
    """

    repair: Repair
    by: tuple[tuple[FaultAt, float], ...]
    check: CheckAt | None


def as_it_is(step: Step) -> Step:
    """The step itself."""
    return step


def not_known(look: Step, repair: Repair) -> float:
    """No limit to what a look spares before a repair."""
    return math.inf


@dataclass(frozen=True)
class Advice:
    """The steps, best first, beside the plan that repairs without looking further.

    Parameters
    ----------
    steps : tuple of Step
    replace_now : float
        Expected money of repairing in the best order without any check.
    unlooked : float
        Expected money as things stand, what to look at not yet chosen: a check that leads to more does not pay.
    order : tuple of Repair
        That order.
    toss_up : bool
        The first two steps are within five minutes' worth or 3 %, whichever is more.
    exact : bool
        Priced on all fault sets, not on draws.
    leading : tuple of (FaultAt, float)
        The likeliest faults of those that must be put right, with the chance that they must.
    flips : tuple of Flip
        Where the advice would change.
    compared : tuple of (FaultAt, float)
        The leading faults that are worth telling apart (:func:`knowngood.planner.separation.not_told_apart`), with the
        chance that each must be put right.
    within : float or None
        Share by which the first step's plan may be dearer than the best possible one, where that is 0.2 or less.
    played : int
        Points of plans priced anew; 0: the first answer.
    changed_from : Step or None
        What came first before the leading steps were played through, where another does now.
    held : tuple of Held
        Replacements that wait until it is known what killed the old part.
    left_out : tuple of float
        Chance that each repair is needed that is not in the prices, the likeliest first.
    foretold : callable
        A step with what each of its outcomes makes one do next, worked out when it is asked for.
    spared_by : callable
        A check and a repair: money that the check spares before the repair, see
        :func:`knowngood.planner.following.spared_by`.
    """

    steps: tuple[Step, ...]
    replace_now: float
    order: tuple[Repair, ...]
    toss_up: bool
    exact: bool
    unlooked: float = math.inf
    leading: tuple[tuple[FaultAt, float], ...] = ()
    flips: tuple[Flip, ...] = ()
    compared: tuple[tuple[FaultAt, float], ...] = ()
    within: float | None = None
    played: int = 0
    changed_from: Step | None = None
    held: tuple[Held, ...] = ()
    left_out: tuple[float, ...] = ()
    foretold: Callable[[Step], Step] = field(default=as_it_is, compare=False, repr=False)
    spared_by: Callable[[Step, Repair], float] = field(default=not_known, compare=False, repr=False)

    @property
    def step(self) -> Step:
        """What to do now."""
        return self.steps[0]

    @property
    def saves(self) -> float:
        """Money saved against repairing in the best order without looking."""
        return self.replace_now - self.steps[0].cost
