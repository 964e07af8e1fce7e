"""A line cut into tokens: numbers, units, codes, signs, and the words the vocabulary knows."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from knowngood.lines.at_length import told_shortly
from knowngood.lines.merged import merged
from knowngood.lines.reworded import reworded
from knowngood.lines.signs import without_signs
from knowngood.lines.spoken import plainly_spoken
from knowngood.lines.token import HIGHEST, Token
from knowngood.lines.vocabulary import Vocabulary, forms_of, stem
from knowngood.units import kinds, plain_text

NO_UNIT_AFTER_BLANK = frozenset(
    [
        "at",
        "in",
        "off",
        "a",
        "time",
        "times",
        "points",
        "x",
        "d",
        "w",
        "y",
        "some",
        "min.",
        "square",
        "foot",
        "feet",
        "turns",
        "counts",
        "misfires",
        "vac",
    ]
)
"""Spellings of units that are a plain word when a blank stands before them."""

CODE = re.compile(r"(?:(?P<p>p)[ ]?|(?P<o>[bcu]))(?=\w*\d)(?P<d>[0-3o][0-9a-fo]{3})(?![\w])", re.IGNORECASE)
"""With one digit at least: "coded" is a word."""
SHORT_CODE = re.compile(r"p(?P<d>[0-3]\d{2})(?![\w])", re.IGNORECASE)
ARROW = re.compile(r"<>|<-+>|<=+>|-+>|=+>|→|⇒|➔|➜|>>")
FUZZY = re.compile(r"\d+[.,]x+(?![a-z])", re.IGNORECASE)
DOTTED = re.compile(r"\d+(?:\.\d+){2,}")
RUN = re.compile(r"\d+(?:,\d+){2,}")
NUMBER = re.compile(r"\d+(?:[.,]\d+)?|[.,]\d+")
ORDINAL = re.compile(r"\d{1,2}(?:st|nd|rd|th)(?![\w])", re.IGNORECASE)
WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")


@cache
def _unit_pattern() -> re.Pattern[str]:
    spellings = {
        unicodedata.normalize("NFKC", spelling)
        for kind in kinds().values()
        for unit in kind.units.values()
        for spelling in (unit.symbol, *unit.spellings)
        if spelling and not spelling.startswith("'")
    }
    parts = []
    for spelling in sorted(spellings, key=lambda text: (-len(text), text)):
        pattern = r"\s*".join(re.escape(piece) for piece in spelling.split(" "))
        parts.append(pattern + (r"(?![a-zA-Z0-9])" if spelling[-1].isascii() and spelling[-1].isalnum() else ""))
    return re.compile("|".join(parts), re.IGNORECASE)


def _unit_at(text: str, position: int) -> re.Match[str] | None:
    """The unit at a position behind a number, a blank before it allowed."""
    blank = position
    while blank < len(text) and text[blank] == " ":
        blank += 1
    match = _unit_pattern().match(text, blank)
    if match is None or (blank > position and match.group() in NO_UNIT_AFTER_BLANK):
        return None
    if blank > position and match.group().casefold() == "b" and text[match.end() : match.end() + 1].isdigit():
        return None  # a bank, no bar
    return match


def is_unit(word: str) -> bool:
    """Whether a whole word is a unit, of two letters or more."""
    return len(word) > 1 and word not in NO_UNIT_AFTER_BLANK and _unit_pattern().fullmatch(word) is not None


def _code_at(text: str, position: int) -> tuple[str, int] | None:
    """A code in its plain form (``P0304``), and where it ends."""
    match = CODE.match(text, position)
    if match:
        letter = (match.group("p") or match.group("o")).upper()
        return letter + match.group("d").upper().replace("O", "0"), match.end()
    match = SHORT_CODE.match(text, position)
    return (f"P0{match.group('d')}", match.end()) if match else None


def _number_at(text: str, position: int) -> tuple[str, int] | None:
    """A number as written, and where it ends; the first of a list of three or more joined by commas or points."""
    fuzzy = FUZZY.match(text, position)
    if fuzzy:
        return fuzzy.group(), fuzzy.end()
    if RUN.match(text, position) or DOTTED.match(text, position):
        first = re.compile(r"\d+").match(text, position)
        assert first is not None
        return first.group(), first.end()
    match = NUMBER.match(text, position)
    return (match.group(), match.end()) if match else None


def _in_list(tokens: list[Token], text: str, position: int) -> bool:
    """Whether the number at a position goes on a list joined by tight commas or points (``175,180,60``)."""
    return (
        len(tokens) >= 2
        and tokens[-1].is_sign(",", ".")
        and tokens[-1].end == position
        and tokens[-2].kind == "num"
        and tokens[-2].end == tokens[-1].start
    )


def raw_tokens(text: str) -> list[Token]:
    """Tokens of a plain text before any word is looked up."""
    tokens: list[Token] = []
    position, spaced = 0, True

    def put(kind: str, end: int, plain: str) -> None:
        nonlocal position, spaced
        tokens.append(Token(kind, text[position:end], position, end, spaced, plain))
        position, spaced = end, False

    while position < len(text):
        sign = text[position]
        if sign.isspace():
            position, spaced = position + 1, True
            continue
        if arrow := ARROW.match(text, position):
            put("arrow", arrow.end(), "->")
            continue
        before = tokens[-1] if tokens and tokens[-1].end == position else None  # what it stands tight behind
        goes_on = before is not None and before.kind == "num"
        code = None if before is not None and before.kind in ("word", "num") else _code_at(text, position)
        if code:
            put("code", code[1], code[0])
            continue
        if sign in ".," and goes_on:
            put("sign", position + 1, sign)
            continue
        ordinal = ORDINAL.match(text, position)
        if ordinal and before is None:
            put("word", ordinal.end(), ordinal.group().casefold())
            continue
        if _in_list(tokens, text, position) and (digits := re.compile(r"\d+").match(text, position)):
            put("num", digits.end(), digits.group())
        elif number := _number_at(text, position):
            put("num", number[1], number[0])
        else:
            word = WORD.match(text, position)
            if word:
                put("word", word.end(), word.group().casefold().replace("’", "").replace("'", ""))
            else:
                put("sign", position + 1, sign)
            continue
        unit = _unit_at(text, position)
        if unit and unit.start() > position and unit.group().casefold() in ("rpm", "revs") and _is_cylinder(tokens[-1]):
            continue  # "coil 1 rpm drops"
        if unit:
            spaced, position = unit.start() > position, unit.start()
            put("unit", unit.end(), unit.group())
    return tokens


def _is_cylinder(token: Token) -> bool:
    """No engine turns so slowly: a number this small before "rpm" is a cylinder's."""
    return 1 <= (token.whole() or 0) <= HIGHEST


