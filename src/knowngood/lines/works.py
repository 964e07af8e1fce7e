"""What was done: swaps, replacements, other work, and a cylinder stopped to see what changes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from knowngood.car import ENGINE, Place
from knowngood.evidence import Note, Work
from knowngood.lines.beside import no_such, outside
from knowngood.lines.codes import place_of, read_loose_codes
from knowngood.lines.counted import is_counted
from knowngood.lines.denials import NOT
from knowngood.lines.elements import Element, cylinder, cylinders_at
from knowngood.lines.forms import Parsed, parsed
from knowngood.lines.location import BEHIND, is_location
from knowngood.lines.placed_word import cylinders_of
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token

_RANGE = re.compile(r"(\d{1,2}) to (\d{1,2})")


def _swap_terminal(element: Element) -> str:
    token = element.token
    if element.kind == "PLACE":
        kind = element.places[0].kind
        return "BANK" if kind == "bank" else "PLACE2" if len(element.places) == 2 else "PLACE"
    if token.means("mark", "bank"):
        return "BANK"
    if element.kind == "CELL" and _RANGE.fullmatch(element.text):
        return "PLACE2"
    if element.kind in ("CELL", "CODE", "COMMA", "ARROW", "LINK", "DASH", "ALL"):
        return element.kind
    if element.kind == "EQUALS":
        return ""
    if token.plain in BACK:
        return "EFFECT"
    if token.plain in ("for", "into", "onto"):
        return "LINK"
    if token.means("mark", "swap") or token.means("mark", "move"):
        return "SWAP" if not token.means("effect") or token.means("mark", "swap") else "EFFECT"
    for kind, terminal in (("effect", "EFFECT"), ("part", "PART")):
        if token.means(kind):
            return terminal
    for mark, terminal in (("miss", "MISS"), ("negation", "NEGATION"), ("code", "CODEWORD")):
        if token.means("mark", mark):
            return terminal
    if token.means("state"):
        return "STATE"
    return "" if element.kind in ("FILL", "MUTE") or token.means("origin") else "WORD"


def _moved_terminal(element: Element, first: Element) -> str:
    """Behind "put": ``put coil 1 on cylinder 3``."""
    if element is first:
        return "SWAP"
    return "LINK" if element.token.plain in ("on", "onto", "into", "in") else _swap_terminal(element)


JOINS = ("to", "with", "into", "onto", ">")
BACK = ("back on", "back at")
"""Behind a swap: the fault is there again."""


def read_swap(reader: Reader, elements: Sequence[Element]) -> bool:
    """``coil 5>2 miss moved``; a swap needs no word unless the part goes to stock or is new."""
    elements = _without_arrows(elements)
    first_is_move = bool(elements) and elements[0].token.means("mark", "move")
    form = parsed("swap", elements, lambda e: _moved_terminal(e, elements[0]) if first_is_move else _swap_terminal(e))
    if form is None and _swapped_around(reader, elements):
        return True
    if form is None or any(e.token.means("mark", "to_stock") for e in elements):
        return False
    tokens = [token for element in elements for token in element.tokens]
    part = reader.part(form.of("PART")[0].token)
    if len({reader.part(element.token) for element in form.of("PART")}) > 1:
        return False
    if form.of("BANK"):
        first, second, at_end = Place("bank", "1"), Place("bank", "2"), []
    else:
        pair = form.under("pair") or [e for e in form.under("at") if e not in form.under("tail")]
        told = bool(form.of("EFFECT", "CODE", "MISS")) and any(_RANGE.fullmatch(e.text) for e in pair)
        if not (form.of("SWAP") or told) and not any(
            e.kind == "ARROW" or (e.text or e.token.plain) in JOINS for e in pair
        ):
            return False
        numbers = [place for element in pair for place in cylinders_named(element)]
        if len(numbers) != 2 or numbers[0] == numbers[1]:
            return False
        first, second = numbers
        at_end = [place for element in form.under("tail") for place in cylinders_named(element)]
    if wrong := outside(reader, (first, second)):
        reader.doubt(tokens, f"there is no {wrong}: the engine has {reader.cylinders}", no_such(reader, wrong))
        return True
    effect, at = _effect(reader, form, first, second, at_end)
    if effect == "stayed" and at == second:
        first, second = second, first
    reader.put(
        Work(
            do="swapped", part=part, places=(first,), to=second, effect=effect, effect_at=at, words=reader.words(tokens)
        )
    )
    read_loose_codes(reader, elements)
    reader.use(tokens)
    reader.places = (second,)
    return True


def _without_arrows(elements: Sequence[Element]) -> list[Element]:
    """``coil 3<->1: misfire -> 1``: an arrow behind the fault only says where it is now."""
    before = [None, *elements]
    return [
        e
        for e, b in zip(elements, before, strict=False)
        if not (e.kind == "ARROW" and b is not None and b.token.means("mark", "miss"))
    ]


def _swapped_around(reader: Reader, elements: Sequence[Element]) -> bool:
    """``swapped injectors around``: which two is asked."""
    tokens = [token for element in elements for token in element.tokens]
    parts = [token for token in tokens if token.means("part") and reader.part_place(reader.part(token)) == "cylinder"]
    named = [element for element in elements if element.kind in ("PLACE", "CELL", "COMMA")]
    if _tried_elsewhere(reader, elements, parts):
        return True
    if not parts or named or not any(token.means("mark", "swap") for token in tokens):
        return False
    reader.doubt(
        tokens, "which two changed places is not said", f"{reader.words(tokens)}: between which two cylinders?"
    )
    return True


def _tried_elsewhere(reader: Reader, elements: Sequence[Element], parts: Sequence[Token]) -> bool:
    """``coils swapped: code comes back on 3``: that cylinder ran with a part of another one, and nothing changed."""
    tokens = [token for element in elements for token in element.tokens]
    places = [place for element in elements for place in cylinders_named(element)]
    known = all(
        element.kind in ("PLACE", "CELL", "COMMA", "LINK", "FILL", "MUTE", "EQUALS", "ALL")
        or any(element.token.means("mark", name) for name in ("swap", "miss", "code"))
        or element.token.means("effect")
        or element.token in parts
        or element.token.plain in BACK
        for element in elements
    )
    swapped = next((index for index, token in enumerate(tokens) if token.means("mark", "swap")), len(tokens))
    behind = tokens[swapped + 1 :]
    back = [t for t in behind if t.plain in BACK or {"returned", "stayed", "no change"} & {*t.ids("effect")}]
    if len(parts) != 1 or len(places) != 1 or not known or not back or outside(reader, places):
        return False
    if not any(tokens.index(element.token) > swapped for element in elements if cylinders_named(element)):
        return False
    part = reader.part(parts[0])
    origin, words = "known-good spare", reader.words(tokens)
    reader.put(
        Work(do="tried", part=part, places=tuple(places), origin=origin, effect="no change", words=words), tokens
    )
    reader.suppose(f"{part} of another cylinder tried at {places[0]}")
    reader.places = tuple(places)
    return True


MOST_HEARD = 99
"""A number of two digits beside a part is heard as a cylinder's; one the engine does not have is asked about."""


