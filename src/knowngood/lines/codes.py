"""Codes: with the prefix carried on, without their letter, with two digits; their states; "no codes"; "cleared"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from knowngood.car import ENGINE, Place
from knowngood.evidence import Note, Reading, Work
from knowngood.library.find import code_at
from knowngood.lines.beside import no_such, outside
from knowngood.lines.elements import Element
from knowngood.lines.forms import parsed
from knowngood.lines.reader import Reader

GENERIC = re.compile(r"[PBCU][0-3][0-9A-F]{3}")
MOST_IN_RUN = 12
COMES_BACK = frozenset(["came back", "comes back", "returned", "back again", "clearing", "cleared"])
"""What is said of codes, and of no other bare numbers of three digits."""


def _terminal(element: Element) -> str:
    token = element.token
    if element.kind in ("CODE", "CELL", "COMMA", "LINK", "DASH", "EQUALS"):
        return element.kind
    if token.means("mark", "code"):
        return "CODEWORD"
    if token.means("state"):
        return "STATE"
    quiet = (
        element.kind in ("FILL", "MUTE")
        or token.plain in COMES_BACK
        or token.means("mark", "miss")
        or token.means("mark", "tail")
        or element.kind == "ALL"
    )
    return "" if quiet else "WORD"


def read_codes(reader: Reader, elements: Sequence[Element]) -> bool:
    """Read a run of elements that is a list of codes; say whether it was one."""
    tokens = [token for element in elements for token in element.tokens]
    form = parsed("codes", elements, _terminal)
    told = any(token.means("mark", "cleared") or token.plain in COMES_BACK for token in tokens)
    if form is None or not _is_list(form.of("CODE"), form.of("CELL"), form.of("CODEWORD"), told=told):
        return False
    _put_list(reader, form.parts, any(token.means("mark", "tail") for token in tokens))
    reader.use(tokens)
    return True


def _is_list(codes: Sequence[Element], cells: Sequence[Element], words: Sequence[Element], *, told: bool) -> bool:
    if any(cell.unit or cell.signed for cell in cells):
        return False
    if codes or words:
        return True
    if cells and told and all(re.fullmatch(r"[1-4][0-9]{2}", cell.text) for cell in cells):
        return True
    return bool(cells) and all(re.fullmatch(r"0[0-9]{3}", cell.text) for cell in cells)


def _put_list(reader: Reader, parts: Sequence[tuple[str, Element]], unsure: bool) -> None:
    state, prefix = "", ""
    waiting: list[tuple[str, str]] = []
    run_open, last = False, ""
    state_first = next((kind for kind, _ in parts if kind in ("STATE", "CODE", "CELL")), "") == "STATE"
    for kind, element in parts:
        if kind == "STATE":
            state = element.token.ids("state")[0]
            if not state_first:
                _put(reader, waiting, state)
                waiting = []
        elif kind == "DASH":
            run_open = element.text == "-"
        elif kind == "LINK" and element.text == "to":
            run_open = True
        elif kind in ("CODE", "CELL"):
            code, doubt = _plain(reader, element, prefix)
            doubt = "may be misremembered" if unsure else doubt
            if state_first:
                _put(reader, [(code, doubt)], state)
            else:
                waiting += _between(last, code) if run_open else []
                waiting.append((code, doubt))
            if GENERIC.fullmatch(code):
                prefix, last = code, code
            run_open = False
    _put(reader, waiting, "")


def _between(first: str, last: str) -> list[tuple[str, str]]:
    """Codes inside ``P0301-P0304``."""
    if not GENERIC.fullmatch(first) or first[:3] != last[:3] or not (first[3:] + last[3:]).isdigit():
        return []
    low, high = int(first[3:]), int(last[3:])
    return [(f"{first[:3]}{number:02d}", "") for number in range(low + 1, high)] if high - low <= MOST_IN_RUN else []


def _plain(reader: Reader, element: Element, prefix: str) -> tuple[str, str]:
    """A code in its plain form, and why it is doubtful."""
    if element.kind == "CODE":
        if re.fullmatch(r"\s*p\d{3}", element.token.text, re.IGNORECASE):
            reader.suppose(f"{element.text} for {element.token.text}")
        return element.text, ""
    text = element.text
    digits = re.sub(r"^(about|over|under) ", "", text)
    if "about" in text or not digits.isdigit():
        return digits, "may be misremembered"
    if prefix and len(digits) <= 4:
        code = prefix[0] + digits if len(digits) == 4 else prefix[: 5 - len(digits)] + digits
        if GENERIC.fullmatch(code):
            return code, ""
    if len(digits) == 4 and digits[0] == "0":
        reader.suppose(f"P{digits} for {digits}")
        return f"P{digits}", ""
    if len(digits) == 3 and digits[0] in "12347":
        reader.suppose(f"P0{digits} for {digits}")
        return f"P0{digits}", ""
    return digits, "no generic code: an older or a maker's own number, kept as typed"


def _put(reader: Reader, codes: Sequence[tuple[str, str]], state: str, conditions: tuple[str, ...] = ()) -> None:
    for code, doubt in codes:
        place = place_of(reader, code)
        if wrong := outside(reader, (place,)):
            doubt = f"there is no {wrong}: the engine has {reader.cylinders}"
            reader.ask(no_such(reader, wrong))
        elif doubt.startswith("no generic"):
            reader.ask(f"Code {code}: what does the car's own list say it is?")
        elif doubt:
            reader.ask(f"Code {code}: can it be read again?")
        reader.put(
            Reading(
                kind="code",
                place=place,
                code=code,
                state=state,
                conditions=conditions,
                who="shown by the ECU",
                doubt=doubt,
            )
        )


def place_of(reader: Reader, code: str) -> Place:
    """The place a code speaks of, by its number."""
    listed = code_at(reader.library, code)
    return ENGINE if listed is None else listed[1]


def read_loose_codes(reader: Reader, elements: Sequence[Element]) -> None:
    """Codes that stand inside free words."""
    state = next((e.token.ids("state")[0] for e in elements if e.token.means("state")), "")
    back = [e for e in elements if "returned" in e.token.ids("effect")]
    if back and any(element.kind == "CODE" for element in elements):
        state = state or "now"
        if not any(isinstance(body, Work) for body in reader.bodies):
            reader.use(token for element in back for token in element.tokens)
    codes = [element for element in elements if element.kind == "CODE" and reader.is_unread(element.token)]
    told = [element for element in elements if element.kind in ("COND", "SPEED")] if codes else []
    said = tuple(dict.fromkeys(name for element in told for name in element.names if _is_of_a_code(name)))
    alone = not any(e.token.means("says") or e.token.means("outcome") for e in elements if e not in told)
    _put(reader, [(element.text, "") for element in codes], state, said if alone else ())
    for element in codes:
        reader.use(element.tokens)
    if codes:
        reader.use(t for e in elements if e.token.means("state") or e.token.means("mark", "code") for t in e.tokens)


def _is_of_a_code(condition: str) -> bool:
    """Conditions under which a code is said to come."""
    return condition in ("cranking", "key on", "wet", "bump", "pull", "high speed") or (
        condition.startswith("after ") and condition != "after a wait"
    )


OTHER_MODULES = frozenset(["gearbox", "transmission", "abs", "brake", "brakes", "airbag", "body", "steering", "cabin"])


def read_no_codes(reader: Reader, elements: Sequence[Element]) -> bool:
    """``no codes``, ``normal code``."""
    found = [element for element in elements if element.token.means("mark", "normal_code")]
    under = [element for element in elements if element.kind in ("COND", "SPEED")]
    drives = [e for e in elements if e.kind == "CELL" and e.unit.casefold() in ("km", "miles", "mi", "min", "minutes")]
    if found and any(element.kind in ("CELL", "CODE") and element not in drives for element in elements):
        tokens = [token for element in elements for token in element.tokens]
        reader.put(Note(reader.words(tokens), "that one code was not there: kept, not counted"), tokens)
        reader.use_turned(tokens)
        return True
    if found and any(set(element.token.plain.split()) & OTHER_MODULES for element in elements):
        tokens = [token for element in elements for token in element.tokens]
        reader.put(Note(reader.words(tokens), "of another control unit than the engine's: kept, not counted"), tokens)
        return True
    for element in found:
        names = tuple(dict.fromkeys(name for one in under for name in one.names if name != "after a wait"))
        names += tuple(f"after {drive.text}" for drive in drives)
        reader.put(Reading(kind="code", word="none", conditions=names, who="shown by the ECU"), element.tokens)
        reader.use_turned(token for one in (*under, *drives) for token in one.tokens)
    return bool(found)


GONE = frozenset(["gone", "away", "disappeared"])


def read_gone_codes(reader: Reader, elements: Sequence[Element]) -> bool:
    """``P0299 gone``: that code is no more, and is none that is there; kept, not counted."""
    codes = [element for element in elements if element.kind == "CODE" or element.token.means("mark", "code")]
    gone = [element for element in elements if set(element.token.plain.split()) & GONE]
    quiet = all(e in codes or e in gone or e.kind in ("LINK", "FILL", "MUTE", "COMMA") for e in elements)
    named = all(e.token.means("codename") or e.kind != "NAME" for e in elements)
    told = [e for e in elements if e.kind == "NAME" and e.token.means("codename")]
    if not codes or not gone or not named or not (quiet or told):
        return False
    tokens = [token for element in elements for token in element.tokens]
    reader.put(Note(reader.words(tokens), "a code that is gone: kept, not counted"), tokens)
    reader.use_turned(tokens)
    return True


def read_cleared(reader: Reader, elements: Sequence[Element]) -> bool:
    """``cleared codes``, ``battery off``: what was stored is gone."""
    done = False
    for element in elements:
        token = element.token
        off = token.means("mark", "battery_off")
        was_cleared = token.means("mark", "cleared") and token.plain not in ("clears", "clear", "clearing")
        if (off or was_cleared) and reader.is_unread(token):
            words = reader.words([t for e in elements for t in e.tokens]) if off else token.text
            reader.put(Work(do="cleared", part="battery" if off else "", words=words), element.tokens)
            reader.use(
                t
                for e in elements
                if e.kind in ("FILL", "MUTE", "WORD") or e.token.means("mark", "code")
                for t in e.tokens
            )
            done = True
    return done
