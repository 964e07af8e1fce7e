"""A clause that only says when what was ordered is due, or what it cost."""

from __future__ import annotations

import re
from collections.abc import Sequence

from knowngood.lines.scan import Token

_DAYS = re.compile(r"(?:in )?\d+ ?(?:d|days?|w|wks?|weeks?)", re.IGNORECASE)
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


def is_wait(clause: Sequence[Token]) -> bool:
    """Nothing stands in it but a day, a wait or a price: it goes on with the order before."""
    words = " ".join(token.text for token in clause)
    if _EACH.fullmatch(words) or _DUE.fullmatch(words) or _DAYS.fullmatch(words):
        return True
    return any(
        token.kind == "unit" and token.text.casefold().startswith(("day", "week", "d", "w")) for token in clause
    ) or any(token.means("mark", "ordered", "spare") for token in clause)
