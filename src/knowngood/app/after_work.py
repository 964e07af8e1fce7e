"""What must be cleared, learned or bled before a piece of work shows whether it was right."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.app.state import State
from knowngood.evidence import Work
from knowngood.library.job_records import AfterWork


def still_to_settle(state: State, indexes: Sequence[int]) -> list[str]:
    """What the work at these entries asks for and nobody has done since, in words."""
    return list(
        dict.fromkeys(
            after.say
            for index in indexes
            for after in state.library.after_work.values()
            if _asks(after, state.entries[index].body) and not _is_settled(state, after, index)
        )
    )


def _asks(after: AfterWork, body: object) -> bool:
    return isinstance(body, Work) and body.who == "here" and body.part in after.parts and body.do in after.do


def _is_settled(state: State, after: AfterWork, index: int) -> bool:
    return any(
        isinstance(entry.body, Work)
        and entry.body.do in after.settled_by
        and (not after.settled_at or entry.body.part in after.settled_at)
        for entry in state.entries[index + 1 :]
    )
