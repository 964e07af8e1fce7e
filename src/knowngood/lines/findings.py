"""Faults seen at their place, in the words of the library or as a part beside what is wrong with it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from knowngood.car import ENGINE, TWO, Place
from knowngood.evidence import Finding
from knowngood.library.records import Fault
from knowngood.lines.elements import Element
from knowngood.lines.location import BEHIND, is_location
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.unread import weighs
from knowngood.lines.vocabulary import forms_of


def _is_bad(token: Token) -> bool:
    """A word for what is wrong; the block is a part, what is blocked is not."""
    return token.means("mark", "bad") and token.plain not in ("block", "blocks")


_BAD_FORMS = frozenset(
    form
    for word in [
        "chewed",
        "gnawed",
        "cracked",
        "split",
        "broken",
        "torn",
        "melted",
        "corroded",
        "rotten",
        "rusted",
        "perished",
        "chafed",
        "burnt",
        "leaking",
        "weeping",
        "loose",
        "off",
        "unplugged",
        "disconnected",
        "seized",
        "blocked",
        "bent",
        "missing",
        "full",
        "soaked",
        "pinched",
        "worn",
        "stripped",
        "crossed",
        "nest",
        "droppings",
        "collapsed",
        "shorted",
        "oil",
        "water",
        "track",
        "slipped",
        "green",
        "cut",
        "rubbing",
        "reversed",
        "wrong",
        "empty",
        "dirty",
        "open",
        "out",
        "crack",
        "stuck",
        "swollen",
        "frayed",
        "hole",
        "not",
        "leak",
        "damp",
        "old",
        "stale",
        "rust",
        "fouled",
        "on",
    ]
    for form in forms_of(word)
)


def read_findings(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
    """Faults seen at their place; "no mouse nest" is a look that saw nothing."""
    before = len(reader.bodies)
    _read_findings(reader, elements, places)
    _use_places(reader, elements, before)


def _read_findings(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
    tokens = [token for element in elements for token in element.tokens]
    for index, token in enumerate(tokens):
        faults = reader.faults(token)
        if not faults or not reader.is_unread(token):
            continue
        plain_name = token.means("part") or token.means("kind") or token.means("says") or token.means("area")
        visible = any(_is_bad(other) for other in tokens if other is not token) or bool(
            set(forms_of(token.plain)) & _BAD_FORMS or token.plain.endswith(" blown")
        )
        numbered = any(sign.isdigit() for sign in token.plain)  # "fuse 5" is what is read there and what is blown
        alone = not any(_is_read(other) for other in tokens if other is not token)
        if token.means("wrong") and any(_is_other(other, token) for other in tokens):
            continue  # "bleed nipple seized" is not the engine
        if index and _is_owner(reader, tokens[index - 1], faults[0]):
            continue  # "exhaust clamp loose" is not the clamp of the intake
        if token.means("condition") and not alone:
            continue  # "vacuum hose off" is how a pressure was read; by itself it is what was found
        if (plain_name and not numbered) or not (visible or token.means("condition")):
            continue
        said_where = {id(token) for e in elements if e.kind == "PLACE" for token in e.tokens}
        before = [other for other in tokens[max(index - 3, 0) : index] if id(other) not in said_where]
        denied = len(tokens) > index + 2 and tokens[index + 1].means("mark", "negation") and _is_bad(tokens[index + 2])
        seen = not denied and not any(other.means("mark", "negation") for other in before)
        _put_finding(reader, faults[0], places, seen, reader.words(tokens), token)
        reader.use(other for other in tokens if other.kind not in ("num", "unit", "code") and not other.means("work"))
        return
    _read_bad_part(reader, elements, places)


def _is_other(other: Token, bad: Token) -> bool:
    """A thing beside one word for what is wrong: it is said of that thing."""
    return other is not bad and other.kind in ("word", "term") and weighs(other) and not other.means("condition")


def _is_owner(reader: Reader, before: Token, fault: Fault) -> bool:
    """A part in the singular right before the name of a fault of another part."""
    return (
        before.means("part")
        and not before.plain.endswith("s")
        and fault.part not in before.ids("part")
        and (not set(before.plain.split()) & {word for phrase in (fault.name, *fault.words) for word in phrase.split()})
    )


def _is_read(token: Token) -> bool:
    """Part of a reading or of work, under whose conditions a hose may be off."""
    return token.kind in ("num", "unit", "code") or any(
        token.means(kind) for kind in ("kind", "outcome", "says", "work", "effect", "condition")
    )


def _stands_in(tokens: Sequence[Token], parts: Sequence[Token]) -> bool:
    """``water in the distributor cap``: the fluid is what is wrong there, not what it is wrong with."""
    return any(token.plain in ("in", "inside", "on") and token.start > parts[0].start for token in tokens)


def _says_more(token: Token) -> bool:
    """It is a complaint or a look by itself; what is missing is a miss only of a cylinder."""
    return (token.means("says") or token.means("outcome")) and token.plain != "missing"


def _only_there(tokens: Sequence[Token], part: Token) -> bool:
    """``leak at injector 3``, ``wet near the injector``: what leaks there may be its seal; the part says where."""
    at = tokens.index(part)
    led = any(token.plain in ("at", "near", "around", "by", "next to") for token in tokens[max(at - 2, 0) : at])
    return led and any(token.plain in ("leak", "leaks", "leaking", "wet", "damp") for token in tokens[:at])


FLUIDS = ("fuel", "oil", "coolant")
_OF_FLUIDS = frozenset(
    form
    for word in ["leaking", "dirty", "empty", "contaminated", "sludge", "water", "oil", "mud", "rust"]
    for form in forms_of(word)
)
"""What can be wrong with a fluid itself; nothing of it is stuck, broken or loose."""


def _put_finding(reader: Reader, fault: Fault, places: Sequence[Place], seen: bool, words: str, token: Token) -> None:
    where: tuple[Place, ...] = (ENGINE,)
    if fault.place in ("cylinder", "bank"):
        where = tuple(place for place in places if place.kind == fault.place)
        if not where and fault.place == "cylinder" and len(reader.places) == 1 and reader.places[0].kind == "cylinder":
            where = reader.places
            reader.suppose(f"at {where[0]}")
        if not where and not seen:
            where = reader.all_cylinders() if fault.place == "cylinder" else (ENGINE,)
    elif fault.place in TWO:
        names = sorted((place.name for place in places if place.kind == "cylinder"), key=lambda name: (len(name), name))
        where = (Place(fault.place, "-".join(names)),) if len(names) == 2 else ()
    if not where:
        where = (ENGINE,)
        reader.ask(f"{token.text}: at which {fault.place}?")
    for place in where:
        reader.put(Finding(fault=fault.id, part=fault.part, place=place, words=words, seen=seen), [token])


NUMBERED = ("fuse", "relay", "fuses")


def _use_places(reader: Reader, elements: Sequence[Element], before: int) -> None:
    """``intake gasket leaks cyl 4``: of a part of the engine, where it is stays in the words of what was found."""
    fresh = [body for body in reader.bodies[before:] if isinstance(body, Finding)]
    if not fresh:
        return
    if all(body.place == ENGINE for body in fresh):
        reader.use_turned(token for e in elements if e.kind == "PLACE" for token in e.tokens)
    tokens = [token for element in elements for token in element.tokens]
    for one, other in pairwise(tokens):
        if one.plain in NUMBERED and other.whole() is not None:
            reader.use_turned([one, other])


def _read_bad_part(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
    """A part beside a word for what is visibly wrong with it, where no listed fault is named outright."""
    tokens = [token for element in elements for token in element.tokens]
    bad = [token for token in tokens if _is_bad(token) and reader.is_unread(token) and not token.means("effect")]
    parts = [token for token in tokens if token.means("part") and reader.is_unread(token)]
    solid = [token for token in parts if reader.part(token) not in FLUIDS]
    parts = solid if solid and _stands_in(tokens, parts) else parts
    if len(parts) == 1:
        bad = [token for token in bad if token not in parts]
    if parts and all(is_location(token, tokens, BEHIND) for token in parts):
        return  # "one behind the throttle split": what is split is not the throttle
    at = bool(parts) and _only_there(tokens, parts[0]) and not parts[0].means("part", "plug")
    if (
        not bad
        or not parts
        or any(token.means("work") for token in tokens)
        or (not at and any(_says_more(token) for token in bad))
    ):
        return
    if any(token.plain in ("with", "when") and token.start < parts[0].start for token in tokens):
        return
    part = reader.part(parts[0])
    if part in FLUIDS and not any(set(forms_of(token.plain)) & _OF_FLUIDS for token in bad):
        return
    if any(token.means("mark", "negation") or token.plain in ("none", "nothing") for token in tokens):
        return
    stems = {form for token in bad for form in forms_of(token.plain)} - {"of", "full"}
    alike = [
        f
        for f in reader.library.faults.values()
        if f.part == part and reader.fits(f.needs) and stems & _forms_of_fault(f)
    ]
    words = reader.words(tokens)
    if len(alike) == 1 and not at:
        _put_finding(reader, alike[0], places, True, words, parts[0])
    else:
        where = tuple(place for place in places if place.kind == "cylinder")
        for place in where or (ENGINE,):
            reader.put(Finding(part=part, place=place, words=words), [])
    reader.use(token for token in tokens if token.kind not in ("num", "unit", "code"))


def _forms_of_fault(fault: Fault) -> set[str]:
    return {form for phrase in (fault.name, *fault.words) for form in forms_of(phrase)}
