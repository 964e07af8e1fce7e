"""Readings by word: phrases the library knows, and names beside what is said of them."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import Place
from knowngood.evidence import Reading, Work
from knowngood.library.healthy import healthy_word
from knowngood.library.records import MODIFIERS
from knowngood.lines.amounts import quantity_of
from knowngood.lines.denials import denied_word, gone_behind, is_denied, is_denied_behind
from knowngood.lines.elements import Element
from knowngood.lines.kinds import conditions_of
from knowngood.lines.location import is_location
from knowngood.lines.nothing import read_nothing
from knowngood.lines.outcomes import fitted_word, said_word
from knowngood.lines.placed_word import narrowed, put_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER, forms_of


def read_phrases(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
    """Phrases the library or our table knows as a reading, with the outcome they say."""
    tokens = [token for element in elements for token in element.tokens]
    said = conditions_of(elements)
    for token in tokens:
        if not reader.is_unread(token) or _is_judgement(reader, token, tokens):
            continue
        if (token.means("says") and is_of_instrument(token, tokens)) or _is_of_other(token, tokens):
            continue
        if token.means("codename") and _is_before_code(token, tokens):
            continue  # "lean codes gone" speaks of codes
        if _is_miss(token) and any(t.means("mark", "swap") for t in tokens):
            continue  # where the fault is after a swap that was not understood
        if gone_behind(token, tokens) and _is_after_work(reader):
            reader.use([token])
            continue
        if token.plain in ("crank", "cranking") or is_denied_behind(token, tokens):
            continue
        found = _outcomes(reader, token, tokens)
        known = [choice for choice in found if reader.kind_record(choice[0]) is not None]
        if not found:
            continue
        kind, word, used = _fitting(reader, known or found, places)[0]
        if reader.place_of_kind(kind) == "engine" and _is_miss(token) and any(p.kind == "cylinder" for p in places):
            kind = "miss"
        if not any(place.kind == "cylinder" for place in places):
            kind = _held(
                reader, narrowed(kind, [name for piece in _inner(token) for name in piece.ids("condition")]), kind
            )
        used = [*used, *(over for over in (gone_behind(token, tokens),) if over is not None)]
        everywhere = [other for other in tokens if other.means("mark", "all") and reader.is_unread(other)]
        if other := _against(reader, kind, word, token, tokens):
            doubt = f"'{token.text}' and '{other.text}' do not agree"
            put_word(reader, kind, word, places, said, [token, other], doubt)
            reader.ask(f"{reader.words(tokens)}: {kind.replace('_', ' ')} {word}, or {other.text}?")
            continue
        if _is_moment(reader, kind, token, tokens) or _is_praised(reader, kind, word, token, tokens):
            continue
        own = _conditions_of(token, tokens, said)
        if kind in LAMPS and "key on" in own:
            continue  # that is when it must light
        if reader.place_of_kind(kind) == "engine":
            banks = [element for element in elements if element.kind == "PLACE" and element.places[0].kind == "bank"]
            own = (*own, *(str(place) for element in banks for place in element.places))
            used = [*used, *(piece for element in banks for piece in element.tokens)]
        put_word(reader, kind, word, places, own, [token, *used, *everywhere], "" if known else "no such kind")
        _use_alike(reader, kind, tokens)


def _is_before_code(token: Token, tokens: Sequence[Token]) -> bool:
    behind = next((t for t in tokens if t.start >= token.end), None)
    return behind is not None and (behind.means("mark", "code") or behind.plain.split()[0] in ("code", "codes"))


def _follows_when(token: Token, tokens: Sequence[Token]) -> bool:
    return any(t.plain in ("when", "while", "if", "once", "whenever") and t.end <= token.start for t in tokens)


def _is_moment(reader: Reader, kind: str, token: Token, tokens: Sequence[Token]) -> bool:
    """``dies when the steering is turned``: no look at what is named there."""
    record = reader.kind_record(kind)
    return record is not None and not record.complaint and _follows_when(token, tokens)


def _is_praised(reader: Reader, kind: str, word: str, token: Token, tokens: Sequence[Token]) -> bool:
    """``fuel smells fine``: a complaint with "good" right behind it is none that is sure."""
    record = reader.kind_record(kind)
    behind = next((t for t in tokens if t.start >= token.end and t.plain not in PASSED_OVER), None)
    ill = record is not None and record.complaint and word != healthy_word(reader.library, record)
    return ill and behind is not None and "good" in behind.ids("judge")


MOST_APART = 3
"""Of more outcomes than these, two may be so at once (a plug that is black and wet); a convention of ours."""


def _against(reader: Reader, kind: str, word: str, token: Token, tokens: Sequence[Token]) -> Token | None:
    """A word of the same clause that says another outcome of the same kind (``weak spark everywhere``)."""
    record = reader.kind_record(kind)
    if record is None or len(record.words) > MOST_APART:
        return None
    for other in tokens:
        told = [name.partition("=") for sense in ("outcome", "word") for name in other.ids(sense)]
        mine = [said for of, _, said in told if of == kind]
        if other is not token and mine and word not in mine and not other.means("filler"):
            return other
    return None


def _is_of_other(token: Token, tokens: Sequence[Token]) -> bool:
    """``doors rattle``, ``clutch judders``: one word behind the name of another thing is of that, not of the engine."""
    heads = [part for part in token.parts if not (part.means("condition") or part.means("filler"))]
    if (len(heads) if token.parts else len(forms_of(token.plain))) != 1 or (
        _is_miss(token) and token.plain != "missing"
    ):
        return False
    before = next((t for t in reversed(tokens) if t.end <= token.start and t.plain not in PASSED_OVER), None)
    if before is None or before.plain.endswith("ly"):
        return False
    other = any(before.means(kind) for kind in ("part", "says", "area", "fault", "tool"))
    own = before.means("filler") or before.means("condition") or before.means("kind", "idle_speed", "miss")
    return before.kind == "word" or (other and not own)


def _held(reader: Reader, kind: str, other: str) -> str:
    """The first kind where the library has it, else the other."""
    return kind if reader.kind_record(kind) is not None else other


def _is_miss(token: Token) -> bool:
    """A phrase with a misfire in it: it is of the cylinder that is said beside it."""
    return any(piece.means("kind", "miss") for piece in (token, *_inner(token)))


def _use_alike(reader: Reader, kind: str, tokens: Sequence[Token]) -> None:
    """Other words for what the same kind showed ("orange and weak") are read with it."""
    for token in tokens:
        if any(name.partition("=")[0] == kind for sense in ("outcome", "word") for name in token.ids(sense)):
            reader.use([token])


def _conditions_of(token: Token, tokens: Sequence[Token], said: Sequence[str]) -> tuple[str, ...]:
    """The conditions of one of several complaints: inside its phrase, else on its side of "and", else all."""
    extra = [name for name in said if not any(other.means("condition", name) for other in tokens)]
    inside = [name for part in _inner(token) for name in part.ids("condition") if name in SAID_INSIDE]
    if inside and "hot idle" not in inside:
        return (*inside, *extra)
    runs: list[list[Token]] = [[]]
    for other in tokens:
        if other.plain in ("and", "&", "but", "then"):
            runs.append([])
        else:
            runs[-1].append(other)
    mine = next((run for run in runs if token in run), [])
    near = [name for other in mine for name in other.ids("condition")]
    return (*inside, *near, *extra) if near else (*inside, *said)


SAID_INSIDE = (
    "hot idle",
    "cold idle",
    "pull",
    "cruise",
    "high speed",
    "overrun",
    "hot restart",
    "cold start",
    *MODIFIERS,
)
"""Conditions that count where they stand inside a phrase; "heater blows cold" was not read on a cold engine."""


def _inner(token: Token) -> list[Token]:
    return [part for piece in token.parts for part in (piece, *_inner(piece))]


Choice = tuple[str, str, list[Token]]


def _outcomes(reader: Reader, token: Token, tokens: Sequence[Token]) -> list[Choice]:
    """Kinds a phrase may speak of, each with the word it says: our table first, then the library's own words."""
    found: list[Choice] = []
    negated = next((t for t in tokens if t.means("mark", "negation") and t.end <= token.start and t is not token), None)
    stands = _stands_alone(token) or (token.means("effect") and bool(token.parts) and not _is_after_work(reader))
    for name in (*(name for name in token.ids("outcome") if stands), *token.ids("alone")):
        kind, _, word = name.partition("=")
        record = reader.kind_record(kind)
        if kind == "injector_cut" and not _is_of_a_cut(reader, tokens):
            continue
        used: list[Token] = []
        if negated is not None and token.means("alone"):
            used = [negated]
            word = {"bad": "good", "good": "bad"}.get(word, "none")
            word = healthy_word(reader.library, record) if record is not None and record.words else word
        elif record is not None and (is_denied(token, tokens) or gone_behind(token, tokens)):
            word = denied_word(reader, record, fitted_word(reader, kind, word))
        found.append((kind, fitted_word(reader, kind, word), used))
    others = [other for other in tokens if other is token or reader.is_unread(other)]
    for kind in (*token.ids("says"), *token.ids("check")):
        if kind == "injector_cut" and not _is_of_a_cut(reader, tokens):
            continue
        if not quantity_of(reader, kind):
            word, used = said_word(reader, kind, others, token)
            record = reader.kind_record(kind)
            if word and record is not None and record.complaint and gone_behind(token, tokens):
                word = denied_word(reader, record, word)
            if word:
                found.append((kind, word, used))
    return found


