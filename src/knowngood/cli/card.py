"""``card``."""

from __future__ import annotations

from pathlib import Path

import click

from knowngood.cli.show import as_json, wrap


@click.command(
    epilog="Examples: knowngood card wagon owner 'the baker, 0170 555'; knowngood card wagon; "
    "knowngood card wagon --erase"
)
@click.argument("car")
@click.argument("field", required=False, default="")
@click.argument("text", required=False, default=None)
@click.option("--erase", is_flag=True, help="Erase the whole card, in the daily copies too.")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def card_verb(home: Path, car: str, field: str, text: str | None, erase: bool, json_: bool) -> None:
    """Names, plates and numbers of people, outside the journal of a CAR; with a FIELD and a TEXT, write it.

    An empty TEXT erases the field. Nothing of the card goes into a sheet, an export or a hand-over.
    """
    from knowngood.app.card import card_of, erase_everywhere, erased_words, put_on_card
    from knowngood.app.workshop import Workshop
    from knowngood.errors import Problem, Refused
    from knowngood.library.load import load_for

    if field and erase:
        way = f"Type: knowngood card {car} --erase; one field: knowngood card {car} '{field}' ''."
        raise Refused(Problem(f"--erase erases the whole card, and '{field}' was typed besides.", way))
    if field and text is None:
        way = f"Type it behind: knowngood card {car} '{field}' TEXT; an empty TEXT ('') erases the field."
        raise Refused(Problem(f"What is to stand under '{field}' was not said.", way))
    with Workshop(home, load_for(home)) as workshop:
        if erase:
            copies = erase_everywhere(workshop, car)
            click.echo(as_json({"erased_in_copies": copies}) if json_ else erased_words(copies))
            return
        if text is not None:
            put_on_card(workshop, car, field, text)
        card = card_of(workshop, car)
    if json_:
        click.echo(as_json(card))
    elif not card:
        click.echo(f"Nothing stands on the card. Write it: knowngood card {car} owner 'the baker, 0170 555'")
    else:
        for name, said in card.items():
            click.echo(wrap(f"{name}: {said}"))
