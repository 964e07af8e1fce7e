"""Codes that are one for each cylinder: ``P0301..P0312``.

They count in tens: behind P0309 stands P0310, cylinder 10, though a code's digits may be hexadecimal elsewhere.

References
----------
SAE J2012 (ISO 15031-6), the list of generic codes: P0310 to P0312 are cylinders 10 to 12 (from memory).
"""

from __future__ import annotations

import re

_RUN = re.compile(r"([PBCU])([0-9]{4})\.\.[PBCU]([0-9]{4})")


def is_run(record: str) -> bool:
    """Whether a record stands for one code of each cylinder."""
    return _RUN.fullmatch(record) is not None


def number_in(record: str, code: str) -> int | None:
    """The cylinder a code of a run speaks of; ``None`` where it is not one of it.

    Examples
    --------
    >>> number_in("P0301..P0312", "P0310")
    10
    """
    run = _RUN.fullmatch(record)
    if run is None or len(code) != 5 or code[0] != run[1] or not code[1:].isdecimal():
        return None
    return int(code[1:]) - int(run[2]) + 1 if run[2] <= code[1:] <= run[3] else None


def code_of(record: str, number: int) -> str:
    """The code of a run for a cylinder.

    Examples
    --------
    >>> code_of("P0301..P0312", 10)
    'P0310'
    """
    run = _RUN.fullmatch(record)
    assert run is not None
    return f"{run[1]}{int(run[2]) + number - 1:04d}"
