"""When it was: a date or a word such as "yesterday" at the head of a line, as a day.

Days are counted from the day of typing, so nothing here looks at a clock. A date without a year is the last such day
that was. A line that begins with no date happened when it was typed.
"""

from __future__ import annotations

import re
from datetime import date, timedelta

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
DAYS = ("mon", "tues", "wednes", "thurs", "fri", "satur", "sun")
MONTH = (
    r"(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sep(?:t(?:ember)?)?|oct(?:ober)?"
    r"|nov(?:ember)?|dec(?:ember)?)"
)
_COUNTS = {"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_LENGTHS = {"day": 1, "week": 7, "month": 30, "year": 365}
_HEAD = r"^(?:on |the )*"
_FORMS = tuple(
    re.compile(_HEAD + form, re.IGNORECASE)
    for form in (
        r"(?P<y>\d{4})-(?P<m>\d\d)-(?P<d>\d\d)\b",
        r"(?P<d>\d{1,2})(?P<sep>[./])(?P<m>\d{1,2})(?P=sep)(?P<y>\d{4})\b",
        r"(?P<d>\d{1,2})\.(?P<m>\d{1,2})\.(?=,? \D)",
        rf"(?P<d>\d{{1,2}})(?:st|nd|rd|th)?(?: of)? (?P<month>{MONTH})\b(?: (?P<y>\d{{4}})\b)?",
        rf"(?P<month>{MONTH}) (?P<d>\d{{1,2}})(?:st|nd|rd|th)?\b(?:,? (?P<y>\d{{4}})\b)?(?=[:,]|$|\s[^\d])",
        rf"(?:last )?(?P<day>{'|'.join(DAYS)})day\b(?: morning| afternoon| evening| night)?",
        r"(?P<word>yesterday|last night|last week|last month|today|this morning|this afternoon|this evening)\b",
        rf"(?:about )?(?P<n>\d{{1,3}}|{'|'.join(_COUNTS)}) (?P<unit>day|week|month|year)s? ago\b(?=:)",
    )
)
_BACK = {"yesterday": 1, "last night": 1, "last week": 7, "last month": 30}


def day_told(text: str, today: date | None) -> tuple[date, str] | None:
    """The day a line begins with, and the words that say it; ``None`` where it begins with none.

    Parameters
    ----------
    text : str
        The line.
    today : date or None
        The day of typing. Where it is not known, only a date with its year is a day.

    Examples
    --------
    >>> day_told("3 May: comp 175", date(2026, 4, 1))[0].isoformat()
    '2025-05-03'
    """
    for form in _FORMS:
        if match := form.match(text):
            day = _day(match.groupdict(), today)
            return (day, match.group()) if day is not None else None
    return None


def _day(told: dict[str, str | None], today: date | None) -> date | None:
    if told.get("d"):
        month = _month(told)
        year = told.get("y")
        if year:
            return _date(int(year), month, int(told["d"] or 0))
        return _last(month, int(told["d"] or 0), today) if today is not None else None
    if today is None:
        return None
    if name := told.get("day"):
        back = (today.weekday() - DAYS.index(name.casefold())) % 7
        return today - timedelta(days=back)
    if word := told.get("word"):
        return today - timedelta(days=_BACK.get(word.casefold(), 0))
    count = (told.get("n") or "0").casefold()
    days = _COUNTS.get(count) or (int(count) if count.isdigit() else 0)
    return today - timedelta(days=days * _LENGTHS[(told.get("unit") or "day").casefold()])


def _month(told: dict[str, str | None]) -> int:
    name = told.get("month")
    return MONTHS.index(name[:3].casefold()) + 1 if name else int(told.get("m") or 0)


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _last(month: int, day: int, today: date) -> date | None:
    """The last such day up to today; of 29 February the last there was."""
    found = (_date(today.year - back, month, day) for back in range(5))
    return next((one for one in found if one is not None and one <= today), None)


def day_words(day: date) -> str:
    """``3 May 2026``: no order of day and month to guess at."""
    return f"{day.day} {day:%B} {day.year}"
