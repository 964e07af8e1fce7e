"""What is said behind numbers in their own clause: ``leakdown 8 10 62 9 % hiss at oil filler on 3``."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.lines.elements import elements_of
from knowngood.lines.looks import FOLLOWS, read_look
from knowngood.lines.phrases import read_free
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.series import read_series
from knowngood.lines.series_run import is_series
from knowngood.lines.states import series_elements


def read_behind(reader: Reader, run: Sequence[Token]) -> None:
    """What is said behind a series in the same clause (``hiss at oil filler on 3``)."""
    first = next((index for index, token in enumerate(run) if reader.is_unread(token) and _says(token)), None)
    if first is not None and reader.kind not in FOLLOWS:
        read_free(reader, elements_of(reader, run[first:]))
    elif reader.kind in FOLLOWS:
        left = [token for token in run if reader.is_unread(token) and token.kind != "sign"]
        places = reader.places if len(reader.places) == 1 else ()
        if left:
            read_look(reader, left, places, ())


def read_with_words(reader: Reader, clause: Sequence[Token]) -> bool:
    """Numbers, and behind them free words in the same clause; a condition behind those is of the numbers too."""
    first = next((index for index, token in enumerate(clause) if token.kind == "num"), len(clause))
    behind = range(first + 1, len(clause))
    split = next((i for i in behind if _says(clause[i]) or clause[i].means("kind")), 0)
    head, tail = clause[:split], clause[split:]
    measured = sum(token.kind == "num" for token in head) > 1 or any(token.kind == "unit" for token in head)
    if (
        not split
        or not measured
        or any(token.kind == "unit" for token in tail)
        or any(token.means("work") for token in clause)
    ):
        return False
    elements = series_elements(reader, elements_of(reader, head))
    conditions = [element for element in elements_of(reader, tail) if element.kind in ("COND", "SPEED")]
    if not is_series(elements) or not (elements and elements[0].kind == "NAME"):
        return False
    if not read_series(reader, [*elements, *conditions]):
        return False
    read_free(reader, elements_of(reader, tail))
    return True


def _says(token: Token) -> bool:
    return any(token.means(kind) for kind in ("outcome", "says", "alone")) and not token.means("condition")
