"""Which seeds are whose: fresh cars give the figures, development cars are looked at one by one and give none."""

from __future__ import annotations

from itertools import chain, count, islice

DEVELOPMENT = range(1001, 2001)


def fresh(cars: int) -> list[int]:
    """The first so many seeds of fresh cars: from 1 on, those of development left out."""
    return list(islice(chain(range(1, DEVELOPMENT.start), count(DEVELOPMENT.stop)), cars))
