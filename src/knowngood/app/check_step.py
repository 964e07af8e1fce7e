"""Any check of the library as a step of its own, whether it is advised now or not."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from knowngood.app.answer import Asked, NextStep
from knowngood.car import Car, Layout
from knowngood.errors import Problem, Refused
from knowngood.library.fitted_on import can_have
from knowngood.library.records import Check, Fault, Library

MOST_FOUND = 40
_TO_TAP = (
    "battery charging starter fuse relay ground wire loom key ecu fuel pump injector air vacuum hose throttle plug "
    "coil spark compression valve cam timing crank oil coolant exhaust oxygen sensor brake wheel steering gearbox "
    "clutch nest"
)
TO_TAP = tuple(_TO_TAP.split())
"""Words to find something by without typing; what has none of them stands in the list of all."""
WORTH_A_PLACE = 0.02  # a fault under this stands in the list by its name


def step_of_check(library: Library, layout: Layout, check_id: str) -> NextStep:
    """A check at every place where it can be made.

    Raises
    ------
    Refused
        The library has no such check.
    """
    check = library.checks.get(check_id)
    if check is None:
        raise Refused(Problem(f"There is no check '{check_id}'.", "Go back to the list of checks."))
    kinds = [library.readings[name] for name in check.reads if name in library.readings]
    return NextStep(
        do="measure" if check.tools else "look",
        what=check.id,
        name=check.name,
        place="engine",
        minutes=check.minutes,
        money=check.money,
        cost=0.0,
        why=check.how,
        answers=[],
        cautions=[library.cautions[name].text for name in check.cautions if name in library.cautions],
        tools=[library.tools[name].name for name in check.tools if name in library.tools],
        opens=[library.access[name].name for name in check.access if name in library.access],
        off=[name for name in check.access if name in library.access],
        reads=[Asked(kind.id, str(place)) for kind in kinds for place in layout.places(kind.place)],
    )


def step_of_key(library: Library, layout: Layout, key: str) -> NextStep | None:
    """The check that a step's key names, at the place it names; nothing where it names no check.

    A page left open asks for a step that is not advised any more: what was found by it is worth no less.

    Parameters
    ----------
    key : str
        As :func:`knowngood.app.step_form.key_of` makes it: ``look plug_look cylinder 3``.
    """
    _, _, rest = key.partition(" ")
    check, _, place = rest.partition(" ")
    if check not in library.checks:
        return None
    step = step_of_check(library, layout, check)
    there = [asked for asked in step.reads if asked.place == place]
    return replace(step, place=place, reads=there) if there else step


def find_checks(library: Library, words: str, car: Car, first: int = 0) -> tuple[Sequence[Check], int]:
    """Checks this car may have with a word in name, readings or tools that begins as each of those wanted, by name.

    Returns
    -------
    found : sequence of Check
        From the ``first`` on, :data:`MOST_FOUND` at most.
    count : int
        How many there are in all.
    """
    found = [
        check
        for check in library.checks.values()
        if can_have(check, car, library) and _holds(_text(library, check), words)
    ]
    return sorted(found, key=lambda check: check.name.casefold())[first : first + MOST_FOUND], len(found)


def find_faults(
    library: Library, words: str, car: Car, likely: Mapping[str, float], first: int = 0
) -> tuple[Sequence[Fault], int]:
    """Faults this car may have with a word in name, words or part that begins as each of those wanted.

    Parameters
    ----------
    likely : mapping fault id -> chance
        As far as it was worked out: the likeliest come first, those hardly worth a word by name.

    Returns
    -------
    found, count
        As of :func:`find_checks`.
    """
    found = [
        fault
        for fault in library.faults.values()
        if can_have(fault, car, library) and _holds(_words(library, fault), words)
    ]

    def order(fault: Fault) -> tuple[float, str]:
        chance = likely.get(fault.id, 0.0)
        return (-chance if chance >= WORTH_A_PLACE else 0.0, fault.name.casefold())

    return sorted(found, key=order)[first : first + MOST_FOUND], len(found)


def _holds(text: str, wanted: str) -> bool:
    """Whether each word wanted begins a word of the text: ``oil`` is not found in a coil."""
    return all(re.search(rf"(?<!\w){re.escape(word)}", text) for word in wanted.casefold().split())


def _words(library: Library, fault: Fault) -> str:
    part = library.parts.get(fault.part)
    return " ".join([fault.name, *fault.words, part.name if part is not None else fault.part]).casefold()


def _text(library: Library, check: Check) -> str:
    kinds = [library.readings[name] for name in check.reads if name in library.readings]
    tools = [library.tools[name].name for name in check.tools if name in library.tools]
    said = [word for kind in kinds for word in (kind.name, *kind.says)]
    return " ".join([check.name, *said, *tools]).casefold()
