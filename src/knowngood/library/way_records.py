"""Records of a value's way: from what is true over sensor, wire and computer to the instrument."""

from __future__ import annotations

from knowngood.library.record import Record

TRUE = "true"
"""In ``after``: the step takes the value itself, from no other step."""


class Step(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One step of a value's way; its id is the ladder of what has become of the value behind it.

    ``after``: the step it has the value from; empty for the one written before it, :data:`TRUE` for none. ``inputs``:
    other ladders that falsify it here, as in a ladder.
    """

    id: str
    name: str
    after: str = ""
    inputs: dict[str, dict[str, str]] = {}


class Way(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How a value comes to be read, step by step.

    ``truth``: the ladder of the value itself, empty where none is kept. ``levels``: what may have become of the value,
    from as it is to worst. ``shown``: what a reading of it shows, from usual to worst; ``truth_shows`` and ``shows``
    map levels of the truth and of a step to these.
    """

    id: str
    name: str
    source: str
    levels: tuple[str, ...]
    steps: tuple[Step, ...]
    shown: tuple[str, ...]
    shows: dict[str, str]
    truth: str = ""
    truth_shows: dict[str, str] = {}
    place: str = "engine"
    unordered: str = ""

    def before(self, step: Step) -> str:
        """Id of the step another has the value from; empty where it takes the value itself."""
        if step.after:
            return "" if step.after == TRUE else step.after
        at = self.steps.index(step)
        return self.steps[at - 1].id if at else ""
