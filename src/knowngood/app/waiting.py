"""What has to be waited for: a tool that is lent out, an engine that must cool or warm up."""

from __future__ import annotations

import re
from collections.abc import Sequence

from knowngood.evidence import Entry, Reading, Tool
from knowngood.library.records import ReadingKind
from knowngood.lines.waits import days_in, number_said
from knowngood.planner.problem import CheckAt, Problem, Repair
from knowngood.sheets.words import minutes

A_MONTH = 30.0  # days
SOON = {"now": 0.0, "today": 0.0, "tonight": 0.5, "tomorrow": 1.0, "week": 7.0, "fortnight": 14.0, "month": A_MONTH}
NOT_SAID = 3.0  # days: half a week, as for a weekday that is named without a date
A_DAY = 10.0  # money a day of waiting costs: a bay that is taken, a car that is not sold (memory)


def days_until(tool: Tool) -> float:
    """Days until a tool that is lent out is back: as said, else half a week.

    >>> days_until(Tool("compression_gauge", "lent", "tomorrow")), days_until(Tool("smoke", "lent", "in 2 days"))
    (1.0, 2.0)
    """
    said = tool.back.lower()
    told, _ = days_in(said)
    if told is not None:
        return told
    months = re.search(r"(\S+) months?\b", said)
    number = number_said(months[1]) if months is not None else None
    if number is not None:
        return number * A_MONTH
    words = {word.removesuffix("s") for word in re.findall(r"[a-z]+", said)}
    return next((days for word, days in SOON.items() if word in words), NOT_SAID)


def engine_for(kinds: Sequence[ReadingKind]) -> str:
    """How the engine must be for readings of these kinds: ``cold``, ``hot`` or as it is."""
    for kind in kinds:
        for wanted in ("cold", "hot"):
            if kind.when.startswith(wanted):
                return wanted
    return ""


def engine_now(entries: Sequence[Entry]) -> str:
    """How the engine is, by the conditions of the last reading; empty where they do not say."""
    for entry in reversed(entries):
        if isinstance(entry.body, Reading):
            said = {name.split()[0] for name in entry.body.conditions}
            return next((how for how in ("hot", "cold") if how in said), "")
    return ""


def wait_words(problem: Problem, action: Repair | CheckAt) -> str:
    """What has to be waited for before a step, in words; empty where nothing has."""
    said = []
    if isinstance(action, CheckAt):
        heat = problem.heat_minutes(action)
        if heat > 0:
            verb = "let the engine cool" if action.engine == "cold" else "warm the engine up"
            said.append(f"{verb} first, about {minutes(heat)}")
        if action.wait_days > 0:
            said.append(f"the tool is back in about {_days(action.wait_days)}")
    elif action.wait_days > 0:
        said.append(f"the part comes in about {_days(action.wait_days)}")
    return "; ".join(said)


def _days(days: float) -> str:
    return f"{days:g} day{'' if days == 1 else 's'}"
