"""``weigh``."""

from __future__ import annotations

import sys
from pathlib import Path

import click

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
    try:
        told = sys.stdin.buffer.read() if str(file) == "-" else file.read_bytes()
        return told.decode("utf-8-sig")
    except FileNotFoundError:
        raise Refused(Problem(f"There is no file {file}.", "Check the name.")) from None
    except OSError:
        raise Refused(Problem(f"{file} cannot be read.", "Name a text file that you may read.")) from None
    except UnicodeDecodeError:
        name = "What was piped in" if str(file) == "-" else file
        raise Refused(Problem(f"{name} is not text in UTF-8.", "Save it as plain text.")) from None