def _spoken(tokens: list[Token], index: int, numbers: dict[str, int]) -> tuple[int, int] | None:
    """Value of a run of number words and how many tokens it takes: ``one seventy five`` is 175."""
    total, used, last = 0, 0, 1000
    while index + used < len(tokens):
        value = numbers.get(tokens[index + used].plain) if tokens[index + used].kind == "word" else None
        if value is None:
            break
        if value == 100 and used and 0 < total < 10:
            total, last = total * 100, 100
        elif used == 1 and total < 10 and 20 <= value < 100 and last < 10:
            total, last = total * 100 + value, value
        elif used and ((last == 100 and value < 100) or (20 <= last < 100 and value < 10)):
            total, last = total + value, value
        elif used:
            break
        else:
            total, last = value, value
        used += 1
    return (total, used) if used else None


def _with_spoken_numbers(tokens: list[Token], text: str, numbers: dict[str, int]) -> list[Token]:
    out: list[Token] = []
    index = 0
    while index < len(tokens):
        spoken = _spoken(tokens, index, numbers)
        if spoken is None:
            out.append(tokens[index])
            index += 1
            continue
        value, used = spoken
        first, last = tokens[index], tokens[index + used - 1]
        out.append(Token("numword", text[first.start : last.end], first.start, last.end, first.spaced, str(value)))
        index += used
        unit = _unit_at(text, last.end)
        if unit and unit.start() > last.end and index < len(tokens) and tokens[index].start == unit.start():
            out.append(Token("unit", unit.group(), unit.start(), unit.end(), True, unit.group()))
            while index < len(tokens) and tokens[index].start < unit.end():
                index += 1
    return out


