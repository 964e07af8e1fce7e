"""What the planner is told: what could be repaired, what could be checked, what is open, what an hour costs.

Whoever knows the library, the journal and the belief builds it. Stock, orders
and tools are already in the money and the waiting days of each action.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from knowngood.belief.protocol import Ask, Belief, Bools, FaultAt
from knowngood.car import ENGINE, Place
from knowngood.errors import Problem as Fact
from knowngood.errors import Refused

RATE_PER_HOUR = 40.0
"""Money an hour until another is said: from memory, in no currency."""
WARM_MINUTES, COOL_MINUTES = 10.0, 120.0  # until a cold engine is hot, and a hot one may be worked on cold; from memory
COOLING_SHARE = 0.25  # of the cooling, the share lost to the mechanic: other work goes on beside it; from memory


@dataclass(frozen=True, kw_only=True)
class Repair:
    """Something that puts faults right.

    Parameters
    ----------
    id, name : str
        ``name`` is what the mechanic reads: "replace coil 5".
    fixes : tuple of FaultAt
        Every fault it puts right: a new coil at 5 ends all faults of the coil at 5.
    minutes : float [min]
        Without access.
    money : float
        Parts and consumables that must still be paid.
    refund : float
        Money that comes back where it turns out that there was nothing to put right.
    do, part, place
        What is done to which part, where.
    all_of : tuple of Place
        Of a set the place of each; else none.
    works : float
        Chance that it puts right a fault that is there.
    tries : int
        How often it is worth trying; a second try works with the same chance.
    access : tuple of str
        Access steps that must be open.
    wait_days : float [d]
        Until the part is here.
    killed_by : tuple of FaultAt
        Faults that may have killed the old part and would kill the new one.
    """

    id: str
    name: str
    fixes: tuple[FaultAt, ...]
    minutes: float
    money: float = 0.0
    refund: float = 0.0
    do: str = ""
    part: str = ""
    place: Place = ENGINE
    all_of: tuple[Place, ...] = ()
    works: float = 1.0
    tries: int = 1
    access: tuple[str, ...] = ()
    wait_days: float = 0.0
    killed_by: tuple[FaultAt, ...] = ()

    @property
    def places(self) -> tuple[Place, ...]:
        """Where the part is worked on."""
        return self.all_of or (self.place,)


@dataclass(frozen=True, kw_only=True)
class CheckAt:
    """A way to learn something: one reading, a row of readings, or a change made in order to look again.

    Parameters
    ----------
    id, name : str
    asks : tuple of Ask
        All are read in one go.
    minutes, money : float [min], [currency]
        Without access, without tools that are missing.
    kind : str
        ``look``, ``measure``, ``swap``, ``spare``, ``reseat``, ``provoke``, ...
    place : Place
    access : tuple of str
        Access steps that must be open.
    tools_missing : tuple of str
    tool_price : float
        What the missing tools would cost together.
    wait_days : float [d]
        Until a tool that is lent out is back.
    engine : str
        ``hot`` or ``cold`` where it must be so; empty: as it is.
    cautions : tuple of str
    usual : dict reading -> outcome
        Of a healthy car: where several kinds are read only other outcomes are named.
    after : callable or None
        What the fault sets (scenario, fault) become before the readings are taken: see :func:`swapped` and
        :func:`put_right`. ``None``: nothing is changed.
    """

    id: str
    name: str
    asks: tuple[Ask, ...]
    minutes: float
    money: float = 0.0
    kind: str = "measure"
    place: Place = ENGINE
    access: tuple[str, ...] = ()
    tools_missing: tuple[str, ...] = ()
    tool_price: float = 0.0
    wait_days: float = 0.0
    engine: str = ""
    cautions: tuple[str, ...] = ()
    usual: Mapping[str, str] = field(default_factory=dict, compare=False)
    after: Callable[[Bools], Bools] | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True)
class AccessTime:
    """One thing that comes off.

    ``after`` must come off first. ``stays``: it may stay off while the repair is proved. ``risk``: money that breaking
    something on the way costs on average.
    """

    open_minutes: float
    close_minutes: float = 0.0
    after: tuple[str, ...] = ()
    stays: bool = False
    risk: float = 0.0


@dataclass(frozen=True)
class AccessGraph:
    """What must come off before what, and what is off now."""

    steps: Mapping[str, AccessTime] = field(default_factory=dict)
    open: frozenset[str] = frozenset()

    def needed(self, steps: tuple[str, ...] | frozenset[str]) -> frozenset[str]:
        """The steps and all that must come off before them.

        Raises
        ------
        Refused
            A step nobody described.
        """
        return frozenset[str]().union(*map(self._needed_for, steps))

    @cached_property
    def _known(self) -> dict[str, frozenset[str]]:
        return {}

    def _needed_for(self, step: str) -> frozenset[str]:
        """A step and all before it, worked out once."""
        if step in self._known:
            return self._known[step]
        found: set[str] = set()
        waiting = [step]
        while waiting:
            step_before = waiting.pop()
            if step_before in found:
                continue
            if step_before not in self.steps:
                raise Refused(
                    Fact(f"There is no access step {step_before!r}.", "Describe it, or take it out of what needs it.")
                )
            found.add(step_before)
            waiting.extend(self.steps[step_before].after)
        return self._known.setdefault(step, frozenset(found))

    def to_open(self, steps: tuple[str, ...]) -> tuple[str, ...]:
        """What still has to come off, first things first."""
        missing = self.needed(steps) - self.open
        return tuple(sorted(missing, key=lambda step: (len(self.needed((step,))), step)))

    def open_minutes(self, steps: tuple[str, ...]) -> float:
        """Minutes until the steps are open, from how things stand."""
        return self._minutes_of(steps)[0]

    def close_minutes(self, steps: tuple[str, ...]) -> float:
        """Minutes to put back what :meth:`open_minutes` took off."""
        return self._minutes_of(steps)[1]

    def risk(self, steps: tuple[str, ...]) -> float:
        """Money that breaking something on the way to the steps costs on average, from how things stand."""
        return sum(self.steps[step].risk for step in sorted(self.needed(steps) - self.open))

    @cached_property
    def _known_minutes(self) -> dict[tuple[str, ...], tuple[float, float]]:
        return {}

    def _minutes_of(self, steps: tuple[str, ...]) -> tuple[float, float]:
        """To open and to close again, worked out once."""
        if steps not in self._known_minutes:
            missing = [self.steps[step] for step in sorted(self.needed(steps) - self.open)]
            opening, closing = sum(one.open_minutes for one in missing), sum(one.close_minutes for one in missing)
            self._known_minutes[steps] = opening, closing
        return self._known_minutes[steps]


@dataclass(frozen=True, kw_only=True)
class Problem:
    """Everything the next step depends on.

    Parameters
    ----------
    belief : Belief
    repairs : tuple of Repair
    checks : tuple of CheckAt
    access : AccessGraph
    must : frozenset of FaultAt or None
        Faults that must be put right before the car is finished (behind a complaint or a gate). ``None``: all.
    rate_per_hour : float
        What an hour of the mechanic costs.
    proof_minutes, proof_money : float [min], [currency]
        The road test, or whatever shows that all is well.
    may_prove : bool
        Whether it can be proved before anything is put right: not while something is behind that running it makes a
        danger.
    proof_sees : float
        Chance that the proof shows a fault that is left.
    comeback_minutes, comeback_money : float [min], [currency]
        What it costs when a car comes back with a fault that was thought gone.
    hand_over : float or None
        What it costs to give up and hand the rest to someone else. ``None``: not an option; faults without a repair
        are then left out of the account.
    money_per_day : float
        What a day of waiting costs.
    tool_share : float
        Share of the price of a tool bought for one check that this job bears.
    engine_now : str
        ``hot`` or ``cold``; empty: not known, and then nothing is waited for.
    warm_minutes, cool_minutes : float [min]
        Until a cold engine is hot, and a hot one cold.
    cooling_share : float
        Share of the rate that is lost while it cools: other work goes on beside it.
    """

    belief: Belief
    repairs: tuple[Repair, ...]
    checks: tuple[CheckAt, ...] = ()
    access: AccessGraph = field(default_factory=AccessGraph)
    must: frozenset[FaultAt] | None = None
    rate_per_hour: float = RATE_PER_HOUR
    proof_minutes: float = 20.0
    proof_money: float = 0.0
    may_prove: bool = True
    proof_sees: float = 1.0
    comeback_minutes: float = 180.0
    comeback_money: float = 100.0
    hand_over: float | None = None
    money_per_day: float = 0.0
    tool_share: float = 0.5
    engine_now: str = ""
    warm_minutes: float = WARM_MINUTES
    cool_minutes: float = COOL_MINUTES
    cooling_share: float = COOLING_SHARE

    @property
    def per_minute(self) -> float:
        """Money a minute."""
        return self.rate_per_hour / 60.0

    @property
    def proof_cost(self) -> float:
        """Money for one proof."""
        return self.proof_minutes * self.per_minute + self.proof_money

    @property
    def comeback_cost(self) -> float:
        """Money for one car that comes back."""
        return self.comeback_minutes * self.per_minute + self.comeback_money

    def opening_cost(self, steps: tuple[str, ...], access: AccessGraph) -> float:
        """Money to open, and later close, what is needed beyond what is open; what may break is counted."""
        minutes = access.open_minutes(steps) + access.close_minutes(steps)
        return minutes * self.per_minute + access.risk(steps)

    def repair_cost(self, repair: Repair) -> float:
        """Money for a repair, without access."""
        return repair.minutes * self.per_minute + repair.money + repair.wait_days * self.money_per_day

    def check_cost(self, check: CheckAt) -> float:
        """Money for a check, without access."""
        heat = self.heat_minutes(check) * (self.cooling_share if check.engine == "cold" else 1.0)
        waiting = check.wait_days * self.money_per_day + heat * self.per_minute
        return check.minutes * self.per_minute + check.money + self.tool_share * check.tool_price + waiting

    def heat_minutes(self, check: CheckAt) -> float:
        """Minutes until the engine is as a check needs it."""
        if not self.engine_now or check.engine in ("", self.engine_now):
            return 0.0
        return self.cool_minutes if check.engine == "cold" else self.warm_minutes

    @cached_property
    def column(self) -> dict[FaultAt, int]:
        """Where each fault stands in the belief's order."""
        return {fault: index for index, fault in enumerate(self.belief.faults)}


def swapped(
    faults: tuple[FaultAt, ...], here: tuple[FaultAt, ...], there: tuple[FaultAt, ...]
) -> Callable[[Bools], Bools]:
    """What fault sets become when two like parts change places: the faults of each go with it.

    Parameters
    ----------
    faults : tuple of FaultAt
        The belief's faults, in its order.
    here, there : tuple of FaultAt
        Faults of the part at either place, in the same order.
    """
    column = {fault: index for index, fault in enumerate(faults)}
    first = [column[fault] for fault in here]
    second = [column[fault] for fault in there]

    def after(present: Bools) -> Bools:
        moved = present.copy()
        moved[:, first], moved[:, second] = present[:, second], present[:, first]
        return moved

    return after


def put_right(faults: tuple[FaultAt, ...], gone: tuple[FaultAt, ...]) -> Callable[[Bools], Bools]:
    """What fault sets become with a known-good spare fitted, or a plug reseated: the faults named are gone."""
    column = {fault: index for index, fault in enumerate(faults)}
    columns = [column[fault] for fault in gone]

    def after(present: Bools) -> Bools:
        cleared = present.copy()
        cleared[:, columns] = False
        return cleared

    return after
