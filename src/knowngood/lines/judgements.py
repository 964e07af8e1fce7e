"""Readings by word: phrases the library knows, and names beside what is said of them."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import ENGINE, Place
from knowngood.evidence import Reading, Value
from knowngood.lines.amounts import quantity_of
from knowngood.lines.conditions import settled
from knowngood.lines.elements import Element
from knowngood.lines.outcomes import fitted_word, healthy_word, said_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.series import conditions_of
from knowngood.lines.vocabulary import forms_of


def _where(reader: Reader, kind: str, places: Sequence[Place]) -> tuple[Place, ...]:
    """Where a word reading belongs: the places said, those of the line before, or the engine."""
    at = reader.place_of_kind(kind)
    if at == "engine":
        return (ENGINE,)
    fitting = tuple(place for place in places if place.kind == at)
    if fitting:
        return fitting
    if at == "cylinder" and len(reader.places) == 1 and reader.places[0].kind == "cylinder":
        reader.suppose(f"of {reader.places[0]}")
        return reader.places
    return ()


def put_word(
    reader: Reader,
    kind: str,
    word: str,
    places: Sequence[Place],
    said: Sequence[str],
    tokens: Sequence[Token],
    doubt: str = "",
) -> None:
    """A reading by word, at every place it was said of."""
    said = [name for name in said if not any(token.means("condition", name) for token in tokens)]
    final, conditions = settled(reader, kind, (*said, *reader.given))
    where = _where(reader, final, places)
    if not where:
        where = reader.all_cylinders() if reader.place_of_kind(final) == "cylinder" else (ENGINE,)
        record = reader.kind_record(final)
        plural = any(token.text.casefold().endswith("s") or token.means("mark", "all") for token in tokens)
        bad = record is not None and record.words and word != healthy_word(reader, record)
        if reader.place_of_kind(final) == "cylinder" and bad and not plural and reader.cylinders != 1:
            where = (ENGINE,)
            reader.ask(f"{final.replace('_', ' ')} {word}: at which cylinder?")
            doubt = doubt or "which cylinder is not said"
    for place in where:
        reader.put(Reading(kind=final, place=place, word=word, conditions=conditions, doubt=doubt), tokens)
    reader.kind = final
    if len(where) == 1 and where[0].kind == "cylinder":
        reader.places = where


def read_phrases(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
    """Phrases the library or our table knows as a reading, with the outcome they say."""
    tokens = [token for element in elements for token in element.tokens]
    said = conditions_of(elements)
    for token in tokens:
        if not reader.is_unread(token):
            continue
        outright = [*(name for name in token.ids("outcome") if _stands_alone(token)), *token.ids("alone")]
        if outright:
            known = [name for name in outright if reader.kind_record(name.partition("=")[0]) is not None]
            kind, _, word = (known or outright)[0].partition("=")
            own = [other for other in tokens if f"{kind}={word}" not in other.ids("outcome")]
            negated = next(
                (t for t in own if t.means("mark", "negation") and t.end <= token.start and token.means("alone")), None
            )
            word = {"bad": "good", "good": "bad"}.get(word, "none") if negated is not None else word
            used = [token] if negated is None else [token, negated]
            put_word(
                reader,
                kind,
                fitted_word(reader, kind, word),
                places,
                said,
                used,
                "" if reader.kind_record(kind) else "no such kind",
            )
            continue
        for kind in (*token.ids("says"), *token.ids("check")):
            if quantity_of(reader, kind):
                continue
            others = [other for other in tokens if other is token or reader.is_unread(other)]
            word, used = said_word(reader, kind, others, token)
            if word:
                put_word(reader, kind, word, places, said, [token, *used])
                break


def _stands_alone(token: Token) -> bool:
    """An outcome said in several words names its kind by itself ("bubbles in the tank")."""
    return len(forms_of(token.plain)) >= 2 and not token.means("effect") and not token.means("part")


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
        if not reader.is_unread(name):
            continue
        for kind in _kinds_of(reader, name):
            others = [t for t in tokens if reader.is_unread(t) and t is not name]
            if quantity_of(reader, kind):
                if _read_nothing(reader, kind, name, others, places, said):
                    break
                judged = next((t for t in others if t.means("judge")), None)
                if judged is None:
                    continue
                negated = any(t.means("mark", "negation") and t.end <= judged.start and t is not judged for t in others)
                word = judged.ids("judge")[0]
                word = {"good": "bad", "bad": "good"}[word] if negated else word
                put_word(reader, kind, word, places, said, [name, judged])
                break
            word, used = said_word(reader, kind, others, None)
            if word:
                put_word(
                    reader, kind, word, places, said, [name, *used], "" if reader.kind_record(kind) else "no such kind"
                )
                break


def _kinds_of(reader: Reader, name: Token) -> list[str]:
    """Kinds a name may stand for: those of the library and of words first, where it is judged and not measured."""
    kinds = list(dict.fromkeys((*name.ids("says"), *name.ids("kind"))))
    return sorted(
        kinds, key=lambda kind: (reader.kind_record(kind) is None, bool(quantity_of(reader, kind)) and len(kinds) > 1)
    )


def _read_nothing(
    reader: Reader, kind: str, name: Token, others: Sequence[Token], places: Sequence[Place], said: Sequence[str]
) -> bool:
    """``no compression in 3``: none seen, at a cylinder that is said."""
    none = [t for t in others if t.means("mark", "none") or (t.means("mark", "negation") and t.end <= name.start)]
    where = [place for place in places if place.kind == reader.place_of_kind(kind)]
    if reader.place_of_kind(kind) == "engine":
        where = [ENGINE]
    if (
        none
        and not where
        and reader.place_of_kind(kind) == "cylinder"
        and not any(t.means("judge") and not t.means("mark", "none") for t in others)
    ):
        reader.doubt([name, *none], "which cylinder is not said", f"no {name.text}: in which cylinder?")
        return True
    if not none or not where or any(t.means("judge") and not t.means("mark", "none") for t in others):
        return False
    final, conditions = settled(reader, kind, said)
    for place in where:
        doubt = "" if reader.kind_record(final) else "no such kind"
        reader.put(
            Reading(kind=final, place=place, value=Value(0.0, "none seen"), conditions=conditions, doubt=doubt),
            [name, none[0]],
        )
    return True