LAMPS = ("lamp_on", "engine_lamp", "charge_lamp", "oil_lamp", "key_lamp")


def _is_of_a_cut(reader: Reader, tokens: Sequence[Token]) -> bool:
    """What an engine does is the answer to a cylinder stopped only where one was."""
    others = [t for t in tokens if t.means("part") and reader.part_place(reader.part(t)) != "cylinder"]
    cut = any(t.means("mark", "cut") or t.means("kind", "injector_cut") for t in tokens)
    return reader.kind == "injector_cut" or (cut and not others)


def _is_well(reader: Reader, choice: Choice) -> bool:
    """The phrase says by itself that something is as it should be (``cranks strong``)."""
    record = reader.kind_record(choice[0])
    return record is not None and bool(record.words) and choice[1] == healthy_word(reader.library, record)


def _fitting(reader: Reader, choices: Sequence[Choice], places: Sequence[Place]) -> list[Choice]:
    """Those of the cylinder first where one is said, of the engine where none is; complaints before looks."""
    at_cylinder = any(place.kind == "cylinder" for place in places)

    well = any(_is_well(reader, choice) for choice in choices)

    def rank(choice: Choice) -> tuple[bool, bool]:
        record = reader.kind_record(choice[0])
        complains = record is not None and record.complaint and choice[1] != healthy_word(reader.library, record)
        return (reader.place_of_kind(choice[0]) == "cylinder") != at_cylinder, not complains or well

    return sorted(choices, key=rank)


