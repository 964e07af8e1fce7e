"""The words lines are read by: our own table and the words of the library, in one place.

A phrase is looked up by the plain forms of its words, longest first, so that "coolant sensor" is the sensor and not
the coolant. Small words that carry nothing are passed over inside a phrase.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from itertools import pairwise
from typing import Any, NamedTuple

from knowngood.library.find import work_done
from knowngood.library.records import Ladder, Library, ReadingKind
from knowngood.lines.back_on import back_on

PASSED_OVER = frozenset(
    [
        "a",
        "an",
        "the",
        "is",
        "are",
        "was",
        "were",
        "its",
        "it",
        "very",
        "quite",
        "rather",
        "just",
        "bit",
        "my",
        "your",
        "been",
        "be",
    ]
)
"""Words passed over inside a phrase, in the vocabulary and in what is typed."""

_PIECE = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*|\d+(?:[.,]\d+)?|[^\w\s]")
MOST_WORDS = 8
LEAST_BLANKS = 3
"""A name shown with fewer may begin any line."""


CONTRACTED = (
    ("will not", "wont"),
    ("does not", "doesnt"),
    ("do not", "dont"),
    ("cannot", "cant"),
    ("did not", "didnt"),
    ("temperature", "temp"),
)
"""What is said short as well."""


class Sense(NamedTuple):
    """One thing a word or phrase may be: a kind of thing, and which (``Sense("part", "coil")``)."""

    kind: str
    id: str


class KindWords(NamedTuple):
    """A kind of reading as lines name it; see ``[[kind]]`` in ``words.toml``."""

    id: str
    quantity: str
    place: str
    with_: tuple[str, ...]
    without: tuple[str, ...]
    order: int


@cache
def table() -> dict[str, Any]:
    """The table of our own words; the looks before buying and at the gates stand in a file of their own."""
    words, looks = (
        tomllib.loads(files("knowngood.lines").joinpath(name).read_text(encoding="utf-8"))
        for name in ("words.toml", "words_looks.toml")
    )
    return {**words, "outcome": words["outcome"] + looks["outcome"]}


def singular(word: str) -> str:
    """A noun without its plural: ``leads`` -> ``lead``."""
    if len(word) < 4 or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    return word[:-2] if word.endswith(("sses", "xes", "ches", "shes")) else word[:-1]


@cache
def stem(word: str) -> str:
    """The root by which forms of a word meet: ``misfiring``, ``misfires`` and ``misfired`` are one."""
    own, standing = frozenset(table()["own"]), table()["standing"]
    word = standing.get(word, word)
    if word in own:
        return word
    word = singular(word)
    word = standing.get(word, word)
    if word in own:
        return word
    for ending, least in (("ing", 6), ("ed", 5)):
        if word.endswith(ending) and len(word) >= least:
            word = word[: -len(ending)]
            if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "ls":
                word = word[:-1]
            break
    return word[:-1] if word.endswith("e") and len(word) > 3 else word


def forms_of(phrase: str) -> tuple[str, ...]:
    """The plain forms of a phrase's words, small words and hyphens passed over."""
    pieces = (piece.replace("'", "").replace("’", "") for piece in _PIECE.findall(phrase.casefold()))
    return tuple(stem(piece) for piece in pieces if piece not in PASSED_OVER and piece != "-")


