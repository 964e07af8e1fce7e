"""Exact sums and products over a network of small tables.

Bucket elimination: variables are summed out one by one; what is left of a
variable's tables is a message to the bucket of the next variable to go. The
messages going up give the chance of the evidence, the messages coming down
give every marginal, and the buckets themselves give draws. The structure
(:class:`Tree`) depends on the scopes only, so that one plan serves many
fillings: every prefix of the evidence, every outcome of a check.

Nothing is subtracted, so nothing cancels: chances as small as the hardware's
smallest number keep all their digits.

References
----------
Dechter, Bucket elimination: a unifying framework for reasoning, Artificial Intelligence 113 (1999), 41-85
(title and pages from memory).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.ordering import Array, elimination_order

SMALL_CELLS = 64  # up to which variables are summed out together: fewer calls
KEPT_CELLS = 50_000  # of a table: its climbing sums are kept for more draws; of larger ones only those met are made


@dataclass(frozen=True)
class Bucket:
    """Variables summed out together, and those they leave a message about.

    ``scope``: the ``gone`` variables that are summed out, then those that stay, all in the order of elimination.
    ``factors``: tables that are multiplied in, with the shape that lays each along the scope; ``children``: positions
    of the buckets whose messages are, likewise; ``kept_axes``: the axes each child's message lies on.
    """

    scope: tuple[int, ...]
    gone: int
    shape: tuple[int, ...]
    factors: tuple[tuple[int, tuple[int, ...]], ...]
    children: tuple[tuple[int, tuple[int, ...]], ...]
    kept_axes: tuple[tuple[int, ...], ...]
    parent: int


class Tree:
    """The plan of elimination for given scopes.

    Parameters
    ----------
    scopes : sequence of tuple of int
        Variables of each table. :meth:`arrange` lays a table's axes as the plan wants them.
    sizes : sequence of int
        Number of states of each variable.
    """

    def __init__(self, scopes: Sequence[tuple[int, ...]], sizes: Sequence[int]) -> None:
        self.sizes = tuple(sizes)
        order = elimination_order(scopes, sizes)
        self.rank = [0] * len(sizes)
        for position, variable in enumerate(order):
            self.rank[variable] = position
        self.transposes = [
            tuple(sorted(range(len(scope)), key=lambda axis, scope=scope: self.rank[scope[axis]]))  # type: ignore[misc]
            for scope in scopes
        ]
        laid = [tuple(scope[axis] for axis in axes) for scope, axes in zip(scopes, self.transposes, strict=True)]
        stays = self._staying(order, laid)
        together = self._together(order, stays)
        self.bucket_of = [0] * len(sizes)
        for position, variables in enumerate(together):
            for variable in variables:
                self.bucket_of[variable] = position
        self.buckets = self._buckets(together, stays, laid)

    def _staying(self, order: Sequence[int], laid: Sequence[tuple[int, ...]]) -> list[tuple[int, ...]]:
        """Of each variable, those left over when it is summed out, in the order of elimination."""
        left: list[set[int]] = [set() for _ in order]
        for scope in laid:
            if scope:
                left[scope[0]].update(scope[1:])
        stays: list[tuple[int, ...]] = [()] * len(order)
        for variable in order:
            stays[variable] = tuple(sorted(left[variable], key=self.rank.__getitem__))
            if stays[variable]:
                left[stays[variable][0]].update(stays[variable][1:])
        return stays

    def _cells(self, variables: Iterable[int]) -> int:
        product = 1
        for variable in variables:
            product *= self.sizes[variable]
        return product

    def _together(self, order: Sequence[int], stays: Sequence[tuple[int, ...]]) -> list[list[int]]:
        """Variables that are summed out at once: where the next would lie in the same table, or a small one."""
        members = {variable: [variable] for variable in order}
        scope = {variable: {variable, *stays[variable]} for variable in order}
        for variable in order:
            if not stays[variable]:
                continue
            after = stays[variable][0]
            both = scope[variable] | scope[after]
            most = max(self._cells(scope[variable]), self._cells(scope[after]), SMALL_CELLS)
            if self._cells(both) <= most:
                members[after] = sorted([*members.pop(variable), *members[after]], key=self.rank.__getitem__)
                scope[after] = both
        return list(members.values())

    def _buckets(
        self, together: Sequence[list[int]], stays: Sequence[tuple[int, ...]], laid: Sequence[tuple[int, ...]]
    ) -> list[Bucket]:
        placed: list[list[tuple[int, tuple[int, ...]]]] = [[] for _ in together]
        for index, scope in enumerate(laid):
            if scope:
                placed[self.bucket_of[scope[0]]].append((index, scope))
        messages: list[list[tuple[int, tuple[int, ...]]]] = [[] for _ in together]
        buckets = []
        for position, variables in enumerate(together):
            kept = stays[variables[-1]]
            scope = (*variables, *kept)
            parent = self.bucket_of[kept[0]] if kept else -1
            if parent >= 0:
                messages[parent].append((position, kept))
            axis = {variable: number for number, variable in enumerate(scope)}
            buckets.append(
                Bucket(
                    scope=scope,
                    gone=len(variables),
                    shape=tuple(self.sizes[variable] for variable in scope),
                    factors=tuple((index, self._shape(one, scope)) for index, one in placed[position]),
                    children=tuple((child, self._shape(one, scope)) for child, one in messages[position]),
                    kept_axes=tuple(tuple(axis[variable] for variable in one) for _, one in messages[position]),
                    parent=parent,
                )
            )
        return buckets

    @cached_property
    def cells(self) -> int:
        """Cells of all tables together."""
        return sum(math.prod(bucket.shape) for bucket in self.buckets)

    @cached_property
    def kept_axes(self) -> dict[int, tuple[int, ...]]:
        """Of each bucket with a parent, the axes its message lies on there."""
        return {
            child: axes
            for bucket in self.buckets
            for (child, _), axes in zip(bucket.children, bucket.kept_axes, strict=True)
        }

    def where(self, scope: tuple[int, ...]) -> tuple[int, tuple[int, ...]]:
        """The bucket that holds all variables of a table's scope, and the axis of each; other scopes have none."""
        position = self.bucket_of[min(scope, key=self.rank.__getitem__)]
        inside = self.buckets[position].scope
        return position, tuple(inside.index(variable) for variable in scope)

    def _shape(self, laid: tuple[int, ...], scope: tuple[int, ...]) -> tuple[int, ...]:
        inside = set(laid)
        return tuple(self.sizes[v] if v in inside else 1 for v in scope)

    def arrange(self, index: int, table: Array) -> Array:
        """Lay a table's axes in the order of elimination."""
        return np.ascontiguousarray(np.transpose(table, self.transposes[index]))


