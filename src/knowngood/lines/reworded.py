"""Turns of phrase put into the words the rest reads: the same said otherwise, whatever stands around it.

The turns are data, ``turns.toml``. What one drops or turns is read no more, and stands in the line as typed, from which
everything that is shown is taken (``typed.py``).
"""

from __future__ import annotations

import re
import tomllib
from functools import cache
from importlib.resources import files


@cache
def turns(name: str) -> tuple[tuple[re.Pattern[str], str], ...]:
    """The turns of one list of ``turns.toml``, in their order."""
    told = tomllib.loads(files("knowngood.lines").joinpath("turns.toml").read_text(encoding="utf-8"))
    return tuple((re.compile(turn["is"], re.IGNORECASE), turn["plain"]) for turn in told[name])


def turned(text: str, name: str) -> str:
    """The text with the turns of one list in their plain words."""
    for pattern, plain in turns(name):
        text = pattern.sub(plain, text)
    return text


def reworded(text: str) -> str:
    """The line with small turns of phrase in their plain words.

    Parameters
    ----------
    text : str
        As ``plain_line`` has it so far.
    """
    return turned(text, "word")
