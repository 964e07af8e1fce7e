"""Whether a repair is proved: what was read before and after it, what is still to be read, and over how much driving.

A fact that is there or not (a miss, a code, a noise) can prove within the drives
that would have shown it. A level (a trim, a drop, a pressure) wanders from drive
to drive, so one reading after the work never proves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from knowngood.app.after_work import still_to_settle
from knowngood.app.pieces import piece_words, repairs_made
from knowngood.app.state import State
from knowngood.app.story import Seen, bears_on, cured_by, seen_before_and_after
from knowngood.app.suspects import suspected
from knowngood.belief.protocol import FaultAt
from knowngood.belief.worked_on import reaches
from knowngood.car import ENGINE
from knowngood.errors import NotMeasurable
from knowngood.evidence import Work
from knowngood.measure.proof import clean_drives_from_history
from knowngood.sheets.words import in_words

NO_EFFECT = ("no change", "worse")
WANTED = 0.02  # chance that the same fault is still there, below which a repair counts as proved
REOPENED = 2
LEAST_LEVELS = 3  # drives on which a level is read before it proves anything; common practice
PROVED, NOT_YET, CAME_BACK, STILL_THERE = "proved", "not proved yet", "came back", "still there"
NOTHING = "changed nothing"  # as it was said, or as the first reading after it shows
LOOK_AGAIN = "look again: the next step weighs it with all that was read before"
UPKEEP = "upkeep"  # a bundle before which nothing was read that it would change: there is nothing to prove


class Proof(msgspec.Struct, frozen=True, kw_only=True):
    """How one repair stands.

    Parameters
    ----------
    work : str
    verdict : str
        ``proved``, ``not proved yet``, ``came back``, ``still there``, ``changed nothing`` or ``upkeep``.
    left : float
        Chance that something it was to put right is still there.
    shown : list of str
        Readings from both sides of it.
    needs : list of str
        What must be done or read, in order, before it counts.
    clean_drives : int or None
        Drives without a sign of it, under the conditions it came with; None where none are needed or none would do.
    read_before : bool
        Whether anything was read before the work that it should change; upkeep has nothing to prove.
    """

    work: str
    verdict: str
    left: float
    shown: list[str]
    needs: list[str]
    clean_drives: int | None = None
    read_before: bool = True


def proofs_of(state: State, wanted: float = WANTED) -> list[Proof]:
    """One for each repair made here, in time order."""
    return [_proof(state, indexes, wanted) for indexes in repairs_made(state)]


def all_proved(proofs: Sequence[Proof]) -> bool:
    """Whether a repair is proved, and none is left that is not: then the car can be handed over.

    One before which nothing was read that it would change is never proved: it holds nothing up where little is left.
    """
    asked = [proof for proof in proofs if proof.verdict not in (NOTHING, UPKEEP) and not cannot_be_proved(proof)]
    return bool(asked) and all(proof.verdict == PROVED for proof in asked)


def proved_words(proofs: Sequence[Proof]) -> str:
    """That every repair is proved, said so only where each is; empty where the car cannot be handed over yet."""
    if not all_proved(proofs):
        return ""
    return f"Every repair is proved{' as far as it can be' if any(map(cannot_be_proved, proofs)) else ''}"


def cannot_be_proved(proof: Proof) -> bool:
    """Whether nothing was read before that it would change, and little of what it put right is left all the same."""
    return proof.verdict == NOT_YET and not proof.read_before and proof.left <= WANTED


def _proof(state: State, indexes: tuple[int, ...], wanted: float) -> Proof:
    index = indexes[-1]
    bodies = [state.entries[one].body for one in indexes]
    works = [body for body in bodies if isinstance(body, Work)]
    seen = [
        one
        for one in seen_before_and_after(state, index)
        if one.was_bad and any(bears_on(state, one.reading, work) for work in works)
    ]
    if len(works) > 1:  # a bundle answers for what was read before it, not for all that upkeep puts right
        works = [work for work in works if any(bears_on(state, one.reading, work) for one in seen)]
    mine = [at for work in works for at in _put_right(state, work)]
    left = state.belief.chance_of_any(mine) if mine else 0.0
    again = [one for one in seen if one.could_be_by_it and not one.bad_after[-1]]
    verdict = _verdict(state, seen, left, wanted) if seen or len(indexes) == 1 else UPKEEP
    if (verdict == PROVED and not any(one.could_be_by_it for one in seen)) or (
        len(works) == 1 and works[0].effect in NO_EFFECT
    ):
        verdict = NOTHING
    drives = None
    if verdict == NOT_YET and left > wanted:
        drives = _drives(seen, left, wanted)
    return Proof(
        work=piece_words(state, indexes),
        verdict=verdict,
        left=left,
        shown=[f"{one.name}: {one.before} before, {one.after} after" for one in again if verdict != NOTHING],
        needs=list(_needs(state, indexes, seen, verdict, drives, left)),
        clean_drives=drives,
        read_before=bool(seen),
    )


def _put_right(state: State, work: Work) -> Iterator[FaultAt]:
    """The faults, at their places, that this work was to put right."""
    for at in state.belief.faults:
        if cured_by(state.library.faults[at.fault], work) and reaches(
            state.library, state.layout, work.part, work.places, at.place
        ):
            yield at


def _verdict(state: State, seen: Sequence[Seen], left: float, wanted: float) -> str:
    for one in seen:
        if one.bad_after and one.bad_after[-1]:
            return CAME_BACK if not all(one.bad_after) else STILL_THERE
    facts = any(one.bad_after and not one.is_level for one in seen)
    levels = any(one.is_level and len(one.bad_after) >= LEAST_LEVELS for one in seen)
    unread = any(not one.bad_after and _is_told(state, one) for one in seen)
    return PROVED if left <= wanted and (facts or levels) and not unread else NOT_YET


def _is_told(state: State, seen: Seen) -> bool:
    """Whether it is a complaint or a code: what the car came with must be looked at again, a check need not."""
    kind = state.library.readings.get(seen.reading.kind)
    return seen.reading.kind == "code" or (kind is not None and kind.complaint)


def is_wanted_again(state: State, one: Seen, seen: Sequence[Seen], left: float, wanted: float = WANTED) -> bool:
    """Whether a reading is to be taken once more: it was not since the work, and nothing else has shown enough.

    Where a fact is gone and little is left, a check adds minutes and no proof: no spark test after a clean drive.
    """
    shown = left <= wanted and any(
        other.bad_after and not other.is_level and not any(other.bad_after) for other in seen
    )
    return not one.bad_after and (not shown or _is_told(state, one))


def _drives(seen: Sequence[Seen], left: float, wanted: float) -> int | None:
    """Clean drives for the fact that showed least often before, as far as was looked."""
    facts = [one for one in seen if not one.is_level]
    if not facts:
        return None
    rarest = min(facts, key=lambda one: one.times_bad / one.times)
    try:
        return clean_drives_from_history(left, rarest.times_bad, rarest.times, wanted).drives
    except NotMeasurable:
        return None


def _open_again(state: State) -> str:
    """Who is suspected now, old evidence and all: ``; most likely now: coil weak (about 3 in 10)``."""
    named = [
        f"{state.library.faults[one.kinds[0]].name}{'' if one.places[0] == ENGINE else f', {one.places[0]}'} "
        f"({in_words(one.behind)})"
        for one in suspected(state)[:REOPENED]
    ]
    return f"; most likely now: {', then '.join(named)}" if named else ""


def _with(seen: Sequence[Seen]) -> str:
    """The conditions that were told with what was bad: `` (cold start, wet)``."""
    told = dict.fromkeys(condition for one in seen for condition in one.reading.conditions)
    return f" ({', '.join(told)})" if told else ""


def _needs(
    state: State, indexes: Sequence[int], seen: Sequence[Seen], verdict: str, drives: int | None, left: float
) -> Iterator[str]:
    if verdict in (PROVED, NOTHING, UPKEEP):
        return
    if verdict in (CAME_BACK, STILL_THERE):
        yield f"{LOOK_AGAIN}{_open_again(state)}"
        return
    after = state.entries[indexes[-1] :]
    cleared = any(isinstance(entry.body, Work) and entry.body.do == "cleared" for entry in after)
    if any(one.reading.kind == "code" for one in seen) and not cleared:
        yield "write the codes down, then clear them: an old code says nothing of the work"
    yield from still_to_settle(state, indexes)
    fact = any(one.bad_after and not one.is_level for one in seen)  # with one, no level is asked for more often
    for one in seen:
        if is_wanted_again(state, one, seen, left):
            yield f"read again: {one.name} (was {one.before})"
        elif one.bad_after and not fact and one.is_level and len(one.bad_after) < LEAST_LEVELS:
            more = LEAST_LEVELS - len(one.bad_after)
            drives_more = "one more drive" if more == 1 else f"{more} more drives"
            yield f"read on {drives_more}: {one.name} (a level proves nothing in one)"
    if drives:
        yield f"{drives} clean {'drive' if drives == 1 else 'drives'} under the conditions it came with{_with(seen)}"
    if not seen:
        yield f"nothing was read before the work that it would change; {in_words(left)} that it is not right yet"
