"""Several cylinders, each with its own outcome: ``good spark on 1 & 4, weak on 2, none on 3``."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import Place
from knowngood.library.healthy import healthy_word
from knowngood.lines.amounts import quantity_of
from knowngood.lines.beside import outside
from knowngood.lines.denials import denied_word
from knowngood.lines.elements import Element, cylinders_at
from knowngood.lines.judgements import kinds_named
from knowngood.lines.kinds import conditions_of
from knowngood.lines.outcomes import faulty_word, fitted_word, said_word
from knowngood.lines.placed_word import OF_ALL, cylinders_of, put_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token

QUIET = ("COMMA", "LINK", "FILL", "MUTE", "EQUALS", "DASH", "COND")
REST = Place("engine", "rest")
Piece = tuple[list[Place], list[str]]
"""Cylinders, or what is said of them: one of the two is empty."""


def read_each(reader: Reader, elements: Sequence[Element]) -> bool:
    """Read a run of cylinders and outcomes of one kind, two groups or more, where every word is one or the other."""
    named = [e.token for e in elements if _may_name(e)]
    tries = [(name, kind) for name in named for kind in dict.fromkeys((*kinds_named(reader, name), *_kinds_said(name)))]
    for name, kind in [*([(None, reader.kind)] if reader.headed else []), *tries]:
        record = reader.kind_record(kind)
        if record is None or not record.words or record.place != "cylinder" or quantity_of(reader, kind):
            continue
        groups = _groups(reader, kind, name, elements)
        for places, word in groups:
            put_word(reader, kind, word, places, conditions_of(elements), [])
        if groups:
            reader.use_turned(token for element in elements for token in element.tokens)
            return True
    return False


def _kinds_said(name: Token) -> list[str]:
    if name.means("mark", "cut"):
        return ["injector_cut"]
    return [said.partition("=")[0] for said in name.ids("outcome")] if " " in name.plain else []


def _may_name(element: Element) -> bool:
    token = element.token
    return element.kind == "NAME" or token.means("alone") or token.means("outcome") or token.means("mark", "cut")


def _groups(
    reader: Reader, kind: str, name: Token | None, elements: Sequence[Element]
) -> list[tuple[list[Place], str]]:
    """Places with the outcome beside them, as the first of them stands to its own; empty where it is no such run."""
    said: list[Piece] = []
    excepted = denied = False
    record = reader.library.readings[kind]
    for element in elements:
        own = _own_word(kind, name) if name is not None and element.token is name else ""
        if element.token is name and not own:
            continue
        places = [REST] if element.kind in ("REST", "ALL") else cylinders_with_banks(reader, element, reader.most)
        if element.token.plain in ("no", "not", "doesnt", "didnt"):
            denied = True
        elif kind == "injector_cut" and (element.token.plain in SAID_WITH or _is_stopped(reader, element)):
            continue
        elif element.kind == "EXCEPT" or element.token.plain == "but":
            excepted = True
        elif own and "all" in element.token.plain.split():
            said.append(([REST], [own]))
        elif places and said and said[-1][0] and not excepted:
            said[-1][0].extend(places)
        elif places:
            said.append((places, []))
        elif word := own or said_word(reader, kind, [element.token])[0]:
            word, denied = (denied_word(reader, record, word) if denied else word), False
            if said and said[-1][1]:
                said[-1][1].append(word)
            else:
                said.append(([], [word]))
        elif _tells_more(element) and (said or not element.token.means("mark", "cut")):
            return []
    groups = _excepted(reader, kind, said) if excepted else _paired(said)
    if kind in OF_ALL and len(said) == 1 and said[0][0] and REST not in said[0][0]:
        groups = _there(said[0][0], only=any(e.token.plain == "only" for e in elements))
    named = [place for places, _ in groups for place in places if place != REST]
    if len(set(named)) != len(named) or outside(reader, named):
        return []
    others = [place for place in reader.all_cylinders() if place not in named]
    said_words = [(p, fitted_word(reader, kind, w)) for p, words in groups for w in dict.fromkeys(words)]
    pairs = [(others if REST in places else places, word) for places, word in said_words]
    return pairs if pairs and all(places for places, _ in pairs) else []


def cylinders_with_banks(reader: Reader, element: Element, most: int) -> list[Place]:
    """The cylinders an element names, those of the banks it names among them."""
    own = [place for bank in element.places for place in cylinders_of(reader, bank)]
    return [*cylinders_at(element, most), *own]


def _there(places: list[Place], *, only: bool) -> list[Piece]:
    """``spark only on 2 and 3``: it is there, and on the others it is not."""
    return [(places, ["good"]), ([REST], ["none"])] if only else []


SAID_WITH = frozenset(["rpm", "revs", "idle", "engine", "speed"])


def _is_stopped(reader: Reader, element: Element) -> bool:
    """The part that is unplugged at each cylinder, named again."""
    return any(reader.part_place(part) == "cylinder" for part in element.token.ids("part"))


def _tells_more(element: Element) -> bool:
    return element.kind not in QUIET or (element.token.means("work") and not element.token.means("filler"))


def _paired(said: Sequence[Piece]) -> list[Piece]:
    pairs = list(zip(said[::2], said[1::2], strict=False))
    if len(said) < 4 or len(said) % 2 or any(bool(first[1]) == bool(second[1]) for first, second in pairs):
        return []
    if len({bool(first[1]) for first, _ in pairs}) != 1:
        return []
    return [([*first[0], *second[0]], first[1] or second[1]) for first, second in pairs]


def _excepted(reader: Reader, kind: str, said: Sequence[Piece]) -> list[Piece]:
    """``spark on all but 2``: the others have it; the excepted ones what is said of them, or where there are two
    outcomes the other, or nothing: that is asked.
    """
    places = [piece[0] for piece in said if piece[0]]
    if len(places) == 1 and REST not in places[0]:
        places.insert(0, [REST])  # "pulses except on 2": "all" is not said, or stands in "all but"
    record = reader.kind_record(kind)
    if len(places) != 2 or places[0] != [REST] or record is None:
        return []
    well = healthy_word(reader.library, record)
    at = next(index for index, piece in enumerate(said) if piece[0] == places[1])
    before, behind = (
        [fitted_word(reader, kind, w) for _, words in part for w in words] for part in (said[:at], said[at:])
    )
    words, other = (before, behind) if before or not behind else (behind, [])
    if len(words) > 1 or len(other) > 1:
        return []
    words = words or [well]
    if not other and ("none" in record.words or len(record.words) == 2):
        bad = "none" if "none" in record.words else faulty_word(reader, record)
        other = [bad if words[0] == well else well]
    if not other:
        reader.ask("And what does the excepted cylinder show?")
    return [([REST], words), (places[1], other)]


def _own_word(kind: str, name: Token) -> str:
    """The outcome a name says with it (``injectors ticking``)."""
    said = (one.partition("=") for one in name.ids("outcome"))
    return next((word for of, _, word in said if of == kind), "")