def _is_judgement(reader: Reader, token: Token, tokens: Sequence[Token]) -> bool:
    """A single word such as "weak" or "dead" beside the name of what it is said of: no complaint by itself."""
    if token.means("condition") and any(t is not token and (t.means("says") or t.means("alone")) for t in tokens):
        return True
    if " " in token.plain or not any(
        token.means(kind) for kind in ("judge", "word", "mark", "outcome", "filler", "condition", "state")
    ):
        return False
    if token.means("mark", "miss") or token.means("alone"):
        return False
    named = (t for t in tokens if t is not token and (t.means("kind") or t.means("part") or t.means("says")))
    return any(True for _ in named) or not token.means("says") or token.means("filler")


def _stands_alone(token: Token) -> bool:
    """An outcome said in several words names its kind by itself ("bubbles in the tank")."""
    return len(forms_of(token.plain)) >= 2 and not token.means("effect") and not token.means("part")


def _is_after_work(reader: Reader) -> bool:
    return any(isinstance(body, Work) for body in reader.bodies)


def read_rest(reader: Reader, elements: Sequence[Element]) -> None:
    """``the rest tan``, ``others fine``: the cylinders not named before, by the kind read before."""
    tokens = [t for e in elements for t in e.tokens if reader.is_unread(t)]
    rest = [token for token in tokens if token.means("mark", "rest")]
    if (
        not rest
        or not reader.kind
        or quantity_of(reader, reader.kind)
        or reader.place_of_kind(reader.kind) != "cylinder"
    ):
        return
    word, used = said_word(reader, reader.kind, [token for token in tokens if token not in rest])
    named = {body.place for body in reader.bodies if isinstance(body, Reading) and body.kind == reader.kind}
    if word:
        others = [place for place in reader.all_cylinders() if place not in named]
        put_word(reader, reader.kind, word, others, conditions_of(elements), [*rest, *used])


