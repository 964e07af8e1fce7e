"""Cars told in lines or in records, for the tests of any room."""

from __future__ import annotations

from pathlib import Path

from knowngood.app.next_steps import Advised, advised
from knowngood.app.state import State, state_of
from knowngood.app.weigh import entries_of
from knowngood.app.workshop import Workshop
from knowngood.evidence import Body, CarFact, Entry
from knowngood.library.load import load
from knowngood.library.records import Library
from knowngood.lines import read_notes


def entries_after(*lines: str, knowing: Library | None = None) -> list[Entry]:
    """The entries of a notes file in time order; understood by our library, or by another."""
    return entries_of(read_notes("\n".join(lines), knowing or load()).lines)


def state_after(*lines: str, knowing: Library | None = None) -> State:
    """The car after the lines of a notes file, its own first."""
    return state_of(knowing or load(), entries_after(*lines, knowing=knowing))


def advised_after(*lines: str) -> tuple[State, Advised]:
    """The car after the lines of a notes file, and what the planner says of it, which must be something."""
    state = state_after(*lines)
    told = advised(state)
    assert told is not None
    return state, told


def state_with(*bodies: Body) -> State:
    """A four after these records, a day apart."""
    every = (CarFact("cylinders", "4"), *bodies)
    return state_of(
        load(),
        [Entry(id=str(i), at=f"2026-01-{i + 1:02d}", entered="2026-01-01", body=body) for i, body in enumerate(every)],
    )


def kept_after(folder: Path, *lines: str) -> State:
    """The car after lines said one by one in a workshop; each must count."""
    with Workshop(folder, load()) as shop:
        job = shop.new("told").code
        for line in lines:
            said = shop.say(job, line)
            assert said.counts, (line, said.why)
        return shop.state(job)
