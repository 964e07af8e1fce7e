"""From entries to the whole answer: suspects, next steps, questions."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import msgspec

from knowngood.app.alike import alike_pairs
from knowngood.app.answer import Answer, NotUnderstood, UnderstoodLine
from knowngood.app.asks import asks_of
from knowngood.app.next_steps import Advised, advised, next_steps, refused_steps
from knowngood.app.state import State, state_of
from knowngood.app.suspects import chance_unlisted, suspects_of, with_reasons
from knowngood.app.unswept import unswept
from knowngood.belief.assemble import believe
from knowngood.belief.rows import rows_said
from knowngood.belief.slips import unit_slips
from knowngood.car import Car
from knowngood.evidence import Entry, Note, Reading
from knowngood.library.records import Library
from knowngood.lines import Understood, read_notes
from knowngood.planner.separation import not_told_apart
from knowngood.units import kind_named

SURPRISING = 0.05  # a line whose readings the others make this much less likely than they were at first is named
MANY = 1000  # times; more digits than that say no more
VERSION = 1
AT_ONCE = 3  # suspects in the first answer; the first screen shows one
FIRST_DAY = "0001-01-01"


def stamp(line: int, part: int, day: str = FIRST_DAY) -> str:
    """A moment for the ``part``-th entry of a line of a notes file: lines are in time order."""
    return f"{day}T{line // 3600:02}:{line // 60 % 60:02}:{line % 60:02}.{part:06}Z"


def entries_of(lines: Sequence[tuple[int, str, Understood]]) -> list[Entry]:
    """Entries as a notes file gives them, in time order.

    A line that begins with a full date happened on that day, and so did the lines below it, down to the next date.
    """
    day, entries = FIRST_DAY, []
    for number, text, understood in lines:
        day = understood.day or day
        for part, body in enumerate(understood.bodies):
            at = stamp(number, part, day)
            entries.append(Entry(id=f"line {number}.{part}", at=at, entered=stamp(number, part), body=body, line=text))
    return sorted(entries, key=lambda entry: (entry.at, entry.entered))


def car_facts(state: State) -> dict[str, Any]:
    """What is known of the car, unknown fields left out, and its layout."""
    told, unknown = (msgspec.to_builtins(car) for car in (state.car, Car()))
    known = {name: value for name, value in told.items() if value != unknown[name]}
    layout = state.layout
    return {
        **known,
        "layout": {
            "form": layout.form,
            "banks": [list(bank) for bank in layout.banks],
            "firing_order": list(layout.firing_order),
        },
    }


def surprises_of(state: State, go_on: Callable[[], bool] = lambda: True) -> list[str]:
    """Lines that the others make much less likely than they were at first, with the size of the surprise.

    Parameters
    ----------
    go_on : callable
        Asked between lines whether the rest is still wanted.
    """
    result: list[str] = []
    for entry in sorted(entry for entry in state.belief.entries_in() if entry >= 0):
        if not go_on():
            return result
        ratio = state.belief.surprise(entry)
        if ratio < SURPRISING:
            line = state.entries[entry].line
            result.append(f'"{line}" is {1 / ratio:.0f} times less likely given the rest than at first. Read it again.')
    return [*result, *_rows_of(state), *_slips_of(state)]


def _rows_of(state: State) -> Iterator[str]:
    """Rows that fall into two halves, or are all alike and not as is usual."""
    for row in rows_said(state.library, state.car, state.entries):
        entry = state.entries[row.entries[0]]
        assert isinstance(entry.body, Reading) and entry.body.value is not None
        units = kind_named(state.library.readings[entry.body.kind].quantity).units
        unit = units[entry.body.value.unit]
        if row.usual is None:
            halves = " and ".join(
                f"{', '.join(place.name for place, _ in sorted(half))} about "
                f"{_number(unit.from_base(half[len(half) // 2][1]))} {unit.symbol}".rstrip()
                for half in row.groups
            )
            yield (
                f'"{entry.line}" falls into two groups: {halves}. The row does not tell which is right: measure '
                "against the maker's figure."
            )
        else:
            low, high = (unit.from_base(end) for end in row.usual)
            usual = f"{_number(low)} to {_number(high)} {unit.symbol}".rstrip()
            yield (
                f'"{entry.line}" is alike in all, and not as is usual ({usual}). Look for what they share, or at the '
                "gauge."
            )


def _number(value: float) -> str:
    return f"{value:,.0f}" if value >= 100.0 else f"{value:.3g}"


def _slips_of(state: State) -> Iterator[str]:
    """Numbers that fit much better in another unit."""
    slips = unit_slips(
        state.belief, state.entries, lambda entries: believe(state.library, state.car, state.layout, entries)
    )
    for slip in slips:
        times = f"{slip.times:.0f}" if slip.times < MANY else f"over {MANY}"
        fits = f"fits {times} times better in {slip.meant} than in {slip.typed}"
        yield f'"{state.entries[slip.entries[0]].line}" {fits}. Look at the gauge; if so, type it again with that unit.'


@dataclass(frozen=True)
class AtOnce:
    """What the next step needs: an answer without reasons and surprises, and what the planner said."""

    answer: Answer
    told: Advised | None


def at_once(
    state: State,
    *,
    understood: Sequence[UnderstoodLine] = (),
    not_understood: Sequence[NotUnderstood] = (),
    asks: Sequence[str] = (),
    assumed: Sequence[str] = (),
) -> AtOnce:
    """Leading suspects and next steps of a state; :func:`completed` tells the rest."""
    told = advised(state)
    answer = Answer(
        car=car_facts(state),
        understood=list(understood),
        not_understood=list(not_understood),
        version=VERSION,
        suspects=suspects_of(state, last=AT_ONCE),
        unlisted=round(chance_unlisted(state), 6),
        exact=state.belief.exact,
        error_bound=round(state.belief.error_bound, 4),
        next=next_steps(state, told),
        asks=asks_of(state, asks),
        library=state.library.hash,
        assumed=[*state.layout.assumed, *assumed],
        refused=refused_steps(state, told),
    )
    return AtOnce(answer, told)


def completed(
    state: State, begun: AtOnce, lines: dict[int, int], go_on: Callable[[], bool] = lambda: True
) -> Answer | None:
    """The whole answer: the other suspects, what moved each of them, which lines surprise, what no check tells apart.

    Parameters
    ----------
    lines : dict entry index -> line number
    go_on : callable
        Asked now and then whether it is still wanted; ``None`` comes back where it is not.
    """
    told = begun.told
    answer = msgspec.structs.replace(
        begun.answer,
        suspects=with_reasons(state, [*begun.answer.suspects, *suspects_of(state, AT_ONCE)], lines),
        alike=alike_pairs(state, not_told_apart(told.problem, told.advice.compared) if told is not None else ()),
        surprises=surprises_of(state, go_on),
    )
    return answer if go_on() else None


def is_understood(understood: Understood) -> bool:
    """Whether nothing of a line is kept only as a note or in doubt."""
    return not understood.left and not any(
        isinstance(body, Note) or (isinstance(body, Reading) and body.doubt) for body in understood.bodies
    )


def why_not(understood: Understood) -> str:
    """Why a line, or a part of it, does not count."""
    for body in understood.bodies:
        if isinstance(body, Note):
            return body.why or "kept as a note"
        if isinstance(body, Reading) and body.doubt:
            return body.doubt
    return f"not understood: {' '.join(understood.left)}"


@unswept()
def weigh_notes(text: str, library: Library, clock: Callable[[], float] = time.perf_counter) -> Answer:
    """The answer to a notes file; nothing is stored.

    Parameters
    ----------
    text : str
        The car's lines, then lines in time order; blank lines and lines that start with ``#`` are passed over.
    """
    began = clock()
    notes = read_notes(text, library)
    entries = entries_of(notes.lines)
    owner = {entry.id: int(entry.id.split()[1].split(".")[0]) for entry in entries}
    understood = [
        UnderstoodLine(number, line, [msgspec.to_builtins(body) for body in read.bodies], read.echo)
        for number, line, read in notes.lines
        if read.bodies
    ]
    doubtful = [
        NotUnderstood(number, line, why_not(read), read.asks[0] if read.asks else "")
        for number, line, read in notes.lines
        if not is_understood(read)
    ]
    state = state_of(library, entries)
    begun = at_once(
        state,
        understood=understood,
        not_understood=doubtful,
        asks=[ask for _, _, read in notes.lines for ask in read.asks],
        assumed=[guess for _, _, read in notes.lines for guess in read.assumed],
    )
    answer = completed(state, begun, {index: owner[entry.id] for index, entry in enumerate(entries)})
    assert answer is not None
    return msgspec.structs.replace(answer, ms=round(1000.0 * (clock() - began), 1))
