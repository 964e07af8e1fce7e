"""A look, a test or a complaint heard by what it is of and what it showed, in whatever order and words.

What nothing else reads is held against every reading by word the library has: the words that name it (without those
that only say that one looked), the words of each of its outcomes and those alike (``[alike]`` in ``words.toml``). It
counts where one reading and one outcome explain every word that carries something; where they leave words over, or
where two explain as much, the clause is kept and that reading is asked about.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache

from knowngood.car import Place
from knowngood.library.records import ReadingKind
from knowngood.lines.amounts import quantity_of
from knowngood.lines.placed_word import put_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.unread import weighs
from knowngood.lines.vocabulary import forms_of, table

AIR = frozenset(forms_of("air blowing blows hissing hiss hear coming escaping comes"))
LOOKING = frozenset(
    forms_of("look looked seen test tested check at over found shows")
    + forms_of("reading measured heard felt tried inspected out whole all by hand")
)
"""Words of a name that only say that one looked."""

FOLLOWS = {"leakdown": "leak_heard"}
"""Behind the one, what is said without a name is the other: where the air of a leak-down goes."""

SMALL = frozenset(forms_of("at in to of by from with when it and only as they"))
"""Words of an outcome that carry nothing by themselves."""

Stems = frozenset[str]


@dataclass
class Frame:
    """A reading by word: the sets of stems that name it, and for each outcome the sets that say it."""

    kind: str
    topics: tuple[Stems, ...]
    says: dict[str, tuple[Stems, ...]]
    any: Stems


@dataclass
class Heard:
    """A frame against the stems of a clause: what it explains, and what it leaves over."""

    kind: str
    word: str
    explained: Stems
    left: Stems
    topic: Stems = field(default_factory=frozenset)


def read_look(reader: Reader, tokens: Sequence[Token], places: Sequence[Place], said: Sequence[str]) -> bool:
    """Read a clause nothing was made of as one look; False where it is none, or none for sure."""
    told = [token for token in tokens if _tells(reader, token)]
    if not told or any(_is_beyond(token) or token.means("mark", "rest") for token in tokens):
        return False
    plain = "key on" not in said and not any(token.means("mark", "negation") for token in tokens)
    small = [token for token in tokens if token not in told and token.means("word")]
    found = sorted(
        _heard(reader, told, small, complaints=plain),
        key=lambda heard: (len(heard.left), -len(heard.explained), -len(heard.topic)),
    )
    if not found:
        return False
    best = [h for h in found if (len(h.left), len(h.explained)) == (len(found[0].left), len(found[0].explained))]
    first = _denied(reader, best[0]) if any(token.means("mark", "negation") for token in tokens) else best[0]
    if not first.word:
        return False
    if first.left or len({(heard.kind, heard.word) for heard in best}) > 1:
        if len(first.left) < len(first.explained):
            words = reader.words(tokens)
            why, ask = "not heard for sure", f"'{words}': {first.kind.replace('_', ' ')}, {first.word}?"
            reader.doubt(tokens, why, ask)
            return True
        return False
    put_word(reader, first.kind, first.word, places, said, tokens)
    return True


def _denied(reader: Reader, heard: Heard) -> Heard:
    """What is so when that is denied: the other of two outcomes; no word where there are more."""
    words = [word for word in reader.library.readings[heard.kind].words if word != heard.word]
    return replace(heard, word=words[0] if len(words) == 1 else "")


def _tells(reader: Reader, token: Token) -> bool:
    """A word that carries something by itself: no place, no number, no condition, no small word."""
    if token.kind in ("num", "unit", "sign", "numword") or token.means("mark", "cylinder", "bank"):
        return False
    small = LOOKING | AIR if reader.kind in FOLLOWS else LOOKING
    return weighs(token) and not token.means("condition") and not (set(_stems(token)) <= small)


def _is_beyond(token: Token) -> bool:
    """Work, codes and amounts say more than a look does."""
    return token.kind in ("unit", "code") or (
        token.means("work") and not token.means("filler") and token.plain != "clean"
    )


def _stems(token: Token) -> tuple[str, ...]:
    return forms_of(token.plain)


def _heard(reader: Reader, told: Sequence[Token], small: Sequence[Token], *, complaints: bool) -> Iterator[Heard]:
    """Every frame that one of the clause's words belongs to, with its likeliest outcome."""
    ways = [_ways(token) for token in told]
    stems = frozenset().union(*(stem for way in (*ways, *map(_ways, small)) for one in way for stem in one))
    for phrase, kind, word in _complaints(reader) if complaints else ():
        if phrase <= stems:
            yield _explaining(kind, word, phrase, phrase, ways)
    goes_on = FOLLOWS.get(reader.kind, reader.kind) if len(reader.bodies) > reader.since else ""
    named = {name for token in told for sense in ("kind", "says", "check") for name in token.ids(sense)}
    for frame in _frames(reader):
        if not (frame.any & stems or frame.kind in named or frame.kind == goes_on):
            continue
        if not reader.fits(reader.library.readings[frame.kind].needs):
            continue
        topics = [topic for topic in frame.topics if topic <= stems]
        if frame.kind in named:
            topics += [frozenset().union(*_ways(token)[0]) for token in told if _names(token, frame.kind)]
        if not topics and frame.kind == goes_on:
            topics = [frozenset()]
        for topic in topics:
            for word, sets in frame.says.items():
                for said in sets:
                    if said <= stems and not said <= topic:
                        yield _explaining(frame.kind, word, topic, topic | said, ways)


