"""A measurement worked out, in the sentences that every door shows."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import groupby

from knowngood.app.measuring_topic import BAD, GOOD, UNSURE, Entered, Verdict

LONG_ROW = 8
NO_BREAK = "\u00a0"
_PLACE = re.compile(r" \d+$")
_NUMBER_AND_UNIT = re.compile(r"(?<=\d) (?=(?:[%°µΩλ]|[A-Za-z/]{1,4}(?![A-Za-z])))|(?<=±) | (?=±)")


def unparted(text: str) -> str:
    """With blanks that no line breaks at between a number and its unit."""
    return _NUMBER_AND_UNIT.sub(NO_BREAK, text)


def entered_lines(entered: Sequence[Entered]) -> list[str]:
    """One line a reading; a long row in one."""
    found = []
    for name, group in groupby(entered, key=lambda one: _PLACE.sub("", one.name)):
        row = list(group)
        if len(row) > LONG_ROW:
            found.append(f"{name} {', '.join(one.text.partition(' (')[0] for one in row)}")
        else:
            found += [f"{one.name} {one.text}{' (assumed)' if one.assumed else ''}" for one in row]
    return found


def verdict_lines(verdicts: Sequence[Verdict]) -> list[str]:
    """One line each, whose limit it is behind the last one of the same source."""
    return [f"{one.text}: {one.word}{source}" for one, source in with_source_once(verdicts)]


def worst_first(verdicts: Sequence[Verdict]) -> list[Verdict]:
    """What is not as it should be, then what could not be told, then the rest; each in its own order."""
    return sorted(verdicts, key=lambda one: (BAD, UNSURE, GOOD).index(one.word))


def with_source_once(verdicts: Sequence[Verdict]) -> list[tuple[Verdict, str]]:
    """Each verdict, and whose limit it is, in brackets behind the last one of the same source."""
    found = []
    for place, one in enumerate(verdicts):
        repeats = verdicts[place + 1 : place + 2] and verdicts[place + 1].source == one.source
        found.append((one, "" if repeats else f" ({one.source})"))
    return found
