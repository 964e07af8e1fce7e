"""What nothing was made of is kept: as a note, and in the list of what is left."""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from knowngood.evidence import Note, Reading
from knowngood.lines.amounts import as_typed, quantity_of
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER

_NO_CODE = re.compile(r"\b[pbcu][4-9][0-9a-f]{3}\b", re.IGNORECASE)


PLURAL = frozenset(["cyls", "cylinders", "pots"])
"""Said of all of them, it says no more than that."""


def keep_unread(reader: Reader) -> None:
    """Words that nothing was made of are kept as a note: the whole line when nothing was, or the run of words."""
    for token in lost_numbers(reader):
        reader.read.discard(token.start)
    unread = [token for token in reader.tokens if reader.is_unread(token)]
    weighty = [token for token in unread if weighs(token)]
    if not reader.bodies:
        why = "nothing in it was understood" if weighty else "it says nothing by itself"
        ask = f"'{reader.typed.typed}': what was seen, measured or done, and where?"
        if odd := _NO_CODE.search(reader.text):
            why = f"there is no code {odd.group().upper()}: behind the letter stands 0, 1, 2 or 3"
            ask = f"{odd.group().upper()}: which code does the reader show?"
        reader.put(Note(reader.typed.typed, why, ask))
        reader.ask(ask)
        return
    for run in runs_of(reader, weighty):
        kept = any(isinstance(body, Note) and body.text and reader.words(run) in body.text for body in reader.bodies)
        if not kept and any(matters(token) for token in run):
            words = reader.words(run)
            ask = f"'{words}' was not understood: what does it say?"
            reader.bodies.append(Note(words, "not understood", ask))
            reader.ask(ask)


def lost_numbers(reader: Reader) -> list[Token]:
    """Numbers that were marked as read and stand in no entry: they are shown as left."""
    numbers = [token for token in reader.tokens if token.kind == "num" and token.start in reader.read - reader.turned]
    if not numbers:
        return []
    kept = ""
    values: list[float] = []
    for body in reader.bodies:
        if isinstance(body, Reading) and body.value is not None:
            words = reader.vocabulary.kinds.get(body.kind)
            quantity = quantity_of(reader, body.kind) or (words.quantity if words else "")
            values += as_typed(body.value, quantity)
            body = msgspec.structs.replace(body, value=None)
        kept += msgspec.json.encode(body).decode()
    return [token for token in numbers if not _stands_in(token.plain, kept) and not _is_among(token.plain, values)]


def _stands_in(number: str, kept: str) -> bool:
    """Whether a number stands in a text; one of a digit or two as itself, a longer one also in a code (``P0304``)."""
    return number in kept if len(number) > 2 else re.search(rf"(?<!\d){re.escape(number)}(?!\d)", kept) is not None


def _is_among(number: str, values: Sequence[float]) -> bool:
    plain = float(number.casefold().rstrip("x").rstrip(".,").replace(",", "."))
    return any(abs(abs(value) - plain) < 1e-6 * max(1.0, abs(plain)) for value in values)


def weighs(token: Token) -> bool:
    """A word that may carry something: no sign, no small word."""
    if token.kind == "sign":
        return token.text in "#%°Ω"
    if (token.kind == "numword" and token.plain == "1") or token.plain in PASSED_OVER or token.plain in PLURAL:
        return False
    return token.kind in ("num", "numword", "unit", "code", "word") or not (
        token.means("filler") or token.means("mark", "negation") or token.means("mark", "cause")
    )


def matters(token: Token) -> bool:
    """Never dropped in silence: numbers, parts, places, readings, what was done."""
    if token.kind in ("num", "code"):
        return True
    return any(
        token.means(kind) for kind in ("part", "kind", "says", "fault", "work", "effect", "tool", "access")
    ) and not token.means("filler")


def runs_of(reader: Reader, tokens: Sequence[Token]) -> list[list[Token]]:
    """Unread words that stand together, signs and small words between them passed over."""
    order = {token.start: index for index, token in enumerate(reader.tokens)}
    runs: list[list[Token]] = []
    for token in tokens:
        if runs:
            between = reader.tokens[order[runs[-1][-1].start] + 1 : order[token.start]]
            if all(reader.is_unread(other) and not other.is_sign(",", ";") for other in between):
                runs[-1].append(token)
                continue
        runs.append([token])
    return runs
