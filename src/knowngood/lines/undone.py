"""What was left as it must not stay, and what was put right again: ``fuel rail plug off``, ``never put back on``."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import ENGINE
from knowngood.evidence import Finding, Undone, Work
from knowngood.lines.bay import has_mark
from knowngood.lines.elements import Element, places_at
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token

NEVER_LEFT = ("timing_drive", "fuel_level_sender")
"""What is off, loose or drained at these is a finding, not left so by whoever works on the car."""


def read_undone(reader: Reader, elements: Sequence[Element]) -> bool:
    """``coil 3 left unplugged``, ``fuel rail plug off``; ``coil 3 plugged back in`` puts it right."""
    tokens = [token for element in elements for token in element.tokens]
    parts = [token for token in tokens if token.means("part") or token.means("kind")]
    right, left = _is_put_right(reader, tokens), _is_left(reader, tokens)
    if any(t.means("mark", "code") or t.plain in ("with", "when") or t.means("tool") for t in tokens):
        return False
    if not (right or left or _is_found_so(tokens, parts)):
        return False
    if not parts and _said_before(reader, tokens, right=right):
        return True
    done = any(token.means("work") for token in tokens) and not right and not is_denied_work(tokens)
    if done or any(token.means("effect") or token.means("mark", "hedge") for token in tokens):
        return False
    cells = [element for element in elements if element.kind == "CELL"]
    if len(tokens) > 8 or any(e.unit or not reader.is_cylinder(e.whole) for e in cells):
        return False
    places = [place for element in elements for place in places_at(element, reader.most)]
    part = next((reader.part(token) for token in parts if token.means("part")), "")
    if part in NEVER_LEFT and not right and not left:
        return False
    for place in places or (ENGINE,):
        reader.put(Undone(what=reader.words(tokens), place=place, put_right=right, part=part))
    reader.places = tuple(places) if len(places) == 1 else reader.places
    reader.use(tokens)
    return True


def _is_put_right(reader: Reader, tokens: Sequence[Token]) -> bool:
    again = any(word in reader.plain(tokens).casefold() for word in ("back", "again"))
    right = has_mark(tokens, "put_right") and (has_mark(tokens, "undone") or again)
    return (right or is_put_back(tokens)) and not is_denied_work(tokens)


def _is_left(reader: Reader, tokens: Sequence[Token]) -> bool:
    """It is said to have been left so, or never to have been put back."""
    back = has_mark(tokens, "put_right") or "back" in reader.plain(tokens).casefold().split()
    if is_denied_work(tokens) and back:
        return True
    left = any("left" in token.plain.split() or token.plain in ("hanging", "not connected") for token in tokens)
    return left and has_mark(tokens, "undone") and not any(_hangs(token) for token in tokens)


def _is_found_so(tokens: Sequence[Token], parts: Sequence[Token]) -> bool:
    """A part and, last of all, a state it must not stay in; what "was" so is told of the time before."""
    if any(token.plain in ("was", "were") or token.means("fault") or _hangs(token) for token in tokens):
        return False
    denied = len(tokens) > 1 and tokens[-2].means("mark", "negation")  # "head not off": as it should be
    return bool(parts) and tokens[-1].means("mark", "undone") and not denied


def _hangs(token: Token) -> bool:
    return token.means("mark", "bad") and "hanging" in token.plain


def _said_before(reader: Reader, tokens: Sequence[Token], *, right: bool) -> bool:
    """``coil plug 3 was loose, plugged it back in``: what was found before in the line is put right: work on it.

    ``hose off, never put back on`` says the same once more.
    """
    last = reader.bodies[-1] if reader.bodies else None
    if right and isinstance(last, Finding) and last.part:
        reader.put(Work(do="reseated", part=last.part, places=(last.place,), words=reader.words(tokens)), tokens)
        return True
    if is_denied_work(tokens) and isinstance(last, Undone) and not last.put_right:
        reader.use(tokens)
        return True
    return False


DENIED = frozenset(["never", "not", "didnt", "wasnt", "werent", "hasnt", "havent"])


def is_denied_work(tokens: Sequence[Token]) -> bool:
    """``never put the breather hose back on``: it was not done."""
    return any(DENIED & set(token.plain.split()) for token in tokens)


PUT_BACK = frozenset(["plugged", "plug", "connected", "connect", "clipped", "clicked", "pushed", "put", "joined"])


def is_put_back(tokens: Sequence[Token]) -> bool:
    """``plugged coil 3 back in``, ``coil 3 connected again``: a verb of joining, and "back" or "again" behind it."""
    words = [word for token in tokens for word in token.plain.split()]
    if is_denied_work(tokens) or ("back" not in words and any(token.means("mark", "bad") for token in tokens)):
        return False  # "plug 4 fouled again"
    joins = next((index for index, word in enumerate(words) if word in PUT_BACK), len(words))
    return any(word in ("back", "again") for word in words[joins + 1 :])
