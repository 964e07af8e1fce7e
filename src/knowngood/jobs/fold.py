"""What the entries of a job amount to."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from knowngood.errors import Problem, Refused
from knowngood.evidence import CarFact, Entry, Strike

UNDO = "undo"
"""The reason written into the strikes that :func:`undo` makes; another undo goes on to the line before."""

WIDTH_WITHOUT_ZONE = len("2001-02-03T04:05:06.000000")


def moment(stamp: str) -> str:
    """A stamp without its zone, as a sort key: of one width, so text sorts as time does.

    Both ways to write UTC (``Z`` and ``+00:00``) are kept as they came, and would sort apart.
    """
    return stamp[:WIDTH_WITHOUT_ZONE]


def in_time(entry: Entry) -> tuple[str, str]:
    """Sort key: when it happened, then when it was typed."""
    return moment(entry.at), moment(entry.entered)


def standing(entries: Iterable[Entry]) -> list[Entry]:
    """The entries that count, in time order.

    An entry counts when no strike that counts names it; a strike is an entry, so a struck strike gives back what it
    took. Whether a strike happened before or after what it names does not matter. Strikes that only hold each other
    up, in a circle, take nothing, nor do strikes that hang on such a circle (the store lets none in).

    Parameters
    ----------
    entries : iterable of Entry
        All of one job. Entries of the same moment keep the order they are given in.

    Returns
    -------
    list of Entry
        The strikes that count are among them.
    """
    ordered = sorted(entries, key=in_time)
    strikers: dict[str, list[str]] = {}
    for entry in ordered:
        if isinstance(entry.body, Strike):
            strikers.setdefault(entry.body.entry, []).append(entry.id)
    counts: dict[str, bool] = {}
    open_ids = [entry.id for entry in ordered]
    while open_ids:
        undecided = []
        for entry_id in open_ids:
            by = [counts.get(striker) for striker in strikers.get(entry_id, ())]
            if True in by:
                counts[entry_id] = False
            elif None not in by:
                counts[entry_id] = True
            else:
                undecided.append(entry_id)
        if len(undecided) == len(open_ids):
            in_circle = {entry.id for entry in ordered if isinstance(entry.body, Strike)}
            counts.update((entry_id, entry_id not in in_circle) for entry_id in undecided)
            break
        open_ids = undecided
    return [entry for entry in ordered if counts[entry.id]]


def birth(entries: Iterable[Entry]) -> Entry:
    """The entry a job began with: of those that tell a nickname, the one typed first; `Refused` where none does."""
    named = [entry for entry in entries if isinstance(entry.body, CarFact) and entry.body.field == "nickname"]
    if not named:
        raise Refused(Problem("These entries tell no nickname.", "A job begins with the nickname of its car."))
    return min(named, key=lambda entry: moment(entry.entered))


def typed(entries: Iterable[Entry]) -> list[Entry]:
    """Entries that count and can be taken back, in the order they were typed; what is called an undo is passed over."""
    entries = list(entries)
    first = birth(entries).id
    can_go = [
        entry
        for entry in standing(entries)
        if entry.id != first and not (isinstance(entry.body, Strike) and entry.body.why == UNDO)
    ]
    return sorted(can_go, key=lambda entry: moment(entry.entered))


def undo(entries: Sequence[Entry], *, now: str, new_id: Callable[[], str], of: str = "") -> list[Entry]:
    """The entries that take back one typed line, to be appended.

    Taken back is the line typed last of those that still count: every entry that came of it and was typed at that
    moment. What is called an undo is itself passed over, so a second undo goes on to the line before; a correction
    typed as a line is taken back like any other, which gives back what it struck. The entry that began the job stays.

    Parameters
    ----------
    entries : sequence of Entry
        All of one job.
    now : str
        This moment, ISO 8601 in UTC with microseconds.
    new_id : callable
        Gives a random id at each call.
    of : str
        Id of an entry: its line is taken back instead of the last one, also when it is an undo.

    Returns
    -------
    list of Entry
        One :class:`~knowngood.evidence.Strike` for each entry of the line.

    Raises
    ------
    Refused
        Nothing is left to take back, or the entry named in ``of`` is not there or already struck.
    """
    first = birth(entries).id
    can_go = [entry for entry in standing(entries) if entry.id != first]
    if of:
        last = next((entry for entry in can_go if entry.id == of), None)
        if last is None:
            raise Refused(_not_there(entries, of, first))
    elif left := typed(entries):
        last = left[-1]
    else:
        raise Refused(Problem("Nothing is left to take back.", "The name of the car stays; type another to change it."))
    return [
        Entry(id=new_id(), at=now, entered=now, body=Strike(entry.id, UNDO), line=UNDO)
        for entry in can_go
        if (entry.line, entry.entered) == (last.line, last.entered)
    ]


def _not_there(entries: Iterable[Entry], wanted: str, first: str) -> Problem:
    met = next((entry for entry in entries if entry.id == wanted), None)
    if met is None:
        return Problem(f"There is no entry '{wanted}' in this job.", "Take the id from the journal.")
    if wanted == first:
        return Problem(f"'{met.line or wanted}' began this job and stays.", "Type another nickname to change it.")
    return Problem(f"'{met.line or wanted}' is already taken back.", "Strike its strike to bring it back.")
