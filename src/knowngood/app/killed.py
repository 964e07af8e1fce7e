"""What may have killed a part that is to be replaced, and how that is said."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from knowngood.app.fault_words import fault_words
from knowngood.app.state import State
from knowngood.belief.protocol import FaultAt
from knowngood.library.records import Library
from knowngood.planner.steps import Held
from knowngood.sheets.words import in_words, small


def killers_of(library: Library, faults: Iterable[str]) -> set[str]:
    """Kinds of fault that may have killed parts with one of these faults."""
    dead = set(faults)
    return {name for killed in library.killed.values() if dead & set(killed.faults) for name in killed.by}


def may_have_killed(state: State, dead: Sequence[FaultAt]) -> tuple[FaultAt, ...]:
    """Faults that may have killed a part with these faults: of the engine, or at the same place."""
    kinds, model = killers_of(state.library, {at.fault for at in dead}), state.belief.model
    places = {at.place for at in dead}
    of_cylinder = any(place.kind == "cylinder" for place in places)
    ended = set(dead)
    some = (
        at
        for kind in kinds
        for at in model.places.get(kind, ())
        if at not in ended and (at.place in places or at.place.kind != "cylinder" or not of_cylinder)
    )
    return tuple(sorted(some, key=model.column.__getitem__))


def held_words(state: State, held: Held, named: str) -> str:
    """Why a replacement waits, and what answers it.

    Parameters
    ----------
    named : str
        The check that does, as the steps call it; empty where none does.
    """
    said = [f"{fault_words(state, at)} ({in_words(chance)})" for at, chance in held.by]
    causes = " or ".join(said) if len(said) < 3 else f"{', '.join(said[:-1])} or {said[-1]}"
    why = next(
        (
            killed.why
            for killed in state.library.killed.values()
            if {at.fault for at in held.repair.fixes} & set(killed.faults)
            and {at.fault for at, _ in held.by} & set(killed.by)
        ),
        "",
    )
    answer = f"This tells: {small(named)}." if named else "Rule that out by looking before a new one goes in."
    return f"Do not {small(held.repair.name)} yet. What killed it? It may be {causes}. {why} {answer}"
