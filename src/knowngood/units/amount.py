"""A number as a mechanic writes it: its value, how sure, how finely written."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import Literal

from knowngood.errors import Refused

Sense = Literal["exact", "about", "over", "under", "range", "none_seen"]

ABOUT_SHARE = 0.05
"""Half width of what "about" is taken to mean, as a share of the value; never less than half the last digit.

A convention of ours. How far the truth may lie off such a number is another matter, and wider:
:mod:`knowngood.belief.likelihood`.
"""


@dataclass(frozen=True, slots=True)
class Amount:
    """One number as written, in the unit it was written in.

    Parameters
    ----------
    value : float
        The single best number: the middle of a range, the limit of "over" and "under", 0 for "none seen".
    low, high : float or None
        Ends of what was meant; None where "over" or "under" leaves an end open. Equal to the value when exact.
    sense : {'exact', 'about', 'over', 'under', 'range', 'none_seen'}
        How the number was qualified.
    decimals : int
        Decimals written: 12.10 has two.
    """

    value: float
    low: float | None
    high: float | None
    sense: Sense = "exact"
    decimals: int = 0

    @property
    def step(self) -> float:
        """One of the last digit written: 0.1 for 12.1, 1 for 175."""
        return float(10.0**-self.decimals)


NONE_SEEN = Amount(0.0, 0.0, 0.0, "none_seen")


def exactly(value: float, decimals: int = 0) -> Amount:
    """Amount of a number without any qualifier."""
    return Amount(value, value, value, "exact", decimals)


_SINGLE = r"[-+]?(?:\d{1,3}(?:[.,]\d{3})+(?:[.,]\d+)?|\d+(?:[.,]\d+)?|[.,]\d+)(?![.,]?\d)"
_NUMBER = re.compile(_SINGLE)
_FUZZY = re.compile(r"([-+]?\d+)[.,][x?](?![a-z])", re.IGNORECASE)
_BETWEEN = re.compile(r"\s*(?:-(?:to|until)-|(?:to|until)(?![a-z])|-|~|\.\.+|…)\s*", re.IGNORECASE)
_UNIT_BETWEEN = re.compile(r"\s*[^\d\s.,+\-~<>()]{1,6}?(?=\s*(?:-|~|to\b))", re.IGNORECASE)
_GROUPED = re.compile(r"[-+]?[1-9]\d{0,2}(?:,\d{3})+|[-+]?[1-9]\d{0,2}(?:\.\d{3})+")
_NONE = re.compile(r"(?:none|nil|zero|nought|nothing|dead|null|no)\b(?:\s+seen\b)?", re.IGNORECASE)
_ABOUT = r"(?:~|≈|about|around|approximately|approx\.?|circa|ca\.?|roughly|abt\.?|some|maybe)\s*"
_OVER = r"(?:>=|≥|>|over|above|more than|at least|beyond)\s*"
_UNDER = r"(?:<=|≤|<|under|below|less than|at most|up to|not quite|nearly|almost)\s*"
_LEADING: tuple[tuple[Sense, re.Pattern[str]], ...] = (
    ("about", re.compile(_ABOUT, re.IGNORECASE)),
    ("over", re.compile(_OVER, re.IGNORECASE)),
    ("under", re.compile(_UNDER, re.IGNORECASE)),
)
_TRAILING: tuple[tuple[Sense, re.Pattern[str]], ...] = (
    ("about", re.compile(r"\s*(?:,?\s*or so(?:mesuch)?|-?ish|or thereabouts|\?)$", re.IGNORECASE)),
    ("over", re.compile(r"(?:\+|\s+(?:or more|and up|plus))$", re.IGNORECASE)),
    ("under", re.compile(r"\s+or less$", re.IGNORECASE)),
)


def plain_text(text: str) -> str:
    """Fullwidth signs, odd dashes and odd quotes turned into plain ones; blanks at the ends dropped."""
    plain = unicodedata.normalize("NFKC", text.replace("″", '"').replace("”", '"').replace("“", '"'))
    for odd in "\u2010\u2011\u2012\u2013\u2014\u2212":
        plain = plain.replace(odd, "-")
    return plain.replace("\u301c", "~").replace("\u2044", "/").strip()


def _value(digits: str, grouped: bool) -> tuple[float, int]:
    """Value and decimals; ``grouped`` takes three digits behind a single mark for thousands, not for decimals."""
    if grouped and _GROUPED.fullmatch(digits):
        return float(digits.replace(",", "").replace(".", "")), 0
    marks = [mark for mark in digits if mark in ".,"]
    if len(marks) > 1:
        last = marks[-1]
        if marks.count(last) > 1:
            return float(digits.replace(last, "")), 0
        digits = digits.replace(marks[0], "")
    digits = digits.replace(",", ".")
    return float(digits), len(digits.partition(".")[2])


def _about(value: float, decimals: int) -> Amount:
    half = max(ABOUT_SHARE * abs(value), 0.5 * 10.0**-decimals)
    return Amount(value, value - half, value + half, "about", decimals)


def _amount(sense: Sense, value: float, decimals: int) -> Amount:
    if sense == "about":
        return _about(value, decimals)
    if sense == "over":
        return Amount(value, value, None, "over", decimals)
    if sense == "under":
        return Amount(value, None, value, "under", decimals)
    return exactly(value, decimals)


def _strip_leading(text: str) -> tuple[Sense, str]:
    sense: Sense = "exact"
    again = True
    while again:
        again = False
        for meaning, pattern in _LEADING:
            match = pattern.match(text)
            if match and match.end():
                sense, text, again = meaning, text[match.end() :], True
    return sense, text


def _strip_trailing(text: str) -> tuple[Sense, str]:
    for meaning, pattern in _TRAILING:
        match = pattern.search(text)
        if match and match.start():
            return meaning, text[: match.start()].rstrip()
    return "exact", text


def _range(first: re.Match[str], text: str, grouped: bool) -> tuple[Amount, str] | None:
    """The amount and what is left when a second number follows the first."""
    rest = text[first.end() :]
    gap = _BETWEEN.match(rest)
    if gap is None:
        unit = _UNIT_BETWEEN.match(rest)
        gap = _BETWEEN.match(rest, unit.end()) if unit else None
    if gap is None:
        return None
    second = _NUMBER.match(rest, gap.end())
    if second is None:
        return None
    a, a_decimals = _value(first.group(), grouped)
    b, b_decimals = _value(second.group(), grouped)
    low, high = min(a, b), max(a, b)
    return Amount((low + high) / 2, low, high, "range", max(a_decimals, b_decimals)), rest[second.end() :]


def _split(text: str, grouped: bool) -> tuple[Amount, str] | None:
    before, body = _strip_leading(text)
    after, body = _strip_trailing(body)
    none = _NONE.match(body)
    if none:
        return NONE_SEEN, body[none.end() :].strip()
    fuzzy = _FUZZY.match(body)
    if fuzzy:
        low = float(fuzzy.group(1))
        end = low - 1.0 if body.startswith("-") else low + 1.0
        amount = Amount((low + end) / 2, min(low, end), max(low, end), "range", 0)
        return amount, body[fuzzy.end() :].strip()
    first = _NUMBER.match(body)
    if first is None:
        return None
    ranged = _range(first, body, grouped)
    if ranged:
        return ranged[0], ranged[1].strip()
    rest = body[first.end() :]
    sense: Sense = before if before != "exact" else after
    if rest.startswith("+"):
        sense, rest = ("over" if sense == "exact" else sense), rest[1:]
    value, decimals = _value(first.group(), grouped)
    return _amount(sense, value, decimals), rest.strip()


def split_amounts(text: str) -> tuple[tuple[Amount, str], ...]:
    """Every lawful reading of the number at the start of a text, each with the text left behind it.

    There is one, or two where three digits behind a comma may be decimals or thousands (``1,250``): decimals first.
    Empty when the text does not start with a number.
    """
    plain = plain_text(text)
    found = [split for split in (_split(plain, grouped=False), _split(plain, grouped=True)) if split is not None]
    return tuple(found[:1] if len(found) == 2 and found[0] == found[1] else found)


def parse_number(text: str) -> Amount:
    """Amount of a number typed or spoken without a unit.

    Decimals take a point or a comma. A group of three digits behind a single comma is read as decimals; a reader
    that knows the kind weighs both (``read_quantity``).

    Parameters
    ----------
    text : str
        Such as ``175``, ``12,4``, ``.039``, ``~165``, ``over 500``, ``500+``, ``1.5-2``, ``12.x``, ``none``.

    Returns
    -------
    Amount

    Raises
    ------
    Refused
        No number is there, or something is left behind it.

    Examples
    --------
    >>> parse_number("12.x")
    Amount(value=12.5, low=12.0, high=13.0, sense='range', decimals=0)
    >>> parse_number("500+").sense
    'over'
    """
    found = split_amounts(text)
    if not found:
        raise Refused(f"no number in '{text}'.", "Type one such as 175, 12.4, ~165, 500+ or 1.5-2.")
    amount, rest = found[0]
    if rest:
        raise Refused(f"'{rest}' is left behind the number in '{text}'.", "Type the number alone.")
    return amount
