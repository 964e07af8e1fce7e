"""Cylinders a line says were not measured, and remarks on its scale: taken out before the numbers are read."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from knowngood.evidence import Note
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.understood import Recent
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


def read_not_done(reader: Reader, sentence: Sequence[Token]) -> bool:
    """``fuel pressure under load not done, hose too short``: nothing was measured; kept, nothing asked."""
    at = next((index for index in range(len(sentence)) if _is_not_done(sentence, index)), None)
    if at is not None and {"ordered", "bought"} & set(sentence[at].plain.split()):
        reader.put(Note(reader.words(sentence), "not ordered: kept, not counted"), sentence)
        reader.use_turned(sentence)
        return True
    if at is None or any(
        token.kind in ("unit", "code") or (token.kind == "num" and token.whole() is None) for token in sentence
    ):
        return False
    if any(token.means("effect") or token.means("tool") for token in sentence):
        return False
    if any((token.whole() or 0) > reader.most for token in sentence if token.kind == "num"):
        return False
    reader.put(Note(reader.words(sentence), "not measured: kept, not counted"), sentence)
    reader.use_turned(sentence)
    return True


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


def _without_scale(reader: Reader, tokens: list[Token]) -> list[Token]:
    """``100 is neutral``: how the trims of this car are shown."""
    for index, token in enumerate(tokens):
        start = index - 1
        while start > 0 and tokens[start].plain in PASSED_OVER:
            start -= 1
        if not token.means("mark", "neutral") or start < 1 or tokens[start].plain not in ("100", "0"):
            continue
        neutral, end = tokens[start].plain, index + 1
        if tokens[start - 1].is_sign("("):
            start -= 1
            end = next((at + 1 for at in range(end, len(tokens)) if tokens[at].is_sign(")")), end)
        reader.recent = _with_scale(reader, neutral)
        reader.use_turned(tokens[start:end])
        return [*tokens[:start], *tokens[end:]]
    return tokens


def _with_scale(reader: Reader, neutral: str) -> Recent:
    reader.suppose(f"trims about {neutral}, as told")
    return msgspec.structs.replace(reader.recent, trim_scale=f"about {neutral}")
