"""A line cut into sentences and clauses."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.lines.scan import Token

ABBREVIATIONS = frozenset(
    [
        "cyl",
        "no",
        "nr",
        "approx",
        "ca",
        "temp",
        "deg",
        "rev",
        "vs",
        "etc",
        "in",
        "min",
        "max",
        "comp",
        "abt",
        "vac",
        "volt",
        "c",
    ]
)


def sentences_of(tokens: Sequence[Token]) -> list[list[Token]]:
    """Cut at semicolons and full stops; the dot of an abbreviation is none."""
    found: list[list[Token]] = [[]]
    for index, token in enumerate(tokens):
        behind = tokens[index + 1] if index + 1 < len(tokens) else None
        before = tokens[index - 1] if index else None
        dot = (
            token.is_sign(".")
            and (behind is None or behind.spaced)
            and not (before is not None and before.plain in ABBREVIATIONS)
        )
        if token.is_sign(";") or dot or token.text in ("!", "|"):
            found.append([])
        elif found[-1] or not token.is_sign(",", "."):
            found[-1].append(token)
    return [sentence for sentence in found if sentence]


def clauses_of(tokens: Sequence[Token]) -> list[list[Token]]:
    """Cut at commas and "then"."""
    found: list[list[Token]] = [[]]
    inside = _in_brackets(tokens)
    for index, token in enumerate(tokens):
        if (
            (token.is_sign(",") and token.start not in inside)
            or (token.plain in ("then", "and then") and index > 0)
            or (token.plain == "but" and found[-1])
        ):
            found.append([])
        else:
            found[-1].append(token)
    return [clause for clause in found if clause]


def _in_brackets(tokens: Sequence[Token]) -> set[int]:
    """Where tokens stand that are inside a closed bracket with no number in it: a remark, which is not cut."""
    found: set[int] = set()
    opened: list[Token] = []
    for token in tokens:
        if token.is_sign("("):
            opened = [token]
        elif token.is_sign(")") and opened:
            if not any(one.kind in ("num", "unit") for one in opened):
                found |= {one.start for one in opened}
            opened = []
        elif opened:
            opened.append(token)
    return found


def run_of(tokens: Sequence[Token], clauses: Sequence[Sequence[Token]], start: int, end: int) -> list[Token]:
    """The tokens from one clause to another, the commas between them included."""
    first, last = clauses[start][0].start, clauses[end - 1][-1].end
    return [token for token in tokens if first <= token.start < last]


STRUCTURAL = ("part", "effect", "work", "origin", "state", "condition", "kind", "filler")
"""What a phrase of several words may be for the structured forms."""


def loosened(tokens: Sequence[Token]) -> list[Token]:
    """The tokens with phrases that play no part in a structured form read as their words ("stayed on" as "stayed")."""
    found: list[Token] = []
    for token in tokens:
        keeps = not token.parts or any(token.means(kind) for kind in STRUCTURAL) or token.means("mark")
        found += [token] if keeps else loosened(token.parts)
    return found
