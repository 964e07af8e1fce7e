"""Readings by word: which outcome of a kind was said, and what stands for "good" and "bad" in its own words."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.library.healthy import healthy_word
from knowngood.library.records import ReadingKind
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import forms_of, table

ALIKE: tuple[frozenset[str], ...] = (
    frozenset({"none", "no", "nothing", "nil", "dead", "absent", "silent", "nowhere", "nothing seen"}),
    frozenset({"no change", "same", "no effect", "no difference", "stays", "stay"}),
    frozenset(
        {
            "good",
            "as it should be",
            "normal",
            "right",
            "sound",
            "clean",
            "strong",
            "steady",
            "even",
            "fine",
            "dry",
            "tight",
        }
    ),
    frozenset({"bad", "weak", "poor", "wrong", "not as it should be"}),
    frozenset({"yes", "some", "seen", "a little", "present", "there", "runs", "wet"}),
    frozenset({"drops", "drops a little", "falls", "falls at once"}),
    frozenset({"wet with fuel", "wet", "fuel wet"}),
)
BAD_STEMS = frozenset(
    stem
    for word in [
        "leak",
        "drip",
        "wet",
        "soak",
        "dead",
        "drop",
        "lose",
        "crack",
        "chewed",
        "split",
        "blocked",
        "dirty",
        "off",
        "no",
        "not",
        "die",
        "stall",
        "shake",
        "rough",
        "smoke",
        "knock",
        "rattle",
        "hard",
        "slow",
        "red",
        "boil",
        "overheat",
        "high",
        "hunt",
        "hesitate",
        "stumble",
        "flat",
        "miss",
        "misfire",
        "smell",
        "noise",
        "tick",
        "hiss",
        "low",
        "empty",
        "surge",
        "buck",
        "jerk",
        "backfire",
        "lamp",
        "light",
        "blink",
        "cold",
        "will",
        "wont",
        "lack",
        "rotten",
        "pinched",
        "crossed",
        "hot",
        "smokes",
        "loss",
    ]
    for stem in forms_of(word)
)


def fitted_word(reader: Reader, kind: str, word: str) -> str:
    """The library's own word for an outcome of a kind; the word itself when there is none alike."""
    record = reader.kind_record(kind)
    if record is None or not record.words or word in record.words:
        return word
    for group in ALIKE:
        if word in group:
            alike = next((own for own in record.words if own in group), "")
            if alike:
                return alike
    wanted = set(forms_of(word))
    if word in ("bad", "yes") and not any(wanted & set(forms_of(own)) for own in record.words):
        return faulty_word(reader, record)
    if word in ("good", "no") and not any(wanted & set(forms_of(own)) for own in record.words):
        return healthy_word(reader.library, record)
    return (
        max(record.words, key=lambda own: len(wanted & set(forms_of(own))))
        if any(wanted & set(forms_of(own)) for own in record.words)
        else word
    )


def _levels(reader: Reader, record: ReadingKind) -> tuple[str, ...]:
    if record.levels:
        return record.levels
    ladder = reader.library.ladders.get(record.on)
    if ladder is None:
        return tuple(record.chance)
    return ladder.levels or tuple(str(step) for step in range(ladder.low, ladder.high + 1))


def faulty_word(reader: Reader, record: ReadingKind) -> str:
    """The likeliest word at the worst level, never the one of a healthy car.

    Half of the faults of a pedal are not felt, yet "brake pedal goes to the floor" is no pedal as it should be.
    """
    if set(record.words) == {"yes", "no"} and record.complaint:
        return "yes"
    levels = [level for level in _levels(reader, record) if level in record.chance]
    if not levels:
        return record.words[-1] if record.words else "bad"
    healthy = healthy_word(reader.library, record)
    faulty = [word for word in record.words if word != healthy] or record.words
    return max(faulty, key=lambda word: record.chance[levels[-1]].get(word, 0.0))


