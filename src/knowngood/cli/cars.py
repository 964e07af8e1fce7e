"""``new`` and ``cars``."""

from __future__ import annotations

from pathlib import Path

import click

from knowngood.cli.show import as_json, wrap


@click.command(epilog="Examples: knowngood new wagon; knowngood new 'old six' '6 cylinders inline, coil on plug'")
@click.argument("nickname")
@click.argument("lines", nargs=-1)
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def new_verb(home: Path, nickname: str, lines: tuple[str, ...], json_: bool) -> None:
    """Begin a car under a NICKNAME, with any lines that are known of it."""
    from knowngood.app.workshop import Workshop
    from knowngood.library.load import load_for

    with Workshop(home, load_for(home)) as workshop:
        job = workshop.new(nickname)
        said = [workshop.say(job.code, line) for line in lines]
        if json_:
            click.echo(as_json({"code": job.code, "nickname": job.nickname, "said": said}))
            return
        click.echo(wrap(f"{job.nickname} is {job.code}."))
        for line in said:
            click.echo(wrap(line.echo or line.why, "    ", "  "))
        if not lines:
            click.echo("First: petrol only? What was done last, and by whom? Which parts are new?")


@click.command(epilog="Example: knowngood cars --json")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def cars_verb(home: Path, json_: bool) -> None:
    """The cars in this workshop, each with what it waits for."""
    from knowngood.app.workshop import Workshop
    from knowngood.library.load import load_for

    with Workshop(home, load_for(home)) as workshop:
        jobs = workshop.jobs()
        waits = {job.code: workshop.waits_for(job.code) for job in jobs}
    if json_:
        click.echo(
            as_json([{"code": job.code, "nickname": job.nickname, "waits_for": waits[job.code]} for job in jobs])
        )
        return
    if not jobs:
        click.echo("No car yet. Begin one: knowngood new NICKNAME")
    for job in jobs:
        click.echo(wrap(f"{job.code}  {job.nickname}  {waits[job.code]}", " " * 6, ""))
