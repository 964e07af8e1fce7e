"""Cylinders a line says were not measured, and remarks on its scale: taken out before the numbers are read."""

from __future__ import annotations

import json
from collections.abc import Collection, Sequence
from itertools import pairwise

from knowngood.car.fold import with_fact
from knowngood.evidence import CarFact, Note
from knowngood.lines.amounts import quantity_of
from knowngood.lines.clauses import clauses_of
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER


def without_unmeasured(reader: Reader, tokens: Sequence[Token]) -> list[Token]:
    """The tokens without ``couldnt get to 3`` and ``(100 is neutral on this one)``."""
    tokens = _without_before(reader, _without_scale(reader, list(tokens)))
    at = next((index for index, token in enumerate(tokens) if token.means("mark", "not_reached")), None)
    if at is None or not any(token.kind == "num" for token in tokens[:at]):
        return tokens
    end = at + 1
    while end < len(tokens) and (
        tokens[end].whole() is not None or tokens[end].is_sign(",", "&", "/", "#") or tokens[end].plain in ("and", "or")
    ):
        end += 1
    numbers = [token.plain for token in tokens[at + 1 : end] if token.whole() is not None]
    if not numbers:
        return tokens
    reader.use_turned(tokens[at:end])
    reader.suppose(f"{', '.join(numbers)} not measured")
    return [*tokens[:at], *tokens[end:]]


def without_not_done(reader: Reader, sentence: Sequence[Token]) -> list[Token]:
    """A sentence without what was not done (``shakes at idle, need to check plugs``): that is kept, and not asked for.

    What is complained of, seen, or done beside it is a statement of its own, and read as one.
    """
    clauses = clauses_of(sentence)
    at = [_not_done_at(clause) for clause in clauses]
    if all(index is None for index in at):
        return list(sentence)
    ordered = any(_BUYING & set(c[i].plain.split()) for c, i in zip(clauses, at, strict=True) if i is not None)
    if not ordered and (_measures(reader, sentence) or any(token.means("tool") for token in sentence)):
        return list(sentence)
    aside: set[int] = set()
    for index, clause in enumerate(clauses):
        if at[index] is not None:
            aside |= {token.start for token in _not_done(clause, at[index] or 0)}
        elif index and clauses[index - 1][-1].start in aside and _is_reason(clause):
            aside |= {token.start for token in clause}
    for clause, behind in reversed(list(pairwise(clauses))):
        bare = all(token.means("mark", "not_reached") or token.means("filler") for token in behind)
        states = any(_complains(token) for token in clause) if bare else _states_more(clause)
        if behind[0].start in aside and not states:
            aside |= {token.start for token in clause}  # "fuel pressure, not done": what was not done
    why = "not ordered" if ordered else "not measured"
    for run in runs_among(sentence, aside):
        reader.aside.append(Note(reader.words(run), f"{why}: kept, not counted"))
        reader.use_turned(run)
    return [token for token in sentence if reader.is_unread(token)]


_BUYING = frozenset(["ordered", "bought"])


def _not_done_at(clause: Sequence[Token]) -> int | None:
    return next((index for index in range(len(clause)) if _is_not_done(clause, index)), None)


def _not_done(clause: Sequence[Token], at: int) -> Sequence[Token]:
    """The clause; behind a complaint only what begins another statement (``misfires on 3 havent checked the coil``)."""
    begins = not clause[at].means("mark", "not_reached")
    return clause[at:] if begins and any(_complains(token) for token in clause[:at]) else clause


def _is_reason(clause: Sequence[Token]) -> bool:
    """Behind what was not done: why, or what the instrument lacked (``gauge hose too short``)."""
    return not _states_more(clause) or any(token.plain in ("gauge", "tester", "meter") for token in clause)


def runs_among(tokens: Sequence[Token], starts: Collection[int]) -> list[list[Token]]:
    """The tokens that start there, those that stand together in one run; commas between two of them belong to it."""
    runs: list[list[Token]] = []
    last = -2
    for index, token in enumerate(tokens):
        if token.start in starts:
            if last < index - 1 and not (last == index - 2 and tokens[index - 1].is_sign(",")):
                runs.append([])
            runs[-1] += tokens[last + 1 : index + 1] if runs[-1] else [token]
            last = index
    return runs


