"""What is done to a part, as it is asked for and as it is written down when it was done."""

from __future__ import annotations

from knowngood.library.find import part_name
from knowngood.library.records import Library

_IMPERATIVES = {
    "replaced": "replace",
    "repaired": "repair",
    "cleaned": "clean",
    "reseated": "reseat",
    "adjusted": "adjust",
    "refilled": "refill",
    "bled": "bleed",
    "relearned": "relearn",
    "cleared": "clear",
    "removed": "remove",
    "fitted": "fit",
    "tried": "try",
}
_DONE = {verb: done for done, verb in _IMPERATIVES.items()}


def imperative(done: str) -> str:
    """``replaced`` -> ``replace``; a word that is none of ours stays."""
    return _IMPERATIVES.get(done, done)


def done(verb: str) -> str:
    """``replace`` -> ``replaced``; a word that is past already stays."""
    return _DONE.get(verb, verb)


def work_asked(library: Library, work: str, part: str) -> str:
    """``replace vacuum hose``, ``charge battery``: work on a part as it is asked for."""
    record = library.parts.get(part)
    own = record.asked_as.get(work) if record is not None else None
    return own or f"{imperative(work)} {part_name(library, part)}"
