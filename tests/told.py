"""Cars told in lines, for the tests of any room."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from knowngood.app.state import State, state_of
from knowngood.app.weigh import entries_of
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.library.records import Library
from knowngood.lines import read_notes


@cache
def library() -> Library:
    """Ours, read once."""
    return load()


def state_after(*lines: str) -> State:
    """The car after the lines of a notes file, its own first."""
    return state_of(library(), entries_of(read_notes("\n".join(lines), library()).lines))


def kept_after(folder: Path, *lines: str) -> State:
    """The car after lines said one by one in a workshop; each must count."""
    with Workshop(folder, library()) as shop:
        job = shop.new("told").code
        for line in lines:
            said = shop.say(job, line)
            assert said.counts, (line, said.why)
        return shop.state(job)
