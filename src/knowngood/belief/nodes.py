"""From readings to the few mechanisms they need: a small graph of nodes.

Only what bears on evidence is built. A ladder that nothing is read from is
passed straight through: since the worst wins and the tables between ladders
rise, "worst of the worst" is one worst, and the faults act on the reading's own
node. Nodes with the same inputs are one node, whatever moment or conditions
asked for them, so a history costs only where it made a difference.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from knowngood.belief.faces import Faces, Target
from knowngood.belief.timeline import Instance
from knowngood.car import ONE_OR_TWO, Place
from knowngood.library.records import Ladder


@dataclass
class Node:
    """A level of one ladder at one place in one context.

    ``op``: ``max`` (worst wins), ``add`` (saturating count), ``net`` (first node's count minus the second's).
    ``faults``: instance -> its contribution. ``inputs``: (node index, contribution by its state).
    ``shift``: for ``net``, the state of a difference of zero. ``cylinder``: number of the one it belongs to, 0 for a
    bank or the engine. ``from_afar``, ``from_cylinders``: while a node is being built, inputs that come from the bank
    or the engine, and from single cylinders.
    """

    op: str
    size: int
    faults: dict[Instance, int] = field(default_factory=dict)
    inputs: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    shift: int = 0
    cylinder: int = 0
    from_afar: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    from_cylinders: dict[Place, list[tuple[int, tuple[int, ...]]]] = field(default_factory=dict)

    def key(self) -> tuple[object, ...]:
        """What makes two nodes the same node."""
        return (self.op, self.size, self.shift, frozenset(self.faults.items()), tuple(sorted(self.inputs)))


class NodeBuilder:
    """Builds the nodes for a set of targets.

    Parameters
    ----------
    faces : Faces
    classes : mapping Target -> class of each level
        Everything that will be read from. Neighbouring levels that no reading there tells apart are one class, counted
        from 0; what cannot lift a node out of its first class does not bear on it.
    """

    def __init__(self, faces: Faces, classes: Mapping[Target, tuple[int, ...]]) -> None:
        self.faces, self.acting = faces, faces.acting
        self.classes = classes
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
            levels = self.classes.get(target, tuple(range(len(ladder.levels))))
            node = Node("max", levels[-1] + 1, cylinder=number_of(target.place))
            self._gather(ladder, target, levels, node)
            index = self._keep(self._share_common(ladder, target, node))
        self._built[target] = index
        return index

    def node_alone(self, target: Target) -> int:
        """Index of the node of a target built as if it were the first: of alike targets the same in any order."""
        self._built.clear()
        return self.node(target)

    def _keep(self, node: Node) -> int:
        key = node.key()
        known = self._by_key.get(key)
        if known is None:
            known = len(self.nodes)
            self.nodes.append(node)
            self._by_key[key] = known
        return known

    def _gather(self, ladder: Ladder, target: Target, mapping: tuple[int, ...], node: Node) -> None:
        faults = node.faults
        for instance, level in self.faces.of(target):
            level = mapping[level]
            if level > faults.get(instance, 0):
                faults[instance] = level
        for source, through, rising, places in self.acting.inflows(ladder.id, target.place, mapping):
            for place in places:
                feeding = target.at(source.id, place)
                known = (
                    self._on_classes(feeding, through) if feeding in self.classes or feeding in self._built else None
                )
                crossing = is_single(place) and not is_single(target.place)
                if rising and known is None and not crossing:
                    self._gather(source, feeding, through, node)
                else:
                    inputs = node.from_cylinders.setdefault(place, []) if is_single(place) else node.from_afar
                    inputs.append((self.node(feeding), through if known is None else known))

    def _on_classes(self, feeding: Target, through: tuple[int, ...]) -> tuple[int, ...] | None:
        """A table over levels as one over a node's classes; ``None`` where it tells levels of one class apart."""
        classes = self.classes.get(feeding)
        if classes is None:
            return through
        result = [0] * (classes[-1] + 1)
        for level, value in zip(classes, through, strict=True):
            result[level] = value
        same = all(result[level] == value for level, value in zip(classes, through, strict=True))
        return tuple(result) if same else None

    def _share_common(self, ladder: Ladder, target: Target, node: Node) -> Node:
        """Let cylinders meet in few places: what acts on all alike, and what each adds to the whole, is a node."""
        if not number_of(target.place):
            return self._by_cylinder(node)
        afar, near = node.from_afar, [one for inputs in node.from_cylinders.values() for one in inputs]
        shared = {instance: level for instance, level in node.faults.items() if not is_single(instance.home)}
        if self.acting.layout.cylinders < 2 or len(shared) + len(afar) < 2:
            return Node(node.op, node.size, node.faults, near + afar, cylinder=node.cylinder)
        local = {instance: level for instance, level in node.faults.items() if instance not in shared}
        common = self._keep(Node(node.op, node.size, shared, afar))
        inputs = [*near, (common, tuple(range(node.size)))]
        return Node(node.op, node.size, local, inputs, cylinder=node.cylinder)

    def _by_cylinder(self, node: Node) -> Node:
        """The whole as engine-wide faults and one node for each cylinder that adds more than one thing."""
        whole = Node(node.op, node.size, {}, list(node.from_afar), node.shift)
        cylinders: dict[Place, Node] = {
            place: Node(node.op, node.size, {}, list(inputs), cylinder=number_of(place))
            for place, inputs in node.from_cylinders.items()
        }
        for instance, level in node.faults.items():
            if instance.home.kind == "cylinder":
                own = Node(node.op, node.size, cylinder=number_of(instance.home))
                cylinders.setdefault(instance.home, own).faults[instance] = level
            else:
                whole.faults[instance] = level
        for one in cylinders.values():
            if len(one.faults) + len(one.inputs) == 1:
                whole.faults.update(one.faults)
                whole.inputs += one.inputs
            else:
                whole.inputs.append((self._keep(one), tuple(range(node.size))))
        return whole

    def _build_sum(self, ladder: Ladder, target: Target) -> int:
        """A signed sum in tiers, the whole engine before a bank, so that banks meet in one place.

        A bank's sum is what its cylinders share: one cylinder's injector moves its own burning, and the bank by less
        than a step.
        """
        sides = [Node("add", ladder.high + 1), Node("add", -ladder.low + 1)]
        number = number_of(target.place)
        tiers: list[list[tuple[Instance, int]]] = [[], []]
        for instance, shift in self.faces.of(target):
            if ladder.place == "cylinder" or not is_single(instance.home):
                tiers[0 if instance.home.kind == "engine" else 1].append((instance, shift))
        below: list[int] = []
        for tier, members in enumerate(tiers):
            for instance, shift in members:
                sides[0 if shift > 0 else 1].faults[instance] = abs(shift)
            if tier == 1:
                self._sum_inputs(ladder, target, sides)
                for node in sides:
                    node.cylinder = number
            if tier == 1 or any(node.faults for node in sides):
                below = [self._keep(node) for node in sides]
            if tier == 0:
                sides = [Node("add", node.size, {}, self._carried(below, side)) for side, node in enumerate(sides)]
        if ladder.low == 0:
            return below[0]
        identity = tuple(range(max(node.size for node in sides)))
        return self._keep(
            Node(
                "net",
                ladder.high - ladder.low + 1,
                {},
                [(below[0], identity), (below[1], identity)],
                shift=-ladder.low,
                cylinder=number,
            )
        )

    def _carried(self, below: list[int], side: int) -> list[tuple[int, tuple[int, ...]]]:
        return [(below[side], tuple(range(self.nodes[below[side]].size)))] if below else []

    def _sum_inputs(self, ladder: Ladder, target: Target, sides: list[Node]) -> None:
        for source_id in ladder.inputs:
            source, through = self.acting.ladders[source_id], self.acting.through(source_id, ladder.id)
            for place in self.acting.sources(source.place, target.place):
                index = self.node(target.at(source_id, place))
                for side, sign in enumerate((1, -1)):
                    steps = tuple(max(sign * step, 0) for step in through)
                    if any(steps):
                        sides[side].inputs.append((index, steps))


def is_single(place: Place) -> bool:
    """Whether a place is one cylinder or a few of a bank."""
    return place.kind in ONE_OR_TWO


def number_of(place: Place) -> int:
    """Number of a cylinder; 0 for any other place."""
    return int(place.name) if place.kind == "cylinder" else 0
