"""What was wrong before a repair and was not read since, as taps: still so, or not any more."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.app.proof import NO_EFFECT
from knowngood.app.state import State
from knowngood.app.story import DONE, bears_on, name_of, seen_before_and_after
from knowngood.evidence import Work
from knowngood.library.healthy import healthy_word
from knowngood.library.records import REGIMES


@dataclass(frozen=True)
class ReadAgain:
    """One thing to look at again.

    Parameters
    ----------
    name : str
    field : str
        Of the form, as in :mod:`knowngood.app.taps`.
    when : str
        The regime it showed in; empty where none was told.
    good, bad : str
        The word of a healthy car, and the word it was.
    """

    name: str
    field: str
    when: str
    good: str
    bad: str


@dataclass(frozen=True)
class ToReadAgain:
    """All there is; ``codes``: codes were there before, and were not looked for since."""

    words: tuple[ReadAgain, ...]
    codes: bool


def to_read_again(state: State) -> ToReadAgain:
    """Readings by word, each once, whatever number of repairs wait for it; numbers are measured again, not tapped."""
    found: dict[str, ReadAgain] = {}
    codes = False
    for index, entry in enumerate(state.entries):
        work = entry.body
        if not isinstance(work, Work) or work.do not in DONE or work.who != "here" or work.effect in NO_EFFECT:
            continue
        for one in seen_before_and_after(state, index):
            reading = one.reading
            if not one.was_bad or one.bad_after or not bears_on(state, reading, work):
                continue
            codes = codes or reading.kind == "code"
            kind = state.library.readings.get(reading.kind)
            if kind is None or not kind.words or not reading.word:
                continue
            when = next((condition for condition in reading.conditions if condition in REGIMES), "")
            field = f"word|{kind.id}|{reading.place}"
            found[f"{field} {when}"] = ReadAgain(
                name_of(state, reading), field, when, healthy_word(state.library, kind), reading.word
            )
    return ToReadAgain(tuple(found.values()), codes)
