"""Free words: complaints, findings, work, judgements, numbers, picked out of a clause that follows no form."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from itertools import pairwise

from knowngood.car import TWO, Place
from knowngood.evidence import Body, CarFact, Finding, Note, Reading, Undone, Work
from knowngood.lines.beside import no_such, outside
from knowngood.lines.codes import read_loose_codes
from knowngood.lines.contrast import contrasted
from knowngood.lines.effects import note_gone_now, note_still_there, read_better, read_effect, read_works
from knowngood.lines.elements import PREPOSITIONS, Element, cylinder, elements_of
from knowngood.lines.expected import plainly_said
from knowngood.lines.findings import read_findings
from knowngood.lines.judgements import read_judgements, read_phrases, read_rest
from knowngood.lines.kinds import LAST_WORDS, conditions_of, segments_of
from knowngood.lines.looks import FOLLOWS, read_look
from knowngood.lines.named_codes import read_named_codes
from knowngood.lines.placed_word import cylinders_of
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.series import read_segment
from knowngood.lines.token import HIGHEST
from knowngood.lines.unread import weighs
from knowngood.lines.vocabulary import forms_of


def with_places(reader: Reader, elements: Sequence[Element]) -> list[Element]:
    """Elements with small bare numbers behind a part, a cylinder word or a preposition made places."""
    out: list[Element] = []
    for element in elements:
        before = out[-1] if out else None
        joined = before is not None and before.kind == "LINK" and len(out) > 1 and out[-2].kind == "PLACE"
        named = before is not None and (
            (" " in before.token.plain and before.token.plain.split()[-1] in PREPOSITIONS)
            or (before.token.means("part") and reader.part_place(reader.part(before.token)) == "cylinder")
            or (
                before.token.means("kind")
                and any(reader.place_of_kind(k) == "cylinder" for k in before.token.ids("kind"))
            )
            or any(reader.place_of_kind(k) == "cylinder" for k in before.token.ids("says"))
            or before.token.means("mark", "miss")
            or any(fault.place == "cylinder" for fault in reader.faults(before.token))
        )
        whole = element.whole
        named = named or _goes_on(before, element)
        said = named or joined or element.after in PREPOSITIONS
        if (
            element.kind == "CELL"
            and said
            and whole is not None
            and 1 <= whole <= (HIGHEST if named or joined else reader.most)
        ):
            element = replace(element, kind="PLACE", places=(cylinder(whole),))
        out.append(element)
    return out


def _goes_on(before: Element | None, element: Element) -> bool:
    """``plugs 1 2 4 tan``: bare numbers that rise behind a cylinder."""
    if before is None or before.kind != "PLACE" or before.places[0].kind != "cylinder" or element.unit:
        return False
    last = before.places[-1].name
    return element.whole is not None and last.isdigit() and element.whole > int(last)


def read_free(reader: Reader, elements: Sequence[Element]) -> bool:
    """Whatever can be picked out of one clause; say whether anything was."""
    before = len(reader.bodies)
    elements = with_places(reader, elements)
    tokens = [token for element in elements for token in element.tokens]
    if any(token.means("mark", "was_before") for token in tokens) and _of_before(reader, tokens):
        reader.put(Note(reader.words(tokens), "how it was before: kept, not counted"), tokens)
        return True
    if any(token.means("mark", "hedge") for token in tokens):
        read_loose_codes(reader, elements)
        reader.put(Note(reader.words(tokens), "an opinion: kept, not counted"), tokens)
        return True
    places = [place for element in elements if element.kind == "PLACE" for place in element.places]
    if wrong := outside(reader, places):
        reader.doubt(tokens, f"there is no {wrong}: the engine has {reader.cylinders}", no_such(reader, wrong))
        return True
    if _is_excepted(elements):
        reader.doubt(tokens, "which have it and which not was not heard", f"{reader.words(tokens)}: what is at which?")
        return True
    if places == [] and any(token.means("mark", "rest") for token in tokens):
        places = _not_named(reader)
    elements = _without_code_texts(reader, elements)
    read_named_codes(reader, elements)
    _read_numbers(reader, elements)
    read_findings(reader, elements, places)
    elements = _expanded(reader, elements)
    places = [place for element in elements if element.kind == "PLACE" for place in element.places] or places
    if read_better(reader, tokens):
        return True
    read_phrases(reader, elements, places)
    read_works(reader, elements, places)
    read_effect(reader, elements)
    read_judgements(reader, elements, places)
    _read_animals(reader, tokens)
    read_rest(reader, elements)
    contrasted(reader, tokens, before)
    note_still_there(reader, elements, before)
    note_gone_now(reader, elements, before)
    if len(reader.bodies) > before:
        reader.use(t for e in elements if e.kind in ("COND", "SPEED", "FILL", "MUTE", "LINK") for t in e.tokens)
        at = {place for body in reader.bodies[before:] for place in places_of(body)}
        reader.use(t for e in elements if e.kind == "PLACE" and _is_among(reader, e, at) for t in e.tokens)
        loose = [token for token in tokens if reader.is_unread(token) and token.kind in ("word", "term")]
        if reader.kind in FOLLOWS and loose:
            read_look(reader, loose, tuple(place for place in reader.places if place in at), ())
        _use_locations(reader, elements, at)
        return not _taken_back(reader, tokens, places, conditions_of(elements), before)
    return read_look(reader, tokens, places, conditions_of(elements))


def _is_excepted(elements: Sequence[Element]) -> bool:
    """``plugs all tan and dry except 3``: what is said is not of the cylinder that is taken out."""
    at = next((i for i, element in enumerate(elements) if element.kind == "EXCEPT"), len(elements))
    return any(place.kind == "cylinder" for element in elements[at + 1 :] for place in element.places)


THEN = frozenset(["was", "were", "ran", "until", "before", "used", "had", "till"])


def _of_before(reader: Reader, tokens: Sequence[Token]) -> bool:
    """``was running fine`` is of before, ``runs fine`` is not."""
    at = max((token.end for token in reader.tokens if token.end <= tokens[0].start), default=0)
    words = reader.text[max(at - 5, 0) : tokens[-1].end].casefold().split()
    return bool(THEN & set(words))


def _is_among(reader: Reader, element: Element, at: Collection[Place]) -> bool:
    """One of its places was read, or all cylinders of its bank were."""
    return any(place in at or set(cylinders_of(reader, place)) & set(at) for place in element.places)


def _taken_back(
    reader: Reader, tokens: Sequence[Token], places: Sequence[Place], said: Sequence[str], before: int
) -> bool:
    """Where most words of a clause say something that is not understood, a word picked out of it may be misheard."""
    fresh = reader.bodies[before:]
    if not all(isinstance(body, Reading) and body.value is None and body.kind != "code" for body in fresh):
        return False
    heard = sum(_count(token) for token in tokens if weighs(token) and not reader.is_unread(token))
    amounts = {id(one) for pair in pairwise(tokens) if pair[1].kind == "unit" for one in pair}
    unheard = sum(
        _count(token) for token in tokens if weighs(token) and reader.is_unread(token) and id(token) not in amounts
    )
    if unheard <= heard:
        return False
    del reader.bodies[before:]
    if read_look(reader, tokens, places, said):
        return False
    reader.doubt(tokens, "most of it was not understood", f"'{reader.words(tokens)}': what was seen, measured or done?")
    return True


def _count(token: Token) -> int:
    return len(forms_of(token.plain)) or 1


def _not_named(reader: Reader) -> list[Place]:
    """The cylinders the kind read last was not read of ("the others")."""
    named = {body.place for body in reader.bodies if isinstance(body, Reading) and body.kind == reader.kind}
    at_cylinders = any(place.kind == "cylinder" for place in named)
    return [place for place in reader.all_cylinders() if place not in named] if at_cylinders else []


def _without_code_texts(reader: Reader, elements: Sequence[Element]) -> list[Element]:
    """The elements before a code; what stands behind it ("P0171 system too lean") is the code's own text."""
    codeword = any(element.token.means("mark", "code") for element in elements)
    found = [
        replace(element, kind="CODE", text=f"P{element.text}")
        if codeword and element.kind == "CELL" and len(element.text) == 4 and element.text.startswith("0")
        else element
        for element in elements
    ]
    codes = [index for index, element in enumerate(found) if element.kind == "CODE"]
    read_loose_codes(reader, found)
    if not codes:
        return found
    behind = [e for e in found[codes[-1] + 1 :] if not any(e.token.means(kind) for kind in ("effect", "work", "state"))]
    if codeword or len(codes) == len(found) - len(behind):
        reader.use(token for element in behind for token in element.tokens)
        return [element for element in found if element not in behind]
    return found


