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
    """Why it is suspected where no single line speaks for it: nothing is said where one does, or none was weighed."""
    if not suspect.because or any(one.settled or one.weight > 0.0 for one in suspect.because):
        return ""
    return "from what was told of the car, and all readings together"
