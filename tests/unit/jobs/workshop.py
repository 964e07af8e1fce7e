"""Entries and ids for the tests of the journal."""

from __future__ import annotations

import itertools
from collections.abc import Callable

from knowngood.evidence import Body, CarFact, Entry, Note

NAME = CarFact("nickname", '"green van"')


def stamp(second: int, microsecond: int = 0) -> str:
    """A moment of one morning."""
    return f"2001-02-03T04:{second // 60:02d}:{second % 60:02d}.{microsecond:06d}Z"


def entry(name: str, body: Body | None = None, *, at: int = 0, entered: int | None = None, line: str = "") -> Entry:
    """An entry that happened, and unless said otherwise was typed, so many seconds into the morning."""
    return Entry(
        id=name,
        at=stamp(at),
        entered=stamp(at if entered is None else entered),
        body=Note(name) if body is None else body,
        line=line or name,
    )


def ids(prefix: str = "u") -> Callable[[], str]:
    """u1, u2, ..."""
    count = itertools.count(1)
    return lambda: f"{prefix}{next(count)}"
