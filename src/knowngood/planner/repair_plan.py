"""Repairs and checks already chosen, in the order that takes one pair of hands the fewest minutes.

What comes off is shared: a step stays open until a job needs it closed, or until
the end. A job may have to wait for its part, a cold or a hot engine, or need
everything back on and the engine running. Opening before it is needed and
closing before it must be never saves a minute, so an order of the jobs decides
everything else, and the shortest way over (what is done, what is open, hot or
cold, which day) is the best order: found by Dijkstra's method, exact for the
sizes of one car. Beyond :data:`MOST_EXACT` jobs each next job is the nearest
one, and the plan says how far that may be from the best.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.errors import Problem as Fact
from knowngood.errors import Refused
from knowngood.planner.problem import COOL_MINUTES, COOLING_SHARE, WARM_MINUTES, AccessGraph

MOST_EXACT = 10
ENGINE_STATES = ("any", "cold", "hot", "running")


@dataclass(frozen=True, kw_only=True)
class Job:
    """One repair or check to be done.

    Parameters
    ----------
    id, name : str
    minutes : float [min]
        Without access.
    access : tuple of str
        Steps that must be open.
    day : int [d]
        First day on which it can be done: its part or tool is there then; 0 is today.
    engine : str
        ``any``, ``cold``, ``hot`` or ``running`` (everything that may not stay off is back on; it leaves it hot).
    """

    id: str
    name: str
    minutes: float
    access: tuple[str, ...] = ()
    day: int = 0
    engine: str = "any"


@dataclass(frozen=True, kw_only=True)
class Waits:
    """What waiting costs.

    Parameters
    ----------
    warm_minutes : float [min]
        Letting it run until hot; hands are free but somebody stays beside it, so it counts whole.
    cool_minutes : float [min]
        Until a hot engine may be worked on cold.
    cool_share : float
        Share of the cooling that is lost to the mechanic.
    day_minutes : float [min]
        What it is worth not to wait for the next day, beyond the parts.
    """

    warm_minutes: float = WARM_MINUTES
    cool_minutes: float = COOL_MINUTES
    cool_share: float = COOLING_SHARE
    day_minutes: float = 30.0


@dataclass(frozen=True)
class Move:
    """One thing to do in the plan: ``open``, ``close``, ``do``, ``warm``, ``cool`` or ``wait``.

    ``what``: an access step, a job, or until when. ``minutes``: those that are lost to the mechanic.
    """

    do: str
    what: str
    minutes: float


@dataclass(frozen=True)
class RepairPlan:
    """The order found.

    Parameters
    ----------
    moves : tuple of Move
        In order, from how things stand to everything done and closed.
    minutes : float [min]
        Sum of the moves.
    one_by_one : float [min]
        The same jobs in the order given, each opened and closed for itself.
    gap : float [min]
        By how much a better plan could at most be shorter; 0 where the plan is exact.
    """

    moves: tuple[Move, ...]
    minutes: float
    one_by_one: float
    gap: float = 0.0


@dataclass(frozen=True)
class _At:
    """Where things stand: jobs done (by index), steps open, the engine, the day."""

    done: frozenset[int]
    open: frozenset[str]
    hot: bool
    day: int


def repair_plan(
    jobs: Sequence[Job], access: AccessGraph, *, hot: bool = False, waits: Waits | None = None
) -> RepairPlan:
    """The order of jobs with the fewest minutes.

    Parameters
    ----------
    jobs : sequence of Job
    access : AccessGraph
        With what is open now; a step with ``stays`` may stay off while the engine runs.
    hot : bool
        Whether the engine is hot now.
    waits : Waits or None
        What waiting costs; ``None``: as the advice counts it.

    Raises
    ------
    Refused
        A job needs an access step nobody described, or an engine state there is not.
    """
    waits = waits or Waits()
    for job in jobs:
        access.needed(job.access)
        if job.engine not in ENGINE_STATES:
            raise Refused(Fact(f"{job.engine!r} is no state of an engine.", f"Say one of: {', '.join(ENGINE_STATES)}."))
    start = _At(frozenset(), access.open, hot, 0)
    if len(jobs) <= MOST_EXACT:
        moves = _shortest(jobs, access, start, waits)
        gap = 0.0
    else:
        moves = _nearest(jobs, access, start, waits)
        gap = _minutes(moves) - _least(jobs, access)
    return RepairPlan(moves, _minutes(moves), _one_by_one(jobs, access, start, waits), max(gap, 0.0))


def _minutes(moves: Sequence[Move]) -> float:
    return sum(move.minutes for move in moves)


def _step(job: Job, access: AccessGraph, at: _At, index: int, waits: Waits) -> tuple[list[Move], _At]:
    """What it takes to do one job from where things stand, and where they stand after it."""
    moves: list[Move] = []
    hot, day, open_now = at.hot, at.day, at.open
    if job.day > day:
        moves.append(Move("wait", f"until day {job.day}", waits.day_minutes * (job.day - day)))
        hot, day = False, job.day
    if job.engine == "running" or (job.engine == "hot" and not hot):
        closing = _must_close(access, open_now, set(job.access))
        moves += closing
        open_now -= {move.what for move in closing}
    if job.engine == "hot" and not hot:
        moves.append(Move("warm", "", waits.warm_minutes))
        hot = True
    if job.engine == "cold" and hot:
        moves.append(Move("cool", "", waits.cool_share * waits.cool_minutes))
        hot = False
    for name in AccessGraph(access.steps, open_now).to_open(job.access):
        moves.append(Move("open", name, access.steps[name].open_minutes))
        open_now |= {name}
    moves.append(Move("do", job.id, job.minutes))
    return moves, _At(at.done | {index}, open_now, hot or job.engine == "running", day)


def _must_close(access: AccessGraph, open_now: frozenset[str], keep: set[str]) -> list[Move]:
    """Close what may not stay off while it runs, with all that hangs on it; what the job itself needs stays open."""
    needed = access.needed(tuple(keep))
    closing = {name for name in open_now if name in access.steps and not access.steps[name].stays} - needed
    return _closing(access, closing)


def _closing(access: AccessGraph, names: set[str] | frozenset[str]) -> list[Move]:
    last_first = sorted(names, key=lambda name: (-len(access.needed((name,))), name))
    return [Move("close", name, access.steps[name].close_minutes) for name in last_first]


def _end(access: AccessGraph, at: _At) -> list[Move]:
    return _closing(access, {name for name in at.open if name in access.steps})


def _shortest(jobs: Sequence[Job], access: AccessGraph, start: _At, waits: Waits) -> tuple[Move, ...]:
    """Dijkstra's method over where things can stand; of orders that take as long, the one that does more sooner."""
    order = itertools.count()
    waiting: list[tuple[float, int, int, _At | None, tuple[Move, ...]]] = [(0.0, 0, next(order), start, ())]
    settled: set[_At | None] = set()
    while waiting:
        minutes, days, _, at, moves = heapq.heappop(waiting)
        if at is None:
            return moves
        if at in settled:
            continue
        settled.add(at)
        if len(at.done) == len(jobs):
            more = _end(access, at)
            heapq.heappush(waiting, (minutes + _minutes(more), days, next(order), None, (*moves, *more)))
            continue
        for index, job in enumerate(jobs):
            if index not in at.done:
                more, then = _step(job, access, at, index, waits)
                if then not in settled:
                    price = minutes + _minutes(more), days + then.day
                    heapq.heappush(waiting, (*price, next(order), then, (*moves, *more)))
    raise AssertionError("there is always an order")


