"""What must hold in the knowledge files, one function a rule."""

from __future__ import annotations

from collections.abc import Callable

from knowngood.errors import Problem
from knowngood.library.records import Library
from knowngood.library.where import Where

Rule = Callable[[Library, Where], list[Problem]]

RULES: tuple[Rule, ...] = ()


def check_library(library: Library, where: Where | None = None) -> list[Problem]:
    """Every problem of the library, in the order of the rules; ``where`` gives file and line to each."""
    place = where or Where()
    return [problem for rule in RULES for problem in rule(library, place)]
