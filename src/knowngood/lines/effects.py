"""Work said in free words, and what it changed."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import msgspec

from knowngood.car import Place
from knowngood.evidence import Finding, Reading, Work
from knowngood.library.healthy import healthy_word
from knowngood.lines.attempts import JOINS
from knowngood.lines.conditions import settled
from knowngood.lines.counted import is_counted
from knowngood.lines.elements import Element, places_at
from knowngood.lines.kinds import conditions_of
from knowngood.lines.location import BEHIND, is_location
from knowngood.lines.outcomes import faulty_word, fitted_word
from knowngood.lines.placed_word import narrowed, put_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER, stem, table
from knowngood.lines.works import is_to_do, put_work


def read_works(reader: Reader, elements: Sequence[Element], places: Sequence[Place]) -> None:
    """A verb of work beside the part it was done to."""
    tokens = [token for element in elements for token in element.tokens]
    parts = [token for token in tokens if token.means("part") and reader.is_unread(token)]
    verbs = _verbs_of(reader, tokens, parts)
    if not verbs or any(token.means("mark", "negation") and not token.means("effect") for token in tokens):
        return
    if is_to_do(tokens, verbs[0]):
        reader.doubt(tokens, "still to do: kept, not counted", f"{reader.words(tokens)}: done, or still to do?")
        return
    if _is_found_wrong(reader, tokens):
        return
    effects = [token.ids("effect")[0] for token in tokens if token.means("effect")]
    origins = [name for token in tokens for name in token.ids("origin")]
    said = [name for t in sorted(verbs, key=lambda t: t.plain in ("new", "change")) for name in t.ids("work")]
    do = said[0] if said else "tried"
    words = reader.words(tokens)
    everywhere = any(token.means("mark", "all") for token in tokens)
    parts = _worked_on(reader, tokens, parts, verbs)
    last = reader.bodies[-1] if reader.bodies else None
    named = any(token.means("part") for token in tokens)
    if isinstance(last, Work) and last.do == do and not named and [reader.part(one) for one in parts] == [last.part]:
        reader.use(tokens)  # "repaired the wire, soldered and shrunk": how the same was done
        return
    if not parts and isinstance(last, Finding) and last.part:
        reader.put(Work(do=do, part=last.part, places=(last.place,), words=words), verbs)
        return
    if not parts:
        if do in ("refilled", "bled", "relearned"):
            reader.put(Work(do=do, effect=effects[0] if effects else "", words=words), tokens)
        return
    cylinders = [place for place in places if place.kind == "cylinder"]
    reader.use_turned(t for t in tokens if t.whole() == reader.cylinders and t.end <= parts[0].start)  # all of them
    told: set[str] = set()
    for token in parts:
        if is_counted(reader, tokens, token):
            words = reader.words(tokens)
            reader.doubt(tokens, "how many is said, not which", f"{words}: at which cylinders?")
            return
        part, own = reader.part(token), _own_verb(token, parts, verbs) or do
        if part in told:
            continue  # "two wires in the loom": one piece of work, named twice
        told.add(part)
        put_work(reader, own, part, token.text, cylinders, origins, effects, everywhere, words)
    reader.use(
        [*verbs, *parts, *(t for t in tokens if t.means("effect") or t.means("origin") or t.means("mark", "all"))]
    )


def _verbs_of(reader: Reader, tokens: Sequence[Token], parts: Sequence[Token]) -> list[Token]:
    """The verbs of work; a swap of parts that are no cylinder's own is work like any other."""
    verbs = [
        token
        for token in tokens
        if token.means("work")
        and reader.is_unread(token)
        and (token.plain != "clean" or token is tokens[0])
        and token.plain not in ("wiggle", "wiggling", "moving")
    ]
    tried = [token for token in tokens if token.means("mark", "swap") and reader.is_unread(token)]
    whole = bool(parts) and all(reader.part_place(reader.part(token)) != "cylinder" for token in parts)
    plain = " ".join(token.plain for token in tokens)
    if any(said in plain for said in ("side to side", "bank to bank", "left to right", "left and right")):
        return verbs  # they changed places with each other, and none came from elsewhere
    return tried if tried and not verbs and whole else verbs


def _worked_on(reader: Reader, tokens: Sequence[Token], parts: list[Token], verbs: Sequence[Token]) -> list[Token]:
    """The parts that work was done to: those named, not where they sit; else in the verb; else what was spoken of."""
    plain = all(
        token.kind == "sign" or token.plain in PASSED_OVER or any(token.means(k) for k in ("filler", "work", "effect"))
        for token in tokens
    )
    named = [part for part in parts if not is_location(part, tokens, BEHIND)] or parts
    inside = [part for verb in verbs for part in verb.parts if part.means("part")]
    behind = {verb.end: other.plain for verb, other in pairwise(tokens) if verb in verbs}
    if not named or any(behind.get(verb.end) in JOINS for verb in verbs):
        named = [*inside, *named]  # "changed oil" and coolant
    if not named and plain and reader.subject is not None and reader.subject.means("part"):
        return [reader.subject]
    return named


