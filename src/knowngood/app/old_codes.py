"""Codes from before a repair, once it was driven: they say nothing of it until they were cleared and read again."""

from __future__ import annotations

from knowngood.app.pieces import CLEARED, repairs_made, works_at
from knowngood.app.state import State
from knowngood.app.story import bears_on, seen_before_and_after
from knowngood.evidence import Reading, Work


def old_codes(state: State) -> str:
    """What to do with the codes that wait for the last repair that bears on them.

    Empty where none waits, and while nothing was said since of how it runs: then the repair itself has to be tried.
    """
    for indexes in reversed(repairs_made(state)):
        works = works_at(state, indexes)
        waiting = [
            one.reading.code
            for one in seen_before_and_after(state, indexes[-1])
            if one.reading.kind == "code" and one.was_bad and not one.bad_after
            if any(bears_on(state, one.reading, work) for work in works)
        ]
        if waiting and _runs_since(state, indexes[-1]):
            return _asked(state, waiting, indexes[-1])
    return ""


def _runs_since(state: State, index: int) -> bool:
    """Whether a complaint was looked for on the car after an entry: there is a drive to speak of."""
    readings = (entry.body for entry in state.entries[index + 1 :] if isinstance(entry.body, Reading))
    kinds = (state.library.readings.get(reading.kind) for reading in readings if not reading.doubt)
    return any(kind is not None and kind.complaint for kind in kinds)


def _asked(state: State, codes: list[str], index: int) -> str:
    names, one = " and ".join(codes), len(codes) == 1
    bodies = (entry.body for entry in state.entries[index + 1 :])
    if any(isinstance(body, Work) and body.do == CLEARED for body in bodies):
        return f"{names} {'was' if one else 'were'} cleared: which codes are there now, after a drive?"
    was, them = ("is", "it") if one else ("are", "them")
    return f"{names} {was} from before the repair: write {them} down, clear, drive, and read the codes again."
