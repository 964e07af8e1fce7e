"""What a piece of work cost, said in its line: ``replaced coil 3 paid 45``, ``new plugs all 8, £46``.

The price is taken out before the line is read, so that it is no reading; it goes to the work when there is one.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from knowngood.evidence import Note, Work
from knowngood.lines.reader import Reader
from knowngood.lines.token import HIGHEST, Token

_NUMBER = r"(?P<{0}>\d{{1,3}}(?:[.,]\d{{3}})+|\d+(?:[.,]\d{{1,2}})?)(?!\d)"
_MONEY = r"(?:eur|euros?|dollars?|bucks|pounds|quid)\b|[$€£]"
SUM = re.compile(rf"[$€£]\s?{_NUMBER.format('a')}|{_NUMBER.format('b')}\s?(?:{_MONEY}|each\b)", re.IGNORECASE)
"""A number with the sign or the name of a currency, or "each" behind it."""
_PRICE = re.compile(
    r"(?:\b(?:for|at|of|cost|costs|costing|paid|price|it was)\s+)?(?:"
    rf"[$€£]\s?{_NUMBER.format('a')}|{_NUMBER.format('b')}\s?(?:{_MONEY})"
    rf"|(?<=paid )(?<!\d){_NUMBER.format('c')}|(?<=cost )(?<!\d){_NUMBER.format('d')})(?: (?:each|all in|in all))?",
    re.IGNORECASE,
)
_TOLD = re.compile(r"(?:cost|costs|costing|paid|price)\b", re.IGNORECASE)


def without_price(reader: Reader, tokens: Sequence[Token]) -> list[Token]:
    """The tokens without the price of the work in them; nothing is taken where no work is said."""
    tokens = list(tokens)
    match = _PRICE.search(reader.text)
    done = any(token.means("work") or token.means("origin") for token in tokens)
    told = match is not None and bool(_TOLD.match(match.group()))
    stock = any(
        token.means("mark", "ordered") or (not done and token.means("mark", "have", "spare")) for token in tokens
    )
    if match is None or not (done or told) or stock:
        return tokens
    found = [token for token in tokens if match.start() <= token.start < match.end()]
    if not found or any(token.end > match.end() for token in found):
        return tokens
    if not done:  # "coil for 3 cost 45": a sum of nothing that was done
        reader.aside.append(
            Note(reader.words(found), "what it was paid for is not said", f"{reader.words(found)}: for what?")
        )
        return [token for token in tokens if token not in found]
    reader.price = amount_of(match) * (-1.0 if match.group().casefold().endswith("each") else 1.0)
    reader.priced = tuple(found)
    start = next(index for index, token in enumerate(tokens) if token is found[0])
    while start and (tokens[start - 1].is_sign(",", "-") or tokens[start - 1].plain in ("and", "i", "paid", "cost")):
        start -= 1
        reader.priced = (tokens[start], *reader.priced)
    return [token for token in tokens if token not in reader.priced]


def without_sum(reader: Reader, tokens: Sequence[Token]) -> list[Token]:
    """``new hose 28``: a bare number behind what was fitted is no cylinder; whether it is the price is asked."""
    for index, token in enumerate(tokens):
        closed = index + 1 == len(tokens) or tokens[index + 1].is_sign(",")
        if not index or token.whole() is None or not closed or not _is_fitted(reader, tokens[:index], token):
            continue
        ask = f"{token.text}: what it cost?"
        reader.aside.append(Note(token.text, "what the number is was not said", ask))
        reader.ask(ask)
        reader.use([token])
        return [*tokens[:index], *tokens[index + 1 :]]
    return list(tokens)


def _is_fitted(reader: Reader, before: Sequence[Token], number: Token) -> bool:
    """Right before the number, or the comma before it, stands a part that was put in; where it has several, the number
    may be that of one.
    """
    before = before[:-1] if before[-1].is_sign(",") else before
    start = max((i + 1 for i, token in enumerate(before) if token.is_sign(",")), default=0)
    put_in = any("replaced" in token.ids("work") for token in before[start:])
    part = reader.part(before[-1]) if before[-1].means("part") else ""
    only_one = bool(part) and reader.part_place(part) == "engine"
    return put_in and bool(part) and (only_one or (number.whole() or 0) > HIGHEST)


def note_price(reader: Reader) -> None:
    """Give the price to the work of the line, shared out evenly among its pieces."""
    works = [index for index, body in enumerate(reader.bodies) if isinstance(body, Work) and body.who == "here"]
    if not works or reader.price is None:
        return
    for index in works:
        work = reader.bodies[index]
        assert isinstance(work, Work)
        each = -reader.price * len(work.places) if reader.price < 0.0 else reader.price / len(works)
        reader.bodies[index] = msgspec.structs.replace(work, price=each)
    reader.use_turned(reader.priced)


def amount_of(match: re.Match[str]) -> float:
    """The number of a price that was found."""
    return money(next(value for value in match.groupdict().values() if value))


def money(text: str) -> float:
    """``1.200`` and ``1,200`` are thousands, ``38,50`` is not."""
    if re.fullmatch(r"\d{1,3}(?:[.,]\d{3})+", text):
        return float(text.replace(",", "").replace(".", ""))
    return float(text.replace(",", "."))
