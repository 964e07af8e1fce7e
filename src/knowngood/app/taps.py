"""What was tapped on the page, as the entries a line would have made, and the line that says it.

A field names what it answers, so that an answer needs nothing else to be understood, and keeps its meaning however
long it waited to be sent:

==================================  =====================================================================
field                               value
==================================  =====================================================================
``word|<kind>|<place>``             a word of that kind of reading, or ``could not tell``
``number|<kind>|<place>``           a number as typed; empty is not measured
``unit|<kind>``                     name of the unit of the numbers of that kind; empty: guessed as in a line
``work|<do>|<part>|<place>``        what the work changed: one of EFFECTS; ``paid`` and ``took`` may stand beside it;
                                    several places with commas between them
``swap|<part>|<place>|<other>``     ``moved``, ``stayed`` or ``no change``
``spare|<part>|<place>``            what the known-good spare changed
``found|<fault>|<place>``           anything: the fault was seen at its place
``rest``                            anything: all words not answered are those of ``healthy|<kind>|<place>``
``when``                            the regime all words of the form were observed in; empty: as usual
``tool|<id>``                       ``on hand``, ``missing`` or ``lent``
``stock|<state>|<part>``            anything: a part is ordered, has arrived or goes back; ``price`` and ``count`` may
                                    stand beside it
``put right|<what>|<place>``        anything: what was left undone is as it must be again
``access|<step>``                   ``off``, or ``on``: it went back on
``drive|<part>``                    ``as it should be``, ``not driven``, or a kind of complaint that showed in that part
                                    of the road test; as often as it is so
==================================  =====================================================================
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import groupby

from knowngood.app.apart import OFF, ON
from knowngood.app.apart import said as said_apart
from knowngood.app.road_drive import driven
from knowngood.app.unit_meant import unit_meant
from knowngood.car import ENGINE, Car, Place
from knowngood.car.place import read_place
from knowngood.errors import Problem, Refused
from knowngood.evidence import Access, Body, Finding, Reading, Stock, Tool, Undone, Work
from knowngood.evidence.bodies import EFFECTS, STOCK_STATES, TOOL_STATES, WORKS
from knowngood.library.find import part_name, work_done
from knowngood.library.healthy import COULD_NOT_TELL
from knowngood.library.records import REGIMES, Library, ReadingKind
from knowngood.lines import read_line
from knowngood.lines.amounts import OPEN, slip, value_of
from knowngood.lines.price import money
from knowngood.units import Quantity, kind_named, read_quantity, read_row

LONGEST = 60  # characters of a number or a price as typed
Fields = Sequence[tuple[str, str]]


@dataclass(frozen=True)
class Tapped:
    """The line that says what was tapped, its entries, and what is odd about a number (kept all the same)."""

    line: str
    bodies: tuple[Body, ...]
    odd: str = ""


def read_taps(library: Library, fields: Fields) -> Tapped:
    """The entries that were tapped together.

    Raises
    ------
    Refused
        Nothing was tapped, a number cannot be read, or a field names what the library does not know.
    """
    given = {name: value.strip() for name, value in fields if "|" not in name or name.startswith("unit|")}
    answers = [
        (*name.split("|"), value.strip()) for name, value in fields if "|" in name and not name.startswith("unit|")
    ]
    words = [answer for answer in answers if answer[0] == "word" and answer[-1]]
    if given.get("rest"):
        told = {answer[1:-1] for answer in words}
        words += [answer for answer in answers if answer[0] == "healthy" and answer[1:-1] not in told]
    numbers = [answer for answer in answers if answer[0] == "number" and answer[-1]]
    read = [*_words(library, words, given), *_numbers(library, numbers, given)]
    read += [_OTHERS[answer[0]](library, answer, given) for answer in answers if answer[0] in _OTHERS]
    read += _drives(library, [answer for answer in answers if answer[0] == "drive" and answer[-1]])
    if not read:
        raise Refused(
            Problem("Nothing was entered.", "Tap an answer or type a number; empty places stay not measured.")
        )
    return Tapped(
        ", ".join(tapped.line for tapped in read),
        tuple(body for tapped in read for body in tapped.bodies),
        " ".join(tapped.odd for tapped in read if tapped.odd),
    )


def spoken(kind: ReadingKind) -> str:
    """The words a kind of reading is written with in a line."""
    return kind.says[0] if kind.says else kind.name


def _words(library: Library, answers: Sequence[tuple[str, ...]], given: dict[str, str]) -> list[Tapped]:
    """Readings by word; a row that reads the same says so once."""
    found = []
    for key, group in groupby(answers, key=lambda answer: (answer[1], answer[-1])):
        kind, word = _kind(library, key[0]), key[1]
        if word != COULD_NOT_TELL and word not in kind.words:
            raise Refused(Problem(f"'{word}' is no word of {kind.name}.", f"Words that are: {', '.join(kind.words)}."))
        places = [_place(answer[2]) for answer in group]
        when = given.get("when", "")
        if when and when not in REGIMES:
            raise Refused(Problem(f"'{when}' is no regime.", f"Regimes that are: {', '.join(REGIMES)}."))
        kind = _under(library, kind, when) if word == "yes" else kind
        when = "" if when == kind.when else when  # hard to start hot is of a hot restart without a word
        said = f"{spoken(kind)}{_at(places)}"
        line = (
            f"{said}{f' {when}' if when else ''}" if word == "yes" else f"{said}: {word}{f', {when}' if when else ''}"
        )
        conditions = (when,) if when else ()
        bodies = tuple(Reading(kind=kind.id, place=place, word=word, conditions=conditions) for place in places)
        found.append(Tapped(line, bodies))
    return found


def _under(library: Library, kind: ReadingKind, when: str) -> ReadingKind:
    """The complaint that a complaint is under a condition: hard to start at a hot restart is hard to start hot."""
    said = f"{spoken(kind)} {when.partition(' ')[0]}"
    own = (one for one in library.readings.values() if one.complaint and one.when == when and said in one.says)
    return next(own, kind) if kind.complaint and when else kind


def _numbers(library: Library, answers: Sequence[tuple[str, ...]], given: dict[str, str]) -> list[Tapped]:
    """Readings by number: a row is read with one meter, so its bare numbers share a unit."""
    found = []
    for name, group in groupby(answers, key=lambda answer: answer[1]):
        kind = _kind(library, name)
        cells = list(group)
        texts = [_short(answer[-1]) for answer in cells]
        places = [_place(answer[2]) for answer in cells]
        quantities = typed_row(kind, texts, given.get(f"unit|{name}", ""))
        told = [one.unit for one, text in zip(quantities, texts, strict=True) if not _is_open(text)]
        unit = kind_named(kind.quantity).unit(told[0]).symbol if told else ""
        where = [f"{_of(place)} {text}".strip() for place, text in zip(places, texts, strict=True)]
        line = f"{spoken(kind)} {', '.join(where)} {unit}".rstrip()
        bodies = tuple(
            Reading(kind=kind.id, place=place, value=value_of(quantity))
            for place, quantity in zip(places, quantities, strict=True)
        )
        odd = [f"{place}: {slip(one)}" for place, one in zip(places, quantities, strict=True) if slip(one)]
        odd = odd or list(filter(None, [unit_meant(library, kind, quantities)]))
        found.append(Tapped(line, bodies, " ".join(odd)))
    return found


def typed_row(kind: ReadingKind, texts: Sequence[str], unit: str = "") -> list[Quantity]:
    """Numbers of one row as quantities, in the unit that was tapped, else in the one their size tells.

    Raises
    ------
    Refused
        A number cannot be read, the kind takes no number, or has no such unit.
    """
    if not kind.quantity:
        raise Refused(Problem(f"{kind.name} is no number.", f"Tap one of: {', '.join(kind.words)}."))
    if not unit:
        return list(read_row(list(texts), kind.quantity))
    symbol = kind_named(kind.quantity).unit(unit).symbol
    return [read_quantity(text if _is_open(text) else f"{text} {symbol}", kind.quantity) for text in texts]


def _is_open(text: str) -> bool:
    """Whether the meter showed no end; it has no unit then."""
    return text.upper() == OPEN


def _drives(library: Library, answers: Sequence[tuple[str, ...]]) -> list[Tapped]:
    """Parts of the road test, each with all that was said of it."""
    said: dict[str, list[str]] = {}
    for answer in answers:
        said.setdefault(_of_length(answer, 3)[1], []).append(answer[2])
    return [Tapped(*driven(library, part, words)) for part, words in said.items()]


def _work(library: Library, answer: tuple[str, ...], given: dict[str, str]) -> Tapped:
    _, do, part, where, effect = _of_length(answer, 5)
    if do not in WORKS:
        raise Refused(Problem(f"'{do}' is no work.", f"Works that are: {', '.join(WORKS)}."))
    places = tuple(_place(one) for one in where.split(","))
    line = f"{_said(library, do, part)}{_of(places[0]) if len(places) == 1 else _at(places)}{_effect(effect)}"
    paid = _price(given.get("paid", ""))
    took = _number(given.get("took", ""), lambda typed: float(typed.replace(",", ".")))
    line += f", paid {paid:g}" if paid is not None else ""
    line += f", took {took:g} min" if took is not None else ""
    body = Work(do=do, part=part, places=places, effect=effect, minutes=took, price=paid, words=line)
    return Tapped(line, (body,))


def _said(library: Library, do: str, part: str) -> str:
    """Work as it is said of that part, where that line read again is the same work; else by its name."""
    said = work_done(library, do, part)
    again = read_line(said, Car(), library).bodies
    same = len(again) == 1 and isinstance(again[0], Work) and (again[0].do, again[0].part) == (do, part)
    return said if same else f"{do} {part_name(library, part)}"


def _swap(library: Library, answer: tuple[str, ...], given: dict[str, str]) -> Tapped:
    _, part, here, there, effect = _of_length(answer, 5)
    place, other = _place(here), _place(there)
    at = {"moved": other, "stayed": place}.get(effect)
    said = f"miss {effect}" if at is not None else effect
    line = f"swapped {part_name(library, part)} {place.name} with {other.name}, {said}"
    body = Work(do="swapped", part=part, places=(place,), to=other, effect=_known(effect), effect_at=at, words=line)
    return Tapped(line, (body,))


def _spare(library: Library, answer: tuple[str, ...], given: dict[str, str]) -> Tapped:
    _, part, where, effect = _of_length(answer, 4)
    place = _place(where)
    line = f"tried known-good {part_name(library, part)}{_of(place)}{_effect(effect)}"
    body = Work(do="tried", part=part, places=(place,), origin="known-good spare", effect=effect, words=line)
    return Tapped(line, (body,))


def _found(library: Library, answer: tuple[str, ...], given: dict[str, str]) -> Tapped:
    _, name, where, _ = _of_length(answer, 4)
    fault = library.faults.get(name)
    if fault is None:
        raise Refused(Problem(f"There is no fault '{name}'.", "Open the page again."))
    place = _place(where)
    words = f"{fault.name}{_of(place)}"
    return Tapped(f"seen: {words}", (Finding(fault=name, part=fault.part, place=place, words=words),))


def _tool(library: Library, answer: tuple[str, ...], given: dict[str, str]) -> Tapped:
    _, name, state = _of_length(answer, 3)
    if name not in library.tools or state not in TOOL_STATES:
        raise Refused(Problem(f"There is no tool '{name}', or it cannot be '{state}'.", "Open the page again."))
    tool = library.tools[name].name
    line = {"missing": f"no {tool}", "lent": f"{tool} lent", "on hand": f"have {tool}"}[state]
    return Tapped(line, (Tool(name=name, state=state),))


def _stock(library: Library, answer: tuple[str, ...], given: dict[str, str]) -> Tapped:
    _, state, part, _ = _of_length(answer, 4)
    if state not in STOCK_STATES or part not in library.parts:
        raise Refused(Problem(f"There is no part '{part}', or it cannot be '{state}'.", "Open the page again."))
    count = int(_number(given.get("count", ""), float) or 1)
    price, source = _price(given.get("price", "")), _short(given.get("from", ""))
    wait = library.parts[part].wait_days if state == "ordered" else 0.0
    line = f"{state} {f'{count} ' if count > 1 else ''}{part_name(library, part)}"
    line += f", {price:g}" if price is not None else ""
    line += f", from {source}" if source else ""
    return Tapped(line, (Stock(part=part, state=state, count=count, price=price, source=source, wait_days=wait),))


def _right(library: Library, answer: tuple[str, ...], given: dict[str, str]) -> Tapped:
    _, what, where, _ = _of_length(answer, 4)
    return Tapped(f"put right: {what}", (Undone(what=what, place=_place(where), put_right=True),))


def _access(library: Library, answer: tuple[str, ...], given: dict[str, str]) -> Tapped:
    _, name, state = _of_length(answer, 3)
    step = library.access.get(name)
    if step is None or state not in (OFF, ON):
        raise Refused(Problem(f"Nothing is called '{name}', or it cannot be '{state}'.", "Open the page again."))
    return Tapped(said_apart(library, step, is_open=state == OFF), (Access(name, state == OFF),))


_OTHERS: dict[str, Callable[[Library, tuple[str, ...], dict[str, str]], Tapped]] = {
    "work": _work,
    "swap": _swap,
    "spare": _spare,
    "found": _found,
    "tool": _tool,
    "stock": _stock,
    "put right": _right,
    "access": _access,
}


def _of_length(answer: tuple[str, ...], length: int) -> tuple[str, ...]:
    if len(answer) != length:
        raise Refused(Problem(f"'{'|'.join(answer[:-1])}' is no answer.", "Open the page again."))
    return answer


def _kind(library: Library, name: str) -> ReadingKind:
    kind = library.readings.get(name)
    if kind is None:
        raise Refused(Problem(f"There is no reading '{name}'.", "Open the page again."))
    return kind


def _place(text: str) -> Place:
    place = read_place(_short(text))
    if not place.is_lawful():
        raise Refused(Problem(f"'{text}' is no place.", "Open the page again."))
    return place


def _short(text: str) -> str:
    if len(text) > LONGEST:
        raise Refused(Problem(f"'{text[:20]}...' has {len(text)} characters.", f"{LONGEST} are the most."))
    return text


def _at(places: Sequence[Place]) -> str:
    names = [place.name for place in places if place != ENGINE]
    kind = "" if not names or places[0].kind == "cylinder" else f"{places[0].kind} "
    return f" {kind}{', '.join(names)}" if names else ""


def _of(place: Place) -> str:
    return "" if place == ENGINE else f" {place.name}" if place.kind == "cylinder" else f" {place}"


def _known(effect: str) -> str:
    if effect not in EFFECTS:
        raise Refused(Problem(f"'{effect}' is no effect.", f"Effects that are: {', '.join(EFFECTS[1:])}."))
    return effect


def _effect(effect: str) -> str:
    return f", {effect}" if _known(effect) else ""


def _price(text: str) -> float | None:
    """A price as in a line: ``1,200`` are thousands, ``12,50`` is not; nothing where nothing was typed."""
    return _number(text, money)


def _number(text: str, read: Callable[[str], float]) -> float | None:
    if not text:
        return None
    try:
        value = read(_short(text))
    except ValueError:
        value = -1.0
    if not 0.0 <= value < 1e6:
        raise Refused(Problem(f"'{text}' is no price or time.", "Type a number, such as 45 or 12,50."))
    return value
