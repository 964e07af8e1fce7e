"""Sheets that say how things stand: what is left, what it has cost, and the record that goes with the car."""

from __future__ import annotations

from knowngood.app.answer import Answer
from knowngood.app.bench import looks_of, work_of
from knowngood.app.caution_sources import caution_sources
from knowngood.app.clock import clock_words
from knowngood.app.money import money_of, money_words, part_words
from knowngood.app.next_visit import next_visit
from knowngood.app.odometer import readings_km
from knowngood.app.photo import for_print
from knowngood.app.photo_pairs import Photos, no_photos, pairs_of
from knowngood.app.pieces import CLEARED
from knowngood.app.service import base_service, service_words
from knowngood.app.sheets_bay import plan_of
from knowngood.app.stages import stage_of
from knowngood.app.state import State
from knowngood.app.story import came_in_with
from knowngood.app.story_view import chapters_of
from knowngood.app.strips import change_blocks, row_strips
from knowngood.app.time_line import histories
from knowngood.app.todo import PROVE, todo_of
from knowngood.planner.gates import NOT_LOOKED
from knowngood.planner.remains import Remaining, grouped
from knowngood.sheets.photo_pair import photo_pair
from knowngood.sheets.sheet import Block, Items, Picture, Sheet, Signature, Table, Words
from knowngood.sheets.words import minutes, money

SAID_ONLY = ("not in it, ", "caution: ", "when it is done ")
NOT_A_TEST = (
    "This record says what was looked at, measured and done, and nothing of what was not. It is no roadworthiness or "
    "emission test; those are made by who is licensed for them."
)


def todo_sheet(state: State, date: str) -> Sheet:
    """What is left: danger, harm from driving, the cost of waiting, comfort; with minutes and money."""
    things = todo_of(state)
    blocks: list[Block] = []
    for heading, group in grouped(things):
        blocks.append(Items(heading, tuple(_remaining(thing) for thing in group), boxes=True))
    if not blocks:
        blocks = [Words("Nothing is known to be left.")]
    service = service_words(base_service(state), state.settings.rate_per_hour)
    if service:
        said = tuple(words for words in service[1:] if words.startswith(SAID_ONLY))
        blocks.append(Items(service[0], tuple(words for words in service[1:] if words not in said), boxes=True))
        blocks += [Words(f"{words[:1].upper()}{words[1:]}", small=True) for words in said]
        sources = caution_sources(state.library, base_service(state).cautions)
        blocks += [Words(sources, small=True)] if sources else []
    total = sum(thing.minutes * thing.chance for thing in things), sum(thing.money * thing.chance for thing in things)
    if things:
        blocks.append(
            Words(
                f"Hands and parts for these repairs, each by its chance: {minutes(total[0])} and {money(total[1])}. "
                "What comes off, looking and the base service are not in it."
            )
        )
    return Sheet(title="Still to do", car=state.name, date=date, blocks=tuple(blocks), foot=_unlooked(state))


def cost_sheet(state: State, answer: Answer, date: str) -> Sheet:
    """Minutes and money by piece of work, and what the plan expects to the end."""
    sheet = work_of(state)
    rows = tuple(
        (
            line.at[:10],
            line.what,
            minutes(line.minutes) if line.minutes else "",
            money(line.price) if line.price else "",
        )
        for line in sheet.done
    )
    blocks: list[Block] = [Table("Work", ("day", "work", "time", "parts"), rows)] if rows else [Words("No work yet.")]
    clocked = tuple(clock_words(session) for session in sheet.sessions)
    if clocked:
        blocks.append(Items("By the clock", clocked))
    told = money_of(state, answer)
    bought = tuple((one.at, part_words(one)) for one in told.parts)
    if bought:
        blocks.append(Table("Parts and tools", ("day", "what"), bought))
    blocks.append(Words(f"Time so far: {minutes(sheet.minutes) if sheet.minutes else 'none noted'}."))
    timed = {index for session in sheet.sessions for index in session.works}
    by_hand = [line for line in sheet.done if not line.what.startswith(CLEARED)]
    untold = sum(line.minutes is None and line.index not in timed for line in by_hand)
    if untold:
        blocks.append(
            Words(f"{untold} of {len(by_hand)} pieces of work have no time noted; they are not in the sum.", small=True)
        )
    blocks += [Words(words) for words in money_words(told, state.car.price_paid)]
    return Sheet(title="Cost", car=state.name, date=date, blocks=tuple(blocks))


