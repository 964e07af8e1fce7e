"""What lies about in the bay: tools, parts in stock or ordered, what is apart."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from knowngood.evidence import Access, Note, Stock, Tool
from knowngood.lines.back_on import AGAIN
from knowngood.lines.price import SUM, amount_of
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.waits import DAYS, WEEKS, days_in

_OFF = re.compile(r"\b(?:off|out|removed|apart|opened|open|lowered|drained|down|up|aside|stands|lift|ramp)\b")
_BACK = re.compile(r"\b(?:till|until|til|back on|back|returns?|(?<!borrowed )by)\s+(.+)$", re.IGNORECASE)


def has_mark(tokens: Sequence[Token], mark: str) -> bool:
    """Whether one of them may be that mark of ``words.toml``."""
    return any(token.means("mark", mark) for token in tokens)


def read_tool(reader: Reader, tokens: Sequence[Token]) -> bool:
    """``no leak-down tester``, ``compression gauge lent till friday``, ``got a smoke machine``."""
    tools = [token for token in tokens if token.means("tool")]
    if not tools or any(token.kind in ("num", "code") or token.means("work") for token in tokens):
        return False
    first = tokens[0]
    strange = any(token.kind == "word" for token in tokens)  # "no more flashing of the lamp"
    if has_mark(tokens, "lent"):
        state = "lent"
    elif (
        (first.means("mark", "missing") and not strange)
        or tokens[-1].means("mark", "missing")
        or (len(tokens) > 1 and first.means("mark", "negation") and not strange)
    ):
        state = "missing"
    elif first.means("mark", "have") or tokens[-1].means("mark", "have"):
        state = "on hand"
    elif all(token.plain in ("i", "we") for token in tokens[:1]) and has_mark(tokens[1:], "have"):
        state = "missing" if has_mark(tokens, "negation") else "on hand"
    else:
        return False
    back = _BACK.search(reader.plain(tokens))
    for token in tools:
        name = token.ids("tool")[0]
        reader.put(Tool(name, state, back.group(1).strip() if back and state == "lent" else ""))
        spare = _spare_part(reader, token)
        if spare and state == "on hand":
            reader.put(Stock(part=spare))
    reader.use(tokens)
    return True


def read_tool_back(reader: Reader, tokens: Sequence[Token]) -> bool:
    """``no leak-down tester, lent till friday``: what is said of the tool named just before."""
    last = reader.bodies[-1] if reader.bodies else None
    if not isinstance(last, Tool) or any(token.means("part") for token in tokens):
        return False
    returns = last.state == "lent" and any("back" in token.plain.split() for token in tokens)
    if not has_mark(tokens, "lent") and not returns:
        return False
    back = _BACK.search(reader.plain(tokens))
    reader.bodies[-1] = Tool(last.name, "lent", back.group(1).strip() if back else last.back)
    reader.use(tokens)
    return True


def _spare_part(reader: Reader, token: Token) -> str:
    """The part of a known-good spare that counts as a tool."""
    name = re.sub(r"^(?:spare|known[- ]good)\s+", "", token.text, flags=re.IGNORECASE)
    if name == token.text:
        return ""
    senses = reader.vocabulary.look_up(name)
    return reader.part(Token("term", name, 0, 0, False, name.casefold(), senses)) if senses else ""


def read_stock(reader: Reader, tokens: Sequence[Token]) -> bool:
    """``have spare coil``, ``two coils on the shelf``, ``pump ordered, 2 days``."""
    parts = [token for token in tokens if token.means("part")]
    ordered = has_mark(tokens, "ordered")
    held = has_mark(tokens, "spare") or has_mark(tokens, "have")
    if not parts or not (ordered or held) or any(t.means("effect") for t in tokens):
        return False
    if not ordered and all(reader.part(token) in ("fuel", "oil", "coolant") for token in parts):
        return False  # "have fuel" says that it arrives
    if not ordered and not has_mark(tokens, "spare") and not any(t.means("mark", "have") for t in _edges(tokens)):
        return False
    units = [t.text for t in tokens if t.kind == "unit"]
    if any(unit.casefold() not in DAYS | WEEKS and not SUM.search(f"1 {unit}") for unit in units):
        return False  # an amount of something measured
    paid = _paid_among(reader, tokens)
    inside = [b for t, b in pairwise(tokens) if t.plain in ("for", "in", "on") and t.start > parts[0].start]
    if any(b.whole() and b not in paid for b in inside):
        return False  # a spare put in somewhere was tried there
    if has_mark(tokens, "negation") or any(
        token.means("work") and not token.means("mark", "have") and token.plain != "new" for token in tokens
    ):
        return False
    words = reader.plain(tokens)
    days, price = days_in(words)[0], SUM.search(words)
    counts = _counts(parts, [token for token in tokens if token not in paid])
    cost = amount_of(price) if price else None
    if cost is not None and re.search(r"\beach\b", words, re.IGNORECASE):
        cost *= counts[0]
    for token, count in zip(parts, counts, strict=True):
        part, wait = reader.part(token), days or 0.0
        if ordered and days is None and part in reader.library.parts:
            wait = reader.library.parts[part].wait_days
            reader.suppose(f"{wait:g} days to wait, as usual for it")
        price_of_it = cost / len(parts) if cost is not None else None
        stage = "ordered" if ordered else ""
        reader.put(Stock(part=part, count=count, price=price_of_it, wait_days=wait, state=stage))
    reader.use_turned(tokens)
    return True


def _paid_among(reader: Reader, tokens: Sequence[Token]) -> list[Token]:
    """The tokens of the prices among some."""
    spans = [match.span() for match in SUM.finditer(reader.text)]
    return [token for token in tokens if any(start <= token.start < end for start, end in spans)]


def _counts(parts: Sequence[Token], tokens: Sequence[Token]) -> list[int]:
    """How many of each part: the number right before it, or before the one word before it; one where none is said.

    A number in front of all of them ("two good coils") is that of the first.
    """
    counts = []
    for token in parts:
        at = next(index for index, one in enumerate(tokens) if one is token)
        near = [one.whole() for one in reversed(tokens[max(0, at - 2) : at]) if one not in parts]
        front = [one.whole() for one in tokens[:at]] if token is parts[0] else []
        counts.append(next((number for number in (*near, *front) if number), 1))
    return counts


def _edges(tokens: Sequence[Token]) -> list[Token]:
    """The first and the last word, and the one before a comma: behind that stands the price or the wait."""
    return [tokens[0], tokens[-1], *(one for one, sign in pairwise(tokens) if sign.is_sign(","))]


def read_access(reader: Reader, tokens: Sequence[Token]) -> bool:
    """``plenum off``, ``coil cover together``."""
    steps = [token for token in tokens if token.means("access")]
    if not steps or any(token.means("mark", "battery_off") and " was " in token.text.casefold() for token in steps):
        return False
    if has_mark(tokens, "negation"):
        reader.put(Note(reader.words(tokens), "not done: kept, not counted"), tokens)
        return True
    joins = [token for token in tokens if token.is_sign("&", "+", ",")]
    small = [token for token in tokens if token.means("filler") and not token.means("mark", "off", "together")]
    rest = [token for token in tokens if token not in (*steps, *joins, *small)]
    closed = any(token.means("mark", "together") and not token.means("mark", "off") for token in rest)
    closed = closed or any(AGAIN.search(token.plain) for token in steps)
    opened = any(token.means("mark", "off") for token in rest)
    said = any(_says_state(token) for token in steps)
    if any(not token.means("mark", "off", "together") and token.kind != "sign" for token in rest) or not (
        opened or closed or said
    ):
        return False
    for token in steps:
        reader.put(Access(token.ids("access")[0], not closed))
    reader.use(tokens)
    return True


def _says_state(token: Token) -> bool:
    """The phrase says by itself that it is off."""
    return bool(_OFF.search(token.text.casefold()))
