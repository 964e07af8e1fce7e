"""``may``."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from knowngood.cli.show import as_json, opened, wrap

if TYPE_CHECKING:
    from knowngood.app.answer import Answer
    from knowngood.app.state import State


@click.command(epilog="Examples: knowngood may wagon; knowngood may wagon buy; knowngood may wagon start")
@click.argument("car")
@click.argument("step", required=False, default="")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def may_verb(home: Path, car: str, step: str, json_: bool) -> None:
    """May a CAR be bought (buy), connected (battery), cranked (crank), started (start), left idling (idle), moved
    (yard), driven (road)? Without a step: every stage of the job and how it stands.

    With a step it ends with exit code 1 when the answer is no.
    """
    workshop = opened(home)
    code = workshop.job(car).code
    state = workshop.state(code)
    if step:
        raise click.exceptions.Exit(0 if _show_step(state, step, json_, lambda: workshop.answer(code)) else 1)
    _show_stages(state, json_)


def _show_stages(state: State, json_: bool) -> None:
    from knowngood.app.stages import stage_words, stages_of

    if json_:
        click.echo(as_json(stages_of(state)))
        return
    for line in stage_words(state):
        click.echo(wrap(line, "     ", ""))


def _show_step(state: State, step: str, json_: bool, answer: Callable[[], Answer]) -> bool:
    """Show the looks of one step, and the price where it is buying; whether the answer is yes."""
    from knowngood.app.bench import may_of, say_of
    from knowngood.app.buying import buying_of, price_words
    from knowngood.app.stages import BUY, look_words, stage_of

    named = step if step in state.library.stages else may_of(state, step).gate.id
    gate, price = stage_of(state, named), buying_of(state, answer()) if named == BUY else None
    if json_:
        readings = state.library.readings
        looks = [
            {
                "kind": look.kind,
                "name": look.name,
                "state": look.state,
                "stop": look.stop,
                "say": say_of(readings[look.kind]),
            }
            for look in gate.looks
        ]
        said = {"gate": gate.gate.id, "state": gate.state, "looks": looks, "undone": gate.undone}
        click.echo(as_json(said if price is None else {**said, "price": price}))
    else:
        for line in price_words(price) if price is not None else ():
            click.echo(wrap(line))
        for index, line in enumerate(look_words(state, named)):
            click.echo(wrap(line, "     ", "" if index == 0 else "   - "))
    return gate.is_open and (price is None or not price.walk_away)
