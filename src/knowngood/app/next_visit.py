"""What to look at when the car comes again: by date or mileage, whichever comes first."""

from __future__ import annotations

import calendar
from datetime import date

from knowngood.app.bay_time import bay_day
from knowngood.app.odometer import km_at, km_since
from knowngood.app.proof import NOT_YET, proofs_of
from knowngood.app.service import last_done
from knowngood.app.stages import stage_of
from knowngood.app.state import State
from knowngood.app.todo import PROVE, todo_of
from knowngood.evidence import Work
from knowngood.library.fitted_on import usually_has
from knowngood.planner.gates import GOOD
from knowngood.planner.remains import COST, HARM

AFTER_WORK_KM = 50.0
NAMED = 3


def next_visit(state: State) -> list[str]:
    """Reminders, the soonest first."""
    lines = []
    worked = [entry.at for entry in state.entries if isinstance(entry.body, Work) and entry.body.who == "here"]
    if worked and stage_of(state, "fifty").state != GOOD:
        looks = "; ".join(look.name for look in stage_of(state, "fifty").looks if look.state != GOOD)
        driven = km_since(state.entries, worked[-1])
        when = "now" if driven is not None and driven >= AFTER_WORK_KM else f"after {AFTER_WORK_KM:.0f} km"
        lines.append(f"{when}{_at_km(state, worked[-1], AFTER_WORK_KM)}: {looks}")
    open_proofs = [proof.work for proof in proofs_of(state) if proof.verdict == NOT_YET and proof.read_before]
    if open_proofs:
        lines.append(f"until it is proved: read again for {'; '.join(open_proofs)}")
    left = (thing for thing in todo_of(state) if thing.urgency in (HARM, COST))
    worse = [thing.what for thing in left if not thing.what.startswith(PROVE)][:NAMED]
    if worse:
        lines.append(f"at the next visit, because waiting costs: {'; '.join(worse)}")
    return [*lines, *(f"{when}: {what}" for when, what in sorted(_due(state)))]


def _due(state: State) -> list[tuple[str, str]]:
    """When each item of the base service that was done here falls due again, and its name."""
    due = []
    for item in state.library.services.values():
        if not item.months or not usually_has(item, state.car, state.library):
            continue
        done = bay_day(last) if (last := last_done(state, item)) else ""
        if done:
            km = _at_km(state, done, item.km) if item.km else ""
            due.append((f"by {_months_on(done, item.months)}{km}", item.name))
    return due


def _months_on(day: str, months: float) -> str:
    """The day so many months later, the last of its month where there is no such day.

    >>> _months_on("2026-01-31", 1), _months_on("2026-11-15", 12)
    ('2026-02-28', '2027-11-15')
    """
    start = date.fromisoformat(day)
    year, month = divmod(start.year * 12 + start.month - 1 + round(months), 12)
    last = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(start.day, last)).isoformat()


def _at_km(state: State, moment: str, more_km: float) -> str:
    """`` (at 202000 km)`` where the mileage was told: so much on from what it was then, and how far past that it is."""
    then, driven = km_at(state.entries, moment), km_since(state.entries, moment)
    if then is None or driven is None:
        return ""
    over = f", {driven - more_km:.0f} km ago" if driven > more_km else ""
    return f" (at {then + more_km:.0f} km{over})"