def _is_found_wrong(reader: Reader, tokens: Sequence[Token]) -> bool:
    """``wrong plugs fitted``: how it was found, and no work of this job."""
    last = reader.bodies[-1] if reader.bodies else None
    return (
        isinstance(last, Finding) and last.words == reader.words(tokens) and tokens[-1].plain in ("fitted", "installed")
    )


def _own_verb(part: Token, parts: Sequence[Token], verbs: Sequence[Token]) -> str:
    """``cleaned the throttle and replaced the gasket``: of several verbs, the one that goes with this part."""
    said = {name for verb in verbs for name in verb.ids("work")}
    if len(parts) < 2 or len(said) < 2 or not all(verb.means("work") for verb in verbs):
        return ""
    if verbs[0].start < parts[0].start:
        before = [verb for verb in verbs if verb.start < part.start]
        return before[-1].ids("work")[0] if before else ""
    behind = [verb for verb in verbs if verb.start > part.start]
    return behind[0].ids("work")[0] if behind else ""


def spread_no_change(reader: Reader, since: int) -> None:
    """``throttle cleaned, gasket renewed: no change``: of all the work of a sentence with nothing else said of it.

    What was done together, in one clause, was cured or made better together.
    """
    later, words = "", ""
    for index in range(len(reader.bodies) - 1, since - 1, -1):
        body = reader.bodies[index]
        if not isinstance(body, Work) or body.do in ("cleared", "swapped"):
            continue
        together = bool(body.words) and words.startswith(body.words)
        if not body.effect and (later == "no change" or (later in ("cured", "better") and together)):
            reader.bodies[index] = msgspec.structs.replace(body, effect=later)
        later, words = body.effect or later, body.words


def note_swap_codes(reader: Reader, since: int) -> None:
    """``coil 7 and 6 swapped, codes cleared: now P0306``: the code says where the fault is now."""
    index = next((i for i in range(since, len(reader.bodies)) if _is_open_swap(reader.bodies[i])), None)
    if index is None:
        return
    swap = reader.bodies[index]
    assert isinstance(swap, Work)
    pair = (swap.places[0], swap.to)
    at = [b.place for b in reader.bodies[index + 1 :] if isinstance(b, Reading) and b.code.startswith("P03")]
    found = [place for place in at if place in pair]
    if len(set(found)) == 1:
        effect = "moved" if found[0] == swap.to else "stayed"
        reader.suppose(f"code now on {found[0]}: {effect}")
        reader.bodies[index] = msgspec.structs.replace(swap, effect=effect, effect_at=found[0])


def read_swap_effect(reader: Reader, elements: Sequence[Element]) -> bool:
    """``swapped lead 3 for 4, miss moved to 4 and 7``: behind a swap, where the fault is now, with others beside it."""
    body = reader.bodies[-1] if len(reader.bodies) > reader.since else None
    effects = [e.token.ids("effect")[0] for e in elements if {"moved", "stayed"} & set(e.token.ids("effect"))]
    if not isinstance(body, Work) or not _is_open_swap(body) or len(effects) != 1:
        return False
    said = [place for element in elements for place in places_at(element, reader.most)]
    pair = (body.places[0], body.to)
    at = [place for place in said if place in pair]
    denied = any(element.token.means("mark", "negation") for element in elements)
    if len(at) != 1 or denied or (effects[0] == "moved") != (at[0] == body.to):
        return False
    reader.bodies[-1] = msgspec.structs.replace(body, effect=effects[0], effect_at=at[0])
    reader.use_turned(token for element in elements for token in element.tokens)
    others = ", ".join(str(place) for place in said if place not in pair)
    if others:
        reader.suppose(f"{others} beside it: kept in the words")
    return True


def _is_open_swap(body: object) -> bool:
    return isinstance(body, Work) and body.do == "swapped" and body.to is not None and not body.effect


RUNNING = frozenset(
    ["run", "idl", "idle", "crank", "start", "rev", "pull", "driv", "drive", "go", "fir", "fire", "behav", "behave"]
)


def read_better(reader: Reader, tokens: Sequence[Token]) -> bool:
    """``cleaned grounds, cranks better``: a plain verb with how it is now is what the work before changed."""
    last = reader.bodies[-1] if len(reader.bodies) > reader.since else None
    effects = [token for token in tokens if token.means("effect")]
    if not isinstance(last, Work) or last.effect or last.do == "swapped" or len(effects) != 1:
        return False
    others = [token for token in tokens if token is not effects[0]]
    if any(token.kind in ("num", "unit", "code") or token.means("part") for token in others):
        return False
    verbs = [token for token in others if stem(token.plain) in RUNNING]
    small = all(
        token in verbs or token.means("filler") or token.plain in PASSED_OVER or token.kind == "sign"
        for token in others
    )
    if not verbs or not small or any(token.means("mark", "negation") for token in others):
        return False
    reader.bodies[-1] = msgspec.structs.replace(last, effect=effects[0].ids("effect")[0])
    reader.use(tokens)
    return True


