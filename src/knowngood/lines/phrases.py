"""Free words: complaints, findings, work, judgements, numbers, picked out of a clause that follows no form."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import msgspec

from knowngood.car import ENGINE, Place
from knowngood.evidence import Finding, Note, Reading, Value, Work
from knowngood.library.records import Fault
from knowngood.lines.amounts import quantity_of
from knowngood.lines.codes import read_loose_codes
from knowngood.lines.conditions import settled
from knowngood.lines.elements import PREPOSITIONS, Element, cylinder, elements_of
from knowngood.lines.outcomes import faulty_word, fitted_word, healthy_word, said_word
from knowngood.lines.reader import Reader
from knowngood.lines.rows import no_such, outside
from knowngood.lines.scan import Token
from knowngood.lines.series import conditions_of, read_segment, segments_of
from knowngood.lines.vocabulary import forms_of
from knowngood.lines.works import put_work

NAMING = frozenset({"plug", "coil", "lead", "injector", "cylinder"})


def with_places(reader: Reader, elements: Sequence[Element]) -> list[Element]:
    """Elements with small bare numbers behind a part, a cylinder word or a preposition made places."""
    out: list[Element] = []
    for element in elements:
        before = out[-1] if out else None
        joined = before is not None and before.kind == "LINK" and len(out) > 1 and out[-2].kind == "PLACE"
        named = before is not None and (
            (before.token.means("part") and reader.part_place(reader.part(before.token)) == "cylinder")
            or (
                before.token.means("kind")
                and any(reader.place_of_kind(k) == "cylinder" for k in before.token.ids("kind"))
            )
            or before.token.means("mark", "miss")
            or any(fault.place == "cylinder" for fault in reader.faults(before.token))
        )
        whole = element.whole
        if element.kind == "CELL" and whole is not None and 1 <= whole <= 16:
            if named or joined or (element.after in PREPOSITIONS and whole <= reader.most):
                element = replace(element, kind="PLACE", places=(cylinder(whole),))
        out.append(element)
    return out


def read_free(reader: Reader, elements: Sequence[Element]) -> bool:
    """Whatever can be picked out of one clause; say whether anything was."""
    before = len(reader.bodies)
    elements = with_places(reader, elements)
    tokens = [token for element in elements for token in element.tokens]
    if any(token.means("mark", "hedge") for token in tokens):
        read_loose_codes(reader, elements)
        reader.put(Note(reader.words(tokens), "an opinion: kept, not counted"), tokens)
        return True
    places = [place for element in elements if element.kind == "PLACE" for place in element.places]
    if wrong := outside(reader, places):
        reader.doubt(tokens, f"there is no {wrong}: the engine has {reader.cylinders}", no_such(reader, wrong))
        return True
    read_loose_codes(reader, elements)
    _read_numbers(reader, elements)
    _read_findings(reader, elements, places)
    elements = _expanded(reader, elements)
    places = [place for element in elements if element.kind == "PLACE" for place in element.places]
    _read_phrases(reader, elements, places)
    _read_works(reader, elements, places)
    _read_effect(reader, elements)
    _read_judgements(reader, elements, places)
    _read_rest(reader, elements)
    _still_there(reader, elements, before)
    if len(reader.bodies) > before:
        _use_locations(reader, elements)
        reader.use(
            t for e in elements if e.kind in ("COND", "SPEED", "PLACE", "FILL", "MUTE", "LINK") for t in e.tokens
        )
    return len(reader.bodies) > before


def _expanded(reader: Reader, elements: Sequence[Element]) -> list[Element]:
    """Phrases that were no finding after all read as their words."""
    tokens = [token for element in elements for token in element.tokens]
    phrases = [t for t in tokens if t.parts and reader.is_unread(t) and t.means("fault") and not _names_more(t)]
    if not phrases:
        return list(elements)
    for token in phrases:
        reader.expand(token)
    first, last = tokens[0].start, tokens[-1].end
    return with_places(reader, elements_of(reader, [t for t in reader.tokens if first <= t.start < last]))


def _names_more(token: Token) -> bool:
    return any(token.means(kind) for kind in ("part", "kind", "says", "outcome", "alone", "condition", "effect"))


def _read_numbers(reader: Reader, elements: Sequence[Element]) -> None:
    for segment in segments_of(elements):
        if any(element.kind == "CELL" for element in segment.elements):
            unread = [element for element in segment.elements if element.kind not in ("WORD", "NONE", "ALL")]
            if _measures(reader, unread):
                read_segment(reader, replace(segment, elements=unread))


def _measures(reader: Reader, elements: Sequence[Element]) -> bool:
    """A unit is said, or a name stands beside the number."""
    cells = [index for index, element in enumerate(elements) if element.kind == "CELL"]
    if any(elements[index].unit for index in cells):
        return True
    return any(elements[near].kind == "NAME" for index in cells for near in range(max(index - 3, 0), index))


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


def _read_phrases(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
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


def _is_bad(token: Token) -> bool:
    return token.means("mark", "bad")


def _read_findings(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
    """Faults seen at their place; "no mouse nest" is a look that saw nothing."""
    tokens = [token for element in elements for token in element.tokens]
    for index, token in enumerate(tokens):
        faults = reader.faults(token)
        if not faults or not reader.is_unread(token):
            continue
        plain_name = token.means("part") or token.means("kind") or token.means("says") or token.means("area")
        visible = any(_is_bad(other) for other in tokens if other is not token) or bool(
            set(forms_of(token.plain)) & _BAD_FORMS
        )
        if plain_name or not visible or token.means("condition"):
            continue
        seen = not any(other.means("mark", "negation") for other in tokens[max(index - 3, 0) : index])
        _put_finding(reader, faults[0], places, seen, reader.words(tokens), token)
        reader.use(other for other in tokens if other.kind not in ("num", "unit", "code") and not other.means("work"))
        return
    _read_bad_part(reader, elements, places)


_BAD_FORMS = frozenset(
    form
    for word in [
        "chewed",
        "gnawed",
        "cracked",
        "split",
        "broken",
        "torn",
        "melted",
        "corroded",
        "rotten",
        "rusted",
        "perished",
        "chafed",
        "burnt",
        "leaking",
        "loose",
        "off",
        "seized",
        "blocked",
        "bent",
        "missing",
        "full",
        "soaked",
        "pinched",
        "worn",
        "stripped",
        "crossed",
        "nest",
        "droppings",
        "collapsed",
        "shorted",
        "oil",
        "water",
        "track",
        "slipped",
        "green",
        "cut",
        "rubbing",
        "reversed",
        "wrong",
        "empty",
        "dirty",
        "open",
        "out",
        "crack",
        "stuck",
        "swollen",
        "frayed",
        "hole",
        "not",
        "leak",
        "damp",
        "rust",
        "fouled",
        "on",
    ]
    for form in forms_of(word)
)


def _put_finding(reader: Reader, fault: Fault, places: Sequence[Place], seen: bool, words: str, token: Token) -> None:
    where: tuple[Place, ...] = (ENGINE,)
    if fault.place in ("cylinder", "bank"):
        where = tuple(place for place in places if place.kind == fault.place)
        if not where and fault.place == "cylinder" and len(reader.places) == 1 and reader.places[0].kind == "cylinder":
            where = reader.places
            reader.suppose(f"at {where[0]}")
        if not where and not seen:
            where = reader.all_cylinders() if fault.place == "cylinder" else (ENGINE,)
    elif fault.place in ("pair", "companions"):
        names = [place.name for place in places if place.kind == "cylinder"]
        where = (Place(fault.place, "-".join(names)),) if len(names) == 2 else ()
    if not where:
        where = (ENGINE,)
        reader.ask(f"{token.text}: at which {fault.place}?")
    for place in where:
        reader.put(Finding(fault=fault.id, part=fault.part, place=place, words=words, seen=seen), [token])


def _read_bad_part(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
    """A part beside a word for what is visibly wrong with it, where no listed fault is named outright."""
    tokens = [token for element in elements for token in element.tokens]
    bad = [token for token in tokens if _is_bad(token) and reader.is_unread(token) and not token.means("effect")]
    parts = [token for token in tokens if token.means("part") and reader.is_unread(token)]
    if (
        not bad
        or not parts
        or any(token.means("work") for token in tokens)
        or any(token.means("says") or token.means("outcome") for token in bad)
    ):
        return
    part = reader.part(parts[0])
    if any(token.means("mark", "negation") for token in tokens):
        return
    stems = {form for token in bad for form in forms_of(token.plain)}
    alike = [
        f
        for f in reader.library.faults.values()
        if f.part == part and reader.fits(f.needs) and stems & _forms_of_fault(f)
    ]
    words = reader.words(tokens)
    if len(alike) == 1:
        _put_finding(reader, alike[0], places, True, words, parts[0])
    else:
        where = tuple(places) if reader.part_place(part) == "cylinder" else ()
        for place in where or (ENGINE,):
            reader.put(Finding(part=part, place=place, words=words), [])
    reader.use(token for token in tokens if token.kind not in ("num", "unit", "code"))


def _forms_of_fault(fault: Fault) -> set[str]:
    return {form for phrase in (fault.name, *fault.words) for form in forms_of(phrase)}


def _read_works(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
    """A verb of work beside the part it was done to."""
    tokens = [token for element in elements for token in element.tokens]
    verbs = [token for token in tokens if token.means("work") and reader.is_unread(token)]
    parts = [token for token in tokens if token.means("part") and reader.is_unread(token)]
    if not verbs or any(token.means("mark", "negation") and not token.means("effect") for token in tokens):
        return
    effects = [token.ids("effect")[0] for token in tokens if token.means("effect")]
    origins = [name for token in tokens for name in token.ids("origin")]
    do = next((t.ids("work")[0] for t in verbs if t.plain not in ("new", "change")), verbs[0].ids("work")[0])
    words = reader.words(tokens)
    everywhere = any(token.means("mark", "all") for token in tokens)
    if not parts:
        if do in ("refilled", "bled", "relearned"):
            reader.put(Work(do=do, effect=effects[0] if effects else "", words=words), tokens)
        return
    cylinders = [place for place in places if place.kind == "cylinder"]
    for token in parts:
        part = reader.part(token)
        put_work(reader, do, part, token.text, cylinders, origins, effects, everywhere, words)
    reader.use(
        [*verbs, *parts, *(t for t in tokens if t.means("effect") or t.means("origin") or t.means("mark", "all"))]
    )


def _read_effect(reader: Reader, elements: Sequence[Element]) -> None:
    """``made no difference``: the effect of the work said just before."""
    tokens = [token for element in elements for token in element.tokens]
    effects = [token for token in tokens if token.means("effect") and reader.is_unread(token)]
    if not effects:
        _read_better_elsewhere(reader, elements)
        return
    if reader.kind.endswith("_unplugged") and reader.given:
        effect = effects[0].ids("effect")[0]
        word = fitted_word(reader, reader.kind, "same" if effect == "no change" else effect)
        put_word(reader, reader.kind, word, (), (), [effects[0]])
        return
    for index in range(len(reader.bodies) - 1, -1, -1):
        body = reader.bodies[index]
        if isinstance(body, Work):
            if not body.effect:
                effect = effects[0].ids("effect")[0]
                at = (
                    body.to
                    if effect == "moved"
                    else body.places[0]
                    if effect == "stayed" and body.do == "swapped"
                    else None
                )
                reader.bodies[index] = msgspec.structs.replace(
                    body, effect=effect, effect_at=at, words=f"{body.words}, {reader.words(tokens)}"
                )
                reader.use(
                    token
                    for token in tokens
                    if token.means("effect") or token.means("filler") or token.means("mark", "miss")
                )
                reader.use(token for e in elements if e.kind in ("COND", "SPEED") for token in e.tokens)
                reader.use(token for token in tokens if token.means("kind", "idle_speed"))
            return
        if isinstance(body, Reading) and reader.kind and body.kind == reader.kind:
            _milder(reader, body, effects[0], elements)
            return


def _read_better_elsewhere(reader: Reader, elements: Sequence[Element]) -> None:
    """``fine on the move`` behind a complaint: the same reading, healthy, under the new conditions."""
    tokens = [token for element in elements for token in element.tokens if reader.is_unread(token)]
    good = [token for token in tokens if "good" in token.ids("judge")]
    named = any(
        token.means(kind)
        for token in tokens
        for kind in ("kind", "part", "says", "outcome", "fault")
        if not token.means("judge")
    )
    body = next(
        (b for b in reversed(reader.bodies) if isinstance(b, Reading) and b.kind == reader.kind and b.value is None),
        None,
    )
    said = conditions_of(elements)
    if not good or named or body is None or not said or any(token.means("mark", "negation") for token in tokens):
        return
    record = reader.kind_record(body.kind)
    word = healthy_word(reader, record) if record is not None and record.words else "good"
    _, conditions = settled(reader, body.kind, said)
    reader.put(msgspec.structs.replace(body, word=word, conditions=conditions), tokens)


def _milder(reader: Reader, body: Reading, effect: Token, elements: Sequence[Element]) -> None:
    """``better at 2500`` behind a complaint: the same reading, one word milder, under the new conditions."""
    record = reader.kind_record(body.kind)
    said = conditions_of(elements)
    change = effect.ids("effect")[0]
    if change not in ("better", "cured", "worse") or not said:
        return
    if change == "worse":
        _, conditions = settled(reader, body.kind, said)
        word = faulty_word(reader, record) if record is not None and record.words else body.word
        reader.put(msgspec.structs.replace(body, word=word, conditions=conditions), [effect])
        return
    word = ""
    if record is not None and body.word in record.words:
        good = healthy_word(reader, record)
        ordered = list(record.words) if record.words[0] == good else list(reversed(record.words))
        place = ordered.index(body.word)
        word = good if effect.ids("effect")[0] == "cured" else ordered[max(place - 1, 0)]
    _, conditions = settled(reader, body.kind, said)
    doubt = "" if word else "how much better is not said"
    reader.put(
        msgspec.structs.replace(body, word=word or "better", conditions=conditions, doubt=doubt or body.doubt), [effect]
    )
    reader.suppose(f"better: {word or 'less of it'}")


def _still_there(reader: Reader, elements: Sequence[Element], before: int) -> None:
    """``new sensor fitted but still dies``: the complaint said again is what the work did not change."""
    if not any(token.plain.startswith("still") for element in elements for token in element.tokens):
        return
    fresh = [body for body in reader.bodies[before:] if isinstance(body, Reading)]
    for index in range(before - 1, -1, -1):
        body = reader.bodies[index]
        if isinstance(body, Work) and not body.effect and fresh:
            reader.bodies[index] = msgspec.structs.replace(body, effect="no change")
            return


def _use_locations(reader: Reader, elements: Sequence[Element]) -> None:
    """Parts that only say where (``at any plug``, ``near the firewall``) are read with what was found there."""
    tokens = [token for element in elements for token in element.tokens]
    for index, token in enumerate(tokens):
        near = [other.plain.split()[-1] for other in tokens[max(index - 3, 0) : index]]
        if token.kind in ("word", "term") and any(word in (*PREPOSITIONS, "near", "under", "next") for word in near):
            if not token.means("effect") and not token.means("work") and not token.means("judge"):
                reader.use([token])


def _read_rest(reader: Reader, elements: Sequence[Element]) -> None:
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


def _read_judgements(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
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
