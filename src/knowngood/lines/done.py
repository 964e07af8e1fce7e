"""Work said in the words the program itself writes it down with: ``tensioned the drive belt``, ``cleaned oil pump``.

What the program writes down it must hear. Such a phrase is matched letter by letter against the library's before
anything is read freely, so that no word inside it ("oil", "clean") is taken for a look.
"""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.evidence import Undone
from knowngood.lines.beside import outside
from knowngood.lines.clauses import run_of
from knowngood.lines.elements import elements_of, places_at
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.works import put_work

MOST_CLAUSES = 5
"""A name with commas (``lamps, bulbs, horn, wipers``) and its place behind one more."""
TAKEN_OUT = ("relay_bridge",)
"""What must not stay: to take it out is work, and puts right that it was left."""


def read_done(reader: Reader, tokens: Sequence[Token], clauses: Sequence[Sequence[Token]], start: int) -> int:
    """Read the work that some clauses are, nothing but its place and what it changed behind it; how many they are."""
    for end in range(min(len(clauses), start + MOST_CLAUSES), start, -1):
        goes_on = end < len(clauses) and clauses[end][0].means("part")  # "replaced alternator, battery: no change"
        if not goes_on and _read_run(reader, run_of(tokens, clauses, start, end)):
            return end - start
    return 0


def _read_run(reader: Reader, run: Sequence[Token]) -> bool:
    text = reader.plain(run).casefold()
    ends = {token.end - run[0].start for token in run}
    for end in sorted(ends, reverse=True):
        do, part = reader.vocabulary.done.get(text[:end], ("", ""))
        behind = [token for token in run if token.start - run[0].start >= end]
        if part and _goes_on(reader, do, part, run, behind):
            return True
    return False


def _goes_on(reader: Reader, do: str, part: str, run: Sequence[Token], behind: Sequence[Token]) -> bool:
    """Behind the phrase stand places and effects only: then it is that work."""
    elements = elements_of(reader, behind)
    places = [place for element in elements for place in places_at(element, reader.most)]
    effects = [token.ids("effect")[0] for token in behind if token.means("effect")]
    quiet = ("PLACE", "COMMA", "FILL", "MUTE")
    if any(e.kind not in quiet and not places_at(e, reader.most) and not e.token.means("effect") for e in elements):
        return False
    if outside(reader, places) or (places and reader.part_place(part) == "engine"):
        return False
    name = reader.library.parts[part].name
    put_work(reader, do, part, name, places, (), effects, False, reader.words(run))
    if do == "removed" and part in TAKEN_OUT:
        reader.put(Undone(what=name, put_right=True, part=part))
    reader.use_turned(run)
    return True
