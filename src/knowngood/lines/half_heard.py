"""A reading by word beside words that were not understood may say something else: kept, asked, not counted."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

import msgspec

from knowngood.car import ENGINE
from knowngood.evidence import Body, Finding, Reading
from knowngood.lines.elements import RPM_SPAN
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.unread import matters, weighs


def doubt_behind(reader: Reader, run: Sequence[Token], before: int) -> str:
    """What was done with a part or a tool and not understood: what comes behind it in the sentence may hang on it."""
    if len(reader.bodies) > before:
        return ""
    unread = [token for token in run if reader.is_unread(token) and weighs(token)]
    acts = any(_is_verb(token) or token.means("tool") for token in unread)
    things = any(token.means("part") or token.means("tool") for token in unread)
    first = bool(unread) and _is_verb(unread[0])
    return reader.words(run) if acts and (things or first) else ""


LEAST_OF_A_VERB = 5
"""So many letters at least has a verb that ends with "ed": "red" and "bed" are none, "moved" is."""


def _is_verb(token: Token) -> bool:
    """A word that may say what was done."""
    word = token.text.casefold()
    return word.endswith("ed") and not word.endswith("eed") and len(word) >= LEAST_OF_A_VERB


def put_in_doubt(reader: Reader, before: int, why: str) -> None:
    """Readings by word from an index on, in doubt."""
    for index in range(before, len(reader.bodies)):
        body = reader.bodies[index]
        if isinstance(body, Reading) and body.value is None and body.kind != "code" and not body.doubt:
            reader.bodies[index] = msgspec.structs.replace(body, doubt=why)


BESIDE = re.compile(
    r"s|secs?|seconds?|min|mins|minutes?|h|hrs?|hours?|days?|weeks?|mph|kmh|km/h|kph|miles?|km|mm|cm|m|turns?|times?|tries|goes|l|ltrs?|litres?|liters?|ml|pints?|qts?|quarts?"
)
"""Units of how long, how far, how fast: beside what was seen they say more of it, and are kept with it."""


ELSEWHERE = frozenset(["rear", "front", "behind", "downstream", "upstream", "other", "upper", "lower", "between"])
"""Words that put a number somewhere else than where it was heard."""
MOST_HEARD = 3
"""Where fewer than one word in so many is not understood, it is taken for story; a convention of ours."""
LIMITS = ("above", "over", "past", "beyond", "below", "under")
"""Behind these a number that is no engine speed limits what was seen, too."""
BOUNDS = frozenset(["above", "over", "past", "beyond", "below", "under", "from", "at", "until", "around", "about"])


def _note_amounts(reader: Reader, run: Sequence[Token], before: int) -> None:
    """``rattles 2 seconds``, ``cuts out at 60 mph``: how long or how fast, kept as a condition."""
    seen = [i for i in range(before, len(reader.bodies)) if _is_by_word(reader.bodies[i])]
    for before_it, number in pairwise(run):
        whole = number.whole() or 0
        if (
            seen
            and before_it.plain.split()[-1] in BOUNDS
            and (RPM_SPAN[0] <= whole <= RPM_SPAN[1] or before_it.plain in LIMITS)
            and number.kind == "num"
            and reader.is_unread(number)
        ):
            turning = " rpm" if RPM_SPAN[0] <= whole else ""
            _say_beside(reader, seen, f"{before_it.plain.split()[-1]} {whole}{turning}")
            reader.use_turned([before_it, number])
    for index, token in enumerate(run):
        if seen and token.plain == "between" and [t.kind for t in run[index + 1 : index + 4 : 2]] == ["num", "num"]:
            _say_beside(reader, seen, reader.words(run[index : index + 4]))
            reader.use_turned(run[index : index + 4])
    found = any(isinstance(body, Finding) for body in reader.bodies[before:])
    for number, unit in pairwise(run):
        if found and number.kind == "num" and BESIDE.fullmatch(unit.plain.casefold()):
            reader.use_turned([number, unit])  # the words of what was found keep it
        loose = number.kind in ("num", "numword") and reader.is_unread(number)
        if not seen or not loose or BESIDE.fullmatch(unit.plain.casefold()) is None:
            continue
        said = _ranged(run, number)
        _say_beside(reader, seen, reader.words([*said, unit]))
        reader.use_turned([*said, unit])


def _ranged(run: Sequence[Token], number: Token) -> Sequence[Token]:
    """``4-5 tries``: the number with the one it ranges from."""
    at = run.index(number)
    joined = at > 1 and (run[at - 1].is_sign("-") or run[at - 1].plain in ("to", "or")) and run[at - 2].kind == "num"
    return run[at - 2 : at + 1] if joined else run[at : at + 1]


def _say_beside(reader: Reader, indices: Sequence[int], said: str) -> None:
    for index in indices:
        body = reader.bodies[index]
        assert isinstance(body, Reading)
        reader.bodies[index] = msgspec.structs.replace(body, conditions=(*body.conditions, said))


def _is_by_word(body: Body) -> bool:
    return isinstance(body, Reading) and body.value is None and body.kind != "code"


def doubt_half_heard(reader: Reader, run: Sequence[Token], before: int) -> None:
    """Put in doubt what a clause was taken for, where words of it were not understood.

    A complaint stands by itself, whatever the driver says around it, unless a part or a number of it is not understood.
    """
    _note_amounts(reader, run, before)
    unread = [token for token in run if reader.is_unread(token) and weighs(token)]
    if not unread:
        return
    tells = any(matters(token) for token in unread)
    if len(unread) * MOST_HEARD < sum(weighs(token) for token in run):
        return
    why = f"'{', '.join(token.text for token in unread)}' was not understood"
    elsewhere = any(token.plain in ELSEWHERE or (token.means("part") and matters(token)) for token in unread)
    for index in range(before, len(reader.bodies)):
        body = reader.bodies[index]
        if not isinstance(body, Reading) or body.kind == "code" or body.doubt:
            continue
        if body.value is not None:
            if elsewhere:
                reader.bodies[index] = msgspec.structs.replace(body, doubt=why)
            continue
        record = reader.kind_record(body.kind)
        placed = body.place != ENGINE  # said of a cylinder, a complaint stands
        if (tells and not placed) or record is None or not record.complaint:
            reader.bodies[index] = msgspec.structs.replace(body, doubt=why)
            reader.ask(f"{reader.words(run)}: {body.kind.replace('_', ' ')} {body.word}?")
