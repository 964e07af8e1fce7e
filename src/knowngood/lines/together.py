"""One judgement of several names: each of them gets it."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.lines.amounts import quantity_of
from knowngood.lines.elements import Element
from knowngood.lines.judgements import is_of_instrument, kinds_named
from knowngood.lines.kinds import conditions_of
from knowngood.lines.outcomes import said_word
from knowngood.lines.placed_word import put_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token


def read_judged_together(reader: Reader, elements: Sequence[Element]) -> bool:
    """``fuel pressure and spark good``, ``plugs, leads and cap: nothing found``: one judgement of several names."""
    names = [e.token for e in elements if _is_name(e.token)]
    judges = [e.token for e in elements if e.token.means("judge") and e.token not in names]
    if len(names) < 2 or len(judges) != 1 or any(name.start > judges[0].start for name in names):
        return False
    quiet = ("COMMA", "LINK", "FILL", "MUTE", "EQUALS", "ALL")
    if any(e.token not in (*names, *judges) and (e.kind not in quiet or _tells(e.token)) for e in elements):
        return False
    if any(is_of_instrument(name, [e.token for e in elements]) for name in names):
        return False
    each = [(name, _judged(reader, name, judges[0])) for name in names]
    if not all(found for _, found in each):
        return False
    for name, found in each:
        kind, word = found or ("", "")
        put_word(reader, kind, word, (), conditions_of(elements), [name, *judges])
    reader.use(token for element in elements for token in element.tokens)
    return True


def _is_name(token: Token) -> bool:
    return (token.means("kind") or token.means("part") or token.means("says")) and not token.means("filler")


def _tells(token: Token) -> bool:
    return any(token.means(kind) for kind in ("work", "effect", "outcome")) or token.means("mark", "negation", "cut")


def _judged(reader: Reader, name: Token, judge: Token) -> tuple[str, str] | None:
    """The kind a name stands for and its own word for a judgement; None when none takes one."""
    for kind in kinds_named(reader, name):
        if reader.kind_record(kind) is None:
            continue
        word = judge.ids("judge")[0] if quantity_of(reader, kind) else said_word(reader, kind, [judge])[0]
        if word:
            return kind, word
    return None
