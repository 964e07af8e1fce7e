"""Something fed past its own switch or relay, and whether it ran: ``bridged the fan switch, fan runs``."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.lines.clauses import run_of
from knowngood.lines.placed_word import put_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER

FED = ("fan_switch_bridged", "fan_bridged", "pump_fed_direct", "starter_bridged")
RUNS = frozenset(["runs", "run", "running", "ran", "spins", "works", "turns", "hums", "cranks", "starts"])
ALIVE, DEAD = ("runs", "cranks"), ("silent", "does not run", "nothing")
"""What the library calls it."""
SILENT = frozenset(["dead", "nothing", "silent", "none"])
NOT = frozenset(["not", "no", "doesnt", "didnt", "wont", "never", "still"])


def read_fed(reader: Reader, tokens: Sequence[Token], clauses: Sequence[Sequence[Token]], start: int) -> int:
    """Read what was fed and, behind it in the same or the next clause, whether it ran; how many clauses that is."""
    for end in range(min(len(clauses), start + 2), start, -1):
        if _read_run(reader, run_of(tokens, clauses, start, end)):
            return end - start
    return 0


def _read_run(reader: Reader, run: Sequence[Token]) -> bool:
    kinds = [kind for sense in ("says", "kind") for kind in FED for token in run if token.means(sense, kind)]
    if not kinds or reader.kind_record(kinds[0]) is None:
        return False
    others = [token for token in run if not (token.means("says", kinds[0]) or token.means("kind", kinds[0]))]
    words = [word for token in others for word in token.plain.split() if token.kind != "sign"]
    ran, silent = set(words) & RUNS, set(words) & SILENT
    thing = kinds[0].partition("_")[0]
    known = RUNS | SILENT | NOT | PASSED_OVER | {thing, "and", "then", "now", "does", "did", "will", "still", "motor"}
    if not (ran or silent) or not set(words) <= known:
        return False
    answers = DEAD if silent or NOT & set(words) else ALIVE
    word = next(word for word in reader.library.readings[kinds[0]].words if word in answers)
    put_word(reader, kinds[0], word, (), (), run)
    reader.use(run)
    return True
