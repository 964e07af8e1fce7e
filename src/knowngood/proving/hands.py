"""Sets of lines by hands that had not seen the grammar: how many are understood?

Each set is one file in ``tests/cases/shorthand/sets``: what was typed or said, what it should give in plain words by
the same hand, and the facts that must be found for it, written from those plain words before the line was first read.
``first`` is how many were understood at that first reading. While ``seen`` is false nothing was mended
for the set: its figure is what a new hand finds. Once it is true the figure says what is kept, and is called fitted.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from knowngood.library.records import Library
from knowngood.proving.blind import GOAL, Read, read_as_notes
from knowngood.proving.figures import Figure, share

SETS = Path("tests/cases/shorthand/sets")


@dataclass(frozen=True)
class Hand:
    """One set: its name, and whether lines were mended on it."""

    name: str
    seen: bool
    lines: tuple[Read, ...]

    @property
    def understood(self) -> int:
        """How many lines are understood now."""
        return sum(line.understood for line in self.lines)

    @property
    def misheard(self) -> int:
        """How many lines make an entry that was not meant."""
        return sum(bool(line.added) for line in self.lines)


def read_hand(library: Library, file: Path) -> Hand:
    """The lines of one set, read in their order as one notes file."""
    told = tomllib.loads(file.read_text(encoding="utf-8"))
    lines = read_as_notes([line["typed"] for line in told["line"]], told["line"], library)
    return Hand(file.stem, told["seen"], tuple(lines))


def read_hands(library: Library, sets: Path = SETS) -> list[Hand]:
    """Every set, in the order of their names."""
    return [read_hand(library, file) for file in sorted(sets.glob("*.toml"))]


def figures_of_hands(library: Library, sets: Path = SETS) -> dict[str, Figure]:
    """``cases.shorthand_<set>_fitted``, or ``_unseen`` where nothing was mended for it, each with the goal."""
    hands = read_hands(library, sets)
    return {
        f"cases.shorthand_{hand.name}_{'fitted' if hand.seen else 'unseen'}": share(
            hand.understood, len(hand.lines), GOAL
        )
        for hand in hands
    }
