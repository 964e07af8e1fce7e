"""The worst of many, read once, written below thresholds instead of level by level along the engine.

That the worst is at most ``t`` is that each contribution is at most ``t``: a product. What a reading says of a level is
the sum, over all thresholds from that level up, of what it says more there than one level further. So the level carried
from cylinder to cylinder becomes one variable that meets each contribution by itself, and the tables of cylinders need
not hold two levels at once. These differences have signs: digits are lost where they nearly cancel. How many is told by
the same sums without signs.

References
----------
Díez and Galán, Efficient computation for the noisy MAX, International Journal of Intelligent Systems 18 (2003), 165-177
(title and pages from memory).
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Sequence

import numpy as np

from knowngood.belief.clue import Clue
from knowngood.belief.elimination import Array
from knowngood.belief.nodes import Node


def below(nodes: Sequence[Node], clues: Sequence[Clue], asked: Sequence[int]) -> list[int]:
    """Worst levels of the engine or a bank that other nodes reach and that only readings meet."""
    met = {source for node in nodes for source, _ in node.inputs}.union(asked)
    met.update(clue.node for clue in clues if clue.level)
    read = {clue.node for clue in clues if clue.instance is None}
    return [at for at in sorted(read - met) if nodes[at].op == "max" and not nodes[at].cylinder and nodes[at].inputs]


def looked_through(nodes: Sequence[Node], clues: Sequence[Clue], below: Collection[int]) -> frozenset[int]:
    """Worst levels that only thresholds meet, by tables that rise: each contribution to them is met by itself."""
    opaque = {clue.node for clue in clues if clue.instance is None} - set(below)
    seen: set[int] = set()
    waiting = list(below)
    while waiting:
        for source, through in nodes[waiting.pop()].inputs:
            if nodes[source].op == "max" and all(a <= b for a, b in itertools.pairwise(through)):
                if source not in seen:
                    seen.add(source)
                    waiting.append(source)
            else:
                opaque.add(source)
    waiting = list(opaque)
    while waiting:
        for source, _ in nodes[waiting.pop()].inputs:
            if source not in opaque:
                opaque.add(source)
                waiting.append(source)
    return frozenset(seen - opaque)


def steps(clues: Sequence[Clue], node: int, size: int) -> Array:
    """What the readings of a node say more at each level than one level further (level,)."""
    says = np.ones(size)
    for clue in clues:
        if clue.node == node and clue.instance is None:
            says = says * clue.table
    return np.append(says[:-1] - says[1:], says[-1])
