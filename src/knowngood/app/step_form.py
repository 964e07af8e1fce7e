"""What a step asks of the hand that does it: which words, which numbers, where, with what, and what was changed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.app.answer import NextStep
from knowngood.app.settings import Settings
from knowngood.app.verbs import done
from knowngood.library.healthy import healthy_word
from knowngood.library.records import Library, ReadingKind
from knowngood.units import kind_named

MOST_SAID = 20_000  # a span that ends beyond it tells nobody anything
MOST_UNITS = 3  # more leave no room for the keys; the rest can be typed as a line


@dataclass(frozen=True)
class UnitChoice:
    """A lawful unit, and whether it is the one to begin with."""

    name: str
    symbol: str
    first: bool


@dataclass(frozen=True)
class Question:
    """One kind of reading at the places where it is wanted.

    Parameters
    ----------
    kind, name : str
    cells : tuple of (field, label)
        Name of the field of each place, and how the place is called; one without a label where there is one place.
    words : tuple of str
        Words it may read, the one of a healthy car first; empty for a number.
    healthy : str
        That word.
    units : tuple of UnitChoice
        Of a number.
    signed, opens : bool
        Of a number: it may be under zero; it may be without end (a broken winding).
    usual : str
        Of a number: the usual span, in the unit to begin with; empty for one so wide that it tells nothing.
    cannot : str
        What this reading does not see.
    """

    kind: str
    name: str
    cells: tuple[tuple[str, str], ...]
    words: tuple[str, ...] = ()
    healthy: str = ""
    units: tuple[UnitChoice, ...] = ()
    signed: bool = False
    opens: bool = False
    usual: str = ""
    cannot: str = ""


@dataclass(frozen=True)
class StepForm:
    """A step as a form.

    Parameters
    ----------
    step : NextStep
    questions : tuple of Question
        Of a check; nothing for work.
    field : str
        Of work, a swap or a spare: the field that is answered.
    effects : tuple of (value, label)
        What the work may have changed.
    tools : tuple of (id, name)
        Tools that can be said to be missing.
    how, cannot : str
        How it is done, and what it does not see.
    order : str
        The field that says its part was ordered; empty where no part is wanted.
    """

    step: NextStep
    questions: tuple[Question, ...] = ()
    field: str = ""
    effects: tuple[tuple[str, str], ...] = ()
    tools: tuple[tuple[str, str], ...] = ()
    how: str = ""
    cannot: str = ""
    order: str = ""

    @property
    def key(self) -> str:
        """Names the step in an address: the same as long as it is the same step at the same place."""
        return key_of(self.step)

    @property
    def is_row(self) -> bool:
        """Whether one number is wanted of several places."""
        return len(self.questions) == 1 and len(self.questions[0].cells) > 1


WORK_EFFECTS = (
    ("", "Done, not tried yet"),
    ("cured", "Done: cured"),
    ("better", "Done: better"),
    ("no change", "Done: no change"),
    ("worse", "Done: worse"),
)
SWAP_EFFECTS = (("moved", "It moved with the part"), ("stayed", "It stayed"), ("no change", "No change, cannot tell"))
SPARE_EFFECTS = (("cured", "Cured"), ("better", "Better"), ("no change", "No change"))


def key_of(step: NextStep) -> str:
    """``compression_measured engine``."""
    return f"{step.do} {step.what} {step.place}"


def units_first(library: Library, settings: Settings, last: dict[str, str]) -> dict[str, str]:
    """The unit each kind of reading begins with: the one it was last read in, else the shop's own."""
    wanted = {name: settings.unit_of(kind.quantity) for name, kind in library.readings.items() if kind.quantity}
    return {**{name: unit for name, unit in wanted.items() if unit}, **last}


def form_of(library: Library, step: NextStep, units: dict[str, str] | None = None) -> StepForm:
    """The form of a step.

    Parameters
    ----------
    library : Library
    step : NextStep
    units : dict kind of reading -> name of the unit to begin with, optional
    """
    if step.do == "swap":
        part = step.what.removeprefix("swap_")
        here, there = (asked.place for asked in step.reads[:2])
        return StepForm(step, field=f"swap|{part}|{here}|{there}", effects=SWAP_EFFECTS)
    if step.do == "spare":
        return StepForm(step, field=f"spare|{step.what.removeprefix('spare_')}|{step.place}", effects=SPARE_EFFECTS)
    if not step.reads:
        field = "" if step.do == "prove" else f"work|{done(step.do)}|{step.what}|{step.place}"
        order = f"stock|ordered|{step.what}" if step.money and step.wait and step.what in library.parts else ""
        return StepForm(step, field=field, effects=WORK_EFFECTS if field else (), order=order)
    places: dict[str, list[str]] = {}
    for asked in step.reads:
        places.setdefault(asked.kind, []).append(asked.place)
    kinds = [library.readings[name] for name in places if name in library.readings]
    questions = tuple(question_of(library, kind, places[kind.id], (units or {}).get(kind.id, "")) for kind in kinds)
    check = library.checks.get(step.what)
    tools = tuple((name, library.tools[name].name) for name in (check.tools if check else ()) if name in library.tools)
    cannot = check.cannot if check is not None else ""
    return StepForm(step, questions, tools=tools, how=check.how if check is not None else "", cannot=cannot)


def question_of(library: Library, kind: ReadingKind, places: Sequence[str], unit: str = "") -> Question:
    """What is asked of one kind of reading at some places."""
    labels = [""] if len(places) == 1 else [place.removeprefix("cylinder ") for place in places]
    if not kind.quantity or kind.words:
        healthy = healthy_word(library, kind)
        words = (healthy, *(word for word in kind.words if word != healthy))
        cells = tuple((f"word|{kind.id}|{place}", label) for place, label in zip(places, labels, strict=True))
        return Question(kind.id, kind.name, cells, words, healthy, cannot=kind.cannot)
    cells = tuple((f"number|{kind.id}|{place}", label) for place, label in zip(places, labels, strict=True))
    measured = kind_named(kind.quantity)
    low, high = measured.usual
    first = unit if unit in measured.units else first_unit(kind.quantity)
    shown = measured.unit(first)
    ends = sorted(shown.from_base(end) for end in (low, high))
    usually = [guess.unit for guess in measured.guesses]
    names = list(dict.fromkeys([first, *usually, *measured.units]))[:MOST_UNITS]
    names = [name for name in names if name == first or measured.unit(name).from_base(high) >= 1.0]
    return Question(
        kind.id,
        kind.name,
        cells,
        units=tuple(UnitChoice(name, measured.unit(name).symbol or name, name == first) for name in names),
        signed=ends[0] < 0,
        opens=measured.open_line is not None,
        usual=f"{_round(ends[0])} to {_round(ends[1])} {shown.symbol}".rstrip() if ends[1] <= MOST_SAID else "",
        cannot=kind.cannot,
    )


def first_unit(quantity: str) -> str:
    """The unit mechanics write first for a kind of measurement."""
    kind = kind_named(quantity)
    return kind.bare or (kind.guesses[0].unit if kind.guesses else kind.base)


def _round(value: float) -> str:
    if value == 0.0:
        return "0"
    digits = max(0, 2 - math.floor(math.log10(abs(value))))
    return f"{round(value, digits):g}"
