"""Something left as it must not stay: ``unplugged inj 3``, ``pump relay bridged``, ``rag in intake``."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import ENGINE
from knowngood.evidence import Undone
from knowngood.lines.elements import Element, elements_of, places_at
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.undone import NEVER_LEFT
from knowngood.lines.vocabulary import PASSED_OVER

STATES = frozenset(["unplugged", "disconnected", "bridged", "jumpered", "blanked", "clamped", "jumped"])
"""Said of a part, with nothing measured behind it, it was left so."""
PUT_IN = frozenset(["rag", "rags", "cloth", "jumper", "bridge"])
"""What is put somewhere for a while and must come out again."""
OUT = frozenset(["out", "removed", "off", "gone", "taken"])
SMALL = frozenset(["off", "up", "stuffed", "wire", "lead", "connector", "plug", "across", "over", "left", "it", "port"])


def read_left_so(reader: Reader, clause: Sequence[Token]) -> bool:
    """Read a clause that says nothing but that a part was left unplugged, bridged, stuffed; or put right again."""
    whole = clause
    if clause[0].plain == "left":
        clause = [part for token in clause[1:] for part in (token.parts if token.means("fault") else ()) or (token,)]
    elements = elements_of(reader, clause) if clause else []
    words = [word for token in clause for word in token.plain.split()]
    states = ({*STATES, "off"} if clause is not whole else STATES) & set(words)
    leading = words if OUT & set(words) else words[:2]
    inserted = next((word for word in leading if word in PUT_IN), "")
    if not (states or inserted) or (inserted and "wet" in words):
        return False
    parts = [
        t for t in clause if (t.means("part") or t.means("kind")) and t.plain.split()[-1] not in (*STATES, *PUT_IN)
    ]
    if any(token.means("access") and not token.means("part") for token in clause):
        return False
    if not (parts or inserted) or any(not _is_quiet(element, parts) for element in elements):
        return False
    right = bool(inserted) and bool(OUT & set(words))
    if inserted and not right and not {"in", "on", "over", "at", "across", "stuffed"} & set(words):
        return False
    places = [place for element in elements for place in places_at(element, reader.most)]
    part = next((reader.part(token) for token in parts if token.means("part")), "")
    if part in NEVER_LEFT and not inserted:
        return False
    for place in places or (ENGINE,):
        reader.put(Undone(what=reader.words(whole), place=place, put_right=right, part=part))
    reader.use(whole)
    return True


def _is_quiet(element: Element, parts: Sequence[Token]) -> bool:
    token = element.token
    words = set(token.plain.split())
    if token in parts or element.kind in ("PLACE", "LINK", "MUTE", "FILL"):
        return True
    if element.kind == "CELL":
        return element.whole is not None
    known = STATES | PUT_IN | OUT | SMALL | PASSED_OVER | {"intake", "in"}
    return bool(words & (STATES | PUT_IN)) or words <= known or token.means("filler") or token.means("part")