def read_effect(reader: Reader, elements: Sequence[Element]) -> None:
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
    said = {place for element in elements for place in places_at(element, reader.most) if place.kind == "cylinder"}
    for index in range(len(reader.bodies) - 1, -1, -1):
        body = reader.bodies[index]
        worked = {place for place in getattr(body, "places", ()) if place.kind == "cylinder"}
        if isinstance(body, Work) and said and worked and not said & worked and body.do != "swapped":
            return  # "wire of injector 5 mended, 4 still dead": said of another cylinder than the work
        if isinstance(body, Work):
            effect = effects[0].ids("effect")[0]
            if not body.effect or (effect == "returned" and body.effect in ("better", "cured")):
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
            _milder(reader, index, body, effects[0], elements)
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
    kind = elsewhere(reader, body.kind, said)
    record = reader.kind_record(kind)
    word = healthy_word(reader.library, record) if record is not None and record.words else "good"
    _, conditions = settled(reader, kind, said)
    reader.put(msgspec.structs.replace(body, kind=kind, word=word, conditions=conditions), tokens)


def elsewhere(reader: Reader, kind: str, said: Sequence[str]) -> str:
    """The complaint that speaks of these conditions where the one before spoke of others (in traffic, on the move)."""
    for base, within in table()["narrowed"].items():
        if kind in (base, *within.values()) and reader.kind_record(own := narrowed(base, said)) is not None:
            return own if own != base else kind
    return kind


def _milder(reader: Reader, index: int, body: Reading, effect: Token, elements: Sequence[Element]) -> None:
    """``better at 2500`` behind a complaint: the same reading, one word milder, under the new conditions."""
    record = reader.kind_record(body.kind)
    said = conditions_of(elements)
    change = effect.ids("effect")[0]
    later = conditions_of([element for element in elements if element.token.start > effect.start])
    earlier = [name for name in said if name not in later]
    if later and earlier and set(later) <= set(body.conditions):
        now = tuple(name for name in body.conditions if name not in later)
        reader.bodies[index] = body = msgspec.structs.replace(body, conditions=now)
        said = later
    if change not in ("better", "cured", "worse") or not said or set(said) <= set(body.conditions):
        return
    if change == "worse":
        _, conditions = settled(reader, body.kind, said)
        word = faulty_word(reader, record) if record is not None and record.words else body.word
        reader.put(msgspec.structs.replace(body, word=word, conditions=conditions), [effect])
        return
    word = ""
    if record is not None and body.word in record.words:
        good = healthy_word(reader.library, record)
        ordered = list(record.words) if record.words[0] == good else list(reversed(record.words))
        place = ordered.index(body.word)
        word = good if effect.ids("effect")[0] == "cured" else ordered[max(place - 1, 0)]
    _, conditions = settled(reader, body.kind, said)
    doubt = "" if word else "how much better is not said"
    reader.put(
        msgspec.structs.replace(body, word=word or "better", conditions=conditions, doubt=doubt or body.doubt), [effect]
    )
    reader.suppose(f"better: {word or 'less of it'}")


def note_gone_now(reader: Reader, elements: Sequence[Element], before: int) -> None:
    """``put another coil in, idles smooth now``: the complaint denied now is what the work cured."""
    if not any(token.plain.split()[-1] == "now" for element in elements for token in element.tokens):
        return
    fresh = [body for body in reader.bodies[before:] if isinstance(body, Reading)]
    for index in range(before - 1, -1, -1):
        body = reader.bodies[index]
        if not isinstance(body, Work):
            continue
        records = [reader.kind_record(reading.kind) for reading in fresh]
        pairs = zip(records, fresh, strict=True)
        well = [r is not None and bool(r.words) and b.word == healthy_word(reader.library, r) for r, b in pairs]
        if not body.effect and well and all(well):
            reader.bodies[index] = msgspec.structs.replace(body, effect="cured")
            reader.use(token for element in elements for token in element.tokens if token.plain == "now")
        return


def note_still_there(reader: Reader, elements: Sequence[Element], before: int) -> None:
    """``new sensor fitted but still dies``: the complaint said again is what the work did not change."""
    if not any(token.plain.startswith("still") for element in elements for token in element.tokens):
        return
    fresh = [body for body in reader.bodies[before:] if isinstance(body, Reading)]
    for index in range(len(reader.bodies) - 1, -1, -1):
        body = reader.bodies[index]
        if not isinstance(body, Work):
            continue
        if not body.effect and fresh:
            reader.bodies[index] = msgspec.structs.replace(body, effect="no change")
        return
