"""The processes that are killed."""

from __future__ import annotations

import itertools
import os
import sys
from pathlib import Path

from knowngood.evidence import CarFact, Entry, Note
from knowngood.jobs.store import Store

JOB = "k7f3"
STAMP = "2001-02-03T04:05:06.000007Z"
TOGETHER = 3
"""Entries of one line: stored all or none."""


def line(name: str) -> list[Entry]:
    """The entries of one typed line, recognisable as such."""
    return [Entry(id=f"{name}.{part}", at=STAMP, entered=STAMP, body=Note(name)) for part in range(TOGETHER)]


def begin(folder: Path) -> None:
    """A workshop with one job."""
    with Store.open(folder) as store:
        store.append(JOB, [Entry(id="birth", at=STAMP, entered=STAMP, body=CarFact("nickname", '"van"'))])


def write(folder: Path, name: str, acknowledge: int, *, honest: bool = True, lines: int | None = None) -> None:
    """Append line after line and acknowledge each on a file descriptor; one that is not honest does so too early."""
    with Store.open(folder) as store:
        for number in itertools.count() if lines is None else range(lines):
            said = f"{name}-{number}"
            if not honest:
                os.write(acknowledge, f"{said}\n".encode())
            store.append(JOB, line(said))
            if honest:
                os.write(acknowledge, f"{said}\n".encode())


if __name__ == "__main__":
    write(Path(sys.argv[1]), sys.argv[2], sys.stdout.fileno(), lines=int(sys.argv[3]))
