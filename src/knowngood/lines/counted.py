"""``2 new injectors``, ``runs on 4 now``: how many parts or cylinders, and not which."""

from __future__ import annotations

import re
from collections.abc import Sequence

from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token


def is_counted(reader: Reader, tokens: Sequence[Token], part: Token) -> bool:
    """Whether a number stands right before a part in the plural and is not that of all cylinders."""
    if part not in tokens:
        return False  # named in the statement before
    at = tokens.index(part) - 1
    while at >= 0 and (tokens[at].means("origin") or tokens[at].plain == "of"):
        at -= 1
    number = tokens[at].whole() if at >= 0 else None
    several = part.text.casefold().endswith("s") and reader.part_place(reader.part(part)) == "cylinder"
    led = at > 0 and (tokens[at - 1].means("part") or tokens[at - 1].means("mark", "cylinder"))
    return several and number is not None and number > 1 and number != reader.cylinders and not led


_SPOKEN = dict(enumerate(("two", "three", "four", "five", "six", "seven", "eight"), start=2))


_ROW = re.compile(r"\b(?:comp\w*|gaps?|leakdown)\b", re.IGNORECASE)
_TIMES = re.compile(r"(?<![\w.])(\d) ?x ?(\d+(?:[.,]\d+)?(?: ?(?:bar|psi|kpa|mm))?)\b", re.IGNORECASE)


def _each_of(match: re.Match[str], cylinders: int) -> str:
    """``4 x 12 bar``: of all cylinders, or of so many of them."""
    many = int(match[1])
    return f"all {match[2]}" if many == cylinders else f"{match[2]} in {_SPOKEN.get(many, many)}"


def on_all(text: str, cylinders: int | None) -> str:
    """A line in which an engine of four "runs on four" runs on all, and "4 x 12 bar" is of all; on fewer it runs badly.

    Parameters
    ----------
    text : str
        In plain words.
    cylinders : int or None
        How many the engine has, where that is known.
    """
    if cylinders is None:
        return text
    text = _TIMES.sub(lambda match: _each_of(match, cylinders), text) if _ROW.search(text) else text
    count = rf"{cylinders}|{_SPOKEN.get(cylinders, cylinders)}"
    said = rf"\b(?:runs?|running|fires|firing) on (?:{count})\b(?: cyl\w*)?"
    return re.sub(rf"{said}(?=\s*$| (?:now|again|fine|well)\b)", "runs on all", text)
