"""From what was said to the network that holds it: nodes, clues, births of parts, and the states to be asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from copy import copy

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.acting import Acting
from knowngood.belief.clue import Clue
from knowngood.belief.clues import OWN_LADDER, Said, is_habit, outcome_table, regime_of
from knowngood.belief.courses import courses_of
from knowngood.belief.elimination import Array, Pass
from knowngood.belief.faces import Target
from knowngood.belief.follow_on import links
from knowngood.belief.model import Known, Model
from knowngood.belief.network import Network
from knowngood.belief.nodes import Node, NodeBuilder
from knowngood.belief.ordering import HOPELESS, MOST_CELLS, TooTangled
from knowngood.belief.protocol import Ask

SEEN_RATIO = 20.0  # a look that speaks for a fault this much shows it; from memory
ROUNDING, LARGEST_ERROR = 1e-14, 1e-9  # of a sum without signs, what rounding may come to; what a chance may err
SMALL_NETWORK = 200_000  # cells; below, another way to lay it out is not worth looking for


def classes_of(acting: Acting, tables: Iterable[tuple[Target, Array]]) -> dict[Target, tuple[int, ...]]:
    """Levels that all that was said of a ladder tells apart, as classes of neighbours; sums are left whole."""
    steps: dict[Target, NDArray[np.bool_]] = {}
    for target, table in tables:
        if acting.ladders[target.ladder].combine == "worst":
            differs = np.any(np.diff(np.atleast_2d(table), axis=-1) != 0.0, axis=0)
            known = steps.get(target)
            steps[target] = differs if known is None else known | differs
    return {target: (0, *(int(i) for i in np.cumsum(differs))) for target, differs in steps.items()}


def target_of(model: Model, ask: Ask, known: Known) -> Target:
    """The ladder a check would read, in the look that is going on."""
    kind = model.library.readings[ask.reading]
    ladder = model.ladders.of(kind)
    regime = regime_of((ask.regime,) if ask.regime else (), kind.when)
    moment = len(known.snapshots) - 1
    return Target(ladder.id, ask.place, regime, moment, 0 if is_habit(kind, moment) else known.session)


def met_by(said: Sequence[Said], model: Model, known: Known) -> Sequence[Node]:
    """The nodes of all that was said, whatever part of it goes into the tables."""
    builder = NodeBuilder(model.faces(known.snapshots), {})
    for one in said:
        builder.node(one.target)
    return builder.nodes


def outcomes_by_state(model: Model, ask: Ask) -> Array:
    """Chance of each outcome of a check at each state of its ladder: (state, outcome)."""
    table = model.outcome_tables.get(ask.reading)
    if table is None:
        kind = model.library.readings[ask.reading]
        table = model.outcome_tables[ask.reading] = outcome_table(kind, model.ladders.of(kind))
    return table


def of_classes(table: Array, classes: tuple[int, ...] | None) -> Array:
    """A table over levels (last axis) as one over a node's classes."""
    return table if classes is None else table[..., np.unique(classes, return_index=True)[1]]


