"""Codes: one, or a run with one for each cylinder or bank."""

from __future__ import annotations

from collections.abc import Iterator

from knowngood.errors import Problem
from knowngood.library.code_run import code_run
from knowngood.library.records import Code, Library
from knowngood.library.shape import Keys
from knowngood.library.where import Where

EACH = ("cylinder", "bank")


def runs_are_lawful(library: Library, where: Where) -> list[Problem]:
    """A code is a letter and four signs; a run goes upward and says for each of what; no code stands twice."""
    problems = []
    taken: dict[str, str] = {}
    for code in library.codes.values():
        run = code_run(code.id)
        for keys, fact, fix in _form(code, run):
            problems.append(where.problem("code", code.id, keys, fact, fix))
        again = next((text for text in run if text in taken), None)
        if again is not None:
            fact = f"{again} stands in '{taken[again]}' too."
            problems.append(where.problem("code", code.id, ("id",), fact, "Keep it in one of them."))
        taken.update(dict.fromkeys(run, code.id))
    return problems


def _form(code: Code, run: tuple[str, ...]) -> Iterator[tuple[Keys, str, str]]:
    if not run:
        fact = f"'{code.id}' is no code and no run of codes."
        yield ("id",), fact, "Write P0335, or P0301..P0312 with the lower one first."
        return
    if (len(run) > 1) != bool(code.each):
        fact = f"'{code.id}' with each = '{code.each}'."
        yield ("id",), fact, "A run says for each of what; a single code does not."
    elif code.each and code.each not in EACH:
        yield ("each",), f"no run is for each '{code.each}'.", f"Write one of {', '.join(EACH)}."
    if code.bank not in (0, 1, 2):
        yield ("bank",), f"there is no bank {code.bank}.", "Write 1 or 2, or drop it."
    meant = code.each or ("bank" if code.bank else code.place)
    if meant != code.place and meant in EACH:
        yield ("place",), f"a code of a {meant} sits at '{code.place}'.", f'Write place = "{meant}".'
