"""How long until what was ordered is there: said in a line, or a clause that says nothing else."""

from __future__ import annotations

import re
from collections.abc import Sequence

from knowngood.lines.carwords import NUMBERS
from knowngood.lines.scan import Token

_NUMBER = rf"(\d+(?:[.,]\d+)?(?= ?[a-z])|(?:{'|'.join(sorted(NUMBERS, key=len, reverse=True))}|an?)(?= ))"
DAYS = frozenset(["d", "day", "days"])
WEEKS = frozenset(["w", "wk", "wks", "week", "weeks"])
_WAIT = re.compile(rf"\b(?:in )?{_NUMBER} ?({'|'.join(sorted(DAYS | WEEKS, key=len, reverse=True))})\b", re.IGNORECASE)
_DUE = re.compile(
    r"(?:and )?(?:it |they )?(?:(?:should|will|is|are|due|expected|to|be|arrives?|comes?|coming|here|in|on|by"
    r"|next|this) )*"
    r"(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?\.?",
    re.IGNORECASE,
)
"""When what was ordered is due."""
_EACH = re.compile(
    r"(?:paid |for |cost )?[$€£]? ?\d+(?:[.,]\d+)? ?(?:[$€£]|eur|euros?|dollars?|bucks|pounds|quid)? ?(?:each)?",
    re.IGNORECASE,
)


def days_in(text: str) -> tuple[float | None, str]:
    """The wait a text tells of [days], and the text without it; None where it tells of none."""
    match = _WAIT.search(text)
    if match is None:
        return None, text
    number = number_said(match.group(1))
    days = None if number is None else number * (7.0 if match.group(2).casefold() in WEEKS else 1.0)
    return days, text[: match.start()] + text[match.end() :]


def number_said(text: str) -> float | None:
    """A number in digits or as a word; None for any other word."""
    text = text.casefold()
    if text in ("a", "an"):
        return 1.0
    try:
        return float(NUMBERS.get(text, text.replace(",", ".")))
    except ValueError:
        return None


def is_wait(clause: Sequence[Token]) -> bool:
    """Nothing stands in it but a day, a wait or a price: it goes on with the order before."""
    words = " ".join(token.text for token in clause)
    if _EACH.fullmatch(words) or _DUE.fullmatch(words) or _WAIT.fullmatch(words):
        return True
    return any(token.kind == "unit" and token.text.casefold() in DAYS | WEEKS for token in clause) or any(
        token.means("mark", "ordered", "spare") for token in clause
    )