def places_of(body: Body) -> tuple[Place, ...]:
    """Where an entry says something about."""
    if isinstance(body, Reading | Finding | Undone):
        return (
            body.place,
            *(Place("cylinder", name) for name in body.place.name.split("-") if body.place.kind in TWO),
        )
    if isinstance(body, Work):
        return tuple(place for place in (*body.places, body.to, body.effect_at) if place is not None)
    return ()


def _expanded(reader: Reader, elements: Sequence[Element]) -> list[Element]:
    """Phrases that were no finding after all read as their words."""
    tokens = [token for element in elements for token in element.tokens]
    phrases = [t for t in tokens if t.parts and reader.is_unread(t) and t.means("fault") and not _names_more(t)]
    if not any(isinstance(body, Work) and not body.effect for body in reader.bodies):
        phrases += [t for t in tokens if t.parts and t.means("effect") and any(_complains(reader, p) for p in t.parts)]
    if not phrases:
        return list(elements)
    for token in phrases:
        reader.expand(token)
    first, last = tokens[0].start, tokens[-1].end
    return with_places(reader, elements_of(reader, [t for t in reader.tokens if first <= t.start < last]))


def _complains(reader: Reader, token: Token) -> bool:
    """``still misfires`` with no work before it on the line: the complaint itself."""
    kinds = [*token.ids("says"), *(name.partition("=")[0] for kind in ("outcome", "alone") for name in token.ids(kind))]
    records = [reader.kind_record(kind) for kind in kinds]
    return any(record is not None and record.complaint for record in records)


