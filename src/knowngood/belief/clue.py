"""What one entry says, as a table of a network."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.belief.elimination import Array
from knowngood.belief.timeline import Instance


@dataclass(frozen=True)
class Clue:
    """Evidence on one node (or one fault): its table over the node's states, or over (level, state).

    ``entry`` is the index of the entry it came from; ``level`` the unknown healthy level it shares, if any.
    """

    entry: int
    table: Array
    node: int = -1
    instance: Instance | None = None
    level: str = ""
