"""Everything that can be said of a car's state, as frozen records.

An :class:`Entry` is one line of the journal: when it happened, when it was
typed, the words as typed, and one body. Bodies never change; a correction is
another entry that strikes the first.
"""

from knowngood.evidence.bodies import (
    Access,
    Body,
    CarFact,
    Clock,
    Finding,
    Note,
    Setting,
    Stock,
    Strike,
    Tool,
    Undone,
    Work,
)
from knowngood.evidence.entry import BODY_VERSION, Entry
from knowngood.evidence.places import named_places
from knowngood.evidence.reading import REMEMBERED, Reading, Value

__all__ = [
    "BODY_VERSION",
    "REMEMBERED",
    "Access",
    "Body",
    "CarFact",
    "Clock",
    "Entry",
    "Finding",
    "Note",
    "Reading",
    "Setting",
    "Stock",
    "Strike",
    "Tool",
    "Undone",
    "Value",
    "Work",
    "named_places",
]
