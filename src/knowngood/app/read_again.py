"""What was wrong before a repair and was not read since, as taps: still so, or not any more."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.app.pieces import DONE, repairs_made
from knowngood.app.proof import NO_EFFECT, PROVED, proofs_of
from knowngood.app.state import State
from knowngood.app.story import bears_on, name_of, seen_before_and_after
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
    """Readings by word, each once, whatever number of repairs wait for it; numbers are measured again, not tapped.

    A repair that is proved waits for nothing.
    """
    found: dict[str, ReadAgain] = {}
    codes = False
    proved = _proved(state)
    for index, entry in enumerate(state.entries):
        work = entry.body
        if not isinstance(work, Work) or work.do not in DONE or work.who != "here" or work.effect in NO_EFFECT:
            continue
        if index in proved:
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


def _proved(state: State) -> frozenset[int]:
    """The entries of work that is proved."""
    told = zip(repairs_made(state), proofs_of(state), strict=True)
    return frozenset(index for indexes, proof in told if proof.verdict == PROVED for index in indexes)
