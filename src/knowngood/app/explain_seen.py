"""Pages on what is read: checks, readings, codes."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.app.explain_words import limits, sentence
from knowngood.library.reach import reach_of
from knowngood.library.records import Check, Code, Library, ReadingKind, Spread
from knowngood.library.separation import Separation
from knowngood.sheets.words import minutes

Sections = list[tuple[str, Iterable[str]]]


def explain_check(library: Library, check: Check, separation: Separation) -> tuple[str, Sections]:
    """How a check is made, what it takes, what it sees and what it cannot see."""
    seen = [library.faults[name].name for name, checks in separation.seen_by.items() if check.id in checks]
    each = f", {check.each_minutes:g} more for each further place" if check.each_minutes else ""
    takes = [
        f"{minutes(check.minutes)}{each}",
        f"engine {check.engine}",
        *(f"tool: {library.tools[name].name}" for name in check.tools),
        *(f"first off: {library.access[name].name}" for name in check.access),
        *limits(check.needs),
    ]
    reads = [
        f"{library.readings[name].name} ({name})" if name in library.readings else "every code that is stored"
        for name in check.reads
    ]
    poor = [f"a poorer form of: {library.checks[check.poor_form_of].name}"] if check.poor_form_of else []
    return check.how, [
        ("It takes", takes + poor),
        ("It reads", reads),
        ("It sees", seen),
        ("It cannot see", [check.cannot] if check.cannot else []),
        ("Cautions", [library.cautions[name].text for name in check.cautions]),
    ]


def explain_reading(library: Library, reading: ReadingKind) -> tuple[str, Sections]:
    """What is read and what it shows at each level."""
    if reading.words:
        shows = [
            f"{level}: " + ", ".join(f"{word} {chance:g}" for word, chance in column.items())
            for level, column in reading.chance.items()
        ]
    elif reading.spread:
        shows = [f"{level}: {_spread(spread)}" for level, spread in reading.spread.items()]
    else:
        shows = [f"{reading.offset:g} and {reading.per_step:+g} for each step, give or take {reading.noise:g}"]
    where = f"at the {reading.place}" + (f", {reading.when}" if reading.when not in ("", "any") else "")
    taken = [check.name for check in library.checks.values() if reading.id in check.reads]
    kind = "what a driver says" if reading.complaint else f"in {reading.quantity}" if reading.quantity else "in words"
    return sentence(f"{kind}, {where}"), [
        ("What it shows, by how things stand", shows),
        ("Stands on", [f"{library.ladders[name].name} ({name})" for name in (reading.on, *reading.inputs) if name]),
        ("Got by", taken),
        ("Comes from", _names(library, reach_of(library).readings[reading.id])),
        ("It cannot tell", [reading.cannot] if reading.cannot else []),
        ("Known by the words", [", ".join(reading.says)] if reading.says else []),
        ("Facts", [*_stop(reading), *limits(reading.needs)]),
    ]


def explain_code(library: Library, code: Code) -> tuple[str, Sections]:
    """What a code is evidence of, and what it is often a consequence of."""
    return code.often_from and f"Often from: {code.often_from}", [
        ("How likely it is set", [f"{level}: {chance:g}" for level, chance in code.set.items()]),
        ("Can come from", _names(library, reach_of(library).codes[code.id])),
        ("Facts", limits(code.needs)),
    ]


def _names(library: Library, faults: Iterable[str]) -> list[str]:
    return [library.faults[name].name for name in sorted(faults)]


def _stop(reading: ReadingKind) -> list[str]:
    return ["a stop item"] if reading.stop else []


def _spread(spread: Spread) -> str:
    said = []
    if spread.at is not None:
        said.append(f"about {spread.at:g}, give or take {spread.spread:g}")
    if spread.low is not None:
        said.append(f"anything from {spread.low:g} to {spread.high:g}")
    if spread.zero:
        said.append(f"zero in {100 * spread.zero:g} of 100")
    if spread.open:
        said.append(f"open in {100 * spread.open:g} of 100")
    return ", ".join(said)
