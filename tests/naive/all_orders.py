"""Every order of jobs, each walked through by hand: slow and obvious."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from knowngood.planner.problem import AccessGraph
from knowngood.planner.repair_plan import Job, Waits


def fewest_minutes(jobs: Sequence[Job], access: AccessGraph, hot: bool, waits: Waits) -> float:
    """The least sum over all orders."""
    return min(walked(order, access, hot, waits) for order in itertools.permutations(jobs))


def walked(order: Sequence[Job], access: AccessGraph, hot: bool, waits: Waits) -> float:
    """Minutes of one order, everything closed at the end."""
    minutes, day = 0.0, 0
    is_open = {name: name in access.open for name in access.steps}
    below = {name: access.needed((name,)) for name in access.steps}
    for job in order:
        needed = {one for name in job.access for one in below[name]}
        if job.day > day:
            minutes += waits.day_minutes * (job.day - day)
            day, hot = job.day, False
        warms = job.engine == "hot" and not hot
        if warms or job.engine == "running":
            for name, step in access.steps.items():
                if is_open[name] and not step.stays and name not in needed:
                    minutes += step.close_minutes
                    is_open[name] = False
        if warms:
            minutes += waits.warm_minutes
            hot = True
        if job.engine == "cold" and hot:
            minutes += waits.cool_share * waits.cool_minutes
            hot = False
        for name in needed:
            if not is_open[name]:
                minutes += access.steps[name].open_minutes
                is_open[name] = True
        minutes += job.minutes
        hot = hot or job.engine == "running"
    return minutes + sum(access.steps[name].close_minutes for name, there in is_open.items() if there)
