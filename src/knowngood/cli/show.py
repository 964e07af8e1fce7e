"""The answer as text in 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import click
import msgspec

from knowngood.app.answer import Answer, NextStep
from knowngood.app.whereabouts import how_likely, places_beside, where
from knowngood.cli.screen import shown
from knowngood.sheets.words import in_words, minutes, money, signed, small, strokes

if TYPE_CHECKING:
    from knowngood.app.workshop import Workshop

WIDTH = 78
ANSWERS = 3  # of a step that must fit a phone
MANY = 3  # cautions
MARKED = 0.2  # so much likelier than the one before it, a suspect stands there for another reason than its chance
UNWEIGHED = 2  # lines of which is not known how far they moved a suspect
BLANKS = 7  # before the text of an answer
REFUSED, ALIKE, ASKED = 2, 1, 4  # refusals, pairs that nothing tells apart, questions: so many are shown
NOTHING_TO_DO = "Nothing to do is known yet. Say what the car does, such as 'shakes at cold idle'."


def opened(home: Path) -> Workshop:
    """The workshop, open until the verb ends, so that its word for money holds for all that is shown."""
    from knowngood.app.workshop import Workshop
    from knowngood.library.load import load_for

    return click.get_current_context().with_resource(Workshop(home, load_for(home)))


def wrap(text: str, indent: str = "", first: str | None = None) -> str:
    """Text folded into the terminal's width; ``first`` stands before the first line instead of the indent.

    Signs that a screen would obey are shown, into a pipe, too: what is laid out is for a screen sooner or later.
    """
    return textwrap.fill(
        shown(text),
        WIDTH,
        initial_indent=indent if first is None else first,
        subsequent_indent=indent,
        break_on_hyphens=False,
    )


def as_json(value: object) -> str:
    """One value as JSON, indented."""
    return msgspec.json.format(msgspec.json.encode(value), indent=2).decode()


def echo_lines(lines: Iterable[str]) -> None:
    """Print lines."""
    for line in lines:
        click.echo(line)


def leading_sentence(answer: Answer) -> str:
    """The one sentence on top."""
    if not answer.suspects:
        return "Nothing is known yet."
    first = answer.suspects[0]
    chance = how_likely(first, ranged=True)
    if not answer.next:
        return "Nothing is known to be wrong yet. What neglected cars have most often stands below."
    return f"Most likely: {first.name}{where(first)}, {chance}."


def suspect_lines(answer: Answer, most: int = 10) -> Iterator[str]:
    """The suspects, one or two lines each."""
    for number, suspect in enumerate(answer.suspects[:most], start=1):
        tally = strokes(suspect.shown) or "."
        said = f"{suspect.name}{where(suspect)}: {how_likely(suspect)}"
        yield wrap(said, " " * 16, f"{number:2}. {tally:<11} ")
        places = places_beside(suspect)
        if places:
            yield wrap("there: " + ", ".join(places), indent=" " * 16)
        reasons = [
            f"line {one.line}, which found it" if one.settled else f"line {one.line} {signed(one.weight)}"
            for one in suspect.because[:4]
        ]
        if not any(one.settled or one.weight > 0.0 for one in suspect.because):
            reasons += [f"line {one.line} (how far is not known)" for one in suspect.unweighed[:UNWEIGHED]]
        reasons += [f"{one.text} {signed(one.weight)}" for one in suspect.story[:2]]
        if reasons:
            yield wrap("because of " + ", ".join(reasons), indent=" " * 16)
    yield f"    {strokes(answer.unlisted) or '.':<11} something not in my list: {in_words(answer.unlisted)}"
    if any(after.shown > before.shown + MARKED for before, after in pairwise(answer.suspects[:most])):
        yield wrap("First what can be behind what it does, then what is there beside it.", indent="    ", first="    ")


def step_lines(step: NextStep, number: int | None = None, *, full: bool = True) -> Iterator[str]:
    """One step: what, where, minutes, tool, what comes off, why, what each answer leads to.

    Not in ``full`` it fits a phone held upright: of the answers only what is done then, of each caution the first
    sentence.
    """
    head = f"{number}. " if number else ""
    price = f", {money(step.money)} in parts" if step.money else ""
    yield wrap(f"{head}{step.name} ({minutes(step.minutes)}{price})", indent="   ", first="")
    if step.tools:
        yield wrap("with: " + ", ".join(step.tools), indent="     ", first="   ")
    if step.before:
        yield wrap(f"before that: {step.before}", indent="     ", first="   ")
    if step.wait:
        yield wrap(f"wait: {step.wait}", indent="     ", first="   ")
    if step.opens:
        yield wrap("comes off first: " + ", ".join(step.opens), indent="     ", first="   ")
    yield wrap(step.why, indent="   ")
    lines = 2 if len(step.cautions) < MANY else 1  # of an answer: a caution is not shortened for it
    for after in step.answers if full else step.answers[:ANSWERS]:
        then = f"then {small(after.do)}" if after.do and not full else after.then
        said = f"{after.answer} ({in_words(after.chance)}): {then}"
        yield wrap(said if full else cut(said, lines * (WIDTH - BLANKS)), indent=" " * BLANKS, first="   - ")
    if step.against_replace:
        yield wrap(step.against_replace, indent="   ")
    for flip in step.flips if full else step.flips[:1]:
        yield wrap(flip, indent="   ")
    for caution in step.cautions:
        yield wrap(f"Caution: {caution if full else first_sentence(caution)}", indent="   ")


def cut(text: str, width: int) -> str:
    """Text that fits a width, its end left out where it is longer.

    >>> cut("listen to each injector", 12)
    'listen to...'
    """
    return textwrap.shorten(text, width, placeholder="...") if len(text) > width else text


def first_sentence(text: str) -> str:
    """Up to the first full stop: what stands behind a colon is mostly what to do, and stays.

    >>> first_sentence("Fans start by themselves: battery off. Keep hands away.")
    'Fans start by themselves: battery off.'
    """
    first, stop, _ = text.partition(". ")
    return f"{first}." if stop else text


def next_lines(answer: Answer, *, full: bool, most: int) -> Iterator[str]:
    """The first step so that it fits a screen, and the others by name; in ``full`` as many as ``most`` at length."""
    at_length = most if full else 1
    for number, step in enumerate(answer.next[:at_length], start=1):
        yield from step_lines(step, number, full=full)
    others = [f"{small(step.name)} ({minutes(step.minutes)})" for step in answer.next[at_length : at_length + 4]]
    if others:
        yield wrap("Else: " + "; ".join(others), indent="   ")
    if answer.next and not full:
        yield wrap("All answers and cautions in full: --all", indent="   ")


def answer_lines(answer: Answer, *, full: bool = False) -> Iterator[str]:
    """The whole answer."""
    yield wrap(leading_sentence(answer))
    yield ""
    yield "Suspects"
    yield from suspect_lines(answer)
    yield ""
    yield "Next"
    yield from next_lines(answer, full=full, most=3)
    if not answer.next:
        yield wrap(NOTHING_TO_DO, indent="   ", first="   ")
    for refusal in answer.refused[:REFUSED]:
        yield ""
        yield wrap(refusal)
    for pair in answer.alike[:ALIKE]:
        yield ""
        yield wrap(pair.said)
    if answer.asks:
        yield ""
        yield "Tell me"
        for ask in answer.asks[:ASKED]:
            yield wrap(ask, indent="   ", first=" - ")
    if answer.not_understood:
        yield ""
        yield "Kept as a note, does not count"
        for line in answer.not_understood:
            yield wrap(f'line {line.line} "{line.text}": {line.why}', indent="   ", first=" - ")
    if answer.surprises:
        yield ""
        for surprise in answer.surprises:
            yield wrap(surprise, indent="   ", first=" - ")
    if answer.assumed:
        yield ""
        yield wrap("Assumed: " + "; ".join(dict.fromkeys(answer.assumed)) + ".", indent="   ")