class Built:
    """A network, and where in it the checks that may be asked stand.

    Parameters
    ----------
    model, known
    every : sequence of Said
        Evidence to put into the tables.
    asks : sequence of Ask
        Checks that may be asked for.
    beside : sequence of Node
        Nodes outside the tables, which meet the same faults.
    thresholds : sequence of bool
        Whether to lay out below thresholds what can be: each is tried where the one before does not fit.

    Raises
    ------
    TooTangled
        The tables would not fit.
    """

    def __init__(
        self,
        model: Model,
        known: Known,
        every: Sequence[Said],
        asks: Sequence[Ask] = (),
        beside: Sequence[Node] = (),
        *,
        thresholds: Sequence[bool] = (False,),
    ) -> None:
        asked = [(target_of(model, ask, known), outcomes_by_state(model, ask).T) for ask in asks]
        self.classes = classes = classes_of(model.acting, [*((said.target, said.table) for said in every), *asked])
        builder = NodeBuilder(model.faces(known.snapshots), classes)
        clues = self._clues(known, every, builder)
        self.node_of = {ask: builder.node(target) for ask, (target, _) in zip(asks, asked, strict=True)}
        self.table_of = {
            ask: of_classes(table, classes.get(target)).T for ask, (target, table) in zip(asks, asked, strict=True)
        }
        found = [instance for _, instance, _ in known.found]
        # in a fixed order, not a set's: the order of elimination hangs on it, and with it every draw
        met = dict.fromkeys(face for node in [*builder.nodes, *beside] for face in node.faults)
        self.common = common = model.common_causes(seen_faults(model.acting, known))
        self.stems = links(model, found, common)
        origins = [parent for stem in self.stems.values() for parent, _ in stem.parents]
        self.courses = courses_of(
            dict.fromkeys((*met, *found, *self.stems, *origins)), model.library.faults, model.timeline.births
        )
        self.chance = {root: model.chance_of(root, common) for root in self.courses if root not in self.stems}
        levels = {said.level: len(known.levels[said.level]) for said in every if said.level}
        nodes = tuple(dict.fromkeys(self.node_of.values()))

        def laid_out(below: bool) -> Network:
            return cheaper(
                lambda short: Network(
                    builder.nodes,
                    clues,
                    self.chance,
                    self.stems,
                    self.courses,
                    levels,
                    model.seat,
                    nodes,
                    common.chance,
                    short=short,
                    thresholds=below,
                )
            )

        self.network = first_that_fits(laid_out, thresholds)

    def _clues(self, known: Known, every: Sequence[Said], builder: NodeBuilder) -> list[Clue]:
        """What was said as tables on nodes, what was found as tables on faults."""
        said = [
            Clue(
                one.entry,
                of_classes(one.counted, self.classes.get(one.target)),
                node=builder.node(one.target),
                level=one.level,
            )
            for one in every
        ]
        return said + [Clue(entry, table, instance=instance) for entry, instance, table in known.found]

    def given(self, ask: Ask, outcome: int) -> Built:
        """The same after a check had its ``outcome``-th outcome."""
        after = copy(self)
        after.network = self.network.given(self.node_of[ask], self.table_of[ask][:, outcome])
        return after


def seen_faults(acting: Acting, known: Known) -> Iterable[str]:
    """Faults that were found, and those shown by a look that sees nothing else; what is only asked for (entry below 0)
    is not."""
    for _, instance, table in known.found:
        if table[1] > table[0] and not instance.serial and not instance.generation:
            yield instance.fault
    for said in known.said:
        if said.entry >= 0 and not said.level and said.target.ladder.startswith(OWN_LADDER):
            ladder, acts = acting.ladders[said.target.ladder], acting.strengths(said.target.ladder, said.target.regime)
            if len(acts) == 1 and not ladder.inputs and said.table[acts[0].size] >= SEEN_RATIO * said.table[0]:
                yield acts[0].fault


def rounding_of(network: Network, full: Pass) -> float:
    """Bound of the error of a chance by what cancels below thresholds.

    Raises
    ------
    TooTangled
        More than :data:`LARGEST_ERROR`: the tables fit, but their digits do not.
    """
    if not network.below:
        return 0.0
    unsigned = network.run(thresholds="unsigned").log_chance
    bound = ROUNDING * float(np.exp(min(unsigned - full.log_chance, 700.0)))
    if not bound <= LARGEST_ERROR:
        raise TooTangled(network.tree.cells)
    return bound


def first_that_fits(laid_out: Callable[[bool], Network], thresholds: Sequence[bool]) -> Network:
    """A network laid out in the first of some ways that fits.

    Raises
    ------
    TooTangled
        None does.
    """
    *others, last = thresholds
    for below in others:
        try:
            return laid_out(below)
        except TooTangled:
            continue
    return laid_out(last)


def cheaper(laid_out: Callable[[bool], Network]) -> Network:
    """A network laid out with long tables, or with short ones where those are fewer cells.

    Where long ones are hopeless, short ones are not laid out: on 34 such cars none was found that they fitted.

    Raises
    ------
    TooTangled
        Neither fits.
    """
    try:
        long = laid_out(False)
    except TooTangled as tangled:
        if tangled.cells > HOPELESS * MOST_CELLS:
            raise
        return laid_out(True)
    if long.tree.cells <= SMALL_NETWORK or not long.shortens:
        return long
    try:
        short = laid_out(True)
    except TooTangled:
        return long
    return min(long, short, key=lambda network: network.tree.cells)