TRIM_NAMES = frozenset(["term", "trim", "trims", "fuel"])


def spelled_out(tokens: list[Token]) -> list[Token]:
    """The tokens with words that are short for another beside coils or trims read as that."""
    coil = any(token.plain.startswith("coil") for token in tokens)
    trim = any(token.plain.startswith("trim") for token in tokens)
    out = []
    for index, token in enumerate(tokens):
        behind = tokens[index + 1] if index + 1 < len(tokens) else None
        if coil and token.plain in ("sec", "prim", "pri") and token.spaced and behind is not None:
            if behind.kind == "num":
                word = "secondary" if token.plain == "sec" else "primary"
                token = replace(token, kind="word", plain=word)
        elif trim and token.plain in ("long", "short") and behind is not None and behind.plain not in TRIM_NAMES:
            token = replace(token, plain=f"{token.plain[0]}tft")
        out.append(token)
    return out


def scan(text: str, vocabulary: Vocabulary) -> tuple[Token, ...]:
    """Tokens of a line.

    Parameters
    ----------
    text : str
        Plain text, as ``units.plain_text`` gives it.
    vocabulary : Vocabulary

    Returns
    -------
    tuple of Token
        In order; every sign that is no blank is in one of them.
    """
    tokens = spelled_out(raw_tokens(text))
    found = _looked_up(_with_spoken_numbers(tokens, text, vocabulary.numbers), text, vocabulary)
    return merged(found, text, vocabulary)


LINKED = frozenset(forms_of("drops falls sinks goes rises climbs fell rose down up"))


def _before_link(tokens: Sequence[Token], index: int, most: int) -> int:
    """How far a phrase may reach: the verb before "to" and a number joins two numbers (``30 idle drops to 18``)."""
    for at in range(index + 1, min(index + most, len(tokens) - 2)):
        if stem(tokens[at].plain) in LINKED and tokens[at + 1].plain == "to" and tokens[at + 2].kind == "num":
            return at - index
    return most


NO = ("no", "not")


def _denies_longer(vocabulary: Vocabulary, pieces: Sequence[tuple[str, str, bool]], used: int) -> bool:
    """``no spark tester``: behind "no" begins a name that reaches further than what is denied with it."""
    if used < 2 or pieces[0][1] not in NO:
        return False
    _, inner = vocabulary.longest(pieces[1:])
    return inner >= used


def _looked_up(tokens: list[Token], text: str, vocabulary: Vocabulary, most: int = 12) -> tuple[Token, ...]:
    """The tokens with their phrases joined, none longer than ``most`` pieces."""
    out: list[Token] = []
    index = 0
    while index < len(tokens):
        pieces = [(token.kind, token.plain, token.spaced) for token in tokens[index : index + most]]
        pieces = pieces[: _before_link(tokens, index, most)]
        senses, used = vocabulary.longest(pieces)
        if _denies_longer(vocabulary, pieces, used):
            senses, used = vocabulary.longest(pieces[:1])
        if not used:
            out.append(tokens[index])
            index += 1
            continue
        first, last = tokens[index], tokens[index + used - 1]
        span = text[first.start : last.end]
        if used == 1 and first.plain.endswith("s") and not first.plain.endswith("ss"):
            senses = tuple(sense for sense in senses if sense.kind != "work")
        kind = first.kind if used == 1 and first.kind in ("numword", "num", "code") else "term"
        plain = first.plain if used == 1 else " ".join(token.plain for token in tokens[index : index + used])
        inner = _looked_up(tokens[index : index + used], text, vocabulary, used - 1) if used > 1 else ()
        out.append(Token(kind, span, first.start, last.end, first.spaced, plain, senses, inner))
        index += used
    return tuple(out)


