"""``say`` and ``undo``."""

from __future__ import annotations

from pathlib import Path

import click

from knowngood.cli.show import as_json, wrap


@click.command(
    epilog="Examples: knowngood say wagon 'comp 175 180 60 175'; knowngood say wagon 'coil 5>2 miss moved'; "
    "knowngood say wagon 'new plugs all, no change'"
)
@click.argument("car")
@click.argument("line", nargs=-1, required=True)
@click.option("--at", default="", help="When it happened, if not now: 2026-05-01T09:30")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def say_verb(home: Path, car: str, line: tuple[str, ...], at: str, json_: bool) -> None:
    """Say one LINE of a CAR: what was seen, measured, done, what is open, lent out, left off."""
    from knowngood.app.workshop import Workshop, moment
    from knowngood.library.load import load

    with Workshop(home, load()) as workshop:
        said = workshop.say(workshop.job(car).code, " ".join(line), at=moment(at) if at else "")
    if json_:
        click.echo(as_json(said))
        return
    click.echo(wrap(said.echo or said.text))
    if not said.counts:
        click.echo(wrap(f"Kept as a note, does not count: {said.why}"))
    if said.ask:
        click.echo(wrap(said.ask))
    if said.warning:
        click.echo(wrap(said.warning))


@click.command(epilog="Example: knowngood undo wagon")
@click.argument("car")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def undo_verb(home: Path, car: str, json_: bool) -> None:
    """Take back the line said last; it stays in the journal, struck."""
    from knowngood.app.workshop import Workshop
    from knowngood.library.load import load

    with Workshop(home, load()) as workshop:
        words = workshop.undo(workshop.job(car).code)
    click.echo(as_json({"struck": words}) if json_ else f"Struck: {words}")