@dataclass
class Vocabulary:
    """Phrases by the plain forms of their words."""

    phrases: dict[tuple[str, ...], tuple[Sense, ...]] = field(default_factory=dict)
    starts: dict[str, int] = field(default_factory=dict)
    numbers: dict[str, int] = field(default_factory=dict)
    words: dict[str, str] = field(default_factory=dict)
    stems: set[str] = field(default_factory=set)
    slips: dict[str, str] = field(default_factory=dict)
    joined: dict[str, tuple[str, ...]] = field(default_factory=dict)
    kinds: dict[str, KindWords] = field(default_factory=dict)
    shown: dict[str, tuple[tuple[int, str], ...]] = field(default_factory=dict)
    shown_long: tuple[str, ...] = ()
    done: dict[str, tuple[str, str]] = field(default_factory=dict)

    def put(self, phrase: str, kind: str, name: str) -> None:
        """One phrase may be one more thing."""
        forms = forms_of(phrase)
        if not forms or len(forms) > MOST_WORDS:
            return
        sense = Sense(kind, name)
        for word in phrase.casefold().split():
            if word.isalpha():
                self.words.setdefault(word, stem(word))
                self.stems.add(stem(word))
        for before in table()["also"].get(phrase.casefold().split()[0], ()) if " " in phrase else ():
            self.put(f"{before} {phrase}", kind, name)
        for long, short in CONTRACTED:
            if long in phrase.casefold():
                self.put(phrase.casefold().replace(long, short), kind, name)
        if "running" in forms and kind != "condition":
            self.put(phrase.casefold().replace("running", "runs"), kind, name)
        for spelled in {forms, ("".join(forms),)} if 1 < len(forms) < 4 and len("".join(forms)) > 6 else {forms}:
            known = self.phrases.get(spelled, ())
            if sense not in known:
                self.phrases[spelled] = (*known, sense)
            self.starts[spelled[0]] = max(self.starts.get(spelled[0], 0), len(spelled))

    def shows(self, text: str) -> bool:
        """A line that begins with a name of some length, as it is shown."""
        line = text.strip().casefold()
        return line.startswith(self.shown_long)

    def note_joined(self) -> None:
        """Words of two that stand side by side in a phrase, as they are written in one (``airbox``)."""
        for forms in self.phrases:
            for one, other in pairwise(forms):
                if len(one) > 2 and len(other) > 2 and len(one + other) > 5:
                    self.joined.setdefault(one + other, (one, other))

    def put_all(self, phrases: Iterable[str], kind: str, name: str) -> None:
        """Several phrases of one sense."""
        for phrase in phrases:
            self.put(phrase, kind, name)

    def longest(self, pieces: Sequence[tuple[str, str, bool]]) -> tuple[tuple[Sense, ...], int]:
        """Senses of the longest phrase at the start of some pieces, and how many of them it takes.

        A piece is the kind of a token, its plain form, and whether a blank stands before it.
        """
        if not pieces or pieces[0][0] not in ("word", "numword", "num", "sign"):
            return (), 0
        most = self.starts.get(stem(pieces[0][1].casefold()), 0)
        best: tuple[tuple[Sense, ...], int] = ((), 0)
        forms: list[str] = []
        for used, (kind, plain, spaced) in enumerate(pieces, start=1):
            if kind == "sign" and plain == "-" and not spaced:
                continue
            if kind in ("code", "arrow") or (kind == "sign" and plain in ",;:.()"):
                break
            if kind == "word" and plain in PASSED_OVER and forms:
                continue
            forms.append(stem(plain.casefold()))
            if len(forms) > most:
                break
            found = self.phrases.get(tuple(forms))
            if found:
                best = (found, used)
        apart = self._apart(pieces)
        return apart if apart is not None and apart[1] > best[1] else best

    def _apart(self, pieces: Sequence[tuple[str, str, bool]]) -> tuple[tuple[Sense, ...], int] | None:
        """The longest phrase of two pieces or more, a word written in one read as its two (``nest in the airbox``)."""
        apart = [self.joined.get(stem(plain.casefold()), ()) for _, plain, _ in pieces[:MOST_WORDS]]
        if not any(apart):
            return None
        forms: list[str] = []
        best = None
        for used, ((kind, plain, _), two) in enumerate(zip(pieces, apart, strict=False), start=1):
            if kind not in ("word", "numword") or (plain in PASSED_OVER and forms):
                if kind == "word":
                    continue
                break
            forms += two or (stem(plain.casefold()),)
            if used > 1 and (found := self.phrases.get(tuple(forms))):
                best = (found, used)
        return best

    def look_up(self, phrase: str) -> tuple[Sense, ...]:
        """Senses of a whole phrase."""
        return self.phrases.get(forms_of(phrase), ())