_SHARE = re.compile(r"(?<![\d/.,])(1/2|1/4|3/4) ?(?=way|full|empty|tank|throttle|turn|open|load)", re.IGNORECASE)
_SHARES = {"1/2": "half", "1/4": "quarter", "3/4": "three quarters"}
_LOW_BY = re.compile(
    r"\b((?:coolant|coolnt|oil|water|fuel)(?: level)?)(?: (?:is|was))? (\d+(?:[.,]\d+)?) "
    r"?(l|ltrs?|litres?|liters?|ml|pints?|qts?|quarts?|cm|mm) (low|down|short|below min(?:imum)?|under min(?:imum)?)\b",
    re.IGNORECASE,
)
"""``coolant 2 l low``: the amount is said behind, so that "coolant low" stands together."""
_BARE_CODE = re.compile(
    r"(?<![\w.,/-])(0[0-3]\d\d)(?= (?:is |came |come |has |code )?(?:back|again|returned|reset|gone|only)\b)",
    re.IGNORECASE,
)
"""A code without its letter, by what is said of it."""
_STATE_BEHIND = re.compile(
    r"\b([pbcu][0-3][0-9a-f]{3}) ?\((p|pend\w*|s|stored|h|hist\w*|a|act\w*|now|c|conf\w*)\)", re.IGNORECASE
)
_STATES = {"p": "pending", "s": "stored", "h": "stored", "a": "now", "n": "now", "c": "now"}
"""A code's state in brackets behind it."""
_THOUSANDS = re.compile(r"(@ ?|\b(?:at|by|over|above|past) )(\d(?:[.,]\d)?)k(?: ?rpm)?(?![\w])(?! ?ohm)", re.IGNORECASE)


def plain_line(text: str, *, as_shown: bool = False) -> str:
    """The line in plain signs and words: fullwidth and odd dashes turned, blanks joined, turns of phrase made plain.

    What is ``as_shown`` is typed as the program shows it, and keeps its words.
    """
    text = plain_text(text).replace("、", ", ").replace("。", ". ").replace("´", "'").replace("`", "'")
    text = re.sub(r"(?<![\w/])w/p(?:u?mp)?(?!\w)", "water pump", text, flags=re.IGNORECASE)
    text = re.sub(r"(?i)(?<![\w/])w/o(?:ut)?(?!\w)", "without", text)
    text = re.sub(r"(?<![\w/])w/(?=[ a-z])", "with ", text)
    text = re.sub(r"(?i)(?<![\w/])n/a(?!\w)", "not measured", text)
    text = re.sub(r"[Δ∆](?=[UV]\b)", "d", text)
    text = _STATE_BEHIND.sub(lambda match: f"{match[1]} {_STATES[match[2][0].casefold()]}", text)
    text = re.sub(r"(?i)\b((?:new|replaced|fitted)\b[^,;\d]*?) \(?x ?(\d+)\)?(?!\d)", r"\2 \1", text)
    text = plainly_spoken(text if as_shown else reworded(without_signs(told_shortly(text))))
    text = re.sub(r"(?i)\b(no|nr|cyl)\.(?=\d)", r"\1. ", text)
    text = re.sub(r" ?@ ?(?=[a-z])", " at ", text, flags=re.IGNORECASE)
    text = re.sub(r"(?<=\d)\.\.(?=\d)", "-", text)  # a run as the echo shows it
    text = _SHARE.sub(lambda match: f"{_SHARES[match[1]]} ", text)
    text = _BARE_CODE.sub(r"P\1", text)
    text = re.sub(r"(?i)\bstill (?=off\b|out\b|apart\b|open\b|drained\b)", "", text)
    text = _LOW_BY.sub(r"\1 \4 by \2 \3", text)
    text = _THOUSANDS.sub(lambda match: f"{match[1]}{float(match[2].replace(',', '.')) * 1000:.0f} rpm", text)
    return re.sub(r"\s+", " ", text).strip()


__all__ = ["Token", "forms_of", "plain_line", "raw_tokens", "scan"]
