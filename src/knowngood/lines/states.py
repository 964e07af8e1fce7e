"""What stood beside a number when it was read: ``30 with fuse 7 out``, ``3.6 vac hose off``, ``map sensor unplugged``."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.lines.elements import Element

OUT = frozenset(["off", "out", "pulled", "unplugged", "disconnected", "removed", "clamped", "pinched", "bridged", "open"])


def with_states(elements: Sequence[Element]) -> list[Element]:
    """The elements with a part and what was done to it, behind a number, made one condition."""
    out: list[Element] = []
    index, numbered = 0, False
    while index < len(elements):
        element = elements[index]
        end = _state_end(elements, index) if numbered else 0
        if end:
            tokens = tuple(token for piece in elements[index:end] for token in piece.tokens)
            out.append(Element("COND", tokens, names=_names(tokens)))
            index = end
            continue
        numbered = numbered or element.kind == "CELL"
        out.append(element)
        index += 1
    return out


def _names(tokens: Sequence[object]) -> tuple[str, ...]:
    words = [str(getattr(token, "plain", "")) for token in tokens if getattr(token, "plain", "") != "with"]
    said = " ".join(words)
    return ("hose off", said) if "hose off" in said else (said,)


def _state_end(elements: Sequence[Element], index: int) -> int:
    """Where a part with its state ends; 0 when none starts here."""
    at = index
    if elements[at].token.plain == "with":
        at += 1
    if at >= len(elements) or not elements[at].token.means("part"):
        return 0
    if at + 1 < len(elements) and elements[at + 1].kind == "COND" and "hose off" in elements[at + 1].names:
        at += 1
    at += 1
    if at < len(elements) and elements[at].kind == "CELL" and elements[at].whole is not None and not elements[at].unit:
        at += 1
    if at >= len(elements) or elements[at].token.plain not in OUT or elements[at].token.means("part"):
        return 0
    at += 1
    while at < len(elements) and elements[at].kind == "FILL":
        at += 1
    return at + 1 if at < len(elements) and _is_on(elements[at]) else at


def _is_on(element: Element) -> bool:
    """A part behind it says on what: ``vac hose off regulator``."""
    return element.kind == "NAME" and element.token.means("part")
