"""What was wrong before a repair and was not read since, as taps: still so, or not any more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.app.pieces import DONE, repairs_made
from knowngood.app.proof import NO_EFFECT, PROVED, is_wanted_again, proofs_of
from knowngood.app.state import State
from knowngood.app.story import bears_on, name_of, seen_before_and_after
from knowngood.evidence import Entry, Reading, Work
from knowngood.library.healthy import healthy_word
from knowngood.library.records import REGIMES, ReadingKind


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
class MeasureAgain:
    """A number that was not as it should be: its name, what it was, the check that reads it."""

    name: str
    was: str
    check: str


@dataclass(frozen=True)
class ToReadAgain:
    """All there is; ``codes``: codes were there before, and were not looked for since."""

    words: tuple[ReadAgain, ...]
    codes: bool
    numbers: tuple[MeasureAgain, ...] = ()


def to_read_again(state: State) -> ToReadAgain:
    """Readings by word and by number, each once, whatever number of repairs wait for it.

    A repair that is proved waits for nothing.
    """
    found: dict[str, ReadAgain] = {}
    numbers: dict[str, MeasureAgain] = {}
    codes = False
    told = {index: proof for made, proof in zip(repairs_made(state), proofs_of(state), strict=True) for index in made}
    for index, entry in enumerate(state.entries):
        work = entry.body
        if not isinstance(work, Work) or work.do not in DONE or work.who != "here" or work.effect in NO_EFFECT:
            continue
        proof = told.get(index)
        if proof is not None and proof.verdict == PROVED:
            continue
        codes = codes or _codes_wait(state, index)
        seen = [
            one for one in seen_before_and_after(state, index) if one.was_bad and bears_on(state, one.reading, work)
        ]
        for one in seen:
            reading = one.reading
            if not is_wanted_again(state, one, seen, proof.left if proof is not None else 1.0):
                continue
            codes = codes or reading.kind == "code"
            kind = state.library.readings.get(reading.kind)
            if kind is not None and reading.value is not None and (check := _check_of(state, kind)):
                numbers[f"{kind.id} {reading.place}"] = MeasureAgain(one.name, one.before, check)
            if kind is None or not kind.words or not reading.word:
                continue
            when = next((condition for condition in reading.conditions if condition in REGIMES), "")
            field = f"word|{kind.id}|{reading.place}"
            found[f"{field} {when}"] = ReadAgain(
                name_of(state, reading), field, when, healthy_word(state.library, kind), reading.word
            )
    return ToReadAgain(tuple(found.values()), codes, tuple(numbers.values()))


def _codes_wait(state: State, index: int) -> bool:
    """Whether codes were read before a repair and not looked for since: not all of them name what was repaired."""
    read = [
        (at, entry.body.word)
        for at, entry in enumerate(state.entries)
        if isinstance(entry.body, Reading) and entry.body.kind == "code"
    ]
    return any(at < index and word != "none" for at, word in read) and not any(at > index for at, _ in read)


def _check_of(state: State, kind: ReadingKind) -> str:
    """The check that reads a kind of number with the fewest others and in the fewest minutes; empty where none does."""
    reads = [check for check in state.library.checks.values() if kind.id in check.reads]
    return min(reads, key=lambda check: (len(check.reads), check.minutes)).id if reads else ""


def not_yet_read(again: ToReadAgain, state: State, now: Sequence[Entry]) -> ToReadAgain:
    """Without what was answered a moment ago: that is not asked again while the answer to it is being worked out.

    Parameters
    ----------
    now : sequence of Entry
        All that stands, of which the state may not know yet.
    """
    known = {entry.id for entry in state.entries}
    new = [entry.body for entry in now if entry.id not in known]
    read = {f"word|{body.kind}|{body.place}" for body in new if isinstance(body, Reading)}
    return ToReadAgain(
        tuple(one for one in again.words if one.field not in read),
        again.codes and not any(isinstance(body, Reading) and body.kind == "code" for body in new),
        again.numbers,
    )
