"""``clock on``, ``clock off``: time on the car, measured instead of guessed. Only a whole line of nothing else."""

from __future__ import annotations

import re

from knowngood.evidence import Clock
from knowngood.lines.reader import Reader

_WHAT = r"(?:clock|timer|stopwatch)"
_ON = re.compile(rf"(?:start|begin)(?: the)? {_WHAT}|{_WHAT} (?:on|start(?:ed)?|runs|running)")
_OFF = re.compile(rf"(?:stop|end)(?: the)? {_WHAT}|{_WHAT} (?:off|stop(?:ped)?)")


def read_clock(reader: Reader) -> bool:
    """The whole line as the clock started or stopped."""
    text = reader.text.casefold().strip(" .")
    running = bool(_ON.fullmatch(text))
    if not running and not _OFF.fullmatch(text):
        return False
    reader.put(Clock(running), reader.tokens)
    return True
