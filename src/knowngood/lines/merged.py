"""Tokens that together name one thing: the connector or wire of a part, a sensor by its position, a "when it dies"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile

from knowngood.lines.compounds import with_compounds
from knowngood.lines.connectors import with_connectors
from knowngood.lines.token import Token
from knowngood.lines.vocabulary import PASSED_OVER, Sense, Vocabulary

WIRES = frozenset(["wire", "wires", "wiring", "cable"])
PULLED = frozenset(["throttle cable", "clutch cable", "accelerator cable"])
"""They pull, and carry no current."""
TO = frozenset(["to", "at", "of", "for"])


def merged(tokens: Sequence[Token], text: str, vocabulary: Vocabulary) -> tuple[Token, ...]:
    """The tokens with those that name one thing together made one."""
    found = _with_whole_names(_opened(tokens), text, vocabulary)
    found = _with_positions(_with_leak_rows(found), text, vocabulary)
    found = with_compounds(_with_wires(with_connectors(found, vocabulary), text, vocabulary), text)
    return tuple(_with_moments(_with_properties(found, vocabulary), text))


def _joined(tokens: Sequence[Token], text: str, senses: tuple[Sense, ...]) -> Token:
    first, last = tokens[0], tokens[-1]
    plain = " ".join(token.plain for token in tokens)
    return replace(
        first, kind="term", text=text[first.start : last.end], end=last.end, plain=plain, senses=senses, parts=()
    )


BLOCKED = frozenset(["blocked", "blocks", "blocking"])
"""Said of anything; the block is the engine's."""
EVEN_SO = frozenset(["with", "when", "after", "if", "though", "on", "at", "in", "while"])
"""Behind "even" these make it stress, and no judgement."""


def _opened(tokens: Sequence[Token]) -> list[Token]:
    """``put new plugs in``: behind a verb of work a part with a small word is no condition ("plugs in");
    nor is it behind another part (``pcv hose off``)."""
    out: list[Token] = []
    battery = any({"battery", "terminal", "post"} & set(token.plain.split()) for token in tokens)
    for index, token in enumerate(tokens):
        if token.plain in ("clamp", "clamps") and not battery:
            token = replace(token, kind="word", senses=())
        if token.text.casefold() in BLOCKED:
            token = replace(token, senses=tuple(sense for sense in token.senses if sense.kind != "part"))
        behind = tokens[index + 1] if index + 1 < len(tokens) else None
        if token.plain == "even" and behind is not None and behind.plain.split()[0] in EVEN_SO:
            token = replace(token, senses=(Sense("filler", "even"),))
        if behind is not None and behind.kind == "num" and _ends_at_cylinder(token):
            out += token.parts  # "at injector 3"
            continue
        if token.plain in ("dead", "stone", "rock", "bone") and behind is not None and behind.means("word"):
            token = replace(token, senses=(Sense("filler", "in"),))  # "dead quiet"
        worked = bool(out) and any(out[-1].means(kind) for kind in ("work", "origin", "part"))
        named = any(part.means("part") for part in token.parts)
        out += token.parts if worked and named and token.means("condition") else (token,)
    return out


MOST_OF_A_NAME = 3
"""So many words at most go on with the name of a part; a convention of ours."""


def _with_whole_names(tokens: list[Token], text: str, vocabulary: Vocabulary) -> list[Token]:
    """``changed oil pressure switch``: where what ends a verb begins the name of a part, the verb ends before."""
    out: list[Token] = []
    index = 0
    while index < len(tokens):
        token, end = tokens[index], index + 1
        senses: tuple[Sense, ...] = ()
        if token.means("work") and token.parts and token.parts[-1].means("part"):
            for end in range(min(index + 1 + MOST_OF_A_NAME, len(tokens)), index + 1, -1):
                name = text[token.parts[-1].start : tokens[end - 1].end]
                senses = tuple(sense for sense in vocabulary.look_up(name) if sense.kind == "part")
                if senses:
                    break
        if senses:
            out += [*token.parts[:-1], _joined([token.parts[-1], *tokens[index + 1 : end]], text, senses)]
        else:
            out.append(token)
            end = index + 1
        index = end
    return out


