"""Conditions said apart from what they belong to, and "only": there under one condition, absent otherwise.

``misfires only when wet`` is two readings: a miss in the wet, none under ordinary conditions. ``shakes, only when
cold`` and ``stalls, not when hot`` say the condition in a clause of its own, behind what it belongs to.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from knowngood.evidence import Reading
from knowngood.library.healthy import healthy_word
from knowngood.library.records import MODIFIERS, REGIMES
from knowngood.lines.conditions import settled
from knowngood.lines.elements import Element, elements_of
from knowngood.lines.kinds import conditions_of
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER, table

OTHERWISE = {
    "cold": "hot",
    "hot": "cold",
    "cold start": "hot restart",
    "hot restart": "cold start",
    "cold idle": "hot idle",
    "hot idle": "cruise",
    "pull": "hot idle",
    "high speed": "cruise",
    "overrun": "cruise",
    "cruise": "hot idle",
}
"""Where "only" under a condition says that the complaint is absent; common practice: the nearest ordinary state."""

INTERMITTENT = "comes and goes"


def read_condition_behind(reader: Reader, clause: Sequence[Token], since: int) -> bool:
    """A clause of nothing but conditions, behind readings of the same sentence: they belong to those."""
    elements = elements_of(reader, clause)
    names = conditions_of(elements)
    if not names or not _is_only_conditions(elements):
        return False
    indices = _last_readings(reader, since)
    if not indices:
        return False
    denied = any(token.means("mark", "negation") for token in clause)
    only = only_under(clause)
    for index in indices:
        body = reader.bodies[index]
        assert isinstance(body, Reading)
        if denied:
            _put_absent(reader, body, names)
        else:
            reader.bodies[index] = under = _under(reader, body, names)
            if only:
                put_otherwise(reader, under, only)
    reader.use(clause)
    return True


def read_condition_before(reader: Reader, clause: Sequence[Token]) -> bool:
    """A clause of nothing but conditions, in front of what it belongs to: ``when cold, shakes and stalls``."""
    elements = elements_of(reader, clause)
    names = conditions_of(elements)
    if not names or not _is_only_conditions(elements) or any(t.means("mark", "negation") for t in clause):
        return False
    if any(t.means("fault") for t in clause) and not any(t.kind == "num" for t in reader.tokens):
        return False  # "vacuum hose off, whistles": that is what was found, and not how a pressure was read
    reader.given = (*reader.given, *names)
    reader.use(clause)
    return True


SINCE = frozenset(["after", "since", "before"])


def read_since(reader: Reader, clause: Sequence[Token]) -> bool:
    """``after the rocker covers, ...``: since what work it is so, kept as said with what stands behind."""
    words = [token for token in clause if token.plain not in ("ever", "right", "directly", "just", "straight")]
    named = [
        t
        for t in words[1:]
        if any(t.means(kind) for kind in ("part", "area", "access", "work")) or t.means("mark", "swap")
    ]
    small = [t for t in words[1:] if t not in named]
    if len(words) < 2 or words[0].plain not in SINCE or not named or any(t.means("effect") for t in clause):
        return False
    if not all(t.means("filler") or t.plain in PASSED_OVER for t in small):
        return False
    reader.given = (*reader.given, reader.words(clause).casefold())
    reader.use(clause)
    return True


def only_under(tokens: Sequence[Token]) -> list[str]:
    """The conditions behind an "only", small words between them passed over; empty without one."""
    for index, token in enumerate(tokens):
        names = _names(token)
        if not names:
            continue
        if token.plain.startswith("only "):
            return names
        for before in reversed(tokens[:index]):
            if before.plain == "only":
                return names
            if not (before.means("filler") or before.kind == "sign"):
                break
    return []


def _names(token: Token) -> list[str]:
    """The conditions a token says, those inside its phrase where it is none itself."""
    return [*token.ids("condition")] or [name for part in token.parts for name in _names(part)]


def contrasted(reader: Reader, tokens: Sequence[Token], before: int) -> None:
    """Behind readings just made of a clause with "only" and a condition: their absence otherwise."""
    names = only_under(tokens)
    for body in reader.bodies[before:] if names else ():
        if isinstance(body, Reading) and body.value is None and not body.doubt:
            put_otherwise(reader, body, names)


def put_otherwise(reader: Reader, body: Reading, names: Sequence[str]) -> None:
    """The healthy reading under the ordinary state that "only" leaves."""
    base = _base(body.kind)
    record = reader.kind_record(base)
    if record is None or not record.complaint or not record.words or body.word == healthy_word(reader.library, record):
        return
    if record.when != "any" and base == body.kind:
        return
    elsewhere = [OTHERWISE[name] for name in names if name in OTHERWISE]
    modified = any(name in MODIFIERS for name in names)
    if not elsewhere and not modified:
        return
    kept = [name for name in body.conditions if name not in (*REGIMES, *MODIFIERS, *names, INTERMITTENT)]
    same = [] if elsewhere else [name for name in body.conditions if name in REGIMES]
    _, conditions = settled(reader, base, (*elsewhere[:1], *same, *kept))
    reader.put(
        msgspec.structs.replace(body, kind=base, word=healthy_word(reader.library, record), conditions=conditions)
    )
    reader.suppose("only then: otherwise absent")


def _base(kind: str) -> str:
    """The complaint that one under a condition of its own belongs to."""
    return next((base for base, within in table()["narrowed"].items() if kind in within.values()), kind)


def _under(reader: Reader, body: Reading, names: Sequence[str]) -> Reading:
    kind = next((own for name in names if (own := table()["narrowed"].get(body.kind, {}).get(name))), body.kind)
    kind = kind if reader.kind_record(kind) is not None else body.kind
    kind, conditions = settled(reader, kind, (*body.conditions, *names))
    return msgspec.structs.replace(body, kind=kind, conditions=conditions)


def _put_absent(reader: Reader, body: Reading, names: Sequence[str]) -> None:
    base = _base(body.kind)
    record = reader.kind_record(base)
    if record is None or not record.words:
        return
    _, conditions = settled(reader, base, names)
    reader.put(
        msgspec.structs.replace(body, kind=base, word=healthy_word(reader.library, record), conditions=conditions)
    )


def _is_only_conditions(elements: Sequence[Element]) -> bool:
    kinds = ("COND", "SPEED", "FILL", "MUTE", "LINK", "COMMA")
    tokens = [token for e in elements if e.kind not in ("COND", "SPEED") for token in e.tokens]
    if any(token.means("judge") or token.means("effect") for token in tokens):
        return False
    return all(e.kind in kinds or e.token.means("mark", "negation") or e.token.means("filler") for e in elements)


def _last_readings(reader: Reader, since: int) -> list[int]:
    """Indices of the readings by word that the clause before was made of: the last ones of one line of thought."""
    found = [
        index
        for index in range(since, len(reader.bodies))
        if isinstance(reader.bodies[index], Reading) and _is_by_word(reader.bodies[index])
    ]
    if not found:
        return []
    last = reader.bodies[found[-1]]
    assert isinstance(last, Reading)
    return [i for i in found if getattr(reader.bodies[i], "kind", "") == last.kind]


def _is_by_word(body: object) -> bool:
    return isinstance(body, Reading) and body.value is None and body.kind != "code"