def read_judgements(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
    """``compression good``, ``no compression in 3``, ``plug 4 wet with fuel``, ``leads checked ok``."""
    tokens = [token for element in elements for token in element.tokens]
    said = conditions_of(elements)
    names = [
        e.token
        for e in elements
        if (e.token.means("kind") or e.token.means("part") or e.token.means("says")) and reader.is_unread(e.token)
    ]
    for name in names:
        if not reader.is_unread(name) or is_location(name, tokens) or is_of_instrument(name, tokens):
            continue
        if _follows_when(name, tokens):
            continue  # the moment at which something else is so
        for kind in kinds_named(reader, name):
            others = [t for t in tokens if reader.is_unread(t) and t is not name]
            if quantity_of(reader, kind):
                if name.plain in FLUIDS and quantity_of(reader, kind) != "fuel_pressure":
                    continue  # "no oil on it" is no pressure
                if read_nothing(reader, kind, name, others, places, said):
                    break
                judged = next((t for t in others if t.means("judge") and t.plain != "smooth"), None)
                if judged is None or any(part in FLUIDS for part in name.ids("part")):
                    continue  # "oil low" is no pressure
                negated = any(t.means("mark", "negation") and t.end <= judged.start and t is not judged for t in others)
                word = judged.ids("judge")[0]
                word = {"good": "bad", "bad": "good"}.get(word, word) if negated else word
                put_word(reader, kind, word, places, said, [name, judged])
                break
            word, used = said_word(reader, kind, others, None)
            if word and is_denied_behind(name, tokens) and not _denies_a_condition(tokens, name):
                break
            if word:
                _use_alike(reader, kind, others)
                put_word(
                    reader, kind, word, places, said, [name, *used], "" if reader.kind_record(kind) else "no such kind"
                )
                break


def _denies_a_condition(tokens: Sequence[Token], name: Token) -> bool:
    """``shakes not when hot``: behind the denial stand conditions and small words only."""
    behind = [token for token in tokens if token.start >= name.end]
    return any(token.means("condition") for token in behind) and all(
        token.means("condition") or token.means("filler") or token.means("mark", "negation") or token.kind == "sign"
        for token in behind
    )


FLUIDS = ("fuel", "oil", "coolant")
INSTRUMENTS = frozenset(["gauge", "needle", "lamp", "light", "counter", "meter", "display"])


def is_of_instrument(name: Token, tokens: Sequence[Token]) -> bool:
    """ "boost gauge works" is neither of the boost nor of the temperature gauge: a name beside another one's gauge."""
    behind = next((token for token in tokens if token.start >= name.end), None)
    before = next((token for token in reversed(tokens) if token.end <= name.start), None)
    if name.plain.split()[0] in INSTRUMENTS:
        return before is not None and _is_named(before)
    return behind is not None and behind.plain.split()[0] in INSTRUMENTS


def _is_named(token: Token) -> bool:
    return any(token.means(kind) for kind in ("kind", "part", "says")) and not token.means("filler")


def kinds_named(reader: Reader, name: Token) -> list[str]:
    """Kinds a name may stand for: those of the library and of words first, where it is judged and not measured."""
    kinds = list(dict.fromkeys((*name.ids("says"), *name.ids("kind"))))
    return sorted(
        kinds, key=lambda kind: (reader.kind_record(kind) is None, bool(quantity_of(reader, kind)) and len(kinds) > 1)
    )
