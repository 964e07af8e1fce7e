"""The structured forms: a run of elements tried against ``grammar.lark``.

The parser is built once, when the first line is read. It is fed elements, not letters, so a form says how a line is
put together and the vocabulary says what its words may be.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cache
from importlib.resources import files
from typing import Any

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput
from lark.lexer import Lexer

from knowngood.lines.elements import Element

FORMS = ("codes", "swap", "cut", "work")


class _Given(Lexer):
    """Hands the elements on as they are."""

    def __init__(self, lexer_conf: Any) -> None:
        pass

    def lex(self, data: Any) -> Iterator[Token]:  # type: ignore[override]
        yield from data


@cache
def _parser() -> Lark:
    text = files("knowngood.lines").joinpath("grammar.lark").read_text(encoding="utf-8")
    return Lark(text, parser="lalr", lexer=_Given, start=list(FORMS))


class Parsed:
    """What a form was made of: its elements by terminal, and its tree."""

    def __init__(self, tree: Tree[Token]) -> None:
        self.tree = tree
        self.parts: list[tuple[str, Element]] = [
            (str(token.type), token.value) for token in tree.scan_values(lambda _: True)
        ]

    def of(self, *terminals: str) -> list[Element]:
        """Elements that stood for one of these terminals, in order."""
        return [element for terminal, element in self.parts if terminal in terminals]

    def under(self, rule: str) -> list[Element]:
        """Elements inside the parts of the form made by one rule, in order."""
        return [token.value for found in self.tree.find_data(rule) for token in found.scan_values(lambda _: True)]


def parsed(form: str, elements: Sequence[Element], terminal: Callable[[Element], str]) -> Parsed | None:
    """The elements read as one form, or None.

    Parameters
    ----------
    form : str
        One of :data:`FORMS`.
    elements : sequence of Element
    terminal : callable
        Names the terminal an element stands for in this form; empty leaves it out.
    """
    given = []
    for element in elements:
        name = terminal(element)
        if name:
            token = Token(name, "")
            token.value = element
            given.append(token)
    if not given:
        return None
    try:
        return Parsed(_parser().parse(given, start=form))
    except UnexpectedInput:
        return None
