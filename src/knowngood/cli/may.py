"""``may``."""

from __future__ import annotations

from pathlib import Path

import click

from knowngood.cli.show import as_json, opened, wrap


@click.command(epilog="Examples: knowngood may wagon; knowngood may wagon buy; knowngood may wagon start")
@click.argument("car")
@click.argument("step", required=False, default="")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def may_verb(home: Path, car: str, step: str, json_: bool) -> None:
    """May a CAR be bought (buy), connected (battery), cranked (crank), started (start), left idling (idle), moved
    (yard), driven (road)? Without a step: every stage of the job and how it stands.

    Ends with exit code 1 when the answer is no.
    """
    workshop = opened(home)
    state = workshop.state(workshop.job(car).code)
    if not step:
        from knowngood.app.stages import stage_words, stages_of

        if json_:
            click.echo(as_json(stages_of(state)))
            return
        for line in stage_words(state):
            click.echo(wrap(line, "     ", ""))
        return
    from knowngood.app.stages import BUY, look_words, stage_of

    named = step if step in state.library.stages else ""
    if not named:
        from knowngood.app.bench import may_of

        named = may_of(state, step).gate.id
    gate = stage_of(state, named)
    told = None
    if named == BUY:
        from knowngood.app.buying import buying_of, price_words

        told = buying_of(state)
    if json_:
        from knowngood.app.bench import say_of

        looks = [
            {
                "kind": look.kind,
                "name": look.name,
                "state": look.state,
                "stop": look.stop,
                "say": say_of(state.library.readings[look.kind]),
            }
            for look in gate.looks
        ]
        said = {"gate": gate.gate.id, "state": gate.state, "looks": looks, "undone": gate.undone}
        click.echo(as_json(said if told is None else {**said, "price": told}))
    else:
        for line in price_words(told) if told is not None else ():
            click.echo(wrap(line))
        for index, line in enumerate(look_words(state, named)):
            click.echo(wrap(line, "     ", "" if index == 0 else "   - "))
    raise click.exceptions.Exit(0 if gate.is_open and (told is None or not told.walk_away) else 1)
