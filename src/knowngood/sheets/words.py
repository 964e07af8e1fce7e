"""Chances, money and minutes in words."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

NEARLY_SURE = 0.98
LEAST_IN_TEN = 0.095
"""From here a chance is said in tenths, below as one in so many: 0.095 is as near to one as tenths come (ours)."""


def in_words(chance: float) -> str:
    """A chance as a mechanic would say it.

    >>> in_words(0.41), in_words(0.004), in_words(0.985)
    ('about 4 in 10', 'about 1 in 250', 'nearly sure')
    """
    if chance >= NEARLY_SURE:
        return "nearly sure"
    if chance >= LEAST_IN_TEN:
        return f"about {max(1, min(9, round(10 * chance)))} in 10"
    if chance < 0.0005:
        return "less than 1 in 2000"
    one_in = 1.0 / chance
    # no finer than a chance of that size is known
    step = 1 if one_in < 20 else 10 if one_in < 200 else 50
    return f"about 1 in {round(one_in / step) * step}"


def with_range(chance: float, low: float, high: float) -> str:
    """A chance with its range, where the range says more than the chance.

    >>> with_range(0.41, 0.28, 0.6)
    'about 4 in 10 (3 to 6)'
    """
    words = in_words(chance)
    if not LEAST_IN_TEN <= chance < NEARLY_SURE:
        return words
    a, b = round(10 * low), round(10 * high)
    return words if a == b else f"{words} ({a} to {b})"


def strokes(chance: float) -> str:
    """Ten tally strokes at most, in fives.

    >>> strokes(0.68)
    '||||| ||'
    """
    return tally(round(10 * chance))


def tally(count: int) -> str:
    """A count as strokes, ten at most, in fives.

    >>> tally(7)
    '||||| ||'
    """
    count = min(count, 10)
    return " ".join(part for part in ("|" * min(count, 5), "|" * max(count - 5, 0)) if part)


def minutes(value: float) -> str:
    """Minutes as said.

    >>> minutes(0.5), minutes(12), minutes(150)
    ('1 min', '12 min', '2 h 30')
    """
    whole = max(1, round(value))
    return f"{whole} min" if whole < 120 else f"{whole // 60} h {whole % 60:02}"


_CURRENCY: ContextVar[str] = ContextVar("currency", default="")


@contextmanager
def in_currency(word: str) -> Iterator[None]:
    """Have the shop's word stand behind money while this lasts, in this thread or task only.

    >>> with in_currency("crowns"):
    ...     money(44.6)
    '45 crowns'
    """
    token = _CURRENCY.set(word)
    try:
        yield
    finally:
        _CURRENCY.reset(token)


def money(value: float) -> str:
    """Money without cents, with the shop's word for it where there is one.

    >>> money(44.6)
    '45'
    """
    return f"{value:.0f} {_CURRENCY.get()}".rstrip()


def capital(words: str) -> str:
    """Words that begin a sentence; the rest stays as it is.

    >>> capital("ECU plug")
    'ECU plug'
    >>> capital("coil")
    'Coil'
    """
    return f"{words[:1].upper()}{words[1:]}"


def small(words: str) -> str:
    """Words that go on in a sentence.

    >>> small("Row of compression"), small("MAP hose off")
    ('row of compression', 'MAP hose off')
    """
    return f"{words[:1].lower()}{words[1:]}" if not words[1:2].isupper() else words


def signed(weight: float) -> str:
    """A weight with its sign.

    >>> signed(6.12), signed(-0.4)
    ('+6.1', '-0.4')
    """
    return f"{weight:+.1f}"
