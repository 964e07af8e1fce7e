"""What reaches a part: ``no 12v at coil 3``, ``power at injector plugs``, ``8.5v at coil connector``."""

from __future__ import annotations

import re
from collections.abc import Sequence

from knowngood.car import ENGINE
from knowngood.evidence import Reading
from knowngood.lines.elements import Element, elements_of
from knowngood.lines.kinds import conditions_of
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER

FEEDS = frozenset(["power", "feed", "voltage", "volts", "juice", "12v", "supply"])
AT = frozenset(["at", "to", "on", "in"])
FULL_V, LOW_V = 11.5, 10.5
"""A feed of so much with the engine off is the battery's, of less than the other is low; common practice. Between the
two it is asked."""


def read_feed(reader: Reader, elements: Sequence[Element]) -> bool:
    """Read a clause that says whether the battery's voltage reaches a part that the library asks it of."""
    whole = [token for element in elements for token in element.tokens]
    tokens = [part for token in whole for part in (token.parts if _is_no_feed(token) else (token,))]
    elements = elements_of(reader, tokens) if len(tokens) > len(whole) else elements
    at = next((i for i, token in enumerate(tokens) if token.plain in AT), 0)
    parts = [token for token in tokens[at:] if token.means("part")]
    kinds = {f"{part}_feed" for token in parts for part in token.ids("part")} & set(reader.library.readings)
    volts = [e for e in elements if e.kind == "CELL" and e.unit.casefold() in ("v", "volt", "volts")]
    named = [token for token in tokens[: at or 1] if token.plain in FEEDS]
    if not at or len(kinds) != 1 or not (volts or named) or len(volts) > 1:
        return False
    kind = kinds.pop()
    if any(_says_more(element, tokens) for element in elements if element not in volts):
        return False
    word = _word(reader, kind, tokens, volts)
    if not word:
        return False
    places = [str(place) for e in elements if e.kind == "PLACE" for place in e.places]
    places += [f"cylinder {e.whole}" for e in elements if e.kind == "CELL" and e not in volts and e.whole]
    said = tuple(name for name in conditions_of(elements) if name != "key on")
    reader.put(Reading(kind=kind, place=ENGINE, word=word, conditions=(*said, *places)))
    reader.use_turned(whole)
    reader.kind = kind
    return True


def _is_no_feed(token: Token) -> bool:
    """``no power at``: a phrase with the word for a feed in it."""
    words = token.plain.split()
    return len(words) > 1 and words[0] == "no" and words[1] in FEEDS


def _word(reader: Reader, kind: str, tokens: Sequence[Token], volts: Sequence[Element]) -> str:
    words = reader.library.readings[kind].words
    denied = any(token.means("mark", "negation") or token.means("mark", "none") for token in tokens)
    typed = re.search(r"\d+(?:[.,]\d+)?", volts[0].text) if volts else None  # "about 8.5" is a number, too
    number = float(typed[0].replace(",", ".")) if typed else None
    if denied or number == 0.0:
        return "none" if "none" in words else ""
    if number is not None and number < LOW_V:
        return "low" if "low" in words else ""
    if number is not None and number < FULL_V:
        return ""
    return "battery voltage" if "battery voltage" in words else ""


def _says_more(element: Element, tokens: Sequence[Token]) -> bool:
    token = element.token
    if element.kind in ("PLACE", "FILL", "MUTE", "LINK", "COND", "ALL") or token.plain in FEEDS | PASSED_OVER:
        return token.means("work") and not token.means("filler")
    if element.kind == "CELL":
        return element.whole is None or bool(element.unit)
    known = token.means("part") or token.means("mark", "negation") or token.means("mark", "none")
    return not known and token.plain not in (
        "plug",
        "plugs",
        "connector",
        "connectors",
        "sides",
        "side",
        "got",
        "have",
        "has",
        "there",
    )
