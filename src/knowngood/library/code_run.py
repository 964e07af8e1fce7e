"""Ids of codes: ``P0335``, or a run ``P0301..P0312`` with one code for each cylinder.

A run counts in tens: behind P0309 stands P0310, cylinder 10, though a code's digits may be hexadecimal elsewhere.

References
----------
SAE J2012 (ISO 15031-6), the list of generic codes: P0310 to P0312 are cylinders 10 to 12 (from memory).
"""

from __future__ import annotations

import re
from functools import lru_cache

_CODE = re.compile(r"([PCBU][0-3][0-9A-F])([0-9A-F]{2})")
_RUN = re.compile(r"([^.]+)\.\.([^.]+)")


@lru_cache(maxsize=4096)
def code_run(text: str) -> tuple[str, ...]:
    """The codes an id stands for, in order; empty when it is none. Runs count in tens, as cylinders do.

    Examples
    --------
    >>> code_run("P0301..P0304")
    ('P0301', 'P0302', 'P0303', 'P0304')
    >>> code_run("P0335"), code_run("P0304..P0301"), code_run("lean")
    (('P0335',), (), ())
    """
    ends = _RUN.fullmatch(text)
    if ends is None:
        return (text,) if _CODE.fullmatch(text) else ()
    first, last = _CODE.fullmatch(ends[1]), _CODE.fullmatch(ends[2])
    if first is None or last is None or first[1] != last[1] or not (first[2] + last[2]).isdigit():
        return ()
    return tuple(f"{first[1]}{number:02d}" for number in range(int(first[2]), int(last[2]) + 1))
