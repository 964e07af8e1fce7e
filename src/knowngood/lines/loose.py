"""A clause read by what its words are, in whatever order: a part and what is wrong with it, or what was done to it.

It is tried where no form reads a clause whole. Every word is sorted by what it may be: a part, a place, a condition, a
state, an action, an effect, an amount. An entry is made only where every word has found its use and what was sorted
is one thing; else nothing is, and the clause stays a note.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache

import msgspec

from knowngood.car import ENGINE, Place
from knowngood.evidence import Finding, Work
from knowngood.library.records import Fault
from knowngood.lines.beside import outside
from knowngood.lines.elements import PREPOSITIONS, Element, elements_of
from knowngood.lines.half_heard import BESIDE
from knowngood.lines.phrases import with_places
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.unread import weighs
from knowngood.lines.vocabulary import forms_of, table
from knowngood.lines.works import is_to_do, put_work

WHERE = frozenset([*PREPOSITIONS, "near", "under", "next", "through", "into", "inside", "above", "between", "around"])
FLUIDS = ("fuel", "oil", "coolant", "brake_fluid", "gearbox_oil")


@dataclass
class Sorted:
    """The words of one clause by what they are."""

    parts: list[Token] = field(default_factory=list)
    at: list[Token] = field(default_factory=list)
    states: list[Token] = field(default_factory=list)
    acts: list[tuple[Token, str]] = field(default_factory=list)
    effects: list[str] = field(default_factory=list)
    origins: list[str] = field(default_factory=list)
    places: list[Place] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    denied: bool = False
    every: bool = False


def read_loose(reader: Reader, clause: Sequence[Token]) -> bool:
    """One finding, or one piece of work, said in an order and in words that follow no form; False where it is neither.

    Parameters
    ----------
    reader : Reader
    clause : sequence of Token
        Nothing of it is read.
    """
    elements = with_places(reader, elements_of(reader, clause))
    found = _sorted(reader, elements)
    if found is None or outside(reader, found.places) or not found.parts:
        return False
    if found.acts and not found.denied and not is_to_do(clause, found.acts[0][0]):
        return _put_work(reader, clause, found)
    return _put_finding(reader, clause, found) if found.states and not found.acts else False


def _sorted(reader: Reader, elements: Sequence[Element]) -> Sorted | None:
    """Every word by what it is; None where one is nothing that could stand here."""
    found = Sorted()
    tokens = [token for element in elements for token in element.tokens]
    if any(token.means("mark", "hedge", "was_before", "swap", "rest", "spec", "cut") for token in tokens):
        return None
    for index, element in enumerate(elements):
        if element.kind == "PLACE":
            found.places += element.places
        elif element.kind in ("COND", "SPEED"):
            found.said += element.names
        elif element.kind == "CELL":
            if BESIDE.fullmatch(element.unit.casefold()) is None or not element.unit:
                return None
        elif element.kind not in ("MUTE", "LINK", "COMMA", "DASH"):
            led = index > 0 and elements[index - 1].token.plain.split()[-1:] != []
            before = elements[index - 1].token.plain.split()[-1] if led else ""
            if not all(_sort(reader, token, found, led=before in WHERE) for token in element.tokens):
                return None
    return found


def _sort(reader: Reader, token: Token, found: Sorted, *, led: bool) -> bool:
    """One word put where it belongs; False where it belongs nowhere."""
    act = _act(token)
    if token.means("part"):
        (found.at if led else found.parts).append(token)
    elif token.means("mark", "negation") or token.plain in ("none", "nothing"):
        found.denied = True
    elif token.means("effect"):
        found.effects.append(token.ids("effect")[0])
    elif act:
        found.acts.append((token, act))
        found.origins += token.ids("origin")
    elif token.means("origin"):
        found.origins += token.ids("origin")
    elif token.means("mark", "bad") or token.means("wrong"):
        found.states.append(token)
    elif token.means("mark", "all"):
        found.every = True
    else:
        return led or not weighs(token) or token.means("filler")
    return True


def _act(token: Token) -> str:
    """What a word says was done; a word that tells a state as well ("clean") is no action here."""
    if token.means("filler") or token.plain in ("clean", "new", "change"):
        return ""
    return next(iter(token.ids("work")), "reseated" if token.means("mark", "put_right") else "")


@cache
def _kin() -> dict[str, frozenset[str]]:
    """Group of words for what is wrong -> the stems that say so by themselves."""
    return {
        name: frozenset(forms[0] for word in words if len(forms := forms_of(word)) == 1)
        for name, words in table()["wrong"].items()
    }


def _put_work(reader: Reader, clause: Sequence[Token], found: Sorted) -> bool:
    """One action on each part; the effect is of the last."""
    do = {act for _, act in found.acts}
    if len(do) > 1 and len(do - {"removed"}) > 1:
        return False
    done = next(act for _, act in found.acts if len(do) == 1 or act != "removed")
    told = [token for token in found.states if not token.means("work") and token.plain not in ("old", "bad")]
    if told and done in ("removed", "tried"):
        return False
    if found.at and done not in ("cleaned", "repaired", "reseated", "replaced"):
        return False
    before = len(reader.bodies)
    for token in found.parts:
        where = _fitting(reader, reader.part_place(reader.part(token)), found.places)
        put_work(reader, done, reader.part(token), token.text, where, found.origins, (), found.every, "")
    words = reader.words(clause)
    for index in range(before, len(reader.bodies)):
        body = reader.bodies[index]
        assert isinstance(body, Work)
        last = found.effects[0] if found.effects and index == len(reader.bodies) - 1 else ""
        reader.bodies[index] = msgspec.structs.replace(body, words=words, effect=last)
    reader.use_turned(clause)
    return True


def _fitting(reader: Reader, kind: str, places: Sequence[Place]) -> list[Place]:
    """The places of a part's own kind, else of any: a bank said of a part of cylinders."""
    return [place for place in places if place.kind == kind] or list(places)


def _put_finding(reader: Reader, clause: Sequence[Token], found: Sorted) -> bool:
    """What is wrong with one part: the fault the library has for it, where there is one alone, else in its words."""
    parts = {reader.part(token): token for token in found.parts}
    if len(parts) > 1 or found.effects or found.origins:
        return False
    part, token = next(iter(parts.items()))
    if part in FLUIDS and not found.at:
        return False
    stems = {form for state in found.states for form in forms_of(state.plain)}
    kin = stems.union(*(_kin()[name] for state in found.states for name in state.ids("wrong")))
    alike = [f for f in reader.library.faults.values() if f.part == part and reader.fits(f.needs)]
    exact = [fault for fault in alike if stems & _forms(fault)] or [fault for fault in alike if kin & _forms(fault)]
    one = exact[0] if len(exact) == 1 else None
    if found.denied and one is None:
        return False
    at = one.place if one is not None else reader.part_place(part)
    where = [place for place in found.places if place.kind == at] if at in ("cylinder", "bank") else []
    if at == "cylinder" and not where:
        where = list(reader.all_cylinders()) if found.denied or token.text.casefold().endswith("s") else []
        where = [] if where == [ENGINE] else where
    for place in where or [ENGINE]:
        fault = one.id if one is not None else ""
        reader.put(Finding(fault=fault, part=part, place=place, words=reader.words(clause), seen=not found.denied))
    reader.use_turned(clause)
    return True


def _forms(fault: Fault) -> set[str]:
    return {form for phrase in (fault.name, *fault.words) for form in forms_of(phrase)}