def _measures(reader: Reader, sentence: Sequence[Token]) -> bool:
    """Something was measured: a unit, a code, a number too high or too fine for a cylinder, or what came of work."""
    if any(token.kind in ("unit", "code") or token.means("effect") for token in sentence):
        return True
    numbers = [token.whole() for token in sentence if token.kind == "num"]
    return any(number is None or number > reader.most for number in numbers)


def _complains(token: Token) -> bool:
    """A word that says what is wrong, and does not only name something."""
    named = token.means("part") or token.means("kind")
    return not named and any(token.means(kind) for kind in ("says", "outcome", "alone", "fault"))


def _states_more(clause: Sequence[Token]) -> bool:
    """A statement of its own: what is wrong, how something is, what was done."""
    return any(_complains(token) or token.means("work") or token.means("judge") for token in clause)


DOING = frozenset(["check", "checked", "measure", "measured", "test", "tested", "look", "looked", "done"])
LATER = frozenset(["yet", "to", "really", "actually", "properly", "even", *PASSED_OVER])


def _is_not_done(tokens: Sequence[Token], index: int) -> bool:
    """``havent checked``, ``not yet measured``, ``still to test``."""
    if tokens[index].means("mark", "not_reached"):
        return True
    starts = tokens[index].means("mark", "negation") or tokens[index].plain in ("still", "need", "needs", "must")
    at = index + 1
    while starts and at < len(tokens) and tokens[at].plain in LATER:
        at += 1
    denied = tokens[index].means("mark", "negation") or at > index + 1
    return starts and denied and at < len(tokens) and tokens[at].plain in DOING


def _without_before(reader: Reader, tokens: list[Token]) -> list[Token]:
    """``112 psi (was 118)``: what it read before stays in the words."""
    start = next(
        (i for i, token in enumerate(tokens[:-1]) if token.is_sign("(") and tokens[i + 1].plain in ("was", "before")),
        None,
    )
    if start is None:
        return tokens
    end = next((i for i in range(start, len(tokens)) if tokens[i].is_sign(")")), len(tokens) - 1) + 1
    reader.use_turned(tokens[start:end])
    reader.suppose(f"{reader.words(tokens[start + 1 : end - 1])}: how it was before, kept in the words")
    return [*tokens[:start], *tokens[end:]]


def _is_scale(tokens: Sequence[Token], index: int) -> bool:
    return 0 <= index < len(tokens) and tokens[index].plain in ("100", "0")


def _without_scale(reader: Reader, tokens: list[Token]) -> list[Token]:
    """``100 is neutral``, ``trims neutral 100``, by itself or beside a trim: how the trims of this car are shown."""
    trims = any(quantity_of(reader, kind) == "trim" for token in tokens for kind in token.ids("kind"))
    for index, token in enumerate(tokens):
        start = index - 1
        while start > 0 and tokens[start].plain in PASSED_OVER:
            start -= 1
        end = index + 1
        if not token.means("mark", "neutral"):
            continue
        if trims and not _is_scale(tokens, start) and _is_scale(tokens, end):
            start, end = index, end + 1
        if not _is_scale(tokens, start) and not _is_scale(tokens, end - 1):
            continue
        neutral = tokens[start if _is_scale(tokens, start) else end - 1].plain
        if start and tokens[start - 1].is_sign("("):
            start -= 1
            end = next((at + 1 for at in range(end, len(tokens)) if tokens[at].is_sign(")")), end)
        beside = [*tokens[:start], *tokens[end:]]
        if not trims and any(token.kind in ("num", "term") and not token.means("filler") for token in beside):
            continue  # of what it is said is not a trim
        if not any(token.kind == "num" for token in beside):
            start, end, beside = 0, len(tokens), []
        fact = CarFact("neutral_trim", json.dumps(float(neutral)))
        reader.put(fact, tokens[start:end])
        reader.car = with_fact(reader.car, fact)
        return beside
    return tokens
