"""Job codes: short enough to type with one thumb, no two signs that look alike."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection

from knowngood.errors import Problem, Refused

LETTERS = "abcdefghjkmnpqrstuvwxyz"
DIGITS = "23456789"
TRIES = 1000


def new_code(taken: Collection[str], new_id: Callable[[], str]) -> str:
    """A code of letter, digit, letter, digit that no job has yet.

    Parameters
    ----------
    taken : collection of str
        Codes in use.
    new_id : callable
        Gives a random id at each call; the code is drawn from it.

    Raises
    ------
    Refused
        No free one was met in 1000 draws; there are 33856 codes in all.

    Examples
    --------
    >>> new_code((), lambda: "always the same")
    's9x9'
    """
    for _ in range(TRIES):
        draw = hashlib.sha256(new_id().encode()).digest()
        code = "".join(signs[byte % len(signs)] for signs, byte in zip((LETTERS, DIGITS) * 2, draw, strict=False))
        if code not in taken:
            return code
    raise Refused(Problem(f"{len(taken)} job codes are taken.", "Begin another workshop folder."))