def record_sheet(state: State, answer: Answer, date: str, photos: Photos = no_photos) -> Sheet:
    """The hand-over record: came in with, was, done, shown by; what is left; what was not inspected; signatures."""
    blocks: list[Block] = [
        Words(_car_words(state)),
        Items("Came in with", tuple(came_in_with(state)) or ("nothing said",)),
    ]
    right, in_vain = chapters_of(state)
    if right:
        blocks.append(Items("What was put right", tuple(right)))
    if in_vain:
        blocks.append(Items("Done, and changed nothing", tuple(in_vain)))
    blocks += [*_photo_pairs(state, photos), *row_strips(state), *change_blocks(state)]
    left = tuple(_remaining(thing) for thing in todo_of(state) if not thing.what.startswith(PROVE))  # told above
    blocks.append(Items("Still to do", left or ("nothing is known to be left",)))
    visit = tuple(next_visit(state))
    if visit:
        blocks.append(Items("Next visit", visit))
    history = tuple((one.name, ", ".join(f"{day}: {said}" for day, said in one.points)) for one in histories(state))
    if history:
        blocks.append(Table("Read over time", ("what", "when"), history))
    blocks.append(Items("Not inspected", tuple(_not_inspected(state)) or ("every look of every stage was made",)))
    sheet = work_of(state)
    blocks.append(
        Words(
            f"Work {minutes(sheet.minutes) if sheet.minutes else 'not timed'}, "
            f"parts and tools {money(money_of(state, answer).spent)}."
        )
    )
    blocks.append(plan_of(state))
    blocks.append(Signature(("handed over by", "taken over by")))
    return Sheet(title="Hand-over record", car=state.name, date=date, blocks=tuple(blocks), foot=NOT_A_TEST)


def _photo_pairs(state: State, photos: Photos) -> list[Block]:
    """Photos of before and after each piece of work; in words alone where no picture is at hand."""
    blocks: list[Block] = []
    for pair in pairs_of(state):
        shots = [(side, one) for side, one in (("before", pair.before), ("after", pair.after)) if one is not None]
        said = tuple(f"{side}, {one.day}: {one.words} ({one.name})" for side, one in shots)
        printed = [(f"{side}, {one.day}: {one.words}", for_print(photos(one.name))) for side, one in shots]
        pictures = [(words, jpeg) for words, jpeg in printed if jpeg is not None]
        head = f"Photos: {pair.work}"
        blocks.append(Picture(head, photo_pair(pictures), said) if pictures else Items(head, said))
    return blocks


def _remaining(thing: Remaining) -> str:
    price = f", {money(thing.money)}" if thing.money else ""
    cost = f" ({minutes(thing.minutes)}{price})" if thing.minutes else ""
    until = f". Until then: {thing.until}" if thing.until else ""
    return f"{thing.what}: {thing.why}{cost}{until}"


def _car_words(state: State) -> str:
    car, layout = state.car, state.layout
    known = [
        car.drive,
        f"{layout.cylinders} cylinders {layout.form}",
        car.ignition,
        f"{car.injection} injection" if car.injection else "",
        car.air_meter,
        _km_words(state),
        f"built about {car.year}" if car.year else "",
        f"stood {car.standing_years:g} years" if car.standing_years else "",
    ]
    return ", ".join(part for part in known if part) + "."


def _km_words(state: State) -> str:
    """``187000 km``; with what it was when it came where it has been driven since."""
    told = readings_km(state.entries)
    if not told:
        return ""
    first, last = told[0][1], told[-1][1]
    return f"{first:.0f} km when it came, {last:.0f} km now" if last > first else f"{last:.0f} km"


def _not_inspected(state: State) -> list[str]:
    stages = [stage_of(state, stage) for stage in state.library.stages]
    names = [look.name for stage in stages for look in stage.looks if look.state == NOT_LOOKED]
    return list(dict.fromkeys(names))


def _unlooked(state: State) -> str:
    count, made = len(_not_inspected(state)), len({look.kind for look in looks_of(state)})
    return (
        f"{made} kinds of look were made; {count} that the stages ask for were not: see the hand-over record."
        if count
        else ""
    )
