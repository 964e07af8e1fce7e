"""Which faults are folded into one variable: those of one cylinder, and those that touch the same nodes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from knowngood.belief.groups import Group
from knowngood.belief.nodes import Node
from knowngood.belief.timeline import Instance

MOST_STATES = 600


@dataclass(frozen=True)
class Fed:
    """A variable whose states are what some faults do together."""

    variable: int
    group: Group
    instances: tuple[Instance, ...]


def gathered(
    nodes: Sequence[Node], feeds: Mapping[Instance, Sequence[tuple[int, int]]]
) -> Iterator[tuple[list[Instance], tuple[int, ...]]]:
    """Sets of instances to fold, with the nodes they touch.

    All faults that touch nodes of one cylinder only go together where their states are not too many; a part that has
    been in two cylinders, or a fault of the whole engine, goes with those that touch the very same nodes.
    """
    together: dict[object, list[Instance]] = {}
    for instance, fed in feeds.items():
        cylinders = {nodes[node].cylinder for node, _ in fed}
        one = cylinders.pop() if len(cylinders) == 1 else 0
        together.setdefault(one or tuple(node for node, _ in fed), []).append(instance)
    for instances in together.values():
        for part in _foldable(instances, feeds):
            yield part, tuple(sorted({node for instance in part for node, _ in feeds[instance]}))


def _foldable(instances: list[Instance], feeds: Mapping[Instance, Sequence[tuple[int, int]]]) -> list[list[Instance]]:
    """All at once where their joint states are not too many, else by the nodes they touch."""
    bound = 1
    for node in {node for instance in instances for node, _ in feeds[instance]}:
        bound *= len({level for one in instances for at, level in feeds[one] if at == node}) + 1
    if bound <= MOST_STATES:
        return [instances]
    by_nodes: dict[tuple[int, ...], list[Instance]] = {}
    for instance in instances:
        by_nodes.setdefault(tuple(node for node, _ in feeds[instance]), []).append(instance)
    return list(by_nodes.values())
