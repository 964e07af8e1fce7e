"""Functions fit a screen, and what others may call says what it does: what tools/read_code.py measures."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

from tools.read_code import SCREEN, functions_in, own_lines

SOURCES = Path("src/knowngood")
LONGER = {
    "lines/elements.py elements_of",
    "lines/line.py _read_from",
}
"""Readers that walk along a line with what they have met so far, and would carry all of it from part to part."""


@cache
def trees() -> dict[str, ast.Module]:
    """Every file of the package, read once."""
    return {
        file.relative_to(SOURCES).as_posix(): ast.parse(file.read_text(encoding="utf-8"))
        for file in sorted(SOURCES.rglob("*.py"))
    }


def test_a_function_fits_a_screen() -> None:
    """Its docstring not counted; but for those that are named, and one that became shorter is named no more."""
    long = {
        f"{name} {function.name}"
        for name, tree in trees().items()
        for function, _ in functions_in(tree)
        if own_lines(function) > SCREEN
    }
    assert long == LONGER


def test_what_others_may_call_says_what_it_does() -> None:
    """Each public function, method and class has a sentence at least."""
    silent = [
        f"{name} {function.name}"
        for name, tree in trees().items()
        for function, public in functions_in(tree)
        if public and not function.name.startswith("_") and not ast.get_docstring(function)
    ]
    silent += [
        f"{name} {node.name}"
        for name, tree in trees().items()
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_") and not ast.get_docstring(node)
    ]
    assert not silent