def cylinders_named(element: Element) -> list[Place]:
    """Cylinders an element names: as places, as a range of two, as a number."""
    if ends := _RANGE.fullmatch(element.text):
        return [cylinder(ends.group(1)), cylinder(ends.group(2))]
    return cylinders_at(element, MOST_HEARD)


def _effect(
    reader: Reader, form: Parsed, first: Place, second: Place, at_end: Sequence[Place]
) -> tuple[str, Place | None]:
    """What the swap changed, and where the fault is now."""
    effects = [next(iter(element.token.ids("effect")), "returned") for element in form.of("EFFECT")]
    if effects[:1] == ["returned"] and at_end and at_end[0] in (first, second):
        reader.suppose(f"back on {at_end[0]}: stayed")
        return "stayed", at_end[0]
    if not effects and (at_end or form.of("CODE")):
        where = at_end[0] if at_end else place_of(reader, form.of("CODE")[0].text)
        if where == second:
            reader.suppose(f"miss now on {second}: moved")
            return "moved", second
        if where == first:
            reader.suppose(f"miss still on {first}: stayed")
            return "stayed", first
    if not effects:
        return "", None
    effect = "stayed" if effects[0] == "no change" and at_end[:1] in ([first], [second]) else effects[0]
    if form.of("NEGATION") and effect == "moved":
        effect = "stayed"
    if effect == "moved":
        return effect, at_end[0] if at_end else second
    if effect == "stayed":
        not_there = bool(form.of("NEGATION")) or any("move" in element.token.plain for element in form.of("EFFECT"))
        return effect, first if not_there and at_end[:1] == [second] else at_end[0] if at_end else first
    return effect, at_end[0] if at_end else None


