"""Tokens gathered into the elements lines are made of: places, numbers with their units, conditions, links."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from knowngood.car import Place
from knowngood.lines.element import Element, cylinder
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.spots import (
    bank_at,
    bank_by_cylinders,
    between_at,
    leading_at,
    led_at,
    listed_at,
    place_at,
)
from knowngood.lines.token import HIGHEST
from knowngood.lines.vocabulary import PASSED_OVER

RPM_SPAN = (400, 8000)
"""A bare whole number behind "at" inside this span is an engine speed."""

LINKS = frozenset(["and", "&", "+", "to", "with", "/", ">", "by"])
PREPOSITIONS = frozenset(["in", "on", "for", "at", "of", "from", "@", "to", "by", "behind"])


_QUALIFIERS = ("about", "over", "under")


MOVED = frozenset(["went", "came", "rose", "fell", "dropped", "jumped", "climbed", "up", "down"])
"""Before "from" these say that a reading became another: two readings, no range."""


def _cell(tokens: Sequence[Token], index: int) -> tuple[Element, int] | None:
    """A number with its qualifiers, its sign, the other end of its range, and its unit."""
    start = index
    if (between := _between(tokens, index)) is not None:
        return between
    if index and tokens[index].is_sign(">", "~") and tokens[index - 1].kind in ("num", "unit", "numword"):
        return None
    text, index = _qualifiers(tokens, index)
    if index >= len(tokens):
        return None
    signed = False
    if (
        tokens[index].is_sign("+", "-")
        and index + 1 < len(tokens)
        and tokens[index + 1].kind == "num"
        and not tokens[index + 1].spaced
    ):
        before = tokens[index - 1] if index else None
        tight = before is not None and not tokens[index].spaced and before.kind in ("num", "unit")
        if tight and (tokens[index].text == "-" or _joins(tokens, index)):
            return None
        signed, text, index = True, text + tokens[index].text, index + 1
    token = tokens[index]
    if token.kind not in ("num", "numword") or (token.kind == "numword" and not text and not _counts(tokens, index)):
        return None
    whole = None if signed or text else token.whole()
    text, index, unit, ranged = text + token.plain, index + 1, "", False
    if index < len(tokens) and tokens[index].kind == "unit":
        unit, index = tokens[index].text, index + 1
    moved = start > 1 and tokens[start - 1].plain == "from" and tokens[start - 2].plain in MOVED
    if index + 1 < len(tokens) and tokens[index].plain in ("to", "until") and not moved:
        sign = tokens[index + 1].text if tokens[index + 1].is_sign("+", "-") else ""
        end = index + (2 if sign else 1)
        if end < len(tokens) and tokens[end].kind in ("num", "numword"):
            text, ranged, index = f"{text} to {sign.replace('+', '')}{tokens[end].plain}", True, end + 1
    if ranged and index < len(tokens) and tokens[index].kind == "unit":
        unit, index = tokens[index].text, index + 1
    if index < len(tokens) and tokens[index].is_sign("+") and not tokens[index].spaced:
        behind = tokens[index + 1] if index + 1 < len(tokens) else None
        if behind is None or behind.spaced or behind.kind != "num":
            text, index, whole = f"over {text}", index + 1, None
    if index < len(tokens) and (tokens[index].means("mark", "tail") or _doubts(tokens, index)):
        text, index, whole = f"about {text}", index + 1, None
    element = Element(
        "CELL", tuple(tokens[start:index]), f"{text} {unit}".strip(), unit, whole, signed=signed, ranged=ranged
    )
    return (replace(element, whole=None) if unit else element), index


def _qualifiers(tokens: Sequence[Token], index: int) -> tuple[str, int]:
    """What makes a number rough or one end, in words, and where the number itself begins."""
    text = ""
    while index < len(tokens):
        token = tokens[index]
        if token.is_sign("~", "≈"):
            text += "about "
        elif token.is_sign(">", "<", "≥", "≤"):
            text += "over " if token.text in ">≥" else "under "
        elif any(token.means("mark", name) for name in _QUALIFIERS):
            text += next(name for name in _QUALIFIERS if token.means("mark", name)) + " "
        else:
            break
        index += 1
    return text, index


def _doubts(tokens: Sequence[Token], index: int) -> bool:
    """A question mark behind a number doubts it; one that stands free before another number is a number missing."""
    behind = tokens[index + 1] if index + 1 < len(tokens) else None
    free = tokens[index].spaced and behind is not None and behind.spaced and behind.kind == "num"
    return tokens[index].is_sign("?") and not free


def _joins(tokens: Sequence[Token], index: int) -> bool:
    """``1+4``: two small whole numbers joined, no sign."""
    ends = (tokens[index - 1].whole(), tokens[index + 1].whole())
    return all(end is not None and 1 <= end <= HIGHEST for end in ends)


def _between(tokens: Sequence[Token], index: int) -> tuple[Element, int] | None:
    """``between 800 and 1500 rpm``, ``between 11.5 and twelve``."""
    run = tokens[index : index + 5]
    if len(run) < 4 or run[0].plain != "between" or run[2].plain != "and":
        return None
    if {run[1].kind, run[3].kind} not in ({"num"}, {"num", "numword"}):
        return None
    unit = run[4].text if len(run) > 4 and run[4].kind == "unit" else ""
    used = tuple(run[: 5 if unit else 4])
    return Element("CELL", used, f"{run[1].plain} to {run[3].plain} {unit}".strip(), unit, ranged=True), index + len(
        used
    )


def _counts(tokens: Sequence[Token], index: int) -> bool:
    """Whether a number spoken as a word is a number here, not the "one" of plain speech."""
    token = tokens[index]
    behind = tokens[index + 1] if index + 1 < len(tokens) else None
    before = tokens[index - 1] if index else None
    if before is not None and before.means("mark", "all"):
        return False
    if " " in token.text or (behind is not None and behind.kind == "unit"):
        return True
    if before is None or (token.plain == "1" and not before.means("mark", "cylinder")):
        return False
    known = before.means("kind") or before.means("part") or before.means("says") or before.means("mark", "cylinder")
    return known or before.kind == "num" or (before.plain in PREPOSITIONS and token.plain != "1")


_THOUSANDS = re.compile(r"[1-9],\d{3}")


def _speed(cell: Element, before: Token | None, behind: Token | None, *, loose: bool = False) -> tuple[str, ...]:
    """The condition an engine speed or a share of load stands for; empty for any other number."""
    from_unit = re.sub(r"[^a-z]", "", cell.unit.casefold()) in ("rpm", "revs", "rpms", "rmin")
    number = re.sub(r"^(?:about|over|under) ", "", cell.text).split()[0]
    if loose and cell.text.startswith(("over ", "under ")) and number.isdigit() and 1000 <= int(number) <= 7000:
        return ("cruise", f"{cell.text} rpm") if not cell.unit and not int(number) % 100 else ()
    number = number.replace(",", "") if _THOUSANDS.fullmatch(number) else number
    at = before is not None and (before.plain in ("at", "held", "steady", "to", "near") or before.is_sign("@"))
    near = from_unit or (before is not None and before.plain == "near") or (at and "," in cell.text)
    whole = cell.whole if cell.whole is not None else int(number) if near and number.isdigit() else None
    if (
        whole is not None
        and RPM_SPAN[0] <= whole <= RPM_SPAN[1]
        and (from_unit or at)
        and not (cell.unit and not from_unit)
    ):
        return (*(("cruise",) if whole >= 1300 else ("hot idle",)), f"{whole} rpm")
    if cell.unit == "%" and behind is not None and behind.plain in ("load", "throttle"):
        return ("pull" if behind.plain == "load" else "cruise", f"{cell.text} {behind.plain}")
    return ()


def _time(cell: Element, before: Token | None) -> tuple[str, ...]:
    """``after ten seconds``."""
    if before is None or before.plain.split()[-1] not in ("after", "in", "within") or not cell.unit:
        return ()
    unit = cell.unit.casefold()
    if unit in (
        "s",
        "sec",
        "secs",
        "second",
        "seconds",
        "min",
        "mins",
        "minute",
        "minutes",
        "h",
        "hr",
        "hrs",
        "hour",
        "hours",
    ):
        return ("after a wait", f"after {cell.text}")
    return ()


OPEN_WORDS = frozenset({"ol", "infinite", "infinity", "inf", "open", "open circuit", "open line", "∞", "no continuity"})
"""What a meter shows on an open resistance."""

VERBS = frozenset(["drops", "dropped", "dropping", "drains", "draws", "charges", "charged"])
"""Forms of a reading's name that are what something does, not the reading."""

