"""A car put away for now, and taken up again: said in its journal like everything else."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.evidence import Entry, Note

AWAY, BACK = "put away", "taken up again"
WHY = "said of the job, not of the car"


def note_of(away: bool) -> Note:
    """What is written down."""
    return Note(AWAY if away else BACK, WHY)


def is_away(entries: Sequence[Entry]) -> bool:
    """Whether a car was put away and not taken up again."""
    said = [entry.body.text for entry in entries if isinstance(entry.body, Note) and entry.body.why == WHY]
    return bool(said) and said[-1] == AWAY
