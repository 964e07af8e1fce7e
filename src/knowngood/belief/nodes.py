"""From readings to the few mechanisms they need: a small graph of nodes.

Only what bears on evidence is built. A ladder that nothing is read from is
passed straight through: since the worst wins and the tables between ladders
rise, "worst of the worst" is one worst, and the faults act on the reading's own
node. Nodes with the same inputs are one node, whatever moment or conditions
asked for them, so a history costs only where it made a difference.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field

from knowngood.belief.acting import Acting, Regime, level_map
from knowngood.belief.protocol import FaultAt
from knowngood.belief.timeline import Instance, Snapshot
from knowngood.car import Place
from knowngood.library.records import Ladder


@dataclass
class Node:
    """A level of one ladder at one place in one context.

    ``op``: ``max`` (worst wins), ``add`` (saturating count), ``net`` (first node's count minus the second's).
    ``faults``: instance -> its contribution. ``inputs``: (node index, contribution by its state).
    ``shift``: for ``net``, the state of a difference of zero.
    """

    op: str
    size: int
    faults: dict[Instance, int] = field(default_factory=dict)
    inputs: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    shift: int = 0

    def key(self) -> tuple[object, ...]:
        """What makes two nodes the same node."""
        return (self.op, self.size, self.shift, tuple(sorted(self.faults.items())), tuple(sorted(self.inputs)))


@dataclass(frozen=True)
class Target:
    """Which ladder, where, when, under which conditions a reading stands on."""

    ladder: str
    place: Place
    regime: Regime
    moment: int


class NodeBuilder:
    """Builds the nodes for a set of targets.

    Parameters
    ----------
    acting : Acting
    faults : dict fault id -> list of FaultAt
        Where each fault can be on this car.
    snapshots : list of Snapshot
        By moment.
    targets : iterable of Target
        Everything that will be read from; these are never passed through.
    """

    def __init__(
        self,
        acting: Acting,
        faults: dict[str, list[FaultAt]],
        snapshots: list[Snapshot],
        targets: set[Target],
    ) -> None:
        self.acting = acting
        self.faults = faults
        self.snapshots = snapshots
        self.targets = targets
        self.nodes: list[Node] = []
        self._by_key: dict[tuple[object, ...], int] = {}
        self._built: dict[Target, int] = {}

    def node(self, target: Target) -> int:
        """Index of the node of a target, built on first use."""
        known = self._built.get(target)
        if known is not None:
            return known
        ladder = self.acting.ladders[target.ladder]
        if ladder.combine == "sum":
            index = self._build_sum(ladder, target)
        else:
            node = Node("max", len(ladder.levels))
            self._gather(ladder, target, tuple(range(len(ladder.levels))), node)
            index = self._keep(self._share_common(ladder, target, node))
        self._built[target] = index
        return index

    def _keep(self, node: Node) -> int:
        key = node.key()
        known = self._by_key.get(key)
        if known is None:
            known = len(self.nodes)
            self.nodes.append(node)
            self._by_key[key] = known
        return known

    def _instances(self, target: Target, ladder_id: str) -> list[tuple[Instance, int]]:
        snapshot = self.snapshots[target.moment]
        library = self.acting.library
        result = []
        for fault_id, strength in self.acting.strengths(ladder_id, target.regime):
            fault = library.faults[fault_id]
            for at in self.faults.get(fault_id, ()):
                if self.acting.feeds(at.place, target.place):
                    result.append((snapshot.instance(fault, at.place), strength))
        return result

    def _sources(self, source: Ladder, place: Place) -> list[Place]:
        if source.place == place.kind:
            return [place]
        return [other for other in self.acting.ladder_places(source.place) if self.acting.feeds(other, place)]

    def _gather(self, ladder: Ladder, target: Target, mapping: tuple[int, ...], node: Node) -> None:
        for instance, level in self._instances(target, ladder.id):
            level = mapping[level]
            if level > node.faults.get(instance, 0):
                node.faults[instance] = level
        for source_id, table in ladder.inputs.items():
            source = self.acting.ladders[source_id]
            through = tuple(mapping[level] for level in level_map(source, ladder, table))
            if not any(through):
                continue
            rising = source.combine == "worst" and all(a <= b for a, b in itertools.pairwise(through))
            for place in self._sources(source, target.place):
                feeding = Target(source_id, place, target.regime, target.moment)
                if rising and feeding not in self.targets and feeding not in self._built:
                    self._gather(source, feeding, through, node)
                else:
                    node.inputs.append((self.node(feeding), through))

    def _share_common(self, ladder: Ladder, target: Target, node: Node) -> Node:
        """Put what acts on every cylinder alike into one node of its own, so that cylinders meet in one place only."""
        if ladder.place != "cylinder" or self.acting.layout.cylinders < 2:
            return node
        cylinder = Place("cylinder", target.place.name)
        local = {
            instance: level
            for instance, level in node.faults.items()
            if instance.home.kind in ("cylinder", "pair", "companions") and cylinder.kind == "cylinder"
        }
        shared = {instance: level for instance, level in node.faults.items() if instance not in local}
        if len(shared) < 2:
            return node
        common = self._keep(Node(node.op, node.size, shared))
        return Node(node.op, node.size, local, [*node.inputs, (common, tuple(range(node.size)))])

    def _build_sum(self, ladder: Ladder, target: Target) -> int:
        up = Node("add", ladder.high + 1)
        down = Node("add", -ladder.low + 1)
        for instance, shift in self._instances(target, ladder.id):
            side = up if shift > 0 else down
            side.faults[instance] = abs(shift)
        for source_id, table in ladder.inputs.items():
            source = self.acting.ladders[source_id]
            through = level_map(source, ladder, table)
            for place in self._sources(source, target.place):
                index = self.node(Target(source_id, place, target.regime, target.moment))
                rises = tuple(max(step, 0) for step in through)
                falls = tuple(max(-step, 0) for step in through)
                if any(rises):
                    up.inputs.append((index, rises))
                if any(falls):
                    down.inputs.append((index, falls))
        first = self._keep(up)
        if ladder.low == 0:
            return first
        second = self._keep(down)
        identity = tuple(range(max(up.size, down.size)))
        return self._keep(
            Node("net", up.size + down.size - 1, {}, [(first, identity), (second, identity)], shift=-ladder.low)
        )
