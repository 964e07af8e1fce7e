"""What is bought and what it costs: parts wanted, ordered, arrived, sent back; tools bought; what the car is worth.

Only a whole line of nothing else is read here, so that a word such as "returned" keeps its other sense elsewhere.
"""

from __future__ import annotations

import json
import re

import msgspec

from knowngood.evidence import CarFact, Stock, Tool, Work
from knowngood.lines.carwords import NUMBERS
from knowngood.lines.price import money
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.waits import days_in, number_said

_AMOUNT = r"[$€£]?\s?(\d{1,3}(?:[.,]\d{3})+|\d+(?:[.,]\d{1,2})?)\s?(?:[$€£]|eur|euros?|dollars?|bucks|pounds|quid)?"
_CAR = (
    (rf"(?:it |car |will |would |is |be )*worth (?:about |some )?{_AMOUNT} (?:when|once) .*", "worth_done"),
    (rf"(?:it |car |is )*worth (?:about |some )?{_AMOUNT} (?:now|as it (?:is|stands)|as is)", "worth_now"),
    (
        rf"(?:i )?(?:paid|bought(?: (?:it|the car))?(?: for)?|(?:the )?car cost)(?: me)? {_AMOUNT}"
        r"(?: for (?:it|the car))?",
        "price_paid",
    ),
    (
        rf"(?:asking(?: price)?|(?:he |she |(?:the )?seller )?asks|they ask|(?:the )?seller wants)(?: is)?:? {_AMOUNT}",
        "price_asked",
    ),
)
_STATES = (
    ("wanted", r"wanted|want|to buy|need to buy|buy|needs?(?= (?:a |an |new |\d|two|three|four|six|eight))"),
    ("ordered", r"ordered|on order|on its way"),
    ("arrived", r"arrived|came in|came|has come|is here|bought|fetched|picked up"),
    ("returned", r"returned|sent back|taken back|gave back|given back"),
)
_NUMBER = rf"(\d+(?:[.,]\d+)?|{'|'.join(sorted(NUMBERS, key=len, reverse=True))}|an?)"
_SAID_WAIT = {"today": 0.0, "tomorrow": 1.0, "next week": 7.0}
_SOURCE = re.compile(r"\bfrom (?:the |a )?([^,;]+)$")
_FILL = re.compile(
    r"\b(?:a|an|the|new|used|second ?hand|good|i|we|for|at|of|in|another|cyl|cylinder|is|has|was|are|have)\b|[\s,;:.]+"
)
_TOOK = re.compile(rf"[,;\s](?:(?:and )?took(?: me)?|in)? ?{_NUMBER} ?(min|mins|minutes|h|hours?|hrs?)$", re.IGNORECASE)


def read_shopping(reader: Reader) -> bool:
    """``ordered coil 38 two days from the breaker``, ``coil arrived``, ``bought compression tester 45``."""
    text = reader.text.casefold().replace("’", "'").strip(" .")
    worth = [_worth_of(piece) for piece in re.split(r"[,;] ", text)]
    if facts := [fact for fact in worth if fact is not None]:
        if len(facts) < len(worth):
            return False
        reader.bodies += facts
        reader.use_turned(reader.tokens)
        return True
    things = [token for token in reader.tokens if token.means("part") or token.means("tool")]
    state, rest = _state_in(text)
    if not state or len(things) != 1 or things[0].means("work"):
        return False
    return _read_thing(reader, things[0], state, rest)


def _worth_of(text: str) -> CarFact | None:
    """What the car is to cost, did cost, is worth or will be."""
    found = ((field, re.fullmatch(pattern, text)) for pattern, field in _CAR)
    return next((CarFact(field, json.dumps(money(match.group(1)))) for field, match in found if match), None)


def _state_in(text: str) -> tuple[str, str]:
    """The stage a line tells of, at its head or its end, and the rest of the line."""
    for state, words in _STATES:
        if head := re.match(rf"(?:i |we )?(?:have )?(?:{words})\b", text):
            return state, text[head.end() :]
        if inside := re.search(rf"\b(?:is |has |was |are )?(?:{words})\b", text):
            return state, f"{text[: inside.start()]} , {text[inside.end() :]}"
    return "", text


def _read_thing(reader: Reader, token: Token, state: str, rest: str) -> bool:
    source, wait, rest = _source_and_wait(rest)
    name = token.text.casefold()
    before, found, behind = rest.partition(name)
    if not found:
        return False
    counts = [word for word in _FILL.sub(" ", before).split() if word]
    count = number_said(counts[0]) if len(counts) == 1 else 1.0
    each = bool(re.search(r"\beach\b", behind))
    behind = behind.replace("each", "")
    amounts = [match.group(1) for match in re.finditer(_AMOUNT, behind)]
    left = _FILL.sub("", re.sub(_AMOUNT, "", behind))
    if left or len(counts) > 1 or count is None or not float(count).is_integer():
        return False
    part = reader.part(token) if token.means("part") else ""
    amounts = amounts if each else _without_place(reader, part, amounts)
    if len(amounts) > 1:
        return False
    price = money(amounts[0]) * (count if each else 1.0) if amounts else None
    if not part:
        if state != "arrived":
            return False
        reader.put(Tool(token.ids("tool")[0], "on hand", price=price))
    else:
        if state == "ordered" and wait is None and part in reader.library.parts:
            wait = reader.library.parts[part].wait_days
            reader.suppose(f"{wait:g} days to wait, as usual for it")
        reader.put(Stock(part=part, count=int(count), price=price, wait_days=wait or 0.0, state=state, source=source))
    reader.use_turned(reader.tokens)
    return True


def _without_place(reader: Reader, part: str, amounts: list[str]) -> list[str]:
    """A number behind a part of a cylinder that may be that cylinder is no price."""
    first = amounts[0] if amounts else ""
    if part and reader.part_place(part) == "cylinder" and first.isdigit() and reader.is_cylinder(int(first)):
        reader.suppose(f"{first} taken as the cylinder, not as its price")
        return amounts[1:]
    return amounts


def _source_and_wait(rest: str) -> tuple[str, float | None, str]:
    source, wait = "", None
    for words, days in _SAID_WAIT.items():
        if re.search(rf"\b{words}\b", rest):
            wait, rest = days, re.sub(rf"\b{words}\b", "", rest)
    told, rest = days_in(rest)
    wait = wait if told is None else told
    rest = rest.strip(" ,;.")
    if match := _SOURCE.search(rest):
        source, rest = match.group(1).strip(), rest[: match.start()]
    return source, wait, rest


def note_time(reader: Reader) -> None:
    """``replaced coil 3, 40 min``: what the work of a line took, shared out evenly among its pieces."""
    behind = reader.text[: reader.priced[0].start].rstrip(" ,;") if reader.priced else ""  # a price may stand behind it
    match = _TOOK.search(reader.text) or _TOOK.search(behind)
    works = [index for index, body in enumerate(reader.bodies) if isinstance(body, Work) and body.who == "here"]
    if not match or not works:
        return
    tokens = [token for token in reader.tokens if match.start() <= token.start < match.end()]
    number = number_said(match.group(1).casefold())
    if number is None or not all(reader.is_unread(token) for token in tokens):
        return
    took = number * (60.0 if match.group(2).casefold().startswith("h") else 1.0) / len(works)
    for index in works:
        reader.bodies[index] = msgspec.structs.replace(reader.bodies[index], minutes=took)
    reader.use_turned(tokens)