class Pass:
    """One filling of a tree: messages up, and on demand down.

    Parameters
    ----------
    tree : Tree
    tables : sequence of arrays
        As arranged by :meth:`Tree.arrange`, one per scope; ``None`` for all ones.
    like : Pass, optional
        Another filling of the same tree: what comes from the very same tables is taken from it.
    kept : bool
        Whether the tables of the buckets are kept; without them only ``log_chance`` can be asked.

    Attributes
    ----------
    log_chance : float
        Natural logarithm of the total; ``-inf`` when no state has any chance.
    """

    def __init__(
        self, tree: Tree, tables: Sequence[Array | None], like: Pass | None = None, *, kept: bool = True
    ) -> None:
        self.tree = tree
        self.tables = tables
        self.log_chance = float("-inf")
        self._beliefs: dict[int, Array] = {}
        self._joints: dict[tuple[int, ...], Array] = {}
        self._climbing: dict[tuple[int, int], Array] = {}
        self._summed: dict[tuple[int, int], Array] = {}  # tables of a bucket with its first variables summed out
        self.messages: list[Array] = []
        self.bucket_tables: list[Array] = []
        self._shared: set[int] = set()  # buckets whose tables another filling holds, too
        self.scales: list[float] = []
        known = like if like is not None and np.isfinite(like.log_chance) else None
        for position, bucket in enumerate(tree.buckets):
            if known is not None and self._is_as_in(known, bucket):
                product, message, top = known.bucket_tables[position], known.messages[position], known.scales[position]
                self._shared.add(position)
            else:
                product = self._product(bucket)
                message = product.reshape(-1, *bucket.shape[bucket.gone :]).sum(axis=0)
                top = float(message.max()) if message.ndim else float(message)
                if not top > 0.0:
                    return
                message = message / top
            self.messages.append(message)
            self.scales.append(top)
            if kept:
                self.bucket_tables.append(product)
        self.log_chance = sum(math.log(top) for top in self.scales)

    def _is_as_in(self, known: Pass, bucket: Bucket) -> bool:
        """Whether all that a bucket is made of is the same in another filling."""
        return all(self.tables[index] is known.tables[index] for index, _ in bucket.factors) and all(
            self.messages[child] is known.messages[child] for child, _ in bucket.children
        )

    def _product(self, bucket: Bucket) -> Array:
        """All tables and messages of a bucket multiplied."""
        given = [(self.tables[index], shape) for index, shape in bucket.factors]
        given += [(self.messages[child], shape) for child, shape in bucket.children]
        laid = [table.reshape(shape) for table, shape in given if table is not None]
        if not laid:
            return np.ones(bucket.shape)
        product = laid[0]
        for one, more in enumerate(laid[1:]):
            if one and product.shape == bucket.shape:
                product *= more  # no other holds it
            else:
                product = product * more
        return product if product.shape == bucket.shape else np.broadcast_to(product, bucket.shape)

    def beliefs(self) -> list[Array]:
        """Joint chance of the variables of every bucket, all tables counted; each sums to 1."""
        return [self.belief(position) for position in range(len(self.tree.buckets))]

    def belief(self, position: int) -> Array:
        """Joint chance of the variables of one bucket, all tables counted; sums to 1."""
        above: list[int] = []  # those to be worked out before it
        while position not in self._beliefs:
            above.append(position)
            parent = self.tree.buckets[position].parent
            if parent < 0:
                break
            position = parent
        for one in reversed(above):
            self._come_down(one)
        return self._beliefs[above[0] if above else position]

    def _come_down(self, position: int, *, in_place: bool = False) -> None:
        """The joint chance of a bucket, its parent's being known; ``in_place`` of its table where none else has it."""
        bucket, table = self.tree.buckets[position], self.bucket_tables[position]
        own_table = table.base is None and position not in self._shared  # else a given table, or another filling's
        out = table if in_place and own_table else None
        if bucket.parent < 0:
            self._beliefs[position] = np.divide(table, table.sum(), out=out)
            return
        axes = self.tree.kept_axes[position]
        reduced, message = summed(self._beliefs[bucket.parent], axes), self.messages[position]
        # what comes down is as large as it must be for the bucket to sum to 1
        own = message * self.scales[position]
        share = np.divide(reduced, own, out=np.zeros_like(reduced), where=message > 0.0)
        self._beliefs[position] = np.multiply(table, share, out=out)

    def marginal(self, variable: int) -> Array:
        """Chance of each state of one variable."""
        return self.joint((variable,))

    def joint(self, scope: tuple[int, ...]) -> Array:
        """Chance of each joint state of variables that share a table, axes as they are given."""
        known = self._joints.get(scope)
        if known is not None:
            return known
        position, axes = self.tree.where(scope)
        order = sorted(range(len(axes)), key=axes.__getitem__)
        kept = summed(self.belief(position), tuple(axes[index] for index in order))
        return np.transpose(kept, np.argsort(order))

    def only_joints(self, scopes: Iterable[tuple[int, ...]]) -> None:
        """Keep the joint chances of these variables, and let go of all tables: nothing else can be asked after it."""
        for position in range(len(self.tree.buckets) - 1, -1, -1):  # parents come behind their children
            self._come_down(position, in_place=True)
        self._joints.update({scope: self.joint(scope) for scope in scopes})
        self._beliefs.clear()
        self.bucket_tables.clear()

    def draw(self, n: int, rng: np.random.Generator) -> NDArray[np.intp]:
        """``n`` joint draws: an array (variable, n) of states."""
        states = np.zeros((len(self.tree.sizes), n), dtype=np.intp)
        for position in range(len(self.tree.buckets) - 1, -1, -1):
            bucket = self.tree.buckets[position]
            for axis in range(bucket.gone - 1, -1, -1):
                known = [states[variable] for variable in bucket.scope[axis + 1 :]]
                states[bucket.scope[axis]] = self.drawn(position, axis, known, rng.random(n))
        return states

    def drawn(self, position: int, axis: int, known: Sequence[NDArray[np.intp]], dice: Array) -> NDArray[np.intp]:
        """States of one variable that a bucket sums out, given those after it in each draw: one search for all.

        Each row of climbing sums is brought to 1 and set behind the one before, so that all are one ascending list.

        Parameters
        ----------
        position : int
            Of the bucket in the tree.
        axis : int
            Of the variable in the bucket.
        known : sequence of int array (draw,)
            States of the variables of the axes behind it.
        dice : array (draw,)
            From 0 to 1.
        """
        bucket = self.tree.buckets[position]
        size, others = bucket.shape[axis], bucket.shape[axis + 1 :]
        row = np.ravel_multi_index(tuple(known), others) if known else np.zeros(len(dice), dtype=np.intp)
        if size * math.prod(others) <= KEPT_CELLS:
            if (position, axis) not in self._climbing:
                self._climbing[position, axis] = _climbing(self._left(position, axis))
            climbing = self._climbing[position, axis]
        else:
            used, row = np.unique(row, return_inverse=True)
            climbing = _climbing(self._left(position, axis)[used])
        found = np.searchsorted(climbing, row + dice, side="right") - row * size
        return np.minimum(found, size - 1, out=found)  # dice a hair under 1 may round up to the next row

    def _left(self, position: int, axis: int) -> Array:
        """What is left of a bucket with the variables before an axis summed out (the others, state)."""
        shape, left = self.tree.buckets[position].shape, self.bucket_tables[position]
        for gone in range(axis):  # one by one: each is kept for the next
            if (position, gone) not in self._summed:
                self._summed[position, gone] = left.reshape(shape[gone], -1).sum(axis=0)
            left = self._summed[position, gone]
        return left.reshape(shape[axis], -1).T


