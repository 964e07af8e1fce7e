"""Every fault's chance under every state that could be asked for, in one go.

What is known of a state at one place of a tree reaches another place only through the few variables two neighbouring
buckets share. So the chance of each state asked for, given what is shared, is handed from bucket to bucket; where a
bucket holds faults, it is multiplied into their chances. The work is a few hundred products of small matrices, whatever
the number of checks and outcomes; nothing is subtracted.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.elimination import Array, Pass, Tree, summed
from knowngood.belief.fabric import View

PARENT, OWN = -1, -2
Scope = tuple[int, ...]


@dataclass(frozen=True)
class Port:
    """Axes of a bucket that are shared with a neighbour (its position), the parent or the states asked for here."""

    to: int
    axes: tuple[int, ...]


@dataclass
class Columns:
    """Chance of states asked for given what a port shares: (shared state..., column), and which columns these are."""

    table: Array
    which: NDArray[np.intp]


class Spreading:
    """The plan: which bucket knows of which states, and how buckets share.

    Parameters
    ----------
    tree : Tree
    views : sequence of View
        The states asked for; the variables of each lie in one bucket.
    sizes : sequence of int
        Number of states of each.
    sinks : sequence of tuple of int
        Variables, of one table each, whose joint chance with every state is wanted.
    """

    def __init__(self, tree: Tree, views: Sequence[View], sizes: Sequence[int], sinks: Sequence[Scope]) -> None:
        self.tree = tree
        self.start = np.concatenate([[0], np.cumsum(sizes)]).astype(np.intp)
        self.columns = int(self.start[-1])
        self.sinks: dict[int, list[tuple[Scope, tuple[int, ...]]]] = {}
        for sink in sinks:
            position, axes = tree.where(sink)
            self.sinks.setdefault(position, []).append((sink, axes))
        self.own: dict[int, list[tuple[Port, Columns]]] = {}
        here: dict[tuple[int, ...], list[int]] = {}
        for index, view in enumerate(views):
            here.setdefault(view.scope, []).append(index)
        for scope, members in here.items():
            self._add_own(scope, [(index, views[index], sizes[index]) for index in members])

    def _add_own(self, scope: tuple[int, ...], members: Sequence[tuple[int, View, int]]) -> None:
        laid = sorted(scope, key=lambda variable: self.tree.rank[variable])
        position = self.tree.bucket_of[laid[0]]
        bucket = self.tree.buckets[position]
        order = [scope.index(variable) for variable in laid]
        tables = [np.eye(size)[np.transpose(view.value, order)] for _, view, size in members]
        which = [np.arange(self.start[index], self.start[index + 1]) for index, _, _ in members]
        port = Port(OWN, tuple(bucket.scope.index(variable) for variable in laid))
        columns = Columns(np.concatenate(tables, axis=-1), np.concatenate(which))
        self.own.setdefault(position, []).append((port, columns))

    @cached_property
    def ports(self) -> list[list[Port]]:
        """Ports of each bucket: its children, and its parent where it has one."""
        result = []
        for bucket in self.tree.buckets:
            ports = []
            for (child, _), axes in zip(bucket.children, bucket.kept_axes, strict=True):
                ports.append(Port(child, axes))
            if bucket.parent >= 0:
                ports.append(Port(PARENT, tuple(range(bucket.gone, len(bucket.scope)))))
            result.append(ports)
        return result

    def spread(self, run: Pass) -> tuple[Array, dict[Scope, Array]]:
        """Chance of every state asked for (column,), and of it with each state of each sink (state..., column).

        Of each thing asked for, the likeliest state is not carried along but is what the others leave: its chance is
        large, so that nothing is lost by the difference.
        """
        beliefs = [Sums(one, bucket.gone) for one, bucket in zip(run.beliefs(), self.tree.buckets, strict=True)]
        chance = self._chance(beliefs)
        rest = self._likeliest(chance)
        carried = np.ones(self.columns, dtype=bool)
        carried[rest] = False
        own = {position: [_some(*one, carried) for one in here] for position, here in self.own.items()}
        upward: dict[int, Columns] = {}
        for position in range(len(self.tree.buckets)):
            arrived = [*own.get(position, ()), *self._from_children(position, upward)]
            parent = next((port for port in self.ports[position] if port.to == PARENT), None)
            if parent is not None and arrived:
                upward[position] = _hand_on(beliefs[position], arrived, parent)
        joint = self._down(beliefs, own, upward, run, chance)
        for scope, table in joint.items():
            table[..., rest] = 0.0
            others = np.add.reduceat(table, self.start[:-1], axis=-1)
            table[..., rest] = np.maximum(run.joint(scope)[..., None] - others, 0.0)
        return chance, joint

    def _chance(self, beliefs: Sequence[Sums]) -> Array:
        chance = np.zeros(self.columns)
        for position, here in self.own.items():
            for port, columns in here:
                shared = beliefs[position].over(port.axes)
                chance[columns.which] = np.tensordot(shared, columns.table, axes=shared.ndim)
        return chance

    def _likeliest(self, chance: Array) -> NDArray[np.intp]:
        """Column of the likeliest state of each thing asked for."""
        return np.array(
            [a + int(chance[a:b].argmax()) for a, b in itertools.pairwise(self.start.tolist())], dtype=np.intp
        )

    def _from_children(self, position: int, upward: Mapping[int, Columns]) -> list[tuple[Port, Columns]]:
        return [(port, upward[port.to]) for port in self.ports[position] if port.to in upward]

    def _down(
        self,
        beliefs: Sequence[Sums],
        own: Mapping[int, Sequence[tuple[Port, Columns]]],
        upward: Mapping[int, Columns],
        run: Pass,
        chance: Array,
    ) -> dict[Scope, Array]:
        joint: dict[Scope, Array] = {}
        downward: dict[int, Columns] = {}
        for position in range(len(self.tree.buckets) - 1, -1, -1):
            belief = beliefs[position]
            arrived = [*own.get(position, ()), *self._from_children(position, upward)]
            above = downward.get(position)
            if above is not None:
                arrived += [(port, above) for port in self.ports[position] if port.to == PARENT]
            for scope, axes in self.sinks.get(position, ()):
                # states that share nothing with this part of the tree are independent of it
                table = np.multiply.outer(run.joint(scope), chance)
                for port, columns in arrived:
                    table[..., columns.which] = _joint(belief, port, columns, axes)
                joint[scope] = table
            for port in self.ports[position]:
                others = [(other, columns) for other, columns in arrived if other.to != port.to]
                if port.to >= 0 and others:
                    downward[port.to] = _hand_on(belief, others, port)
        return joint


class Sums:
    """Sums of a bucket's joint chances over all but some axes; what only speaks of variables that go is summed from
    a small table."""

    def __init__(self, belief: Array, gone: int) -> None:
        self.belief, self.gone = belief, gone
        self.shape = belief.shape
        self._inside = summed(belief, tuple(range(gone)))

    def over(self, axes: tuple[int, ...]) -> Array:
        """Chance of the variables on some axes (ascending)."""
        return summed(self._inside if axes[-1] < self.gone else self.belief, axes)


def _some(port: Port, columns: Columns, carried: NDArray[np.bool_]) -> tuple[Port, Columns]:
    """Columns that are carried along."""
    kept = carried[columns.which]
    return port, Columns(columns.table[..., kept], columns.which[kept])


@dataclass(frozen=True)
class Route:
    """How a bucket's axes are laid to get from one port to another: common axes, then those wanted, then the others."""

    both: tuple[int, ...]
    matrix: tuple[int, ...]
    cells: tuple[int, int, int]
    table: tuple[int, ...]
    sizes: tuple[int, ...]
    order: tuple[int, ...]