def _names(token: Token, kind: str) -> bool:
    """The word is a name of the reading, and says none of its outcomes."""
    named = token.means("kind", kind) or token.means("says", kind) or token.means("check", kind)
    return named and not any(name.startswith(f"{kind}=") for name in (*token.ids("word"), *token.ids("outcome")))


Way = tuple[Stems, ...]
"""One way to take a word: for each of its stems, that stem and the groups of like words it is in."""


def _ways(token: Token) -> list[Way]:
    """The stems of a word, and those of the parts it may name."""
    own = tuple(frozenset((form, *_alike().get(form, ()))) for form in _stems(token) if form not in _small())
    parts = [tuple(frozenset([form]) for form in forms_of(part.replace("_", " "))) for part in token.ids("part")]
    return [own or tuple(frozenset([form]) for form in _stems(token)), *parts]


def _explaining(kind: str, word: str, topic: Stems, explained: Stems, ways: Sequence[Sequence[Way]]) -> Heard:
    left = [way[0] for way in ways if not any(all(stem & explained for stem in one) for one in way)]
    return Heard(kind, word, explained, frozenset(form for one in left for stem in one for form in stem), topic)


@cache
def _alike() -> dict[str, tuple[str, ...]]:
    """Stem -> the names of the groups of like words it is in."""
    found: dict[str, tuple[str, ...]] = {}
    for name, words in table()["alike"].items():
        for word in words:
            forms = forms_of(word)
            if len(forms) == 1:
                found[forms[0]] = (*found.get(forms[0], ()), f"={name}")
    return found


def _frames(reader: Reader) -> tuple[Frame, ...]:
    """The frames of a library; built once for each."""
    found = _BUILT.get(reader.library.hash)
    if found is None:
        records = reader.library.readings.values()
        looks = (r for r in records if r.words and not r.complaint and r.on not in ("start", "turns", "crank_speed"))
        found = tuple(_frame(record) for record in looks if not quantity_of(reader, record.id))
        _BUILT.clear()
        _BUILT[reader.library.hash] = found
    return found


_BUILT: dict[str, tuple[Frame, ...]] = {}


def _complaints(reader: Reader) -> tuple[tuple[Stems, str, str], ...]:
    """Every complaint the library has words for, two or more that carry something: what it is heard by."""
    found = _COMPLAINTS.get(reader.library.hash)
    if found is None:
        told = [(phrase, r.id) for r in reader.library.readings.values() if r.complaint for phrase in r.says]
        sets = [(frozenset(forms_of(phrase)), kind) for phrase, kind in told]
        found = tuple(
            (stems, kind, "yes")
            for stems, kind in sets
            if len(stems - _small()) > 1 and "yes" in reader.library.readings[kind].words
        )
        _COMPLAINTS.clear()
        _COMPLAINTS[reader.library.hash] = found
    return found


_COMPLAINTS: dict[str, tuple[tuple[Stems, str, str], ...]] = {}


def _frame(record: ReadingKind) -> Frame:
    says = {word: tuple(_said(word)) for word in record.words}
    own = {form for sets in says.values() for stems in sets for form in stems if not form.startswith("=")}
    names = [record.id.replace("_", " "), *record.says]
    topics = {frozenset(forms_of(name)) - LOOKING - _small() for name in names}
    kept = tuple(topic - own for topic in topics if not topic - own <= _states())
    return Frame(record.id, kept, says, frozenset().union(*kept))


@cache
def _small() -> Stems:
    return frozenset(form for word in table()["filler"] for form in forms_of(word))


@cache
def _states() -> Stems:
    """Words for a condition: no name of what was looked at."""
    return frozenset(form for word in table()["condition"] if " " not in word for form in forms_of(word))


def _said(word: str) -> Iterator[Stems]:
    """The ways to say an outcome: each of its alternatives by its own stems, or by words alike."""
    for piece in word.replace(", ", " or ").split(" or "):
        forms = [form for form in forms_of(piece) if form not in SMALL] or forms_of(piece)
        if not forms:
            continue
        yield frozenset(forms)
        alike = [_alike().get(form, ()) for form in forms]
        if len(forms) == 1:
            yield from (frozenset([name]) for name in alike[0])
        else:
            grouped = [(*names, form)[0] for names, form in zip(alike, forms, strict=True)]
            yield frozenset(grouped) - {"all"}