def _names_more(token: Token) -> bool:
    return any(token.means(kind) for kind in ("part", "kind", "says", "outcome", "alone", "condition", "effect"))


def _read_numbers(reader: Reader, elements: Sequence[Element]) -> None:
    if any(element.token.means("mark", "swap") for element in elements):
        return  # numbers beside a swap are where the parts went
    for segment in segments_of(plainly_said(elements)):
        if any(element.kind == "CELL" for element in segment.elements):
            unread = [
                e for e in segment.elements if e.kind not in ("WORD", "NONE", "ALL") or e.token.plain in LAST_WORDS
            ]
            if not _is_broken_row(reader, segment.elements) and _measures(reader, unread):
                read_segment(reader, replace(segment, elements=unread))


def _is_broken_row(reader: Reader, elements: Sequence[Element]) -> bool:
    """Numbers of cylinders with a word between them that is not understood: it may say which is which."""
    cells = [index for index, element in enumerate(elements) if element.kind == "CELL"]
    names = [element.token for element in elements if element.kind == "NAME"]
    kinds = [kind for name in names for kind in (*name.ids("kind"), *name.ids("says"))]
    if len(cells) < 2 or not any(reader.place_of_kind(kind) == "cylinder" for kind in kinds):
        return False
    return any(
        element.kind in ("WORD", "NONE", "ALL", "REST") for element in elements[max(cells[0] - 1, 0) : cells[-1]]
    )


def _measures(reader: Reader, elements: Sequence[Element]) -> bool:
    """A unit is said, or a name stands beside the number."""
    cells = [index for index, element in enumerate(elements) if element.kind == "CELL"]
    if any(elements[index].unit for index in cells):
        return True
    return any(elements[near].kind == "NAME" for index in cells for near in range(max(index - 3, 0), index))


ANIMALS = frozenset(
    ["mouse", "mice", "rat", "rats", "rodent", "rodents", "marten", "martens", "squirrel", "squirrels", "droppings"]
)


def _read_animals(reader: Reader, tokens: Sequence[Token]) -> None:
    """Any word of animals says that there were some."""
    seen = [token for token in tokens if ANIMALS & set(token.text.casefold().split())]
    denied = any(token.means("mark", "negation") for token in tokens)
    if seen and not denied and not reader.car.animals:
        reader.put(CarFact("animals", "true"), seen)


WHERE = ("before", "ahead", "near", "under", "next", "with", "through", "into", "inside", "out", "past")


def _use_locations(reader: Reader, elements: Sequence[Element], at: Collection[Place]) -> None:
    """Parts that only say where (``at any plug``, ``near the firewall``), and tools that say with what, are read."""
    tokens = [token for element in elements for token in element.tokens]
    if any(place.kind == "cylinder" for place in at):
        reader.use(t for t in tokens if t.means("part") and reader.part_place(reader.part(t)) == "cylinder")
    reader.use(token for token in tokens if token.means("tool") and not token.means("part"))
    for index, token in enumerate(tokens):
        near = {other.plain.split()[-1] for other in tokens[max(index - 3, 0) : index]}
        says_more = token.means("effect") or token.means("work") or token.means("judge")
        if token.kind in ("word", "term") and near & {*PREPOSITIONS, *WHERE} and not says_more:
            reader.use([token])
