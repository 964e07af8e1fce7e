"""``work`` and ``todo``."""

from __future__ import annotations

from pathlib import Path

import click
import msgspec

from knowngood.cli.show import as_json, opened, wrap
from knowngood.sheets.words import minutes, money


@click.command(epilog="Examples: knowngood work wagon; knowngood work wagon --story")
@click.argument("car")
@click.option("--story", is_flag=True, help="Fault by fault, day by day, how readings moved, the next visit.")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def work_verb(home: Path, car: str, story: bool, json_: bool) -> None:
    """What was done to a CAR, what is apart, what was left undone, minutes and money so far."""
    if story:
        _story(home, car, json_)
        return
    from knowngood.app.bench import work_of
    from knowngood.app.clock import clock_words
    from knowngood.app.money import money_of, money_words, part_words

    workshop = opened(home)
    code = workshop.job(car).code
    state = workshop.state(code)
    sheet, told = work_of(state), money_of(state, workshop.answer(code))
    if json_:
        click.echo(as_json({**msgspec.structs.asdict(sheet), "costs": told}))
        return
    for line in sheet.done:
        click.echo(
            wrap(f"{line.at.replace('T', ' ')}  {line.what}{f': {line.effect}' if line.effect else ''}", " " * 18, "")
        )
    if not sheet.done:
        click.echo("Nothing was done yet. Say it: knowngood say CAR 'new plugs all, no change'")
    for name in sheet.apart:
        click.echo(wrap(f"apart: {name}"))
    for words in sheet.undone:
        click.echo(wrap(f"left undone: {words}"))
    for part in told.parts:
        click.echo(wrap(part_words(part)))
    for session in sheet.sessions:
        click.echo(f"by the clock: {clock_words(session)}")
    if sheet.minutes:
        click.echo(f"So far {minutes(sheet.minutes)}, as far as it was noted.")
    for words in money_words(told, state.car.price_paid):
        click.echo(wrap(words))


def _story(home: Path, car: str, json_: bool) -> None:
    from knowngood.app.story_view import story_view

    workshop = opened(home)
    told = story_view(workshop.state(workshop.job(car).code))
    if json_:
        click.echo(
            as_json(
                {
                    "faults": told.faults,
                    "in_vain": told.in_vain,
                    "days": [{"day": day, "said": said} for day, said in told.days],
                    "lines": told.moments,
                    "readings": told.readings,
                    "next_visit": told.next_visit,
                }
            )
        )
        return
    for words in (*told.faults, *told.in_vain):
        click.echo(wrap(words, "   ", ""))
    for day, words in told.days:
        click.echo(wrap(f"{day}  {words}", " " * 12, ""))
    for one in told.readings:
        click.echo(wrap(f"{one.name}: {', '.join(f'{day} {said}' for day, said in one.points)}", "   ", ""))
    if told.next_visit:
        click.echo("Next visit")
    for words in told.next_visit:
        click.echo(wrap(words, "     ", "   - "))


@click.command(epilog="Examples: knowngood todo wagon; knowngood todo wagon --order --with 'compression row'")
@click.argument("car")
@click.option("--order", is_flag=True, help="What is decided, in the order with the fewest minutes.")
@click.option(
    "--with", "checks", multiple=True, metavar="CHECK", help="The same order with a CHECK made in the same go."
)
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def todo_verb(home: Path, car: str, order: bool, checks: tuple[str, ...], json_: bool) -> None:
    """What is left on a CAR: what must not wait first, then what gets worse by driving, what costs more
    by waiting, then comfort; with what is not done to it until a danger is put right.
    """
    if order or checks:
        _order(home, car, checks, json_)
        return
    from knowngood.app.todo import todo_of
    from knowngood.planner.remains import grouped

    workshop = opened(home)
    things = todo_of(workshop.state(workshop.job(car).code))
    if json_:
        click.echo(
            as_json(
                [
                    {
                        "what": thing.what,
                        "why": thing.why,
                        "urgency": thing.urgency,
                        "reason": thing.reason,
                        "chance": thing.chance,
                        "minutes": thing.minutes,
                        "money": thing.money,
                        "until": thing.until,
                    }
                    for thing in things
                ]
            )
        )
        return
    if not things:
        click.echo("Nothing is known to be left.")
    for heading, group in grouped(things):
        click.echo(wrap(heading))
        for thing in group:
            price = f", {money(thing.money)}" if thing.money else ""
            cost = f" ({minutes(thing.minutes)}{price})" if thing.minutes else ""
            click.echo(wrap(f"{thing.what}: {thing.why}{cost}", "     ", "   - "))
            if thing.until:
                click.echo(wrap(f"until then: {thing.until}", "     "))


def _order(home: Path, car: str, checks: tuple[str, ...], json_: bool) -> None:
    from knowngood.app.repair_order import order_words, repair_order
    from knowngood.app.service import base_service, service_words

    workshop = opened(home)
    state = workshop.state(workshop.job(car).code)
    plan, service = repair_order(state, checks=checks), base_service(state)
    if json_:
        click.echo(as_json({**msgspec.structs.asdict(plan), "base_service": service}))
        return
    told = order_words(plan)
    if not told.steps:
        click.echo("No repair is more likely needed than not; `knowngood next CAR` says what to look at.")
    for number, line in enumerate(told.steps, start=1):
        click.echo(wrap(line, "    ", f"{number:>2}. "))
    for words in told.words:
        click.echo(wrap(words, "   ", ""))
    for index, words in enumerate(service_words(service, state.settings.rate_per_hour)):
        click.echo(wrap(words, "     ", "   - " if index else ""))
