"""Codes: one, or a run with one for each cylinder or bank."""

from __future__ import annotations

from knowngood.errors import Problem
from knowngood.library.code_run import code_run
from knowngood.library.records import Library
from knowngood.library.where import Where

EACH = ("cylinder", "bank")


def runs_are_lawful(library: Library, where: Where) -> list[Problem]:
    """A code is a letter and four signs; a run goes upward and says for each of what; no code stands twice."""
    problems = []
    taken: dict[str, str] = {}
    for code in library.codes.values():
        run = code_run(code.id)
        if not run:
            fact = f"'{code.id}' is no code and no run of codes."
            fix = "Write P0335, or P0301..P0312 with the lower one first."
            problems.append(where.problem("code", code.id, ("id",), fact, fix))
            continue
        if (len(run) > 1) != bool(code.each):
            fact = f"'{code.id}' with each = '{code.each}'."
            fix = "A run says for each of what; a single code does not."
            problems.append(where.problem("code", code.id, ("id",), fact, fix))
        elif code.each and code.each not in EACH:
            fix = f"Write one of {', '.join(EACH)}."
            problems.append(where.problem("code", code.id, ("each",), f"no run is for each '{code.each}'.", fix))
        for text in run:
            if text in taken:
                fact = f"{text} stands in '{taken[text]}' too."
                problems.append(where.problem("code", code.id, ("id",), fact, "Keep it in one of them."))
                break
        taken.update(dict.fromkeys(run, code.id))
        if code.bank not in (0, 1, 2):
            fix = "Write 1 or 2, or drop it."
            problems.append(where.problem("code", code.id, ("bank",), f"there is no bank {code.bank}.", fix))
    return problems
