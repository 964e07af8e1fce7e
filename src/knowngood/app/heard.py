"""A line before it is said: how it would be understood, in words; nothing is kept."""

from __future__ import annotations

from knowngood.app.bay_time import today_of
from knowngood.app.recent import recent_of
from knowngood.app.state import car_of
from knowngood.app.weigh import is_understood, why_not
from knowngood.app.workshop import Workshop, must_be_text
from knowngood.lines import read_line


def heard(workshop: Workshop, job: str, text: str) -> str:
    """``Heard: compression 5: 12 bar, guessed bar.``, with what would not count; empty for an empty line.

    Raises
    ------
    Refused
        There is no such car, or the line is too long or no text.
    """
    if not text.strip():
        return ""
    must_be_text(text)
    entries = workshop.entries(workshop.job(job).code)
    understood = read_line(text, car_of(entries), workshop.library, recent_of(entries), today_of(workshop.now()))
    if not understood.bodies:
        return f"Not understood as it stands: {why_not(understood)}."
    words = f"Heard: {understood.echo}."
    return words if is_understood(understood) else f"{words} It would not count whole: {why_not(understood)}."
