"""``earth strap off, cleaned, back on``: a part off and on again in one sentence, and what was done to it meanwhile."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.lines.elements import elements_of
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.works import cylinders_named, joined_places, put_work

OFF = frozenset(["off", "out", "removed", "took off", "taken off", "came off", "pulled", "took out", "taken out"])
ON = frozenset(
    ["back", "on", "back on", "back in", "refitted", "on again", "put back", "in", "again", "together", "back together"]
)
MOST = 4
"""So many clauses at most belong to one such job."""


def read_off_and_on(reader: Reader, clauses: Sequence[Sequence[Token]], start: int) -> int:
    """How many clauses are one such job; 0 where there is none, and nothing is read then."""
    first = clauses[start]
    parts = [token for token in first if token.means("part")]
    if len(parts) != 1 or not _only(first, OFF, parts):
        return 0
    done: list[str] = []
    for end in range(start + 1, min(start + MOST, len(clauses))):
        clause = clauses[end]
        if _only(clause, ON, []):
            places = [p for e in joined_places(reader, elements_of(reader, first)) for p in cylinders_named(e)]
            words = reader.words([*first, *clause])
            put_work(
                reader, next(iter(done), "reseated"), reader.part(parts[0]), parts[0].text, places, (), (), False, words
            )
            reader.use(token for one in clauses[start : end + 1] for token in one)
            return end + 1 - start
        acts = [name for token in clause for name in token.ids("work") if name not in ("removed", "replaced")]
        if not acts or any(token.means("part") for token in clause):
            return 0
        done += acts
    return 0


def _only(clause: Sequence[Token], words: frozenset[str], besides: Sequence[Token]) -> bool:
    """Nothing but such words, small words, places and what is named stands in a clause."""
    said = [token for token in clause if token.plain in words]
    rest = (t for t in clause if t not in said and t not in besides)
    return bool(said) and all(t.means("filler") or t.kind == "num" or t.means("mark", "cylinder") for t in rest)
