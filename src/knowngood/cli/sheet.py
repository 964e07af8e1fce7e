"""``sheet``."""

from __future__ import annotations

from pathlib import Path

import click

from knowngood.cli.files import write_file

FORMS = {".pdf": "PDF", ".html": "HTML", ".txt": "plain text"}


@click.command(epilog="Examples: knowngood sheet wagon row; knowngood sheet wagon record --to record.pdf")
@click.argument("car")
@click.argument("name", metavar="SHEET")
@click.option("--to", type=click.Path(dir_okay=False, path_type=Path), help="Write a .pdf, .html or .txt file.")
@click.option("--json", "json_", is_flag=True, help="As JSON.")
@click.pass_obj
def sheet_verb(home: Path, car: str, name: str, to: Path | None, json_: bool) -> None:
    """A page to print for a CAR: buy, arrival, row, next, closing, road, todo, record, cost.

    Without --to it is shown here as text. What is written on paper is typed back as lines.
    """
    from knowngood.app.bay_time import today_of
    from knowngood.app.photo import photos_in
    from knowngood.app.sheets import sheet_of
    from knowngood.app.workshop import Workshop
    from knowngood.cli.show import as_json
    from knowngood.errors import Problem, Refused
    from knowngood.library.load import load_for
    from knowngood.sheets.as_text import as_text

    if to is not None and to.suffix not in FORMS:
        raise Refused(Problem(f"{to.name} says no form that can be printed.", f"End it in {', '.join(FORMS)}."))
    with Workshop(home, load_for(home)) as workshop:
        code = workshop.job(car).code
        photos, day = photos_in(home), today_of(workshop.now()).isoformat()
        sheet = sheet_of(name, workshop.state(code), workshop.answer(code), day, photos)
    if json_:
        click.echo(as_json(sheet))
    elif to is None:
        click.echo(as_text(sheet), nl=False)
    else:
        _write(to, sheet)
        click.echo(f"{sheet.title} written to {to}.")


def _write(to: Path, sheet: object) -> None:
    from knowngood.sheets.as_html import as_html
    from knowngood.sheets.as_pdf import as_pdf
    from knowngood.sheets.as_text import as_text
    from knowngood.sheets.sheet import Sheet

    assert isinstance(sheet, Sheet)
    made = {".pdf": as_pdf, ".html": lambda page: as_html(page).encode(), ".txt": lambda page: as_text(page).encode()}
    write_file(to, made[to.suffix](sheet))