_SIMPLE: tuple[tuple[str, str], ...] = (
    ("except", "EXCEPT"),
    ("rest", "REST"),
    ("all", "ALL"),
    ("spec", "SPEC"),
    ("none", "NONE"),
    ("highest", "HIGH"),
    ("lowest", "LOW"),
)


def _term(token: Token) -> Element:
    """Element of one token that is no number and no place."""
    one = (token,)
    if token.kind == "code":
        return Element("CODE", one, text=token.plain)
    if token.kind == "arrow" or token.is_sign(">"):
        return Element("ARROW", one)
    if token.is_sign(","):
        return Element("COMMA", one)
    if token.is_sign(":", "="):
        return Element("EQUALS", one)
    if token.is_sign("/", "-", "~"):
        return Element("DASH", one, text=token.text)
    if token.is_sign("(", ")", "[", "]", "'", '"', "!", "?", ".", "…"):
        return Element("MUTE", one)
    if token.plain in LINKS:
        return Element("LINK", one, text=token.plain)
    if token.means("mark", "sure") or token.plain in VERBS or (token.kind == "numword" and not token.means("part")):
        return Element("FILL", one)
    if token.means("condition") and token.plain != "unplug":
        return Element("COND", one, names=token.ids("condition"))
    if token.means("kind") or token.means("says") or token.means("part"):
        return Element("NAME", one)
    if token.plain in OPEN_WORDS:
        return Element("OPEN", one, text="OL")
    for mark, kind in _SIMPLE:
        if token.means("mark", mark):
            return Element(kind, one)
    return Element("FILL" if token.means("filler") or token.plain in PASSED_OVER else "WORD", one)


