"""What only says where, behind what was seen: ``at the joint before the lambda``, ``under the inlet cover``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from knowngood.evidence import Finding, Reading
from knowngood.lines.attempts import VERBS
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token

LEADS = frozenset(
    [
        *("at", "near", "from", "under", "behind", "around", "below", "above", "beside", "between", "inside", "by"),
        *("on", "in", "over", "next to", "next", "along", "round", "towards", "underneath", "beneath", "where"),
    ]
)
SAYS = ("outcome", "alone", "effect", "work", "judge", "origin", "condition")
MOST_WORDS = 7


def where_of(clause: Sequence[Token]) -> Iterator[tuple[int, int]]:
    """From where to where a clause may only say where, the shortest head first; nothing in it says anything else.

    It ends with the clause, or where a verb goes on with what stands before it (``the line under the car is rusty``).
    """
    for index in range(1, len(clause)):
        verb = next((i for i in range(index + 2, len(clause) - 1) if clause[i].plain in VERBS), len(clause))
        tail = clause[index:verb]
        leads = clause[index].plain.split()[:1] and clause[index].plain.split()[0] in LEADS
        if leads and 1 < len(tail) <= MOST_WORDS and not any(_says_more(token) for token in tail):
            yield index, verb


def _says_more(token: Token) -> bool:
    return (
        token.kind in ("num", "numword", "unit", "code", "arrow", "sign")
        or (any(token.means(kind) for kind in SAYS) and not token.means("filler"))
        or (token.means("kind") and not token.means("part"))
    )


def note_where(reader: Reader, clause: Sequence[Token], span: tuple[int, int], before: int) -> None:
    """Keep it with what was seen: as a condition of a reading by word, in the words of a finding."""
    said = reader.words(clause[slice(*span)])
    for at in range(before, len(reader.bodies)):
        body = reader.bodies[at]
        if isinstance(body, Reading) and body.value is None:
            reader.bodies[at] = msgspec.structs.replace(body, conditions=(*body.conditions, said))
        elif isinstance(body, Finding):
            reader.bodies[at] = msgspec.structs.replace(body, words=reader.words(clause))
    reader.use(clause[slice(*span)])
