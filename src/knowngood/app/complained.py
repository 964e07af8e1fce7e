"""What can be behind what the driver complains of, or behind a code: told from what was found beside it."""

from __future__ import annotations

from collections.abc import Iterator

from knowngood.app.state import State
from knowngood.evidence import Reading
from knowngood.library.find import code_at
from knowngood.library.healthy import DENIED, UNTOLD
from knowngood.library.reach import reach_of

NO_COMPLAINT = (*DENIED, *UNTOLD, "none")  # "no codes" is none either


def behind_complaints(state: State) -> frozenset[str]:
    """Kinds of fault that can be behind a complaint or a code that was told; empty where none was."""
    return frozenset[str]().union(*_seen_by_each(state))


def _seen_by_each(state: State) -> Iterator[frozenset[str]]:
    library, reach = state.library, reach_of(state.library)
    told = {
        (entry.body.kind, entry.body.code)
        for entry in state.entries
        if isinstance(entry.body, Reading) and not entry.body.doubt and entry.body.word not in NO_COMPLAINT
    }
    for name, text in sorted(told):
        kind, code = library.readings.get(name), code_at(library, text) if text else None
        if code is not None:
            yield reach.of_code(code[0])
        elif kind is not None and kind.complaint:
            yield reach.of_reading(kind)
