"""What a topic of measurement is: what is entered, how it is worked out and shown, what it cannot tell.

A topic is data: its fields name the kind of each reading (lawful units and usual span stand in the kinds of
`knowngood.units`), its window the kind its result is judged in; usual slips, cautions and an example come with
it. Formulas and limits live in `knowngood.measure`; a topic only brings readings there and results back.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Any

import msgspec

from knowngood.library.healthy import AS_IT_SHOULD_BE, COULD_NOT_TELL, NOT_AS_IT_SHOULD_BE

if TYPE_CHECKING:
    from knowngood.app.measuring_entry import Given
    from knowngood.units import Quantity

GOOD, BAD, UNSURE = AS_IT_SHOULD_BE, NOT_AS_IT_SHOULD_BE, COULD_NOT_TELL
"""Words of a verdict."""


class Entered(msgspec.Struct, frozen=True):
    """One thing as it was understood. ``value`` in the typed or guessed ``unit``; ``assumed``: nobody entered it."""

    name: str
    text: str
    value: float | None = None
    unit: str = ""
    guessed: bool = False
    assumed: bool = False


class Result(msgspec.Struct, frozen=True, kw_only=True):
    """One result: ``text`` as shown; the numbers in ``unit``, with one standard error or a range where known."""

    name: str
    text: str
    value: float | None = None
    se: float | None = None
    low: float | None = None
    high: float | None = None
    unit: str = ""


class Verdict(msgspec.Struct, frozen=True):
    """A result against a window or its row: the word, the sentence, and whose limit it is."""

    word: str
    text: str
    source: str


class Worked(msgspec.Struct, frozen=True, kw_only=True):
    """A measurement worked out, in the one form every door shows."""

    topic: str
    says: str
    entered: list[Entered]
    formula: str
    working: str
    results: list[Result]
    verdicts: list[Verdict]
    sources: list[str]
    cannot_tell: list[str]
    check: list[str]
    slips: list[str]
    cautions: list[str]


@dataclass(frozen=True, slots=True)
class Field:
    """One thing to be entered.

    Parameters
    ----------
    name : str
        One word, as typed behind ``--`` when it is not needed.
    kind : str
        A kind of measurement; ``number`` for a bare number, ``word`` for one of ``words``, ``text`` for anything.
    says : str
        What it is; the kind's own words when empty.
    row : bool
        Takes as many as are given; rows are parted by ``/``, words by commas.
    gaps : bool
        A ``-`` in the row stands for a place that was not measured.
    cylinders : bool
        Each place of the row is a cylinder, in counting order.
    needed : bool
        Entered in order; the others by name.
    assumed : str
        What is read when it is not entered, shown as assumed.
    bare : str
        Unit a bare number is taken for here, where the kind's own would hardly be meant; shown as guessed.
    meter_of : str
        Field read on the same instrument: a bare number takes its unit.
    words : tuple of str
    """

    name: str
    kind: str
    says: str = ""
    row: bool = False
    gaps: bool = False
    cylinders: bool = False
    needed: bool = True
    assumed: str = ""
    bare: str = ""
    meter_of: str = ""
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Checked:
    """A value to hold against the window entered, in the base unit of the topic's window kind."""

    name: str
    value: float
    se: float = 0.0


@dataclass(frozen=True, slots=True)
class OwnWindow:
    """The window a car is known to want: judged by where none is entered. ``source`` is who said so."""

    window: Quantity
    source: str


@dataclass(slots=True)
class Outcome:
    """What the work of a topic hands back."""

    working: str
    results: list[Result]
    verdicts: list[Verdict] = field(default_factory=list)
    checked: list[Checked] = field(default_factory=list)
    check: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Topic:
    """A topic of measurement.

    ``by`` are the functions of `knowngood.measure` it rests on: their notes say what the result cannot tell, their
    references are its sources. ``source`` stands before those. ``gives`` is the kind of what it comes to, where that
    is neither a field's nor the window's.
    """

    name: str
    says: str
    fields: tuple[Field, ...]
    formula: str
    work: Callable[[Given], Outcome]
    by: tuple[Callable[..., Any], ...]
    example: str
    window: str = ""
    gives: str = ""
    source: str = ""
    slips: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()

    def field(self, name: str) -> Field | None:
        """The field of that name, if there is one."""
        return next((one for one in self.fields if one.name == name), None)

    @property
    def usage(self) -> str:
        """How it is typed: what is needed in order, the rest by name."""
        parts = []
        needed = [one for one in self.fields if one.needed]
        for one in self.fields:
            word = one.name.upper() + (" …" if one.row else "")
            word += " /" if one.row and one in needed[:-1] else ""
            parts.append(word if one.needed else f"[--{one.name} {word}]")
        if self.window:
            parts.append("[--window LOW-HIGH]")
        return " ".join([self.name, *parts])

    @property
    def command(self) -> str:
        """The example, as typed."""
        return f"knowngood measure {self.name} {self.example}"

    def cannot_tell(self) -> list[str]:
        """What the result cannot tell, from the notes of its functions."""
        return list(dict.fromkeys(text for function in self.by for text in [_cannot_tell(function)] if text))

    def sources(self) -> list[str]:
        """Where formula and limits come from."""
        told = [self.source] if self.source else []
        return list(dict.fromkeys([*told, *(text for function in self.by for text in _references(function))]))


def _section(function: Callable[..., Any], name: str) -> str:
    found = re.search(
        rf"^{name}\n-+\n(.*?)(?=\n\n\w+\n-+\n|\Z)", inspect.getdoc(function) or "", re.DOTALL | re.MULTILINE
    )
    return found.group(1) if found else ""


_KEYS = {"faa_ac_43_13": "AC 43.13-1B", "sae_j1979": "SAE J1979", "jcgm_100": "JCGM 100:2008"}
"""References named inside another one's text."""


@cache
def _cannot_tell(function: Callable[..., Any]) -> str:
    """The sentences of the notes behind their mark, without what names a function: that is for readers of the code."""
    text = " ".join(_section(function, "Notes").split("\n\n")[0].split()).removeprefix("Cannot tell:").strip()
    text = re.sub(r"\s*\([^()]*`[^()]*\)", "", text)
    sentences = re.split(r"(?<=[.;])\s+", text)
    kept = " ".join(one for one in sentences if "`" not in one)
    return kept.rstrip(";") + ("." if kept.endswith(";") else "")


_SOURCE = re.compile(r"^(\w+(?:, \w+)*) : (.*?)(?=^\w+(?:, \w+)* : |\Z)", re.DOTALL | re.MULTILINE)
"""Keys, a colon and the text up to the next keys; the text may run over lines."""


@cache
def _references(function: Callable[..., Any]) -> tuple[str, ...]:
    lines = _section(function, "References") + "\n"
    told = []
    for key, text in _SOURCE.findall(lines):
        plain = " ".join(text.split()).rstrip(".")
        if "`" in plain or plain.endswith("as above"):
            continue
        for name, title in _KEYS.items():
            plain = plain.replace(name, title)
        common = key == "common_practice" and "common practice" not in plain
        told.append(f"common practice: {plain}" if common else plain)
    return tuple(told)
