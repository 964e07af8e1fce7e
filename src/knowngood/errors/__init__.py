"""What can go wrong, as one small tree.

::

    KnownGoodError            everything this program raises on purpose
    ├── Refused               what was typed or asked cannot be done; nothing was changed (exit 2)
    ├── LibraryInvalid        knowledge files have problems; carries all of them (exit 1)
    ├── StoreDamaged          a workshop file cannot be read as it should be (exit 2)
    ├── ImpossibleEvidence    no set of faults explains the readings at all; names them (exit 1)
    └── NotMeasurable         the numbers cannot carry an answer; says which and why (exit 2)

A message says what is so, then what to do. A ``Problem`` is one such message
with the place it was found at; many can be gathered before one error is raised.
"""

from knowngood.errors.problem import Problem
from knowngood.errors.tree import (
    ImpossibleEvidence,
    KnownGoodError,
    LibraryInvalid,
    NotMeasurable,
    Refused,
    StoreDamaged,
)

__all__ = [
    "ImpossibleEvidence",
    "KnownGoodError",
    "LibraryInvalid",
    "NotMeasurable",
    "Problem",
    "Refused",
    "StoreDamaged",
]
