"""``settings``."""

from __future__ import annotations

from pathlib import Path

import click

from knowngood.cli.show import as_json, wrap


@click.command(epilog="Examples: knowngood settings; knowngood settings compression bar; knowngood settings rate 55")
@click.argument("name", required=False, default="")
@click.argument("value", required=False, default=None)
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def settings_verb(home: Path, name: str, value: str | None, json_: bool) -> None:
    """What holds for the whole workshop; with a NAME and a VALUE, set it.

    Names: compression, pressure, temperature, gap, air flow (in quotes), currency, rate, night.
    """
    from knowngood.app.settings import settings_view
    from knowngood.app.workshop import Workshop
    from knowngood.errors import Problem, Refused
    from knowngood.library.load import load_for

    if name and value is None:
        raise Refused(
            Problem(
                f"'{name}' is to be set to nothing.", f"Type the value behind it: knowngood settings '{name}' VALUE."
            )
        )
    with Workshop(home, load_for(home)) as workshop:
        if value is not None:
            workshop.set(name, value)
        view = settings_view(workshop.settings())
    if json_:
        click.echo(as_json({one.name: one.now for one in view}))
        return
    for one in view:
        choice = f" ({', '.join(symbol for _, symbol in one.choice)})" if one.choice else ""
        click.echo(wrap(f"{one.name}: {one.now or 'none'}{choice}"))