def _is_amount(token: Token) -> bool:
    return token.kind in ("num", "unit", "sign") or token.means("mark", "cylinder", "none")


LEAKDOWN = (Sense("kind", "leakdown"),)


def _with_leak_rows(tokens: list[Token]) -> list[Token]:
    """``leak 12 - 9 14``, ``leak cyl 3 40 %``: at the head of a statement, before numbers, the leak-down test."""
    out = list(tokens)
    for index, token in enumerate(tokens):
        head = not index or tokens[index - 1].is_sign(",", ";", ".")
        if token.plain not in ("leak", "leaks") or not head:
            continue
        ends = (i for i in range(index + 1, len(tokens)) if tokens[i].is_sign(";", "."))
        run = tokens[index + 1 : next(ends, len(tokens))]
        amounts = list(takewhile(_is_amount, run))
        numbers = sum(t.kind == "num" for t in amounts)
        if numbers > 1 or any(t.text == "%" for t in amounts):
            out[index] = replace(token, senses=LEAKDOWN)
    return out


def _ends_at_cylinder(token: Token) -> bool:
    """An outcome that says where (``at injector``) and ends with a part that every cylinder has."""
    where = len(token.parts) > 1 and token.parts[0].plain in ("at", "on", "near", "in", "by")
    return where and token.means("word") and token.parts[-1].means("part", "injector", "coil", "plug", "lead")


def _with_wires(tokens: list[Token], text: str, vocabulary: Vocabulary) -> list[Token]:
    """``wire at inj``, ``maf wiring``: the wire of that part, where the library has it as one."""
    out: list[Token] = []
    index = 0
    while index < len(tokens):
        run = tokens[index : index + 3]
        wire: tuple[Sense, ...] = ()
        used = 0
        if len(run) == 3 and run[0].plain in WIRES and run[1].plain in TO:
            wire, used = _wire_of(run[2], vocabulary) or _own_of(run[2]), 3
        elif len(run) > 1 and run[1].plain in WIRES and f"{run[0].plain} {run[1].plain}" not in PULLED:
            wire, used = _wire_of(run[0], vocabulary) or _own_of(run[0]), 2
        elif len(run) == 3 and run[2].plain in WIRES and run[1].whole() and run[0].means("part", "injector"):
            wire = _wire_of(run[0], vocabulary) or run[0].senses
            out += [replace(run[0], senses=wire), run[1], replace(run[2], senses=(Sense("filler", "in"),), plain="the")]
            index += 3
            continue
        out.append(_joined(run[:used], text, wire) if wire else tokens[index])
        index += used if wire else 1
    return out


PROPERTIES = frozenset(["resistance", "ohms", "gap", "primary", "secondary", "winding", "click", "clicks", "look"])


def _with_properties(tokens: list[Token], vocabulary: Vocabulary) -> list[Token]:
    """``injector 3 resistance``: what is measured of a part, with the number of its cylinder between."""
    out = list(tokens)
    for index in range(len(tokens) - 2):
        part, number, what = tokens[index : index + 3]
        if not (part.means("part") and number.whole() and what.plain in PROPERTIES):
            continue
        named = vocabulary.look_up(f"{part.plain} {what.plain}")
        if any(sense.kind in ("kind", "says") for sense in named):
            out[index] = replace(part, senses=named)
            out[index + 2] = replace(what, kind="term", senses=(Sense("filler", "in"),), plain="in")
    return out


def _own_of(token: Token) -> tuple[Sense, ...]:
    """Where the library has no wire of a sensor or a valve, what is seen of it is of that part."""
    return tuple(s for s in token.senses if s.kind == "part" and s.id.endswith(("_sensor", "_valve", "_meter")))


def _wire_of(token: Token, vocabulary: Vocabulary) -> tuple[Sense, ...]:
    parts = [part.removesuffix("_sensor") for part in token.ids("part")]
    known = [sense for part in parts for sense in vocabulary.look_up(f"{part} wire".replace("_", " "))]
    return tuple(sense for sense in known if sense.kind == "part" and sense.id.endswith("_wire"))


