"""What has been asked and answered: no reading is taken again that no work since can have changed."""

from __future__ import annotations

from msgspec.structs import replace

from knowngood.app.state import State
from knowngood.belief.clues import THAT_IT_RAN
from knowngood.belief.faces import Target
from knowngood.belief.nodes import NodeBuilder
from knowngood.car import Place
from knowngood.evidence import Reading, Work

Asked = tuple[str, Place]


def answered(state: State) -> frozenset[Asked]:
    """Readings (kind, place) that would only be repeated.

    Those taken since the last work; and older ones whose faults have not been touched: read again, they say nothing
    new (the belief counts a repeat as one), so they must not be sold as news.
    """
    last_work = max((index for index, entry in enumerate(state.entries) if isinstance(entry.body, Work)), default=-1)
    since: set[Asked] = set()
    older: dict[Asked, int] = {}
    for index, entry in enumerate(state.entries):
        if isinstance(entry.body, Reading) and not entry.body.doubt:
            place = state.layout.by_number(entry.body.place)
            if place is None:
                continue  # of another engine
            asked = (entry.body.kind, place)
            if index > last_work:
                since.add(asked)
            else:
                older[asked] = index
    return frozenset(since | _unchanged(state, {asked: entry for asked, entry in older.items() if asked not in since}))


def _unchanged(state: State, older: dict[Asked, int]) -> set[Asked]:
    """Of readings by the entry that said them, those that would read the same parts in the same state now."""
    belief = state.belief
    builder = NodeBuilder(belief.model.faces(belief.known.snapshots), {})
    by_entry: dict[int, list[Target]] = {}
    for said in belief.known.said:
        if said.same != THAT_IT_RAN:  # what was read with the engine running says that it ran, too: not what was asked
            by_entry.setdefault(said.entry, []).append(said.target)
    same: dict[Target, bool] = {}

    def is_same(target: Target) -> bool:
        if target not in same:
            now = replace(target, moment=belief.now)
            same[target] = builder.node_alone(target) == builder.node_alone(now)
        return same[target]

    return {asked for asked, entry in older.items() if entry in by_entry and all(map(is_same, by_entry[entry]))}
