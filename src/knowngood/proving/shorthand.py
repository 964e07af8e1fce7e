"""Lines as typed on a phone beside the car: how many are understood whole?

Each is read by itself, with its car. What it must say was written down with it by one who had not seen the grammar. The
grammar was made better on these lines: the figure says what is kept, not what a new hand will find.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

from knowngood.library.records import Library
from knowngood.lines import read_line, read_notes
from knowngood.proving.blind import GOAL, Read
from knowngood.proving.figures import Figure, share

FILE = Path("tests/cases/shorthand/lines.toml")


def read_shorthand(library: Library, file: Path = FILE) -> list[Read]:
    """Every line read with its car."""
    told = tomllib.loads(file.read_text(encoding="utf-8"))
    cars = {name: read_notes(text, library).car for name, text in told["cars"].items()}
    return [
        Read.held_to(number, line["typed"], line, read_line(line["typed"], cars[line["car"]], library).bodies, library)
        for number, line in enumerate(told["line"], start=1)
    ]


def figures_of_shorthand(library: Library) -> dict[str, Figure]:
    """``cases.shorthand_seen`` with its goal."""
    read = read_shorthand(library)
    return {"cases.shorthand_seen": share(sum(line.understood for line in read), len(read), GOAL)}
