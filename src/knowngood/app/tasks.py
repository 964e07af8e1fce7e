"""What could be repaired and what could be checked now, priced for the planner."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from knowngood.app.answered import answered
from knowngood.app.killed import killers_of, may_have_killed
from knowngood.app.knowledge import telling_readings
from knowngood.app.may_break import risk_of
from knowngood.app.planned import Planned
from knowngood.app.possible import (
    fuel_smelt,
    impossible_now,
    looks_for_fuel,
    must_not_run,
    only_after_a_drive,
    only_says_it_turns,
    only_says_which,
    without_power,
)
from knowngood.app.seats import Seats
from knowngood.app.state import State
from knowngood.app.taken_back import comes_back
from knowngood.app.verbs import work_asked
from knowngood.app.waiting import A_DAY, days_until, engine_for, engine_now
from knowngood.belief.protocol import Ask, FaultAt
from knowngood.car import ENGINE, Place
from knowngood.evidence import Reading
from knowngood.library.access_on import access_on
from knowngood.library.fitted_on import may_have, usually_has
from knowngood.library.healthy import healthy_word
from knowngood.library.reach import good_level
from knowngood.library.records import Check, Cure, Fault, Part
from knowngood.planner.problem import (
    AccessGraph,
    AccessTime,
    CheckAt,
    Problem,
    Repair,
    put_right,
    swapped,
)

WORTH_A_REPAIR = 0.004  # a suspect under this is not planned for; it stays in the list of suspects
# A check must tell of a suspect that is at least this likely behind a finding, in all and against the leading one.
WORTH_A_CHECK, WORTH_A_CHECK_SHARE = 0.02, 0.06
WORTH_A_TRY = 0.8  # share of the surest cure's price for each time it works, under which a cheaper one is planned, too
REPLACING = "replaced"
ROAD_TEST_SEES = 0.95  # chance that a road test shows a complaint that is there; from memory
SWAP_WORTH = 2.0  # times as suspected as the least suspected like part: under it a swap tells little (ours)


def access_graph(state: State) -> AccessGraph:
    """The access steps this engine has, with the minutes and the order of its layout."""
    rate = state.settings.rate_per_hour
    steps = {
        step.id: AccessTime(
            step.open_minutes,
            step.close_minutes,
            tuple(a for a in step.after if _has(state, a)),
            risk=risk_of(step, rate),
        )
        for step in access_on(state.library, state.car).values()
        if _has(state, step.id)
    }
    return AccessGraph(steps, frozenset(state.open_access & set(steps)))


def _has(state: State, step: str) -> bool:
    record = state.library.access.get(step)
    return record is not None and usually_has(record, state.car, state.library)


def _access(state: State, steps: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(step for step in steps if _has(state, step))


def _part_money(state: State, part: str, do: str, count: int = 1) -> tuple[float, float]:
    """Price and wait of so many of a part; nothing for those on the shelf, or where none is needed."""
    if do != REPLACING:
        return 0.0, 0.0
    on_shelf, record = state.stock.get(part), state.library.parts.get(part)
    here, days = (on_shelf.count, on_shelf.wait_days) if on_shelf is not None and on_shelf.count > 0 else (0, 0.0)
    if here >= count or record is None:
        return 0.0, days
    return (count - here) * record.price, max(days, record.wait_days)


def best_cure(cures: Sequence[Cure]) -> Cure:
    """The cure that is planned: the surest, then the quickest."""
    return min(cures, key=lambda cure: (-cure.works, cure.minutes))


def cures_planned(state: State, fault: Fault, cures: Sequence[Cure], graph: AccessGraph) -> tuple[Cure, ...]:
    """The surest cure, and before it one that is so much cheaper that it is worth a try: cleaned before replaced."""
    sure = best_cure(cures)
    if len(cures) == 1:
        return (sure,)

    def tries(cure: Cure) -> float:
        """Money for each time it works, in parts and minutes with what comes off."""
        access = _access(state, cure.access)
        minutes = cure.minutes + graph.open_minutes(access) + graph.close_minutes(access)
        money, _ = _part_money(state, cure.part or fault.part, cure.do)
        hands = minutes * state.settings.rate_per_hour / 60.0 + graph.risk(access)
        return (hands + money) / max(cure.works, 0.01)

    cheap = min(cures, key=lambda cure: (tries(cure), -cure.works))
    return (sure, cheap) if tries(cheap) < WORTH_A_TRY * tries(sure) else (sure,)


def _cures_now(state: State, at: FaultAt) -> tuple[Cure, ...]:
    """The cures of a fault, as often as each works now: one that was made before seldom works."""
    fault, timeline = state.library.faults[at.fault], state.belief.model.timeline
    if not timeline.tried:
        return fault.cures
    now = state.belief.instance_now(at)
    shares = [timeline.share_left(cure.do, cure.part or fault.part, now) for cure in fault.cures]
    return tuple(
        msgspec.structs.replace(cure, works=cure.works * share) for cure, share in zip(fault.cures, shares, strict=True)
    )


def repairs_of(state: State, least: float = WORTH_A_REPAIR, *, cheaper_too: bool = False) -> tuple[Repair, ...]:
    """Repairs of every suspect worth planning for, ``least`` likely; one repair covers every fault it ends.

    The surest of each; ``cheaper_too``: also one that is worth a try before it. One that was tried is not as sure.
    """
    chances, graph = state.belief.chances(), access_graph(state)
    seats = Seats(state.library, state.layout)
    planned: dict[tuple[str, tuple[Cure, ...]], tuple[Cure, ...]] = {}
    groups: dict[tuple[str, str, Place], list[tuple[FaultAt, Cure]]] = {}
    wanted: dict[tuple[str, str, Place], float] = {}
    for at, chance in zip(state.belief.faults, chances, strict=True):
        fault = state.library.faults[at.fault]
        if not fault.cures:
            continue
        cures = _cures_now(state, at)
        for cure in cures:
            part = cure.part or fault.part
            for seat in seats.covering(part, at.place):
                groups.setdefault((cure.do, part, seat), []).append((at, cure))
        if (at.fault, cures) not in planned:
            some = cures_planned(state, fault, cures, graph) if cheaper_too else (best_cure(cures),)
            planned[at.fault, cures] = some
        for cure in planned[at.fault, cures]:
            part = cure.part or fault.part
            key = (cure.do, part, seats.of(part, at.place))
            wanted[key] = wanted.get(key, 0.0) + float(chance)
    return tuple(_repair(state, seats, key, groups[key]) for key, chance in wanted.items() if chance >= least)


def _repair(state: State, seats: Seats, key: tuple[str, str, Place], members: Sequence[tuple[FaultAt, Cure]]) -> Repair:
    """Work on a part at a place, for every fault that it puts right; its minutes are those of the longest."""
    do, part, place = key
    every = [cure for at, cure in members if seats.of(part, at.place) == place]
    all_of = seats.all_of(part, place)
    money, wait = _part_money(state, part, do, max(len(all_of), 1))
    minutes = max(cure.minutes for cure in every)
    return Repair(
        id=f"{do} {part} {place}",
        name=f"{work_asked(state.library, do, part)}{f', all {len(all_of)}' if all_of else _at(place)}",
        fixes=tuple(at for at, _ in members),
        minutes=minutes,
        money=money,
        refund=comes_back(state, part, money, minutes),
        do=do,
        part=part,
        place=place,
        all_of=all_of,
        works=max(cure.works for cure in every),
        access=_access(state, tuple(dict.fromkeys(step for cure in every for step in cure.access))),
        wait_days=wait,
        killed_by=may_have_killed(state, [at for at, _ in members]) if do == REPLACING else (),
    )


def _at(place: Place) -> str:
    if place == ENGINE:
        return ""
    return f" of {place}" if place.kind == "cylinder" else f", {place}"


def _places(state: State, kind: str) -> list[Place]:
    return state.belief.model.acting.ladder_places(kind)


def checks_of(state: State) -> tuple[CheckAt, ...]:
    """Every check that could be made now, place by place and as rows, without those already answered.

    Without those that need the engine running, where it was said that it will not, or where it must not, and those that
    need a battery that is flat; without those that would say once more which cylinder it is, or that a running engine
    turns, and those of a car that was driven far. While fuel is smelt there is none but the look where it comes from.
    """
    done = answered(state)
    least = max(WORTH_A_CHECK, WORTH_A_CHECK_SHARE * float(state.behind.max(initial=0.0)))
    leading = {at.fault for at, chance in zip(state.belief.faults, state.behind, strict=True) if chance >= least}
    telling = telling_readings(state.library, leading | killers_of(state.library, leading))
    out = impossible_now(state) | must_not_run(state) | without_power(state)
    known = only_says_which(state) | only_says_it_turns(state) | only_after_a_drive(state.library)
    result: list[CheckAt] = []
    last = read_last(state)
    for check in state.library.checks.values():
        if telling & set(check.reads) - known and check.engine not in out:
            result += check_places(state, check, done, at_it=last in check.reads)
    if not out:
        result += _swaps(state)
    looks = [check for check in result if looks_for_fuel(check)] if fuel_smelt(state) else []
    return tuple(looks or result)


def read_last(state: State) -> str:
    """The kind of reading that was the last thing to be done here; empty where that was something else."""
    body = state.entries[-1].body if state.entries else None
    return body.kind if isinstance(body, Reading) and body.who == Reading(kind="").who else ""


def check_places(
    state: State, check: Check, done: frozenset[tuple[str, Place]] = frozenset(), *, at_it: bool = False
) -> Iterator[CheckAt]:
    """A check place by place and as a row, where this car can have it, without what is answered.

    Whoever is ``at_it``, one place read and the next at hand, goes on for the minutes of a further place of a row.
    """
    if not may_have(check, state.car, state.library):
        return
    missing = tuple(tool for tool in check.tools if not state.has_tool(tool))
    lent = [state.tools[tool] for tool in missing if tool in state.tools and state.tools[tool].state == "lent"]
    away = {tool.name for tool in lent}
    price = sum(state.library.tools[tool].price for tool in missing if tool in state.library.tools and tool not in away)
    kinds = [state.library.readings[name] for name in check.reads if name in state.library.readings]
    if not kinds:
        return
    place_kind = kinds[0].place
    common = {
        "money": check.money,
        "kind": "look" if not check.tools else "measure",
        "access": _access(state, check.access),
        "tools_missing": missing,
        "tool_price": price,
        "wait_days": max(map(days_until, lent), default=0.0),
        "engine": engine_for(kinds),
        "cautions": check.cautions,
        "usual": {kind.id: healthy_word(state.library, kind) or str(good_level(state.library, kind)) for kind in kinds},
    }
    places = _places(state, place_kind)
    here = [kind.id for kind in kinds if kind.place == place_kind]
    wanted = {place: tuple(Ask(kind, place) for kind in here if (kind, place) not in done) for place in places}
    left = {place: asks for place, asks in wanted.items() if asks}
    begin = check.each_minutes if at_it and check.row and check.each_minutes else check.minutes
    for place, asks in left.items():
        yield CheckAt(
            id=check.id,
            name=check.name,
            asks=asks,
            minutes=begin,
            place=place,
            **common,  # type: ignore[arg-type]
        )
    if check.row and len(left) > 1:
        yield CheckAt(
            id=check.id,
            name=f"{check.name}, the row",
            asks=tuple(ask for asks in left.values() for ask in asks),
            minutes=begin + check.each_minutes * (len(left) - 1),
            place=ENGINE,
            **common,  # type: ignore[arg-type]
        )


def _swaps(state: State) -> list[CheckAt]:
    """Changing places with the least suspected like part, and fitting a spare from the shelf."""
    if "miss" not in state.library.readings:
        return []
    result: list[CheckAt] = []
    for part in state.library.parts.values():
        if part.swaps and may_have(part, state.car, state.library):
            result += _swaps_of(state, part)
    return result


def _swaps_of(state: State, part: Part) -> Iterator[CheckAt]:
    """The swap of one kind of part, where one place is suspected at least twice as much as another."""
    chances, column = state.belief.chances(), state.belief.model.column
    faults = [
        at
        for at in state.belief.faults
        if state.library.faults[at.fault].part == part.id and at.place.kind == "cylinder"
    ]
    by_place: dict[Place, float] = {}
    for at in faults:
        by_place[at.place] = by_place.get(at.place, 0.0) + float(chances[column[at]])
    ranked = sorted(by_place, key=lambda place: -by_place[place])
    if len(ranked) < 2 or by_place[ranked[0]] < SWAP_WORTH * by_place[ranked[-1]]:
        return
    suspect, healthy = ranked[0], ranked[-1]
    here = tuple(at for at in faults if at.place == suspect)
    here, there = _both_have(state, here, tuple(FaultAt(at.fault, healthy) for at in here))
    asks = (Ask("miss", suspect), Ask("miss", healthy))
    access = _access(state, part.access)
    yield CheckAt(
        id=f"swap_{part.id}",
        name=f"swap {part.name} of {suspect} with {healthy}",
        asks=asks,
        minutes=part.swap_minutes,
        kind="swap",
        place=suspect,
        access=access,
        after=swapped(state.belief.faults, here, there),
    )
    shelf = state.stock.get(part.id)
    if shelf is not None and shelf.count > 0 and shelf.wait_days == 0:
        yield CheckAt(
            id=f"spare_{part.id}",
            name=f"try a known-good {part.name} at {suspect}",
            asks=asks[:1],
            minutes=part.swap_minutes,
            kind="spare",
            place=suspect,
            access=access,
            after=put_right(state.belief.faults, here),
        )


def _both_have(
    state: State, here: tuple[FaultAt, ...], there: tuple[FaultAt, ...]
) -> tuple[tuple[FaultAt, ...], tuple[FaultAt, ...]]:
    """The faults that can be at both places."""
    column = state.belief.model.column
    pairs = [(a, b) for a, b in zip(here, there, strict=True) if a in column and b in column]
    return tuple(a for a, _ in pairs), tuple(b for _, b in pairs)


def problem_of(state: State) -> Problem:
    """Everything the planner needs to know of this car now."""
    must = frozenset(
        at for at, chance in zip(state.belief.faults, state.behind, strict=True) if chance >= WORTH_A_REPAIR
    )
    return Problem(
        belief=Planned(state),
        repairs=repairs_of(state, cheaper_too=True),
        checks=checks_of(state),
        access=access_graph(state),
        must=must,
        rate_per_hour=state.settings.rate_per_hour,
        money_per_day=A_DAY,
        may_prove=not must_not_run(state),
        proof_sees=ROAD_TEST_SEES,
        engine_now=engine_now(state.entries),
    )
