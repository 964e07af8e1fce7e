"""A list of suspects as a page shows it: those worth a look first, the unlikely rest behind one line."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.app.answer import Suspect

UNLIKELY = 1 / 12  # a long tail of such names hides those above it
LEAST = 3  # shown however unlikely


def lead_and_tail(suspects: Sequence[Suspect]) -> tuple[Sequence[Suspect], Sequence[Suspect]]:
    """Suspects up to the last that is not unlikely, and those behind it; a tail of one is not worth a line.

    >>> lead_and_tail([])
    ([], [])
    """
    likely = [at for at, one in enumerate(suspects, start=1) if one.shown >= UNLIKELY]
    end = max(LEAST, likely[-1] if likely else 0)
    if len(suspects) - end < 2:
        end = len(suspects)
    return suspects[:end], suspects[end:]


def speaks_for(suspect: Suspect) -> str:
    """Why it is suspected where neither a line nor the story speaks for it; nothing where one does, or none was
    weighed."""
    told = any(one.settled or one.weight > 0.0 for one in suspect.because)
    if not suspect.because or told or any(one.weight > 0.0 for one in suspect.story):
        return ""
    return "from all readings together"
