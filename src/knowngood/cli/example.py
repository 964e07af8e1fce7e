"""``make run``: the example car here, then its page until stopped (``RUN_ONCE=1``: no page)."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import click

from knowngood.app.example import NICKNAME, tell_example
from knowngood.app.workshop import Workshop
from knowngood.cli.main import main
from knowngood.cli.show import answer_lines, echo_lines
from knowngood.library.load import load

FOLDER = Path("build/example")


def run() -> None:
    """Tell the example into ``build/example``, print what is wrong and what is next, and serve the page."""
    library = load()
    code, _ = tell_example(FOLDER, library)
    with Workshop(FOLDER, library) as workshop:
        answer = workshop.answer(code)
    click.echo(f"The example car: {NICKNAME}, {code}.")
    echo_lines(answer_lines(answer))
    if os.environ.get("RUN_ONCE"):
        return
    click.echo()
    click.echo("Its page, until stopped with Ctrl-C:")
    sys.argv = ["knowngood", "--home", str(FOLDER), "serve"]
    main()


if __name__ == "__main__":
    run()