def _put_own_words(vocabulary: Vocabulary) -> None:
    words = table()
    vocabulary.numbers = dict(words["number"])
    for name, phrases in words["mark"].items():
        vocabulary.put_all(phrases, "mark", name)
    for kind in ("effect", "origin", "state", "judge", "work", "condition"):
        for phrase, meaning in words[kind].items():
            for name in [meaning] if isinstance(meaning, str) else meaning:
                vocabulary.put(phrase, kind, name)
    for group, phrases in words["wrong"].items():
        vocabulary.put_all(phrases, "wrong", group)
    for part, phrases in words["part"].items():
        vocabulary.put_all(phrases, "part", part)
    for code, phrases in words["codename"].items():
        vocabulary.put_all(phrases, "codename", code)
    for order, entry in enumerate(words["kind"]):
        vocabulary.kinds[entry["id"]] = KindWords(
            entry["id"],
            entry.get("quantity", ""),
            entry.get("place", "engine"),
            tuple(entry.get("with", ())),
            tuple(entry.get("without", ())),
            order,
        )
        vocabulary.put_all(entry["names"], "kind", entry["id"])
    for entry in words["outcome"]:
        vocabulary.put_all(entry["says"], "outcome", f"{entry['kind']}={entry['word']}")
        vocabulary.put_all(entry.get("alone", ()), "alone", f"{entry['kind']}={entry['word']}")
    for word in (*words["filler"], *words["story"]):
        vocabulary.put(word, "filler", word)


def _put_complaints(vocabulary: Vocabulary, library: Library) -> None:
    """Complaints of our table, each on the reading that tells its level of its ladder best."""
    for entry in table()["said"]:
        ladder = library.ladders.get(entry["ladder"])
        on_ladder = [one for one in library.readings.values() if ladder is not None and _stands_on(one, ladder)]
        level = entry.get("denies", entry["level"])
        healthy = next(iter(library.ladders[entry["ladder"]].levels), "") if on_ladder else ""
        denies = "denies" in entry
        told, outcome = max((_telling(reading, level, healthy, denies) for reading in on_ladder), default=(0.0, ""))
        if "denies" in entry and told > 0.0:
            reading = library.readings[outcome.partition("=")[0]]
            chances = reading.chance[entry["level"]]
            outcome = f"{reading.id}={max(reading.words, key=lambda word: chances.get(word, 0.0))}"
        if told > 0.0:
            vocabulary.put_all(entry["says"], "outcome", outcome)
            vocabulary.put_all(entry.get("alone", ()), "alone", outcome)


def _stands_on(reading: ReadingKind, ladder: Ladder) -> bool:
    """Whether a reading stands on a ladder, or is a complaint that knows all of its levels and more beside them."""
    beside = reading.complaint and ladder.id in reading.inputs and bool(ladder.levels)
    return reading.on == ladder.id or (beside and set(ladder.levels) < set(reading.levels))


def _telling(reading: ReadingKind, level: str, healthy: str, entry_denies: bool) -> tuple[float, str]:
    """How well a reading by word tells a level of its ladder from the others, and the word it shows there."""
    here = reading.chance.get(level)
    if not here or not reading.words:
        return 0.0, ""
    well = reading.chance.get(healthy, {}) if level != healthy else {}
    word = max(reading.words, key=lambda word: here.get(word, 0.0) / max(well.get(word, 0.0), 1e-4 if well else 1.0))
    told = here.get(word, 0.0) / sum(chances.get(word, 0.0) for chances in reading.chance.values())
    first = COMPLAINT_FIRST if well and not entry_denies else WELL_FIRST
    return told + (first if reading.complaint else 0.0), f"{reading.id}={word}"


COMPLAINT_FIRST = 1.0
"""How far a complaint is preferred to another reading of its ladder for what a driver complains of: always."""
WELL_FIRST = 0.6
"""The same for what is said to be well; a convention of ours."""


