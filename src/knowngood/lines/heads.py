"""What stands in front of a sentence with a colon, and dates: when it was, under which conditions.

A date is taken out of the line before its numbers are read, so that "3 May" is no cylinder. At the head of the line it
is the day on which it happened; elsewhere it stays in the words.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from knowngood.evidence import Note
from knowngood.lines.contrast import read_condition_before, read_since
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER
from knowngood.lines.when import MONTH, day_told, day_words

MOST_IN_HEAD = 8
LOOKED_AT = {"plugs out": "plug_look", "plugs": "plug_look", "all plugs out": "plug_look", "plug look": "plug_look"}
"""Heads behind which cylinders stand, each with how its part looks."""
_DATE = re.compile(
    rf"(?:on |of |the )*(?:\b\d{{4}}-\d\d-\d\d\b|\b\d{{1,2}}/\d{{1,2}}/\d{{4}}\b|\b\d{{1,2}}\.\d{{1,2}}\.\d{{4}}\b"
    rf"|\b\d{{1,2}}(?:st|nd|rd|th)?(?: of)? {MONTH}\b(?: \d{{4}}\b)?|\b{MONTH} \d{{1,2}}(?:st|nd|rd|th)\b)",
    re.IGNORECASE,
)
_DAY = re.compile(
    r"\b(?:on |this |last |next )*(?:(?:mon|tues|wednes|thurs|fri|satur|sun)day(?: morning| afternoon| evening| night)?"
    r"|this (?:morning|afternoon|evening)|last night|yesterday(?: morning| evening)?|the day before)\b",
    re.IGNORECASE,
)
_AGO = re.compile(
    r"^(?:last (?:week|month)\b|today\b|(?:about )?(?:\d{1,3}|an?|one|two|three|four|five|six) \w+ ago(?=:))",
    re.IGNORECASE,
)
LATER = "the date stays in the words: at the head of the line it places the entry in time"


def without_dates(reader: Reader, tokens: Sequence[Token]) -> list[Token]:
    """The tokens without dates and names of days, which are marked as read."""
    tokens = list(tokens)
    if any(token.means("tool") or token.means("mark", "ordered") for token in tokens):
        return tokens
    for pattern in (_DATE, _DAY, _AGO):
        for match in pattern.finditer(reader.text):
            found = [token for token in tokens if match.start() <= token.start < match.end()]
            if not found or any(token.end > match.end() for token in found):
                continue
            reader.use_turned(found)
            tokens = [token for token in tokens if token not in found]
            if match.start() == 0 and (told := day_told(reader.text, reader.today)) is not None:
                reader.day = told[0]
                reader.suppose(f"happened on {day_words(told[0])}")
            elif pattern is _DATE:
                reader.suppose(LATER)
    while tokens and tokens[0].is_sign(":", ",", "-", "."):
        tokens = tokens[1:]
    return tokens


def note_dropped(reader: Reader) -> None:
    """Numbers that were left out on the way to plain words: the day at the head of the line, and what is only kept."""
    notes = [body.text for body in reader.bodies if isinstance(body, Note)]
    told = day_told(reader.typed.typed, reader.today)
    for words in reader.typed.dropped() if reader.bodies else ():
        if told is not None and reader.day is None and told[1].casefold().endswith(words.casefold()):
            reader.day = told[0]
            reader.suppose(f"happened on {day_words(told[0])}")
        elif not any(words in note for note in notes):
            reader.suppose(f"'{words}' kept in the words only")


def read_head(reader: Reader, tokens: Sequence[Token]) -> list[Token]:
    """The tokens behind ``cold:``, ``before the swap:``, ``winter:``; all of them where no such head stands there."""
    at = next((index for index, token in enumerate(tokens) if token.is_sign(":")), 0)
    head, rest = list(tokens[:at]), list(tokens[at + 1 :])
    if not head or not rest or len(head) > MOST_IN_HEAD or any(token.kind in ("num", "code", "unit") for token in head):
        return list(tokens)
    if len(head) == 1 and head[0].plain in LOOKED_AT and rest[0].whole() is not None:
        reader.kind, reader.headed = LOOKED_AT[head[0].plain], True
        reader.use(head)
        return rest
    if read_since(reader, head) or read_condition_before(reader, head):
        return rest
    if all(token.means("filler") or token.plain in PASSED_OVER for token in head):
        reader.use(head)
        return rest
    return list(tokens)