def _work_terminal(element: Element) -> str:
    token = element.token
    if element.kind == "PLACE":
        return "PLACE"
    if element.kind == "EQUALS":
        return ""
    if element.kind == "CELL":
        return "CELL" if element.whole is not None else "WORD"
    if element.kind in ("COMMA", "LINK"):
        return element.kind
    if token.means("part"):
        return "PART"
    if token.means("effect"):
        return "EFFECT"
    if token.means("work"):
        return "WORK"
    if token.means("origin"):
        return "ORIGIN"
    if element.kind == "ALL" or token.means("mark", "all"):
        return "ALL"
    if token.means("mark", "miss"):
        return "MISS"
    return "" if element.kind in ("FILL", "MUTE") else "WORD"


def read_work(reader: Reader, elements: Sequence[Element]) -> bool:
    """``new plugs all, no change``; ``replaced coil 3``."""
    elements = joined_places(reader, elements)
    pairs = zip(elements, [*elements[1:], None], strict=True)
    elements = [
        e for e, behind in pairs if not (e.text == "with" and behind is not None and behind.token.means("effect"))
    ]
    swaps = [e.token for e in elements if e.token.means("mark", "swap") and not e.token.means("work")]
    parts = [e.token for e in elements if e.token.means("part")]
    whole = bool(swaps) and all(reader.part_place(reader.part(token)) != "cylinder" for token in parts)
    form = parsed("work", elements, lambda e: "WORK" if whole and e.token in swaps else _work_terminal(e))
    if form is None or not form.of("WORK", "ORIGIN"):
        return False
    done = [element.token for element in form.of("WORK")]
    if is_to_do([e.token for e in elements], form.of("WORK", "ORIGIN")[0].token):
        return False
    if done and any(e.token.plain in NOT and e.token.end <= done[0].start for e in elements):
        return False  # "did not replace coil 3"
    if any(token.plain == "clean" and token is not elements[0].token for token in done):
        return False
    origins = [name for element in form.of("WORK", "ORIGIN") for name in element.token.ids("origin")]
    if not done and not _stands_for_work(origins, form):
        return False
    do = next(iter(done[0].ids("work")), "tried") if done else "replaced"
    tokens = [token for element in elements for token in element.tokens]
    if any(is_counted(reader, tokens, token) for token in tokens if token.means("part")):
        return False
    places = [place for element in form.of("PLACE", "CELL") for place in cylinders_named(element)]
    if wrong := outside(reader, places):
        reader.doubt(tokens, f"there is no {wrong}: the engine has {reader.cylinders}", no_such(reader, wrong))
        return True
    banks = [place for element in form.of("PLACE") for place in element.places if place.kind == "bank"]
    places = places or [place for bank in banks for place in cylinders_of(reader, bank) or (bank,)]
    effects = [element.token.ids("effect")[0] for element in form.of("EFFECT")]
    things = _things(form, places)
    for token, where in [t for t in things if not is_location(t[0], tokens, BEHIND)] or things:
        part = reader.part(token)
        words = reader.words(tokens)
        put_work(reader, do, part, token.text, where, origins, effects, bool(form.of("ALL")), words)
    reader.use(tokens)
    return True


TO_DO = frozenset(["need", "needs", "must", "should", "will", "gonna", "want", "wants", "plan", "todo", "tomorrow"])
NOT_DONE = frozenset(["before", "instead", "without", "than", "avoid", "consider", "considering", "thinking"])
"""Before ``replacing``, it was not done, or not by then."""
DUE = frozenset(["due", "overdue", "tomorrow"])
"""Wherever it stands beside work, that is still to come."""


