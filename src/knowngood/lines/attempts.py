"""Ways to cut a clause that was not heard whole, and how well each is heard.

``cranks fast no spark`` and ``P0304 and 60 psi on 4`` say two things without a comma. A clause that leaves something
over is read again cut at each word where another statement may begin, and kept where that leaves nothing over.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from knowngood.evidence import Note, Reading
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.unread import weighs

JOINS = frozenset(["and", "&", "but", "plus", "also"])
"""Words between two statements that belong to neither."""
BEGINS = frozenset(["no", "still", "now", "then"])
"""Words a statement may begin with."""
STATE = ("bodies", "assumed", "asks", "read", "turned", "places", "kind", "given", "subject", "tokens", "recent")


def state_of(reader: Reader) -> dict[str, Any]:
    """Everything reading a clause changes, as it is now."""
    kept = {name: getattr(reader, name) for name in STATE}
    return {name: value.copy() if isinstance(value, list | set) else value for name, value in kept.items()}


def put_back(reader: Reader, state: dict[str, Any]) -> None:
    """The state as it was."""
    for name, value in state.items():
        setattr(reader, name, value.copy() if isinstance(value, list | set) else value)


def left_over(reader: Reader, run: Sequence[Token], before: int) -> int:
    """How many words of a run are in no entry that counts."""
    unread = sum(reader.is_unread(token) and weighs(token) for token in run)
    noted = 0
    for body in reader.bodies[before:]:
        if isinstance(body, Note) and body.why:
            noted += len(body.text.split())
        elif isinstance(body, Reading) and body.doubt:
            noted += 1
    return unread + noted


def cuts_of(clause: Sequence[Token]) -> Iterator[tuple[list[Token], list[Token], bool]]:
    """The two halves of a clause, cut at each word where another statement may begin.

    The third is whether a word says so; without one only a cut that leaves nothing over is to be believed.
    """
    last = max((i for i, token in enumerate(clause) if token.means("mark", "except")), default=0)
    for index in range(max(1, last), len(clause) - 1):  # what is taken out is taken out of all before it
        token = clause[index]
        if token.plain in JOINS and (token.kind != "sign" or token.spaced):
            yield list(clause[:index]), list(clause[index + 1 :]), True
        elif token.plain.split()[0] in BEGINS:
            yield list(clause[:index]), list(clause[index:]), True
    strange = any(token.kind == "word" and weighs(token) for token in clause)  # some of it is left over however cut
    for index in range(1, 1 if strange else len(clause)):
        if _names_another(clause, index):
            yield list(clause[:index]), list(clause[index:]), False


VERBS = frozenset(["is", "are", "was", "were", "has", "had", "have", "looks", "look", "sits", "lies", "got", "does"])


def are_sentences(*halves: Sequence[Token]) -> bool:
    """Each has a verb and something it is said of: of one that is not understood, the other still stands."""
    return all(
        any(token.plain in VERBS for token in half[1:]) and sum(weighs(token) for token in half) > 1 for half in halves
    )


NAMES = ("part", "kind", "says", "outcome", "alone", "work", "fault")
"""What a statement may begin with where no word parts it from the one before."""
LEADS = frozenset(["in", "on", "at", "of", "from", "to", "for", "with", "by", "near", "under", "behind", "over", "the"])


def _names_another(clause: Sequence[Token], index: int) -> bool:
    """``vac 15 in needle flicks``, ``9 kohm plug oily``: a name that no small word leads into."""
    token, before = clause[index], clause[index - 1]
    if before.plain.split()[-1:] and before.plain.split()[-1] in LEADS:
        return False
    return names(token)


def names(token: Token) -> bool:
    """A word that names what something is said of, or says it."""
    named = token.kind == "code" or (token.kind == "term" and any(token.means(kind) for kind in NAMES))
    return named and not token.means("filler")
