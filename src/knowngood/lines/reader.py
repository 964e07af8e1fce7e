"""The line being read: what is known before, what came of it so far, which of its words are still unread."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TypeGuard

from knowngood.car import MOST_CYLINDERS, Car, Place
from knowngood.evidence import Body, Note
from knowngood.library.records import Fault, Library, ReadingKind
from knowngood.lines.scan import Token
from knowngood.lines.typed import Typed
from knowngood.lines.understood import Recent
from knowngood.lines.vocabulary import Vocabulary, forms_of


@dataclass
class Reader:
    """Everything the readers of one line share; they put bodies in and mark words as read."""

    text: str
    tokens: tuple[Token, ...]
    car: Car
    library: Library
    vocabulary: Vocabulary
    recent: Recent
    typed: Typed
    bodies: list[Body] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    asks: list[str] = field(default_factory=list)
    read: set[int] = field(default_factory=set)
    turned: set[int] = field(default_factory=set)
    places: tuple[Place, ...] = ()
    kind: str = ""
    given: tuple[str, ...] = ()
    subject: Token | None = None
    since: int = 0
    today: date | None = None
    day: date | None = None
    price: float | None = None
    priced: tuple[Token, ...] = ()
    headed: bool = False
    aside: list[Note] = field(default_factory=list)

    @property
    def cylinders(self) -> int | None:
        """How many cylinders, as far as it is known."""
        return self.car.cylinders

    @property
    def most(self) -> int:
        """The highest number a cylinder of this car may have."""
        return self.car.cylinders or MOST_CYLINDERS

    def is_cylinder(self, number: int | None) -> TypeGuard[int]:
        """Whether a number may be that of a cylinder of this car; None is a number that is no whole one."""
        return number is not None and 1 <= number <= self.most

    def put(self, body: Body, tokens: Iterable[Token] = ()) -> None:
        """One more body, and the words it came from."""
        self.bodies.append(body)
        self.use(tokens)

    def use(self, tokens: Iterable[Token]) -> None:
        """These words were read."""
        self.read.update(token.start for token in tokens)

    def use_turned(self, tokens: Iterable[Token]) -> None:
        """These words were read, and their numbers stand in the entry in another form (months as years)."""
        starts = {token.start for token in tokens}
        self.read |= starts
        self.turned |= starts

    def is_unread(self, token: Token) -> bool:
        """Whether nothing has read this word yet."""
        return token.start not in self.read

    def suppose(self, guess: str) -> None:
        """A guess that is shown, once."""
        if guess not in self.assumed:
            self.assumed.append(guess)

    def ask(self, question: str) -> None:
        """A question to put; the first is the one that is put."""
        if question not in self.asks:
            self.asks.append(question)

    def doubt(self, tokens: Sequence[Token], why: str, ask: str) -> None:
        """Keep these words as a note that does not count, with its question."""
        if tokens:
            self.put(Note(self.words(tokens), why, ask), tokens)
            self.ask(ask)

    def words(self, tokens: Sequence[Token]) -> str:
        """What was typed from the first to the last of some tokens."""
        return self.typed.words(tokens[0].start, tokens[-1].end) if tokens else ""

    def plain(self, tokens: Sequence[Token]) -> str:
        """The plain text from the first to the last of some tokens; never shown."""
        return self.text[tokens[0].start : tokens[-1].end] if tokens else ""

    def kind_record(self, kind: str) -> ReadingKind | None:
        """The library's record of a kind of reading, by its id or an earlier one."""
        found = self.library.readings.get(kind)
        if found is not None:
            return found
        return next((record for record in self.library.readings.values() if kind in record.aliases), None)

    def place_of_kind(self, kind: str) -> str:
        """Kind of place at which a kind of reading is taken."""
        record = self.kind_record(kind)
        if record is not None:
            return record.place
        words = self.vocabulary.kinds.get(kind)
        return words.place if words else "engine"

    def fits(self, needs: dict[str, tuple[str, ...]]) -> bool:
        """Whether the car may have what a record needs; what is not known may be."""
        return all(_told(self.car, name) in ("", *values) for name, values in needs.items())

    def part(self, token: Token) -> str:
        """Id of the part a word names: one the library has and this car may have, before the others; empty if none."""
        names = token.ids("part")
        known = [name for name in names if name in self.library.parts]
        told = getattr(self.bodies[-1], "part", "") if self.bodies else ""
        if told in known:
            return told
        if headed := self._headed_before(token, known):
            return headed
        for name in known:
            if self.fits(self.library.parts[name].needs):
                return name
        in_faults = [
            name for name in names if any(self.fits(f.needs) for f in self.library.faults.values() if f.part == name)
        ]
        return next(iter((*in_faults, *known, *names)), "")

    def _headed_before(self, token: Token, names: Sequence[str]) -> str:
        """``nest in the air box, filter chewed``: of the air, fuel and oil filter the one whose first word stands
        before it; empty where none or several do, or where a name has no such word.
        """
        heads = {name: name.removesuffix(f"_{token.plain}") for name in names}
        if len(names) < 2 or any(name == head for name, head in heads.items()):
            return ""
        words = self.text[: token.start].casefold().split()
        said = [name for name, head in heads.items() if any(word.startswith(head) for word in words)]
        return said[0] if len(said) == 1 else ""

    def either_part(self, words: str, meant: str) -> list[str]:
        """Names of the parts of different areas that words may mean; none where the line names others beside it.

        A coil is one of several by the ignition, and is found by it; a hose is of the cooling or of the intake.
        """
        senses = self.vocabulary.phrases.get(forms_of(words), ())
        named = [sense.id for sense in senses if sense.kind == "part" and sense.id in self.library.parts]
        fitting = [self.library.parts[name] for name in named if self.fits(self.library.parts[name].needs)]
        if meant not in named or len({part.area for part in fitting}) < 2:
            return []
        others = [token for token in self.tokens if token.means("part") and token.text.casefold() != words.casefold()]
        told = getattr(self.bodies[-1], "part", "") if self.bodies else ""
        if others or told:
            return []
        return [part.name for part in fitting]

    def kinds_of_part(self, token: Token) -> list[str]:
        """Kinds of reading that carry a part's name (``crank_sensor_resistance``)."""
        part = self.part(token)
        return [kind for kind in self.library.readings if part and kind.startswith(f"{part}_")]

    def expand(self, token: Token) -> None:
        """Read a phrase as its words instead."""
        index = self.tokens.index(token)
        self.tokens = (*self.tokens[:index], *token.parts, *self.tokens[index + 1 :])

    def part_place(self, part: str) -> str:
        """Kind of place at which a part sits."""
        if part in self.library.parts:
            return self.library.parts[part].place
        fault = next((fault for fault in self.library.faults.values() if fault.part == part), None)
        if part in ("coil", "plug", "lead", "injector"):
            return "cylinder"
        return fault.place if fault is not None else "engine"

    def faults(self, token: Token) -> list[Fault]:
        """The faults a phrase names; those this car may have, if there are such."""
        faults = [self.library.faults[name] for name in token.ids("fault") if name in self.library.faults]
        return [fault for fault in faults if self.fits(fault.needs)] or faults

    def all_cylinders(self) -> tuple[Place, ...]:
        """Every cylinder by number; the engine where the count is not known."""
        if self.cylinders is None:
            return (Place("engine"),)
        return tuple(Place("cylinder", str(number)) for number in range(1, self.cylinders + 1))


def _told(car: Car, name: str) -> str:
    """A field of the car as the library writes it: ``yes`` or ``no`` for what is fitted, empty when not known."""
    value = getattr(car, name, None)
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ""
    return str(value)
