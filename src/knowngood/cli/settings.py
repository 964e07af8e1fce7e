"""``settings``."""

from __future__ import annotations

from pathlib import Path

import click

from knowngood.cli.show import as_json, wrap


@click.command(
    epilog="Examples: knowngood settings; knowngood settings rate; knowngood settings rate 55; "
    "knowngood settings compression bar"
)
@click.argument("name", required=False, default="")
@click.argument("value", required=False, default=None)
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def settings_verb(home: Path, name: str, value: str | None, json_: bool) -> None:
    """What holds for the whole workshop; with a NAME that alone, with a VALUE behind it, set it.

    Names: compression, pressure, temperature, gap, air flow (in quotes), currency, rate, night.
    """
    from knowngood.app.settings import setting_named, settings_view
    from knowngood.app.workshop import Workshop
    from knowngood.library.load import load_for

    alone = setting_named(name) if name and value is None else ""
    with Workshop(home, load_for(home)) as workshop:
        if value is not None:
            workshop.set(name, value)
        view = [one for one in settings_view(workshop.settings()) if not alone or one.name == alone]
    if json_:
        click.echo(as_json({one.name: one.now for one in view}))
        return
    for one in view:
        choice = f" ({', '.join(symbol for _, symbol in one.choice)})" if one.choice else ""
        click.echo(wrap(f"{one.name}: {one.now or 'none'}{choice}"))
