"""Variables, tables, and values that follow from variables without chance.

A :class:`View` is a value as a function of a few variables: the level of a ladder given what the faults of a cylinder
do together and the mixture of its bank. It costs nothing until it is given a variable of its own, which is done only
where it would otherwise carry too many variables along.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.elimination import Array
from knowngood.belief.groups import Lattice, Rule

Levels = NDArray[np.intp]
LAST_SEAT = 99  # beyond any cylinder
MOST_GATHERED = 32  # joint states that are carried along before they get a variable of their own


@dataclass(frozen=True)
class View:
    """A value by the states of the variables of ``scope`` (ascending), one axis each."""

    scope: tuple[int, ...]
    value: Levels


class Fabric:
    """What a network is woven of: sizes and seats of variables, scopes and tables."""

    def __init__(self) -> None:
        self.sizes: list[int] = []
        self.seats: list[int] = []
        self.scopes: list[tuple[int, ...]] = []
        self.tables: list[Array | None] = []

    def variable(self, size: int, seat: int = 0) -> int:
        """A new variable; ``seat`` is where it sits along the engine, 0 for all of it."""
        self.sizes.append(size)
        self.seats.append(seat)
        return len(self.sizes) - 1

    def table(self, scope: tuple[int, ...], table: Array | None) -> int:
        """A new table over a scope; ``None`` for one that is all ones and only keeps its scope together."""
        self.scopes.append(scope)
        self.tables.append(None if table is None else np.asarray(table, dtype=float))
        return len(self.scopes) - 1

    def cells(self, scope: Sequence[int]) -> int:
        """Number of joint states of some variables."""
        product = 1
        for variable in scope:
            product *= self.sizes[variable]
        return product

    def seat_of(self, view: View) -> int:
        """Where a view sits: the first seat among its variables, those of the whole engine last."""
        return min((self.seats[variable] or LAST_SEAT for variable in view.scope), default=LAST_SEAT)

    def laid(self, view: View, scope: tuple[int, ...]) -> Levels:
        """The value with one axis for each variable of a wider scope, of length 1 where it does not depend on it."""
        inside = set(view.scope)
        return view.value.reshape([self.sizes[variable] if variable in inside else 1 for variable in scope])

    def joined(self, a: View, b: View, rule: Rule) -> View:
        """Two contributions as one."""
        scope = tuple(sorted({*a.scope, *b.scope}))
        first, second = self.laid(a, scope), self.laid(b, scope)
        if rule.adds:
            return View(scope, np.minimum(first + second, rule.most))
        return View(scope, np.maximum(first, second))

    def own(self, view: View, size: int) -> View:
        """A view with a variable of its own, unless it has but one variable of no more states already."""
        if not view.scope or (len(view.scope) == 1 and self.sizes[view.scope[0]] <= size):
            return view
        variable = self.variable(size, max(self.seats[variable] for variable in view.scope))
        table = np.zeros((*view.value.shape, size))
        np.put_along_axis(table, view.value[..., None], 1.0, axis=-1)
        self.table((*view.scope, variable), table)
        return View((variable,), np.arange(size))

    def chained(self, parts: Sequence[View], rule: Rule, most_cells: int) -> View:
        """All contributions as one, part after part along the engine.

        What has been joined so far gets a variable of its own before it carries more than ``most_cells`` joint states.
        """
        so_far = View((), np.zeros((), dtype=np.intp))
        for part in sorted(parts, key=lambda one: (self.seat_of(one), one.scope)):
            after = self.joined(so_far, part, rule)
            if self.cells(after.scope) > most_cells and self.cells(so_far.scope) > rule.most + 1:
                so_far = self.own(so_far, rule.most + 1)
                after = self.joined(so_far, part, rule)
            if self.cells(after.scope) > most_cells and self.cells(part.scope) > rule.most + 1:
                after = self.joined(so_far, self.own(part, rule.most + 1), rule)
            so_far = after
        return so_far

    def gathered(self, parts: Sequence[View], lattice: Lattice) -> View:
        """Joint contributions of single variables, one after another, as codes of what can be reached."""
        so_far = View((), np.zeros((), dtype=np.intp))
        for part in sorted(parts, key=lambda one: (self.cells(one.scope), one.scope)):
            scope = tuple(sorted({*so_far.scope, *part.scope}))
            first, second = np.broadcast_arrays(self.laid(so_far, scope), self.laid(part, scope))
            so_far = View(scope, lattice.both(first, second))
            if self.cells(scope) > MOST_GATHERED:
                so_far = self.coded(so_far)
        return self.coded(so_far)

    def coded(self, view: View) -> View:
        """A view of codes with a variable of its own, one state for each code that can be."""
        if not view.scope:
            return view
        codes, state = np.unique(view.value, return_inverse=True)
        if len(view.scope) == 1 and self.sizes[view.scope[0]] <= len(codes):
            return view
        owned = self.own(View(view.scope, state.reshape(view.value.shape)), len(codes))
        return View(owned.scope, codes[owned.value])
