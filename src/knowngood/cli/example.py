"""``make run``: the example car here, then its page until stopped (``RUN_ONCE=1``: no page)."""

from __future__ import annotations

import os
from pathlib import Path

import click

from knowngood.app.example import NICKNAME, tell_example
from knowngood.app.settings import sums_words
from knowngood.app.workshop import Workshop, line_numbers
from knowngood.cli.main import main
from knowngood.cli.show import answer_lines, echo_lines, wrap
from knowngood.library.load import load

FOLDER = Path("build/example")


def run() -> None:
    """Tell the example into ``build/example``, print what is wrong and what is next, and serve the page."""
    library = load()
    code, _ = tell_example(FOLDER, library)
    with Workshop(FOLDER, library) as workshop:
        entries = workshop.entries(code)
        answer = workshop.answer(code)
        sums = sums_words(workshop.settings())
    click.echo(f"The example car: {NICKNAME}, {code}. What was said of it:")
    numbers = line_numbers(entries)  # a line may have become several entries
    for number, line in dict(zip(numbers.values(), (entry.line for entry in entries), strict=True)).items():
        click.echo(wrap(line, "     ", f"{number:3}. "))
    click.echo()
    echo_lines(answer_lines(answer))
    click.echo()
    click.echo(wrap(f"Behind a line: how it moved the suspect; +3 doubles the odds, +10 makes them ten times. {sums}"))
    if os.environ.get("RUN_ONCE"):
        return
    click.echo()
    click.echo("Its page, until stopped with Ctrl-C:")
    main(["--home", str(FOLDER), "serve"])


if __name__ == "__main__":
    run()
