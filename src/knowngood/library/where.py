"""Where a record was written: turns a fact about a record into a problem with file, line and path of keys."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from knowngood.errors import Problem
from knowngood.library.position import Path, positions

_BARE = re.compile(r"[\w-]+")


@dataclass(frozen=True)
class Origin:
    """The file a record came from, and the how-manieth of its kind it is there (from 0).

    ``table``: the kind of what it was written out from, where that is another.
    """

    file: str
    index: int
    table: str = ""


@dataclass
class Where:
    """Origins of all records, the texts they came from, and ids of records that could not be read."""

    origins: dict[tuple[str, str], Origin] = field(default_factory=dict)
    texts: dict[str, str] = field(default_factory=dict)
    unread: set[tuple[str, str]] = field(default_factory=set)
    _lines: dict[str, dict[Path, int]] = field(default_factory=dict, repr=False)

    def problem(self, table: str, name: str, keys: Sequence[str | int], fact: str, fix: str = "") -> Problem:
        """A problem of the record ``name`` of kind ``table`` (``fault``, ``reading``, ...), at the keys inside it."""
        path = f"{table}[{name}]{shown(keys)}"
        origin = self.origins.get((table, name))
        if origin is None:
            return Problem(fact, fix, path=path)
        return Problem(
            fact, fix, origin.file, self.line(origin.file, (origin.table or table, origin.index, *keys)), path
        )

    def line(self, file: str, path: Path) -> int:
        """Line of the key, or of the nearest key around it; 0 when the text is not held."""
        if file not in self._lines:
            self._lines[file] = positions(self.texts.get(file, ""))
        lines = self._lines[file]
        while path:
            if path in lines:
                return lines[path]
            path = path[:-1]
        return 0


def shown(keys: Sequence[str | int]) -> str:
    """``("acts", 0, "on")`` as ``.acts[0].on``; keys that are not plain are quoted."""
    text = ""
    for key in keys:
        if isinstance(key, int):
            text += f"[{key}]"
        else:
            text += f".{key}" if _BARE.fullmatch(key) else f'."{key}"'
    return text