@lru_cache(maxsize=4096)
def route(shape: tuple[int, ...], port: tuple[int, ...], wanted: tuple[int, ...]) -> Route:
    """The route from the axes of a port to the wanted ones, in a bucket of that shape."""
    both = tuple(sorted({*port, *wanted}))
    common = [axis for axis in wanted if axis in port]
    left = [axis for axis in wanted if axis not in common]
    right = [axis for axis in port if axis not in common]
    place = {axis: position for position, axis in enumerate(both)}
    first = [*common, *left]
    inside = [port.index(axis) for axis in (*common, *right)]
    order = [first.index(axis) for axis in wanted]
    return Route(
        both=both,
        matrix=tuple(place[axis] for axis in (*first, *right)),
        cells=(
            math.prod(shape[axis] for axis in common),
            math.prod(shape[axis] for axis in left),
            math.prod(shape[axis] for axis in right),
        ),
        table=(*inside, len(inside)),
        sizes=tuple(shape[axis] for axis in first),
        order=(*order, len(order)),
    )


def _joint(sums: Sums, port: Port, columns: Columns, wanted: tuple[int, ...]) -> Array:
    """Chance of the wanted axes together with each column: (wanted state..., column)."""
    way = route(sums.shape, port.axes, wanted)
    matrix = sums.over(way.both).transpose(way.matrix).reshape(way.cells)
    table = columns.table.transpose(way.table).reshape(way.cells[0], way.cells[2], -1)
    result: Array = np.matmul(matrix, table).reshape(*way.sizes, -1).transpose(way.order)
    return result


def _hand_on(sums: Sums, arrived: Sequence[tuple[Port, Columns]], port: Port) -> Columns:
    """What has arrived, given what a port shares."""
    shared = sums.over(port.axes)
    joint = np.concatenate([_joint(sums, other, columns, port.axes) for other, columns in arrived], axis=-1)
    joint *= np.divide(1.0, shared, out=np.zeros_like(shared), where=shared > 0.0)[..., None]
    return Columns(joint, np.concatenate([columns.which for _, columns in arrived]))
