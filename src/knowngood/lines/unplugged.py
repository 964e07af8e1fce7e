"""Something unplugged to see what changes, and outcomes that are over."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from knowngood.evidence import Reading
from knowngood.library.healthy import healthy_word
from knowngood.lines.amounts import quantity_of
from knowngood.lines.clauses import run_of
from knowngood.lines.elements import elements_of
from knowngood.lines.kinds import Segment
from knowngood.lines.outcomes import fitted_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.series import read_segment
from knowngood.lines.vocabulary import PASSED_OVER


def read_given(reader: Reader, clause: Sequence[Token], goes_on: bool) -> bool:
    """``unplug coolant sensor, fan comes on``: what was unplugged is a condition of what comes behind."""
    if (
        not goes_on
        or not clause[0].means("mark", "cut")
        or any(token.kind in ("num", "numword", "code") for token in clause)
    ):
        return False
    parts = [token for token in clause[1:] if token.means("part")]
    if len(parts) != 1 or any(
        not token.means("filler") and token.plain not in PASSED_OVER for token in clause[1:] if token is not parts[0]
    ):
        return False
    reader.given = (f"{parts[0].text} unplugged",)
    unplugged = f"{reader.part(parts[0])}_unplugged"
    reader.kind = unplugged if reader.kind_record(unplugged) is not None else reader.kind
    reader.use(clause)
    return True


def read_after_unplugging(reader: Reader, clause: Sequence[Token]) -> bool:
    """``unplug map sensor -> 5.0``: the reading before, read again with something unplugged."""
    at = next((i for i, t in enumerate(clause) if t.kind == "arrow" or t.is_sign("=", ":")), 0)
    if at < 2 or not clause[0].means("mark", "cut") or not any(t.kind == "num" for t in clause[at:]):
        return False
    parts = [token for token in clause[1:at] if token.means("part")]
    if len(parts) != 1 or not reader.kind or not quantity_of(reader, reader.kind) or reader.kind == "injector_cut":
        return False
    before = reader.given
    reader.given = (f"{parts[0].text} unplugged",)
    segment = Segment([element for element in elements_of(reader, clause[at + 1 :]) if element.kind != "NAME"])
    read = read_segment(reader, segment, reader.kind)
    reader.given = before
    if read:
        reader.use(clause)
    return read


def read_unplugged(reader: Reader, tokens: Sequence[Token], clauses: Sequence[Sequence[Token]], start: int) -> int:
    """``runs fine with maf unplugged``; where the form ends, 0 when it is none."""
    for end in (start + 1, start + 2):
        whole = run_of(tokens, clauses, start, min(end, len(clauses)))
        run = [part for token in whole for part in (token.parts if token.parts and token.means("fault") else (token,))]
        parts = [token for token in run if token.means("part")]
        if len(parts) != 1 or not any(token.plain in ("unplugged", "disconnected") for token in run):
            continue
        kind = f"{reader.part(parts[0])}_unplugged"
        effects = [token.ids("effect")[0] for token in run if token.means("effect")]
        effects += ["better" for token in run if "shakes=good" in token.ids("outcome")]
        if reader.kind_record(kind) is None or not effects:
            continue
        effect = effects[0]
        word = fitted_word(reader, kind, {"no change": "same", "cured": "better"}.get(effect, effect))
        reader.put(Reading(kind=kind, word=word), whole)
        return min(end, len(clauses))
    return 0


def read_stopped(reader: Reader, clause: Sequence[Token]) -> bool:
    """``bubbles for a minute, then none``: the outcome said before is over."""
    if not all(t.means("mark", "none") or t.means("filler") or t.plain in ("stopped", "gone") for t in clause):
        return False
    last = reader.bodies[-1] if reader.bodies else None
    record = reader.kind_record(last.kind) if isinstance(last, Reading) else None
    if (
        not isinstance(last, Reading)
        or last.value is not None
        or not any(t.means("mark", "none") or t.plain == "stopped" for t in clause)
    ):
        return False
    word = healthy_word(reader.library, record) if record is not None and record.words else "none"
    reader.bodies[-1] = msgspec.structs.replace(last, word=word)
    reader.suppose(f"{last.kind.replace('_', ' ')} at first, then none")
    reader.use(clause)
    return True