def said_word(reader: Reader, kind: str, tokens: Sequence[Token], name: Token | None = None) -> tuple[str, list[Token]]:
    """The outcome of a kind that some tokens say, and the tokens that say it; empty when none does.

    The kind's own words come first, then what is said for them, then "good" and "bad"; "no" before its name is the
    healthy word of what is bad to have, and none of what is good to have.
    """
    record = reader.kind_record(kind)
    negated = next((token for token in tokens if token.means("mark", "negation")), None)
    if negated is not None and name is not None and negated.start > name.start:
        negated = None if any(token.means("work") for token in tokens) else negated
    if record is not None and record.complaint and record.words and name is not None:
        before = negated if negated is not None and negated.start < name.start else None
        return _implied(reader, record, name, before)
    for sense in ("outcome", "word"):
        for token in sorted(tokens, key=lambda token: -len(token.text)):
            for said in token.ids(sense):
                of, _, word = said.partition("=")
                if of == kind and token is not name:
                    return _perhaps_not(reader, record, fitted_word(reader, kind, word), token, negated)
    judged = next((token for token in tokens if token.means("judge") and token is not name), None)
    if judged is not None:
        word = judged.ids("judge")[0]
        if negated is not None and negated.end <= judged.start and judged is not negated:
            word = "bad" if word == "good" else "good"
        if record is not None and record.words:
            own = fitted_word(reader, kind, word)
            if own not in record.words:
                own = healthy_word(reader.library, record) if word == "good" else faulty_word(reader, record)
            word = own
        return word, [judged, *([negated] if negated is not None else [])]
    works = next((token for token in tokens if _says_works(token, tokens) and token is not name), None)
    if works is not None:
        used = [works, *([negated] if negated is not None else [])]
        if record is None or not record.words:
            return ("bad" if negated is not None else "good"), used
        word = healthy_word(reader.library, record) if negated is None else faulty_word(reader, record)
        return word, used
    if record is None or not record.words:
        return "", []
    none = next((token for token in tokens if token.means("mark", "none") and token is not name), None)
    if none is not None and (word := fitted_word(reader, kind, "none")) in record.words:
        return word, [none]
    if name is not None and name.means("says"):
        before = negated if negated is not None and negated.start < name.start else None
        return _implied(reader, record, name, before)
    if negated is not None and (word := fitted_word(reader, kind, "none")) in record.words:
        return word, [negated]
    return "", []


def _says_works(token: Token, tokens: Sequence[Token]) -> bool:
    """``works``, ``does not run``; "work" alone is what was done or is to do."""
    if not token.means("mark", "works"):
        return False
    before = [other.plain.split()[-1] for other in tokens if other.end <= token.start][-2:]
    return token.plain not in ("work", "run") or any(word in HELPERS for word in before)


HELPERS = frozenset(
    ["not", "does", "do", "did", "will", "would", "doesnt", "dont", "didnt", "wont", "to", "all", "both", "never"]
)
"""Words before a plain verb."""


def _perhaps_not(
    reader: Reader, record: ReadingKind | None, word: str, token: Token, negated: Token | None
) -> tuple[str, list[Token]]:
    if negated is None or negated is token or record is None or negated.start > token.start:
        return word, [token]
    good = healthy_word(reader.library, record)
    return (faulty_word(reader, record) if word == good else good), [token, negated]


def _implied(reader: Reader, record: ReadingKind, name: Token, negated: Token | None) -> tuple[str, list[Token]]:
    """What a phrase says by itself: a complaint named is there; a look or a test named has shown nothing yet."""
    if record.complaint and set(record.words) == {"yes", "no"}:
        return ("yes", []) if negated is None or negated is name else ("no", [negated])
    stems = set(forms_of(name.plain))
    bad = bool(stems & BAD_STEMS) or record.complaint
    if negated is not None and negated is not name:
        none = fitted_word(reader, record.id, "none")
        word = healthy_word(reader.library, record) if bad else none if none in record.words else ""
        return word, [negated]
    if record.complaint:
        near = max(record.words, key=lambda own: len(stems & set(forms_of(own))))
        likely = near if stems & set(forms_of(near)) else faulty_word(reader, record)
        return (likely if likely != healthy_word(reader.library, record) else faulty_word(reader, record)), []
    if forms_of(name.plain) in {forms_of(own) for own in table()["names_only"]}:
        return "", []
    whole = [own for own in record.words if set(forms_of(own)) and set(forms_of(own)) <= stems]
    return (max(whole, key=len), []) if whole else ("", [])
