"""Verbs between a name and its number (``rpm stays 0``); what is expected, said behind it (``200-300 is normal``)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from knowngood.lines.element import Element
from knowngood.lines.scan import Token

STEADY = frozenset(["stays", "stayed", "stay", "remains", "remained", "stands", "sits", "hovers", "stuck", "stops"])
UNSTEADY = frozenset(
    ["swings", "jumps", "wanders", "fluctuates", "varies", "swinging", "jumping", "wandering", "moves"]
)


def plainly_said(elements: Sequence[Element]) -> list[Element]:
    """The elements of a series with such verbs made small words or conditions, and expected values marked as such."""
    return _spec_first([_verb(elements, index) for index in range(len(elements))])


def _verb(elements: Sequence[Element], index: int) -> Element:
    """A verb right before a number: that it stays says nothing more, that it swings is kept."""
    element = elements[index]
    behind = next((e for e in elements[index + 1 : index + 4] if not _is_small(e)), None)
    if not index or behind is None or behind.kind not in ("CELL", "NONE", "SPEED"):
        return element
    if element.token.plain in STEADY:
        return replace(element, kind="FILL", tokens=_muted(element))
    if element.token.plain in UNSTEADY:
        return replace(element, kind="COND", tokens=_muted(element), names=(element.token.plain,))
    return element


def _is_small(element: Element) -> bool:
    return element.kind == "FILL" or element.token.plain in ("at", "between", "from", "on", "by")


def _muted(element: Element) -> tuple[Token, ...]:
    return tuple(replace(token, senses=()) for token in element.tokens)


def _spec_first(elements: list[Element]) -> list[Element]:
    """``6.8 is expected``: the mark put before its number, as in ``should be 6.8``."""
    for at, element in enumerate(elements):
        if not element.token.means("mark", "expected"):
            continue
        first = at - 1
        while first >= 0 and (elements[first].kind == "FILL" or elements[first].token.plain in ("is", "are", "was")):
            first -= 1
        if first < 0 or elements[first].kind != "CELL":
            continue
        while first >= 2 and elements[first - 1].kind in ("DASH", "LINK") and elements[first - 2].kind == "CELL":
            if elements[first - 1].text not in ("-", "to"):
                break
            first -= 2
        mark = replace(element, kind="SPEC", tokens=_muted(element))
        return [*elements[:first], mark, *elements[first:at], *elements[at + 1 :]]
    return elements
