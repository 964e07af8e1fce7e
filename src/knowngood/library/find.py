"""Looks records up: by id, by an earlier id, by the words a mechanic uses; codes by their text."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import TypeVar

from knowngood.car import ENGINE, Place
from knowngood.errors import Problem, Refused
from knowngood.library.code_run import code_run
from knowngood.library.record import Record
from knowngood.library.records import Code, Library
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


def by_words(records: Mapping[str, Found], text: str) -> list[Found]:
    """Records one of whose words stands in the text, the longest words first.

    Words are the record's name, its ``says`` and its ``words``. They match whole words in either case, with any
    blanks or hyphens between; a plural s does not matter.
    """
    plain = _plain(text)
    found: list[tuple[int, int, Found]] = []
    for record in records.values():
        longest = max((len(words) for words in _words_of(record) if _holds(plain, words)), default=0)
        if longest:
            found.append((-longest, len(found), record))
    return [record for _, _, record in sorted(found, key=lambda item: item[:2])]


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


def _words_of(record: Record) -> Iterator[str]:
    yield _plain(str(getattr(record, "name", "")))
    for key in ("says", "words"):
        for words in getattr(record, key, ()):
            yield _plain(words)


def _plain(text: str) -> str:
    words = re.findall(r"[^\W_]+", text.casefold().replace("'", ""))
    return " ".join(
        word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word for word in words
    )


def _holds(text: str, words: str) -> bool:
    return bool(words) and f" {words} " in f" {text} "