def is_to_do(tokens: Sequence[Token], verb: Token) -> bool:
    """``needs new plugs``, ``told to replace the pump``, ``belt change due``, ``pump replaced?``: not done yet."""
    said = [(token, set(token.plain.split())) for token in tokens]
    if tokens[-1].is_sign("?") or any(words & DUE or (words & TO_DO and t.end <= verb.start) for t, words in said):
        return True
    before = [word for token in tokens if token.end <= verb.start for word in token.plain.split()][-2:]
    if before[-1:] == ["to"]:
        return verb.plain != "new" and before[:-1] != ["had"]  # "had to replace it": done
    return verb.plain.endswith("ing") and bool(NOT_DONE & set(before))


def _things(form: Parsed, places: Sequence[Place]) -> list[tuple[Token, list[Place]]]:
    """The parts of a form, each with the places said behind it; a place before the only part is its own."""
    found: list[tuple[Token, list[Place]]] = []
    for terminal, element in form.parts:
        if terminal == "PART":
            found.append((element.token, []))
        elif terminal in ("PLACE", "CELL") and found:
            found[-1][1].extend(cylinders_named(element))
    return [(found[0][0], list(places))] if len(found) == 1 else found


def joined_places(reader: Reader, elements: Sequence[Element]) -> list[Element]:
    """``coils 1 and 4``: numbers behind a cylinder part, joined, made one place."""
    out: list[Element] = []
    for element in elements:
        whole = element.whole
        if element.kind == "CELL" and reader.is_cylinder(whole):
            behind = [e for e in out if e.kind not in ("FILL", "MUTE")]
            if behind and behind[-1].token.means("part"):
                element = replace(element, kind="PLACE", places=(cylinder(whole),))
            elif len(behind) > 1 and behind[-1].kind in ("LINK", "COMMA", "DASH") and behind[-2].kind == "PLACE":
                first = behind[-2]
                at = out.index(first)
                tokens = tuple(token for e in (*out[at:], element) for token in e.tokens)
                places = (*first.places, cylinder(whole))
                out[at:] = [replace(first, tokens=tokens, places=places)]
                continue
        out.append(element)
    return out


def _stands_for_work(origins: Sequence[str], form: Parsed) -> bool:
    return bool(origins) and bool(form.of("EFFECT"))


SOME = frozenset(["only", "bank", "side", "front", "rear", "half", "some", "couple", "few"])
"""Beside a plural these say that it is not all of them."""


def put_work(
    reader: Reader,
    do: str,
    part: str,
    said: str,
    places: Sequence[Place],
    origins: Sequence[str],
    effects: Sequence[str],
    all_of_them: bool,
    words: str,
) -> None:
    """One entry of work; a cylinder part without a cylinder is taken for all of them, and says so.

    A word for parts of different areas is kept with the question which of them it was.
    """
    if either := reader.either_part(said, part):
        ask = f"{said}: {' or '.join(either)}?"
        reader.put(Note(words or said, "which of several parts is not said", ask))
        reader.ask(ask)
        return
    at = tuple(dict.fromkeys(places))
    if not at and reader.part_place(part) == "cylinder":
        at = reader.all_cylinders()
        if not all_of_them and not said.casefold().endswith("s"):
            if len(reader.places) == 1 and reader.places[0].kind == "cylinder":
                at = reader.places
                reader.suppose(f"{said} of {at[0]}")
            elif reader.cylinders != 1:
                at = (ENGINE,)
                reader.ask(f"{said}: which cylinder was it?")
        elif not all_of_them and SOME & set(words.casefold().split()):
            at = (ENGINE,)
            reader.ask(f"{said}: at which cylinders?")
        elif not all_of_them:
            reader.suppose(f"{said}: all of them")
    origin = next((name for name in origins), "")
    if do not in ("replaced", "tried", "fitted"):
        origin = ""
    elif do == "tried" and not origin:
        origin = "known-good spare"
    reader.put(
        Work(
            do=do,
            part=part,
            places=at or (ENGINE,),
            origin=origin or "unknown",
            effect=effects[0] if effects else "",
            words=words,
        )
    )
    if len(places) == 1:
        reader.places = tuple(places)