def elements_of(reader: Reader, tokens: Sequence[Token]) -> list[Element]:
    """Elements of a run of tokens, in order, every token in one of them."""
    found: list[Element] = []
    index = 0
    tries: tuple[Callable[[], tuple[Element, int] | None], ...] = (
        lambda: bank_by_cylinders(reader, tokens, index),
        lambda: bank_at(reader, tokens, index),
        lambda: place_at(reader, tokens, index),
        lambda: listed_at(reader, tokens, index),
        lambda: leading_at(reader, tokens, index),
        lambda: between_at(reader, tokens, index),
        lambda: led_at(reader, tokens, index),
        lambda: _cell(tokens, index),
    )
    hunts = any(
        token.means("alone") or token.means("outcome") for token in tokens
    )  # "idle 650-900 hunting": numbers and what is wrong with them
    loose = not any(token.means("kind") for token in tokens)  # nothing is named that such a number could be of
    while index < len(tokens):
        for attempt in tries:
            result = attempt()
            if result is not None:
                break
        else:
            element = _term(tokens[index])
            charges = tokens[index].plain == "charges" and tokens[index + 1 : index + 2]
            speed = tokens[index].means("kind", "idle_speed") and tokens[index + 1 : index + 2]
            if speed and hunts and element.kind == "COND" and RPM_SPAN[0] <= (speed[0].whole() or 0) <= RPM_SPAN[1]:
                found.append(element)
                element = replace(element, kind="NAME", names=())
            if charges and element.kind == "FILL" and charges[0].kind == "num":
                element = replace(element, kind="NAME")
            found.append(element)
            index += 1
            continue
        element, end = result
        counted = {"ALL": 0, "REST": 1}.get(found[-1].kind, 99) if found else 99
        spoken = element.kind == "CELL" and element.whole is not None and tokens[index].kind == "numword"
        if element.kind == "CELL" and (
            (counted == 0 and element.whole == reader.cylinders)
            or (counted == 1 and spoken and element.whole == (reader.cylinders or 0) - 1)
        ):
            found[-1] = replace(found[-1], tokens=(*found[-1].tokens, *element.tokens))
            reader.turned.update(token.start for token in element.tokens)
            index = end
            continue
        before = tokens[index - 1] if index else None
        behind = tokens[end] if end < len(tokens) else None
        if element.kind == "CELL" and (
            _counts_things(element, before, behind) or _is_below(element, tokens[end : end + 2])
        ):
            element = replace(element, kind="WORD")
        if element.kind == "CELL" and found and found[-1].kind == "EXCEPT" and reader.is_cylinder(element.whole):
            element = replace(element, kind="PLACE", places=(cylinder(str(element.whole)),))
        if element.kind == "CELL":
            element = replace(element, after=before.plain if before is not None else "")
            names = () if element.ranged else _speed(element, before, behind, loose=loose) or _time(element, before)
            if names and names[0] in ("pull", "cruise") and "%" in names[-1] and behind is not None:
                element, end = replace(element, tokens=(*element.tokens, behind)), end + 1
            if names and "," in element.text:
                reader.turned.update(token.start for token in element.tokens)
            if names:
                element = replace(element, kind="COND" if "rpm" not in names[-1] else "SPEED", names=names)
        found.append(element)
        index = end
    return found


