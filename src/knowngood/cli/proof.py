"""``proof``."""

from __future__ import annotations

from pathlib import Path

import click

from knowngood.cli.show import as_json, wrap
from knowngood.sheets.words import in_words


@click.command(epilog="Example: knowngood proof wagon")
@click.argument("car")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def proof_verb(home: Path, car: str, json_: bool) -> None:
    """Is each repair of a CAR proved: what was read before and after it, and what is still to be read?

    Ends with exit code 1 when one is not proved.
    """
    from knowngood.app.proof import NOTHING, PROVED, UPKEEP, proofs_of
    from knowngood.app.workshop import Workshop
    from knowngood.library.load import load_for

    with Workshop(home, load_for(home)) as workshop:
        proofs = proofs_of(workshop.state(workshop.job(car).code))
    if json_:
        click.echo(as_json(proofs))
    elif not proofs:
        click.echo("No repair was made here yet. Say it: knowngood say CAR 'replaced coil 3'")
    else:
        for proof in proofs:
            closed = proof.verdict in (NOTHING, UPKEEP)
            left = "" if closed else f" ({in_words(proof.left)} that it is not right)"
            click.echo(wrap(f"{proof.work}: {proof.verdict}{left}"))
            for words in proof.shown:
                click.echo(wrap(words, "     ", "   - "))
            for words in proof.needs:
                click.echo(wrap(f"needs: {words}", "     ", "   - "))
    raise click.exceptions.Exit(0 if all(proof.verdict in (PROVED, NOTHING, UPKEEP) for proof in proofs) else 1)
