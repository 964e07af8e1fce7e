"""The base service as one priced bundle: what is due by age, distance or because nothing is known, and when to do it.

It comes after the readings it would destroy: the row of cylinders is measured and the plugs are looked at first.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import msgspec

from knowngood.app.bay_time import bay_day
from knowngood.app.odometer import km_since
from knowngood.app.state import State
from knowngood.app.tasks import access_graph
from knowngood.belief.priors import story_of
from knowngood.car import ENGINE, Place
from knowngood.evidence import Reading, Work
from knowngood.library.fitted_on import is_told, usually_has
from knowngood.library.job_records import Service
from knowngood.sheets.words import minutes, money

DAYS_A_MONTH = 30.44
EVERY_CYLINDER = ", every cylinder"


class Due(msgspec.Struct, frozen=True):
    """One item that is due, why, and what it takes by itself."""

    name: str
    why: str
    minutes: float
    money: float


class BaseService(msgspec.Struct, frozen=True, kw_only=True):
    """The bundle.

    Parameters
    ----------
    due : list of Due
    minutes, money : float [min], [currency]
        Of the items together, what comes off for several of them counted once.
    belts : list of Due
        Due too, but each for itself: they are too long a job to be thrown in.
    first : list of str
        Readings to take before it, because it destroys them.
    """

    due: list[Due]
    minutes: float
    money: float
    belts: list[Due]
    first: list[str]
    cautions: list[str]


def base_service(state: State) -> BaseService:
    """What of the base service is due on this car, priced together; nothing due is an empty one."""
    whys = {item.id: _why_due(state, item) for item in state.library.services.values()}
    due = [item for item in state.library.services.values() if whys[item.id]]
    bundle = [item for item in due if not item.only_named]

    def priced(item: Service) -> Due:
        return Due(item.name, whys[item.id], *_takes(state, [item]))

    took, paid = _takes(state, bundle)
    return BaseService(
        due=[priced(item) for item in bundle],
        minutes=took,
        money=paid,
        belts=[priced(item) for item in due if item.only_named],
        first=list(dict.fromkeys(name for item in bundle for name in _not_read(state, item))),
        cautions=list(dict.fromkeys(state.library.cautions[one].text for item in bundle for one in item.cautions)),
    )


def _takes(state: State, items: Sequence[Service]) -> tuple[float, float]:
    """Minutes and money of some items together."""
    access = access_graph(state)
    steps = tuple({step for item in items for step in item.access if step in access.steps})
    pieces = {item.id: state.layout.cylinders if item.each else 1 for item in items}
    hands = sum(item.minutes * pieces[item.id] for item in items)
    paid = sum(_price(state, part, pieces[item.id]) for item in items for part in item.parts)
    return hands + access.open_minutes(steps) + access.close_minutes(steps), paid


def service_words(service: BaseService, rate: float) -> list[str]:
    """The bundle in sentences at so much an hour, and what must be read before it; the belts by themselves."""
    lines = []
    if service.due:
        by_hand = service.minutes / 60.0 * rate + service.money
        lines.append(
            f"Base service, as one: {minutes(service.minutes)}, {money(service.money)} in parts; "
            f"{money(by_hand)} in all"
        )
        whys = dict.fromkeys(due.why for due in service.due)
        lines += [f"{why}: {', '.join(due.name for due in service.due if due.why == why)}" for why in whys]
    if service.first:
        lines.append(f"before it, because it destroys them, read: {'; '.join(service.first)}")
    lines += [f"not in it, {due.name}: {due.why} ({minutes(due.minutes)}, {money(due.money)})" for due in service.belts]
    if service.due:
        lines += [f"caution: {text}" for text in service.cautions]
        lines.append("when it is done say 'base service done' and what it changed; which part of it did stays open")
    return lines


def service_offer(state: State, service: BaseService) -> str:
    """The bundle in one sentence once the row is measured and the plugs were looked at; empty before that."""
    if not service.due or any(EVERY_CYLINDER in name for name in service.first):
        return ""
    look = f" Look on the way, because it destroys them: {'; '.join(service.first)}." if service.first else ""
    return (
        f"The base service can be done now, as one: {', '.join(due.name for due in service.due)} "
        f"({minutes(service.minutes)}, {money(service.money)} in parts).{look}"
    )


def _price(state: State, part: str, pieces: int) -> float:
    """Of the pieces that must still be bought."""
    record = state.library.parts.get(part)
    return record.price * max(0, pieces - state.stock.lying(part)) if record is not None else 0.0


def _why_due(state: State, item: Service) -> str:
    """Why it is due; empty where it is not, or where most such cars do not have it."""
    if not usually_has(item, state.car, state.library):
        return ""
    last = last_done(state, item)
    if last:
        return _why_due_again(state, item, last)
    if set(item.parts) & story_of(state.car, state.library).new_parts:
        return ""
    stood = state.car.standing_years or 0.0
    if item.after_years_stood and stood >= item.after_years_stood:
        return f"stood {stood:g} years"
    if item.id == "fresh_fuel":
        return ""  # a car that has not stood has been filled up
    km = state.car.mileage_km
    if item.km and km is not None and km < item.km and state.car.year is None:
        return ""
    unsure = " (belt or chain? look first)" if not is_told(item.needs, state.car) else ""
    return f"not known when it was done last{unsure}"


def last_done(state: State, item: Service) -> str:
    """The moment it was done last, as told; empty where it was not.

    What each cylinder has was done when the last of them had it: one new plug is no set of plugs.
    """
    mine: dict[Place, str] = {}
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Work) and body.part == item.parts[0] and body.do in (item.do, "replaced"):
            mine.update(dict.fromkeys(body.places, entry.at))
    if not item.each:
        return max(mine.values(), default="")
    whole = mine.get(ENGINE, "")
    return min(max(mine.get(place, ""), whole) for place in state.layout.places("cylinder"))


def _why_due_again(state: State, item: Service, last: str) -> str:
    """Why it is due again, by age at the latest entry or by distance as told; empty where it is not."""
    days = (date.fromisoformat(bay_day(state.entries[-1].at)) - date.fromisoformat(bay_day(last))).days
    months, driven = max(days, 0) / DAYS_A_MONTH, km_since(state.entries, last)
    if item.months and months >= item.months:
        return f"done {months:.0f} months ago"
    return f"done {driven:.0f} km ago" if item.km and driven is not None and driven >= item.km else ""


def _not_read(state: State, item: Service) -> list[str]:
    """Names of the readings it destroys that were not taken yet, a row counting when each cylinder was read."""
    names = []
    for kind_id in item.destroys:
        kind = state.library.readings[kind_id]
        if not usually_has(kind, state.car, state.library):
            continue
        read = {
            entry.body.place
            for entry in state.entries
            if isinstance(entry.body, Reading) and entry.body.kind == kind_id and not entry.body.doubt
        }
        is_row = kind.place == "cylinder"
        whole = len(read) >= state.layout.cylinders or ENGINE in read if is_row else bool(read)
        if not whole:
            names.append(f"{kind.name}{EVERY_CYLINDER if is_row else ''}")
    return names
