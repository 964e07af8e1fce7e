"""Lines that bear on a suspect, and how far is not known: the draws are worth too little without them."""

from __future__ import annotations

from collections.abc import Mapping

from knowngood.app.ledger import LEAST_WORTH
from knowngood.app.state import State
from knowngood.evidence import Reading
from knowngood.library.find import code_at
from knowngood.library.reach import reach_of


def not_weighed(state: State, lines: Mapping[int, int]) -> dict[int, frozenset[str]]:
    """The faults that each such line sees, by line number; none where the belief is exact.

    A line that decides much is the one that cannot be left out of draws made with it. To say nothing of it would make
    a suspect stand there by what moved it least.

    Parameters
    ----------
    lines : mapping entry index -> line number
        How the door that asks numbers the lines.
    """
    belief = state.belief
    if belief.exact:
        return {}
    of_line: dict[int, set[int]] = {}
    for entry in belief.entries_in():
        if entry >= 0:
            of_line.setdefault(lines.get(entry, 0), set()).add(entry)
    result = {}
    for number, entries in sorted(of_line.items()):
        weight = belief.draws.weights_without(frozenset(entries))
        if 1.0 / float(weight @ weight) < LEAST_WORTH:
            bodies = (state.entries[entry].body for entry in entries)
            result[number] = frozenset().union(*(_seen(state, body) for body in bodies if isinstance(body, Reading)))
    return result


def _seen(state: State, reading: Reading) -> frozenset[str]:
    library, reach = state.library, reach_of(state.library)
    code = code_at(library, reading.code) if reading.code else None
    if code is not None:
        return reach.of_code(code[0])
    kind = library.readings.get(reading.kind)
    return reach.of_reading(kind) if kind is not None else frozenset()
