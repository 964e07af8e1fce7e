"""Several cylinders, each with its own outcome: ``good spark on 1 & 4, weak on 2, none on 3``."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import Place
from knowngood.lines.amounts import quantity_of
from knowngood.lines.beside import outside
from knowngood.lines.elements import Element, cylinder
from knowngood.lines.judgements import kinds_named
from knowngood.lines.kinds import conditions_of
from knowngood.lines.outcomes import said_word
from knowngood.lines.placed_word import put_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token

QUIET = ("COMMA", "LINK", "FILL", "MUTE", "EQUALS", "DASH", "COND")
Group = tuple[list[Place], str]


def read_each(reader: Reader, elements: Sequence[Element]) -> bool:
    """Read a run of cylinders and outcomes of one kind, two groups or more, where every word is one or the other."""
    for name in [e.token for e in elements if e.kind == "NAME"]:
        for kind in kinds_named(reader, name):
            record = reader.kind_record(kind)
            if record is None or not record.words or record.place != "cylinder" or quantity_of(reader, kind):
                continue
            groups = _groups(reader, kind, name, elements)
            if groups:
                tokens = [token for element in elements for token in element.tokens]
                for places, word in groups:
                    put_word(reader, kind, word, places, conditions_of(elements), [])
                reader.use_turned(tokens)
                return True
    return False


def _groups(reader: Reader, kind: str, name: Token, elements: Sequence[Element]) -> list[Group]:
    """Places with the outcome beside them, as the first of them stands to its own; empty where it is no such run."""
    said: list[tuple[list[Place], str]] = []
    for element in elements:
        own = _own_word(kind, name) if element.token is name else ""
        if element.token is name and not own:
            continue
        places = _places(reader, element)
        if places and said and said[-1][0] and not said[-1][1]:
            said[-1][0].extend(places)
        elif places:
            said.append((places, ""))
        elif word := own or said_word(reader, kind, [element.token])[0]:
            if said and said[-1][1] == word:
                continue
            said.append(([], word))
        elif element.kind == "REST":
            said.append(([Place("engine", "rest")], ""))
        elif element.kind not in QUIET or (element.token.means("work") and not element.token.means("filler")):
            return []
    return _paired(reader, said)


def _own_word(kind: str, name: Token) -> str:
    """The outcome a name says with it (``injectors ticking``)."""
    said = (one.partition("=") for one in name.ids("outcome"))
    return next((word for of, _, word in said if of == kind), "")


def _paired(reader: Reader, said: Sequence[tuple[list[Place], str]]) -> list[Group]:
    pairs = list(zip(said[::2], said[1::2], strict=False))
    if len(said) < 4 or len(said) % 2 or any(bool(first[1]) == bool(second[1]) for first, second in pairs):
        return []
    if len({bool(first[1]) for first, _ in pairs}) != 1:
        return []
    groups = [([*first[0], *second[0]], first[1] or second[1]) for first, second in pairs]
    named = [place for places, _ in groups for place in places if place.kind == "cylinder"]
    if len(set(named)) != len(named) or outside(reader, named):
        return []
    others = [place for place in reader.all_cylinders() if place not in named]
    return [(others if places[0].kind == "engine" else places, word) for places, word in groups]


def _places(reader: Reader, element: Element) -> list[Place]:
    if element.kind == "PLACE":
        return [place for place in element.places if place.kind == "cylinder"]
    whole = element.whole if element.kind == "CELL" else None
    return [cylinder(whole)] if whole is not None and 1 <= whole <= reader.most else []
