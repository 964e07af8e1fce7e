"""The tree of errors drawn in the package's docstring."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.errors.problem import Problem


class KnownGoodError(Exception):
    """Base of every error raised on purpose; ``problems`` holds at least one."""

    exit_code = 2

    def __init__(self, problems: Problem | str | Iterable[Problem], fix: str = "") -> None:
        if isinstance(problems, str):
            problems = Problem(problems, fix)
        if isinstance(problems, Problem):
            problems = (problems,)
        self.problems: tuple[Problem, ...] = tuple(problems)
        if not self.problems:
            raise ValueError("An error of ours was raised without a problem: give it what is so and what to do.")
        super().__init__("\n".join(str(problem) for problem in self.problems))


class Refused(KnownGoodError):
    """What was typed or asked cannot be done; nothing was changed."""


class LibraryInvalid(KnownGoodError):
    """Knowledge files have problems; all of them are carried."""

    exit_code = 1


class StoreDamaged(KnownGoodError):
    """A workshop file cannot be read as it should be."""


class ImpossibleEvidence(KnownGoodError):
    """No set of faults explains the readings at all; the readings are named."""

    exit_code = 1


class NotMeasurable(KnownGoodError):
    """The numbers cannot carry an answer; the message says which and why."""
