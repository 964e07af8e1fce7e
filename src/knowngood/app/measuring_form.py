"""A topic of measurement as a form: a field for each thing to enter, with its units, and what was typed into it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from knowngood.app.measuring import groups, topic_named
from knowngood.app.measuring_entry import read, says
from knowngood.app.measuring_topic import Field, Topic
from knowngood.app.measuring_typed import NOT_SAID, WINDOW, texts_of, window_of
from knowngood.app.step_form import UnitChoice, first_unit
from knowngood.errors import KnownGoodError, Problem
from knowngood.units import kind_named, kinds, read_quantity

MOST_UNITS = 6  # more are no longer found at a glance; the rest can be typed behind the number
UNKNOWN_ROW = 8  # cells of a row where nobody said how many cylinders there are


@dataclass(frozen=True)
class Cell:
    """One place to type into: the name of its field, what stands beside it, what was typed."""

    name: str
    label: str
    typed: str = ""


@dataclass(frozen=True)
class Asked:
    """One field of a topic, as a form shows it; ``several`` of its words may be chosen.

    Parameters
    ----------
    name, label : str
    cells : tuple of Cell
        One, or one a cylinder; none where a word is chosen.
    words : tuple of (word, whether it is chosen)
    units : tuple of UnitChoice
        With a name that is empty: the unit goes by the size of the number.
    note : str
        What is assumed when it is left out, or how several are typed.
    text, many, signed, opens : bool
        Letters are typed; several numbers with a blank between; it may be under zero; it may be an open line.
    touched : bool
        Something was typed, or another word chosen than the one that is assumed.
    wrong : str
        Why what was typed cannot be read.
    """

    name: str
    label: str
    cells: tuple[Cell, ...] = ()
    words: tuple[tuple[str, bool], ...] = ()
    units: tuple[UnitChoice, ...] = ()
    note: str = ""
    text: bool = False
    many: bool = False
    several: bool = False
    signed: bool = False
    opens: bool = False
    touched: bool = False
    wrong: str = ""


@dataclass(frozen=True)
class TopicForm:
    """A topic as a form: what is needed, what may be left out."""

    topic: Topic
    needed: tuple[Asked, ...]
    others: tuple[Asked, ...]

    @property
    def wrong(self) -> bool:
        """Whether a reason stands beside one of its fields."""
        return any(one.wrong for one in (*self.needed, *self.others))


def find_topics(words: str) -> dict[str, list[Topic]]:
    """Topics by heading, those that all the words are found in; headings without any are left out."""
    wanted = words.casefold().split()
    found = {
        head: [
            topic for topic in held if all(word in f"{topic.name} {topic.says} {head}".casefold() for word in wanted)
        ]
        for head, held in groups().items()
    }
    return {head: held for head, held in found.items() if held}


def topic_form(
    name: str, typed: Mapping[str, str], *, cylinders: int | None = None, units: Mapping[str, str] | None = None
) -> TopicForm:
    """The form of a topic, with what was typed still in it.

    Parameters
    ----------
    name : str
    typed : mapping of str to str
        As `split_fields` takes it.
    cylinders : int, optional
        Of the engine; where nobody said, a row gets cells enough for most.
    units : mapping of kind of measurement to name of the unit it is wanted in, optional

    Raises
    ------
    Refused
        There is no such topic.
    """
    topic = topic_named(name)
    asked = [_asked(one, typed, cylinders or UNKNOWN_ROW, units or {}) for one in topic.fields]
    pairs = list(zip(topic.fields, asked, strict=True))
    others = [ask for one, ask in pairs if not one.needed]
    if topic.window:
        others.append(_window(topic.window, typed, units or {}))
    return TopicForm(topic, tuple(ask for one, ask in pairs if one.needed), tuple(others))


def with_reasons(form: TopicForm, typed: Mapping[str, str]) -> TopicForm:
    """The form with the reason beside each field that is empty or cannot be read."""

    def told(one: Asked) -> Asked:
        return replace(one, wrong=_wrong(form.topic, one.name, typed))

    return replace(form, needed=tuple(map(told, form.needed)), others=tuple(map(told, form.others)))


def _wrong(topic: Topic, name: str, typed: Mapping[str, str]) -> str:
    field = topic.field(name)
    try:
        if field is None:
            for text in window_of(typed, topic.window):
                read_quantity(text, topic.window)
            return ""
        texts = texts_of(field, typed)
        if texts:
            read(topic, {name: texts})
        elif field.needed:
            return str(Problem(f"Nothing stands in {name.replace('-', ' ')}.", "Type it, or tap it."))
    except KnownGoodError as error:
        return str(error)
    return ""


def _asked(one: Field, typed: Mapping[str, str], cylinders: int, units: Mapping[str, str]) -> Asked:
    if one.kind == "word" and one.row:
        marked = tuple((word, bool(typed.get(f"{one.name}|{word}"))) for word in one.words)
        return Asked(one.name, _label(one), words=marked, several=True, touched=any(chosen for _, chosen in marked))
    if one.kind == "word":
        chosen = typed.get(one.name) or one.assumed
        words = one.words if one.needed or one.assumed else (*one.words, NOT_SAID)
        touched = chosen not in ("", one.assumed, NOT_SAID)
        return Asked(one.name, _label(one), words=tuple((word, word == chosen) for word in words), touched=touched)
    if one.cylinders:
        names = [(f"{one.name}|{number}", str(number)) for number in range(1, cylinders + 1)]
    else:
        names = [(one.name, "")]
    return Asked(
        one.name,
        _label(one),
        cells=tuple(Cell(name, label, typed.get(name, "")) for name, label in names),
        touched=any(typed.get(name) for name, _ in names),
        units=_units(one.kind, typed.get(f"unit|{one.name}"), units.get(one.kind, "") or one.bare),
        note=_note(one),
        text=one.kind == "text",
        many=one.row and not one.cylinders,
        signed=one.kind not in kinds() or kind_named(one.kind).usual[0] < 0,
        opens=one.kind in kinds() and kind_named(one.kind).open_line is not None,
    )


def _window(kind: str, typed: Mapping[str, str], units: Mapping[str, str]) -> Asked:
    cells = tuple(
        Cell(f"{WINDOW}|{end}", label, typed.get(f"{WINDOW}|{end}", ""))
        for end, label in (("low", "at least"), ("high", "at most"))
    )
    chosen = _units(kind, typed.get(f"unit|{WINDOW}"), units.get(kind, ""))
    signed = kind_named(kind).usual[0] < 0
    touched = any(cell.typed for cell in cells)
    note = "One end is enough."
    return Asked(
        WINDOW, "Window: the car's own figures", cells, units=chosen, note=note, signed=signed, touched=touched
    )


def _units(kind: str, typed: str | None, wanted: str) -> tuple[UnitChoice, ...]:
    """Units to choose from, the wanted one first; where the size of a number tells several apart, that stands first."""
    if kind not in kinds():
        return ()
    known = kind_named(kind)
    guessed = [guess.unit for guess in known.guesses]
    by_size = not wanted and len(guessed) > 1
    names = list(dict.fromkeys([wanted or first_unit(kind), *guessed, *known.units]))[: MOST_UNITS - by_size]
    names = [""] * by_size + names
    if typed in known.units and typed not in names:
        names.append(str(typed))
    chosen = typed if typed in names else names[0]
    return tuple(
        UnitChoice(name, (known.unit(name).symbol or name) if name else "by size", name == chosen) for name in names
    )


def _label(one: Field) -> str:
    """``Cylinder: gauge of the cylinder``; the name alone where it says the same."""
    name, told = one.name.replace("-", " "), says(one)
    told = "" if one.kind == "word" and not one.says else told
    text = told if told.startswith(name) else f"{name}: {told}" if told else name
    return text[:1].upper() + text[1:]


def _note(one: Field) -> str:
    parts = []
    if one.assumed:
        parts.append(f"{one.assumed} when left out.")
    if one.cylinders and one.gaps:
        parts.append("Empty: not measured.")
    if one.row and not one.cylinders:
        parts.append("Several, with a space between.")
    return " ".join(parts)