def _with_positions(tokens: list[Token], text: str, vocabulary: Vocabulary) -> list[Token]:
    """``o2 b2s1``, ``b1 s2 o2``: each sensor before or behind the catalyst, of a bank.

    One before it is the sensor that is meant where no position is said; one behind it has a name of its own, and the
    bare name beside it is not that of another.
    """
    out: list[Token] = []
    index = 0
    named = any(token.means("part", "oxygen_sensor") for token in tokens)
    while index < len(tokens):
        token = tokens[index]
        if not _is_position(tokens, index):
            out.append(token)
            index += 1
            continue
        rear = tokens[index + 1].plain == "2"
        name = "rear o2 sensor" if rear else "o2 sensor"
        senses = tuple(s for s in vocabulary.look_up(name) if s.kind in ("part", "says", "kind"))
        at = _joined((token, tokens[index + 1]), text, senses)
        beside = out[-3] if len(out) > 2 else None  # before the bank
        if rear and beside is not None and beside.means("part", "oxygen_sensor"):
            del out[-3]
        elif not rear and named:
            at = replace(at, senses=(Sense("filler", "in"),), plain="in")
        out.append(at)
        index += 2
        if rear and index < len(tokens) and tokens[index].means("part", "oxygen_sensor"):
            index += 1
    return out


def _is_position(tokens: Sequence[Token], index: int) -> bool:
    """``s1`` behind ``b2``, ``sensor 1`` behind ``bank 2``."""
    if not 2 <= index < len(tokens) - 1 or tokens[index].plain not in ("s", "sensor"):
        return False
    number, bank = tokens[index + 1], tokens[index - 1]
    tight = (not number.spaced or tokens[index].plain == "sensor") and number.plain in ("1", "2")
    return tight and bank.plain in ("1", "2") and tokens[index - 2].means("mark", "bank")


WHEN = frozenset(["when", "while", "whenever", "once", "as", "until"])
SUBJECTS = frozenset(["she", "he", "engine", "car", "motor", *PASSED_OVER])


def _complains(token: Token) -> bool:
    return any(token.means(kind) for kind in ("says", "outcome", "alone")) and not token.means("part")


def _unknown_moment(tokens: Sequence[Token], index: int, *, complained: bool) -> int:
    """Where ``when the clutch is pressed`` ends, behind a complaint: a moment in words that say nothing else; or 0."""
    if tokens[index].plain not in ("when", "while", "whenever") or not complained:
        return 0
    end = index + 1
    while end < len(tokens) and not tokens[end].is_sign(",", ";", ".") and tokens[end].plain not in ("but", "then"):
        end += 1
    run = tokens[index + 1 : end]
    known = ("condition", "effect", "work", "outcome", "alone", "says", "kind")
    loose = any(token.kind == "word" and token.plain not in SUBJECTS for token in run)
    plain = all(token.kind in ("word", "term") and not any(token.means(kind) for kind in known) for token in run)
    return end if loose and plain and len(run) <= MOST_WORDS else 0


MOST_WORDS = 6


def _with_moments(tokens: list[Token], text: str) -> list[Token]:
    """``when it dies``: the moment at which the rest is so, and no complaint of its own."""
    out: list[Token] = []
    index = 0
    while index < len(tokens):
        end = _unknown_moment(tokens, index, complained=any(_complains(token) for token in out))
        if end:
            run = tokens[index:end]
            out.append(_joined(run, text, (Sense("condition", text[run[0].start : run[-1].end].casefold()),)))
            index = end
            continue
        end = index + 1
        while end < len(tokens) and tokens[end].plain in SUBJECTS:
            end += 1
        verb = tokens[end] if end < len(tokens) else None
        if (
            tokens[index].plain in WHEN
            and end > index + 1
            and verb is not None
            and any(verb.means(kind) for kind in ("says", "outcome", "alone"))
            and not verb.means("condition")
        ):
            run = tokens[index : end + 1]
            said = text[run[0].start : run[-1].end].casefold()
            out.append(_joined(run, text, (Sense("condition", said),)))
            index = end + 1
            continue
        out.append(tokens[index])
        index += 1
    return out