def _put_library(vocabulary: Vocabulary, library: Library) -> None:
    for fault in library.faults.values():
        vocabulary.put(fault.part.replace("_", " "), "part", fault.part)
    for part in library.parts.values():
        vocabulary.put_all((part.name, *part.words), "part", part.id)
    for reading in library.readings.values():
        passed_over = table()["not_said"].get(reading.id, ())
        vocabulary.put_all((says for says in reading.says if says not in passed_over), "says", reading.id)
        if reading.quantity:
            vocabulary.put(reading.id.replace("_", " "), "says", reading.id)
        for word in reading.words:
            vocabulary.put(word, "word", f"{reading.id}={word}")
    for check in library.checks.values():
        for read in check.reads:
            vocabulary.put_all(check.says, "check", read)
    for fault in library.faults.values():
        vocabulary.put_all((fault.name, *fault.words), "fault", fault.id)
    for area in library.areas.values():
        vocabulary.put_all((area.name, *area.words), "area", area.id)
    for name, phrases in table()["fault"].items():
        if name in library.faults:
            vocabulary.put_all(phrases, "fault", name)
    for tool in library.tools.values():
        vocabulary.put_all((tool.name, *tool.words), "tool", tool.id)
    for step in library.access.values():
        again = (phrase for says in step.says if (phrase := back_on(says)))
        vocabulary.put_all((step.name, *step.says, *again), "access", step.id)


def _put_done(vocabulary: Vocabulary, library: Library) -> None:
    """The words each kind of work is written down with, and the words in them, which are no slips of others.

    A name of several parts is left to the other forms: which coil is meant depends on the car.
    """
    cures = [(cure.do, cure.part or fault.part) for fault in library.faults.values() for cure in fault.cures]
    own = [(do, part.id) for part in library.parts.values() for do in part.done_as]
    for do, part in (*cures, *own):
        record = library.parts.get(part)
        named = vocabulary.look_up(record.name) if record is not None else ()
        alone = [sense.id for sense in named if sense.kind == "part"] == [part]
        if record is not None and (do in record.done_as or alone):
            said = work_done(library, do, part).casefold()
            vocabulary.done[said] = (do, part)
            vocabulary.words.update({word: stem(word) for word in said.split() if word.isalpha()})


def _put_shown(vocabulary: Vocabulary, library: Library) -> None:
    """Names a reading by word is shown by, with how near they are to it: its id, what to type, its name, the rest."""
    found: dict[str, set[tuple[int, str]]] = {}
    for reading in library.readings.values():
        if reading.words:
            names = [(0, reading.id.replace("_", " ")), *((1, said) for said in reading.says[:1]), (2, reading.name)]
            for rank, name in [*names, *((3, said) for said in reading.says[1:])]:
                found.setdefault(name.casefold(), set()).add((rank, reading.id))
    for check in library.checks.values():
        for rank, kind in enumerate(check.reads, start=4):
            if kind in library.readings and library.readings[kind].words:
                found.setdefault(check.name.casefold(), set()).add((rank, kind))
    vocabulary.shown = {name: tuple(sorted(kinds)) for name, kinds in found.items()}
    vocabulary.shown_long = tuple(name for name in (*found, *vocabulary.done) if name.count(" ") >= LEAST_BLANKS)


_BUILT: dict[str, Vocabulary] = {}
_MOST_KEPT = 4


def vocabulary_of(library: Library) -> Vocabulary:
    """The vocabulary of a library; built once for each, by its hash."""
    found = _BUILT.get(library.hash)
    if found is None:
        found = Vocabulary()
        _put_own_words(found)
        _put_complaints(found, library)
        _put_library(found, library)
        _put_done(found, library)
        _put_shown(found, library)
        found.note_joined()
        while len(_BUILT) >= _MOST_KEPT:
            _BUILT.pop(next(iter(_BUILT)))
        _BUILT[library.hash] = found
    return found