def _is_below(cell: Element, behind: Sequence[Token]) -> bool:
    """``3 bar down on 4``: how far below the others it is, and no reading; ``9 bar down from 11`` is one."""
    words = [token.plain.split()[0] for token in behind]
    return bool(cell.unit) and words[:1] == ["down"] and words[1:] not in (["from"], ["to"])


def _counts_things(cell: Element, before: Token | None, behind: Token | None) -> bool:
    """``hanging on 3 strands``: behind a preposition, a number before the name of something else counts that; so does
    one before "new" or "used" (``2 new injectors``).
    """
    if behind is not None and behind.plain in ("cooler", "colder", "hotter", "warmer", "lower", "higher", "less"):
        return True  # how far apart two readings are, and neither of them
    if behind is not None and behind.means("origin") and cell.whole is not None and not cell.unit:
        return True
    if before is None:
        return False
    plural = behind is not None and behind.kind == "word" and behind.plain[-1:] == "s" and behind.plain[-2:] != "ss"
    return before.plain.split()[-1] in ("on", "by", "in") and not cell.unit and cell.whole is not None and plural


def places_at(element: Element, most: int) -> list[Place]:
    """Where an element says: its places, or the cylinder of a bare whole number up to ``most``."""
    if element.kind == "PLACE":
        return list(element.places)
    whole = element.whole if element.kind == "CELL" else None
    return [cylinder(whole)] if whole is not None and 1 <= whole <= most else []


def cylinders_at(element: Element, most: int) -> list[Place]:
    """The cylinders among them."""
    return [place for place in places_at(element, most) if place.kind == "cylinder"]


__all__ = [
    "LINKS",
    "OPEN_WORDS",
    "PREPOSITIONS",
    "RPM_SPAN",
    "Element",
    "cylinder",
    "cylinders_at",
    "elements_of",
    "places_at",
]