def _nearest(jobs: Sequence[Job], access: AccessGraph, start: _At, waits: Waits) -> tuple[Move, ...]:
    moves: list[Move] = []
    at = start
    while len(at.done) < len(jobs):
        left = [index for index in range(len(jobs)) if index not in at.done]
        steps = {index: _step(jobs[index], access, at, index, waits) for index in left}
        nearest = min(left, key=lambda index: (_minutes(steps[index][0]) - jobs[index].minutes, index))
        more, at = steps[nearest]
        moves += more
    return (*moves, *_end(access, at))


def _least(jobs: Sequence[Job], access: AccessGraph) -> float:
    """No plan is shorter: every job once, every step it needs opened once, everything closed once."""
    needed = access.needed(tuple(name for job in jobs for name in job.access))
    opened = sum(access.steps[name].open_minutes for name in needed - access.open)
    closed = sum(access.steps[name].close_minutes for name in needed | (access.open & set(access.steps)))
    return sum(job.minutes for job in jobs) + opened + closed


def _one_by_one(jobs: Sequence[Job], access: AccessGraph, start: _At, waits: Waits) -> float:
    minutes, at = 0.0, start
    for index, job in enumerate(jobs):
        more, at = _step(job, access, at, index, waits)
        ended = _end(access, at)
        minutes += _minutes(more) + _minutes(ended)
        at = _At(at.done, frozenset(), at.hot, at.day)
    return minutes
