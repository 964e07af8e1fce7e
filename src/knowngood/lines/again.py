"""A clause of which nothing was made, read again in other ways; each counts only where it leaves nothing over."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from knowngood.evidence import Reading
from knowngood.lines.attempts import VERBS, left_over, names, put_back, state_of
from knowngood.lines.beside_where import note_where, where_of
from knowngood.lines.loose import read_loose
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER

Read = Callable[[list[Token]], None]


def read_again(reader: Reader, clause: Sequence[Token], read: Read, *, behind: bool) -> bool:
    """The clause without what only says where; as of the part named before it; by what its words are.

    Parameters
    ----------
    reader : Reader
        As it was before the clause; left as it is where nothing comes of it.
    clause : sequence of Token
    read : callable
        Reads some tokens in the place of the clause.
    behind : bool
        Another clause stands before it in the sentence.
    """
    state = state_of(reader)
    if _without_where(reader, clause, read):
        return True
    put_back(reader, state)
    if behind and (_of_subject(reader, clause, read) or _number_of_subject(reader, clause, read)):
        return True
    put_back(reader, state)
    if read_loose(reader, clause):
        return True
    put_back(reader, state)
    return False


def _without_where(reader: Reader, clause: Sequence[Token], read: Read) -> bool:
    """``exhaust blows at the joint before the lambda``: what only says where is kept beside it."""
    before, state = len(reader.bodies), state_of(reader)
    for start, end in where_of(clause):
        rest = [*clause[:start], *clause[end:]]
        read(rest)
        if len(reader.bodies) > before and not left_over(reader, rest, before):
            note_where(reader, clause, (start, end), before)
            return True
        put_back(reader, state)
    return False


SMALL = VERBS | PASSED_OVER | frozenset(["and", "now", "still", "too", "also", "all", "only", "bit", "no", "not"])
"""Words that may stand beside a state without making it one of something else."""


def _is_other(token: Token) -> bool:
    """A number, or a word for something else, takes a clause away from the part named before."""
    return token.kind in ("num", "numword", "unit", "word") or (
        token.means("filler") and token.plain not in SMALL and not token.means("word")
    )


def _of_subject(reader: Reader, clause: Sequence[Token], read: Read) -> bool:
    """``oil level low, black``: a clause without a name is of the part named before it."""
    subject, before = reader.subject, len(reader.bodies)
    if subject is None or not subject.means("part") or any(names(t) or _is_other(t) for t in clause):
        return False
    read([subject, *clause])
    return len(reader.bodies) > before and not left_over(reader, clause, before)


def _number_of_subject(reader: Reader, clause: Sequence[Token], read: Read) -> bool:
    """``battery charged, 12.7``: a number alone, with decimals or a unit, is a reading of the part named before it."""
    subject, before = reader.subject, len(reader.bodies)
    said = [token for token in clause if not (token.means("filler") or token.plain in PASSED_OVER)]
    alone = [token.kind for token in said] in (["num"], ["num", "unit"])
    if subject is None or not alone or (len(said) == 1 and said[0].whole() is not None):
        return False
    names = [part for part in (subject, *subject.parts) if part.means("kind") or part.means("part")]
    for name in names:
        state = state_of(reader)
        read([name, *clause])
        fresh = reader.bodies[before:]
        if fresh and all(isinstance(b, Reading) and not b.doubt for b in fresh):
            return True
        put_back(reader, state)
    return False
