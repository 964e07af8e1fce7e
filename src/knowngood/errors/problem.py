"""One thing that is not as it should be, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Problem:
    """A fact and its fix, with the place it was met.

    Parameters
    ----------
    fact : str
        What is so; the value met is in it.
    fix : str
        What to do.
    file, path : str
        File name and path of keys (``fault[lead_open].seen_by[0]``), empty where there is none.
    line : int
        1-based line number, 0 where it is not known.
    """

    fact: str
    fix: str = ""
    file: str = ""
    line: int = 0
    path: str = ""

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}: " if self.file and self.line else f"{self.file}: " if self.file else ""
        path = f"{self.path}: " if self.path else ""
        return f"{where}{path}{self.fact} {self.fix}".rstrip()
