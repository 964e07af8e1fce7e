"""Looks records up: by id, by an earlier id, by the words a mechanic uses; codes by their text."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import TypeVar

from knowngood.car import ENGINE, Place
from knowngood.errors import Problem, Refused
from knowngood.library.code_run import code_run
from knowngood.library.record import Record
from knowngood.library.records import Area, Code, Library, Part
from knowngood.library.shape import did_you_mean

Found = TypeVar("Found", bound=Record)


def named(records: Mapping[str, Found], name: str) -> Found:
    """The record with this id, or with this alias.

    Raises
    ------
    Refused
        No record is called so; the nearest name is offered.
    """
    if name in records:
        return records[name]
    for record in records.values():
        if name in getattr(record, "aliases", ()):
            return record
    raise Refused(Problem(f"nothing is called '{name}'.", did_you_mean(name, records)))


def spoken_of(records: Mapping[str, Area | Part], text: str) -> frozenset[str]:
    """Ids of the records one of whose words stands in a text.

    Whole words, written together or apart; a plural s does not matter. Words that stand inside longer ones of another
    record are only that one's: a fuel pump is no fuel.
    """
    told = _plain(text).split()
    spans = {name: _spans(told, record.words) for name, record in records.items()}
    every = {span for held in spans.values() for span in held}
    inner = {(a, b) for a, b in every for first, end in every if first <= a and b <= end and b - a < end - first}
    return frozenset(name for name, held in spans.items() if held - inner)


def _spans(told: list[str], phrases: tuple[str, ...]) -> set[tuple[int, int]]:
    """Where some phrases stand among words: first, and one past the last."""
    begins, together = _by_beginning(phrases)
    found = {(first, first + 1) for first, word in enumerate(told) if word in together}
    for first, word in enumerate(told):
        for parts in begins.get(word, ()):
            if told[first : first + len(parts)] == parts:
                found.add((first, first + len(parts)))
    return found


@lru_cache(maxsize=1 << 12)
def _by_beginning(phrases: tuple[str, ...]) -> tuple[dict[str, list[list[str]]], frozenset[str]]:
    """Phrases as their words, by the first of them; and each written as one word."""
    begins: dict[str, list[list[str]]] = {}
    words = [_plain(phrase).split() for phrase in phrases]
    for parts in words:
        begins.setdefault(parts[0], []).append(parts)
    return begins, frozenset(map("".join, words))


def part_name(library: Library, part: str) -> str:
    """What a part is called; of one that is in no list, its id in words."""
    record = library.parts.get(part)
    return record.name if record is not None else part.replace("_", " ")


def code_at(library: Library, text: str) -> tuple[Code, Place] | None:
    """The record a code belongs to and the place it speaks of; ``None`` for a code that is not listed.

    In a run for each cylinder or bank the place is counted from the first code of the run: ``P0304`` of
    ``P0301..P0312`` is cylinder 4.
    """
    wanted = text.strip().upper()
    alone = library.codes.get(wanted)
    if alone is not None:
        return alone, Place("bank", str(alone.bank)) if alone.bank else ENGINE
    for code in library.codes.values():
        if code.each and wanted in (run := code_run(code.id)):
            return code, Place(code.each, str(run.index(wanted) + 1))
    return None


def _plain(text: str) -> str:
    words = re.findall(r"[^\W_]+", text.casefold().replace("'", ""))
    return " ".join(
        word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word for word in words
    )


def work_done(library: Library, work: str, part: str) -> str:
    """``replaced vacuum hose``, ``charged battery``: work on a part as it is written down when it was done."""
    record = library.parts.get(part)
    own = record.done_as.get(work) if record is not None else None
    return own or f"{work} {part_name(library, part)}".rstrip()
