"""What a line may say that is no reading, or not yet one: kept as a note that says why, with the question it needs.

The turns are data, ``kept.toml``: those of a clause, and amounts that only stand beside what was done.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from functools import cache
from importlib.resources import files
from typing import NamedTuple

from knowngood.evidence import Note
from knowngood.lines.reader import Reader
from knowngood.lines.token import Token


class Kept(NamedTuple):
    """One turn: what it looks like, why it is kept, and what is asked; nothing is where the question is empty."""

    pattern: re.Pattern[str]
    why: str
    ask: str


@cache
def _kept(name: str) -> tuple[Kept, ...]:
    told = tomllib.loads(files("knowngood.lines").joinpath("kept.toml").read_text(encoding="utf-8"))
    return tuple(Kept(re.compile(turn["is"], re.IGNORECASE), turn["why"], turn.get("ask", "")) for turn in told[name])


def read_kept(reader: Reader, run: Sequence[Token]) -> bool:
    """Clauses that say one of these things and no more."""
    words = reader.plain(run)
    turn = next((turn for turn in _kept("clause") if turn.pattern.fullmatch(words)), None)
    if turn is None:
        return False
    reader.put(Note(reader.words(run), turn.why, turn.ask), run)
    if turn.ask:
        reader.ask(turn.ask)
    return True


def without_kept(reader: Reader, tokens: Sequence[Token]) -> list[Token]:
    """The tokens without an amount that only stands beside what was done (``new battery 60 Ah, 540 A``)."""
    rest = list(tokens)
    for turn in _kept("beside"):
        for match in turn.pattern.finditer(reader.text):
            found = [token for token in rest if match.start() <= token.start and token.end <= match.end()]
            if found:
                said = found[1:] if found[0].is_sign(",") else found
                reader.aside.append(Note(reader.words(said), turn.why, turn.ask))
                reader.use(found)
                rest = [token for token in rest if token not in found]
    return rest
