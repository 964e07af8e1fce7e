"""A notebook's signs and abbreviations put into words: dates and clocks in front, arrows, rows told by their ends."""

from __future__ import annotations

import re

from knowngood.lines.reworded import turned

_ABBREVIATED = (
    r"\b(int|exh|rad|st|pend|hist|ord|poss|prob|repl|insp|batt|eng|cyl|conn|ign|inj|temp|press|volt|gen|alt|dist|therm"
    r"|approx|incl|max|min|std|cap|conf|perm|perf|adj|meas|recond|diff|fwd|rev)\.(?= ?[a-z(]|, | ?$|\))"
)
_SHORT = {"st": "stored", "pend": "pending", "hist": "history", "ord": "ordered", "int": "intake", "exh": "exhaust"}

_ROW_ENDS = re.compile(r"\b1 ?- ?(\d{1,2})(?: ?[:=]) ?(?P<row>[^;]*)")
_LISTED = re.compile(
    r"(?<![\d.:])(\d(?:[/+]\d)+|\d(?: \d)+(?= ?:=)) ?(?::=|[:=]) ?"
    r"([\d.]+(?:[/ ][\d.]+)+)(?= ?(%|(?!and\b|the\b|with\b|but\b)[a-zA-Z°]+)?)"
)
_HEADED = re.compile(
    r"^(?P<head>on hand|in stock|on the shelf|on (?:the )?bench|ordered|off(?: at present| now| at the moment)?|missing"
    r"|not avail\w*|lent|lent out|apart) ?: (?P<items>.+)$",
    re.IGNORECASE,
)
_NUMBER = re.compile(r"(?<![\w.,])(?:\d+(?:[.,]\d+)?|[.,]\d+)(?![\w]*:)")


def _abbreviated(match: re.Match[str]) -> str:
    return _SHORT.get(match[1].casefold(), match[1])


def _row(match: re.Match[str]) -> str:
    """``1-6: 150 155 150 60 150 155``: where as many numbers stand behind as the ends say, the ends are not of them."""
    many = int(match[1])
    head = re.split(r",(?= ?[A-Za-z])|[a-zA-Z%]", match["row"])[0]
    return match["row"] if len(_NUMBER.findall(head)) == many else match.group()


def _paired(match: re.Match[str]) -> str:
    """``1/2/3 = 8/9/8 %``: as many numbers as cylinders, each with its own."""
    places, numbers = re.split(r"[/+ ]", match[1]), re.split(r"[/ ]", match[2])
    unit = match[3] or ""
    return (
        ", ".join(f"#{p} {n} {unit}".strip() for p, n in zip(places, numbers, strict=True))
        if len(places) == len(numbers)
        else match.group()
    )


def _distributed(match: re.Match[str]) -> str:
    """``on hand: 6 plugs, 1 used coil``: what stands in front is said of each."""
    head = re.sub(r" (?:at present|now|at the moment)$", "", match["head"], flags=re.IGNORECASE)
    items = [item.strip() for item in re.split(r"[,;] ?(?![\d.]*\d-?\d*(?:[,;]|$))", match["items"]) if item.strip()]
    return ", ".join(f"{item} {head}" for item in items)


def without_signs(text: str) -> str:
    """The line with its notebook signs in words.

    Parameters
    ----------
    text : str
        As ``plain_line`` has it so far.
    """
    text = re.sub(_ABBREVIATED, _abbreviated, text, flags=re.IGNORECASE)
    text = turned(text, "sign")
    text = _ROW_ENDS.sub(_row, text)
    text = _LISTED.sub(_paired, text)
    return _HEADED.sub(_distributed, text)
