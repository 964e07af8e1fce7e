"""The answer in the one form that is promised: ``knowngood weigh --json``.

Names, order and meaning of the fields stay as they are as long as ``version`` does. What a door of ours shows besides
is in :mod:`knowngood.app.answer`; ``knowngood weigh --json --all`` prints that.
"""

from __future__ import annotations

from typing import Any

import msgspec

from knowngood.app.answer import Answer, NextStep
from knowngood.library.find import part_name
from knowngood.library.records import Library


class Strict(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Neither a field more nor one less."""


class LineRead(Strict, frozen=True, kw_only=True):
    """A line of the notes, 1-based, and the entries it became."""

    line: int
    text: str
    entries: list[Any]


class LineKept(Strict, frozen=True, kw_only=True):
    """A line, or a part of one, that is kept as a note and does not count."""

    line: int
    text: str
    why: str


class AtPlace(Strict, frozen=True, kw_only=True):
    """Where a suspect may be, with its chance there (0..1)."""

    place: str
    chance: float


class Moved(Strict, frozen=True, kw_only=True):
    """How far one line moved the suspect: change of its log odds, 10 log10."""

    line: int
    weight: float


class SuspectForm(Strict, frozen=True, kw_only=True):
    """A suspect, the likeliest first; ``fault`` is the id of its likeliest kind."""

    fault: str
    name: str
    part: str
    chance: float
    places: list[AtPlace]
    because: list[Moved]


class AnswerForm(Strict, frozen=True, kw_only=True):
    """One answer a step may give, its chance (0..1), and what follows from it."""

    answer: str
    chance: float
    then: str


class StepRow(Strict, frozen=True, kw_only=True):
    """A next step, the best first; ``id`` is the check or part in the library, ``what`` the same in words."""

    do: str
    what: str
    id: str
    name: str
    place: str
    minutes: float
    money: float
    why: str
    answers: list[AnswerForm]
    cautions: list[str]


class WeighForm(Strict, frozen=True, kw_only=True):
    """The whole answer; ``ms`` is the time it took, without the start of the process."""

    car: dict[str, Any]
    understood: list[LineRead]
    not_understood: list[LineKept]
    version: int
    suspects: list[SuspectForm]
    unlisted: float
    exact: bool
    error_bound: float
    next: list[StepRow]
    asks: list[str]
    library: str
    ms: float


def weigh_form(answer: Answer, library: Library) -> WeighForm:
    """An answer in the promised form."""
    return WeighForm(
        car=answer.car,
        understood=[LineRead(line=one.line, text=one.text, entries=one.entries) for one in answer.understood],
        not_understood=[LineKept(line=one.line, text=one.text, why=one.why) for one in answer.not_understood],
        version=answer.version,
        suspects=[
            SuspectForm(
                fault=one.fault,
                name=one.name,
                part=one.part,
                chance=one.chance,
                places=[AtPlace(place=at.place, chance=at.chance) for at in one.places],
                because=[Moved(line=why.line, weight=why.weight) for why in one.because],
            )
            for one in answer.suspects
        ],
        unlisted=answer.unlisted,
        exact=answer.exact,
        error_bound=answer.error_bound,
        next=[_step(step, library) for step in answer.next],
        asks=answer.asks,
        library=answer.library,
        ms=answer.ms,
    )


def _step(step: NextStep, library: Library) -> StepRow:
    return StepRow(
        do=step.do,
        what=_in_words(step, library),
        id=step.what,
        name=step.name,
        place=step.place,
        minutes=step.minutes,
        money=step.money,
        why=step.why,
        answers=[AnswerForm(answer=one.answer, chance=one.chance, then=one.then) for one in step.answers],
        cautions=step.cautions,
    )


def _in_words(step: NextStep, library: Library) -> str:
    """What the step is about: the readings it takes, or the part it works on."""
    read = dict.fromkeys(library.readings[ask.kind].name for ask in step.reads if ask.kind in library.readings)
    return ", ".join(read) or part_name(library, step.what)
