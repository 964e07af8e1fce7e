"""``weigh``."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from knowngood.cli.files import read_file
from knowngood.cli.show import answer_lines, as_json, echo_lines
from knowngood.errors import Problem, Refused


@click.command(
    epilog="Examples: knowngood weigh notes.txt; knowngood weigh --json notes.txt; cat notes.txt | knowngood weigh -"
)
@click.argument("file", type=click.Path(path_type=Path, allow_dash=True))
@click.option("--all", "full", is_flag=True, help="Three steps at length, with every answer and caution.")
@click.option(
    "--json", "json_", is_flag=True, help="As JSON, in a form that stays; with --all, everything the page shows."
)
@click.pass_obj
def weigh_verb(home: Path, file: Path, full: bool, json_: bool) -> None:
    """Suspects and next steps for a notes FILE: the car's lines first, then lines in time order. Nothing is stored."""
    from knowngood.app.weigh import weigh_notes
    from knowngood.app.weigh_form import weigh_form
    from knowngood.library.load import load_for

    library = load_for(home)
    answer = weigh_notes(_read(file), library)
    if json_:
        click.echo(as_json(answer if full else weigh_form(answer, library)))
    else:
        echo_lines(answer_lines(answer, full=full))


def _read(file: Path) -> str:
    piped = str(file) == "-"
    told = sys.stdin.buffer.read() if piped else read_file(file)
    try:
        return told.decode("utf-8-sig")
    except UnicodeDecodeError:
        name, fix = ("What was piped in", "Pipe in plain text.") if piped else (file, "Save it as plain text.")
        raise Refused(Problem(f"{name} is not text in UTF-8.", fix)) from None
