"""What a car waits for, in one sentence: the same in the list of every door."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.app.answer import NextStep
from knowngood.app.left_undone import left_undone
from knowngood.app.told_gone import GONE, told_gone
from knowngood.evidence import Entry
from knowngood.library.records import Library
from knowngood.sheets.words import minutes, small


def only_named(entries: Sequence[Entry]) -> bool:
    """Whether nothing was said of a car but how it is called."""
    return len(entries) == 1


def waits_at_once(entries: Sequence[Entry]) -> str:
    """What a car waits for whatever would come of working it out; empty where that has to be worked out."""
    if only_named(entries):
        return "Nothing said yet."
    undone = left_undone(entries)
    return f"Waits to be put right: {undone[0].what}." if undone else ""


def waits_for(entries: Sequence[Entry], library: Library, steps: Sequence[NextStep], *, proved: bool) -> str:
    """What a car waits for by the steps that were worked out; ``proved``: so is every repair."""
    if not steps:
        return "Nothing is known to be wrong yet."
    if told_gone(entries, library):
        return f"{GONE} Waits to be {'' if proved else 'proved and '}handed over."
    return f"Waits for: {small(steps[0].name)}, {minutes(steps[0].minutes)}."
