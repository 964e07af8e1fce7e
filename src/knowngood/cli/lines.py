"""``say`` and ``undo``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from knowngood.cli.files import read_file
from knowngood.cli.show import as_json, wrap

if TYPE_CHECKING:
    from knowngood.app.workshop import Workshop


@click.command(
    epilog="Examples: knowngood say wagon 'comp 175 180 60 175'; knowngood say wagon 'coil 5>2 miss moved'; "
    "knowngood say wagon 'new plugs all, no change'; knowngood say wagon --photo hose.jpg 'hose before'"
)
@click.argument("car")
@click.argument("line", nargs=-1, required=True)
@click.option("--at", default="", help="When it happened, if not now: 2026-05-01T09:30")
@click.option("--photo", type=click.Path(path_type=Path), help="A photo; the LINE says what it shows.")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def say_verb(home: Path, car: str, line: tuple[str, ...], at: str, photo: Path | None, json_: bool) -> None:
    """Say one LINE of a CAR: what was seen, measured, done, what is open, lent out, left off."""
    from knowngood.app.workshop import Workshop, moment
    from knowngood.library.load import load_for

    words, happened = " ".join(line), moment(at) if at else ""
    with Workshop(home, load_for(home)) as workshop:
        if photo is not None:
            told = _keep_photo(workshop, workshop.job(car).code, photo, words, happened)
            click.echo(as_json({"photo": told}) if json_ else told)
            return
        said = workshop.say(workshop.job(car).code, words, at=happened)
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


def _keep_photo(workshop: Workshop, code: str, photo: Path, words: str, at: str) -> str:
    from knowngood.app.photo import photo_line

    return photo_line(workshop, code, read_file(photo), words, at=at).words


@click.command(epilog="Examples: knowngood undo wagon; knowngood undo wagon 12")
@click.argument("car")
@click.argument("number", type=int, required=False)
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def undo_verb(home: Path, car: str, number: int | None, json_: bool) -> None:
    """Take back the line said last, or the one of a NUMBER as 'journal' has it; it stays in the journal, struck."""
    from knowngood.app.journal_view import line_of
    from knowngood.app.workshop import Workshop
    from knowngood.library.load import load_for

    with Workshop(home, load_for(home)) as workshop:
        code = workshop.job(car).code
        of = "" if number is None else line_of(workshop.entries(code), workshop.state(code).layout, number).entry
        words = workshop.undo(code, of=of)
    click.echo(as_json({"struck": words}) if json_ else wrap(f"Struck: {words}"))


@click.command(epilog="Example: knowngood journal wagon")
@click.argument("car")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def journal_verb(home: Path, car: str, json_: bool) -> None:
    """The lines said of a CAR that stand, with the numbers by which 'suspects' and 'why' name them."""
    from knowngood.app.journal_view import journal_of
    from knowngood.app.workshop import Workshop
    from knowngood.library.load import load_for

    with Workshop(home, load_for(home)) as workshop:
        code = workshop.job(car).code
        lines = journal_of(workshop.entries(code), workshop.state(code).layout)[::-1]
    if json_:
        click.echo(as_json(lines))
        return
    for line in lines:
        note = "" if line.counts else " (a note, does not count)"
        click.echo(wrap(f"{line.number:3}  {line.at}  {line.text}{note}", " " * 5, ""))