def _climbing(rows: Array) -> Array:
    climbing = np.cumsum(rows, axis=1)
    total = climbing[:, -1:]
    climbing = np.divide(climbing, total, out=np.ones_like(climbing), where=total > 0.0)
    climbing += np.arange(len(rows))[:, None]
    return climbing.ravel()


@lru_cache(maxsize=8192)
def _runs(shape: tuple[int, ...], kept: tuple[int, ...]) -> tuple[tuple[int, ...], tuple[int, ...], tuple[int, ...]]:
    """Neighbouring axes that go, or stay, as one: the shape, the axes that go, the shape of what stays."""
    run: list[int] = []
    gone: list[int] = []
    last: bool | None = None
    for axis, size in enumerate(shape):
        goes = axis not in kept
        if goes == last:
            run[-1] *= size
        else:
            run.append(size)
            if goes:
                gone.append(len(run) - 1)
        last = goes
    return tuple(run), tuple(gone), tuple(shape[axis] for axis in kept)


def summed(table: Array, kept: tuple[int, ...]) -> Array:
    """A table with all but some axes (ascending) summed out."""
    if len(kept) == table.ndim:
        return table
    run, gone, left = _runs(table.shape, kept)
    result: Array = table.reshape(run).sum(axis=gone).reshape(left)
    return result
