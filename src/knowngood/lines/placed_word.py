"""A reading by word put where it belongs: the cylinders said, those of a bank, all of them, or the engine."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import ENGINE, Place, layout_of
from knowngood.errors import Refused
from knowngood.evidence import Reading
from knowngood.library.healthy import healthy_word
from knowngood.lines.conditions import settled
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import table


def _where(reader: Reader, kind: str, places: Sequence[Place]) -> tuple[Place, ...]:
    """Where a word reading belongs: the places said, those of the line before, or the engine."""
    at = reader.place_of_kind(kind)
    if at == "engine":
        return (ENGINE,)
    fitting = tuple(place for place in places if place.kind == at) or (
        _of_banks(reader, places) if at == "cylinder" else ()
    )
    if fitting:
        return fitting
    if at == "cylinder" and len(reader.places) == 1 and reader.places[0].kind == "cylinder":
        reader.suppose(f"taken as of {reader.places[0]}")
        return reader.places
    return ()


def cylinders_of(reader: Reader, bank: Place) -> tuple[Place, ...]:
    """The cylinders of a bank, by the layout of the engine; empty for any other place and where there is one bank."""
    layout = layout_of(reader.car)
    if bank.kind != "bank" or len(layout.banks) < 2:
        return ()
    try:
        own = layout.bank_place(bank.name)
    except Refused:
        return ()
    return tuple(Place("cylinder", str(number)) for number in layout.banks[int(own.name) - 1])


def _of_banks(reader: Reader, places: Sequence[Place]) -> tuple[Place, ...]:
    """``no spark on bank 1``: of every cylinder of that bank."""
    found: list[Place] = []
    for place in places:
        if own := cylinders_of(reader, place):
            reader.suppose(f"{place}: cylinders {', '.join(one.name for one in own)}")
            found += own
    return tuple(found)


OF_ALL = ("spark_test", "injector_pulse", "coil_trigger", "injector_click")
"""Said without a cylinder, these are meant of the engine: "no spark"."""


OF_ONE_PART = ("coil_primary", "coil_secondary", "injector_resistance", "lead_resistance", "plug_gap")
"""Of a part that can be counted: "coil good" is one of them, "compression good" is all."""


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
    record = reader.kind_record(kind)
    if record is not None and not record.complaint and record.place == "cylinder":
        said = [name for name in said if name not in ("wet", "dry")]
    if reader.kind_record(own := narrowed(kind, said)) is not None and not places:
        kind = own
    final, conditions = settled(reader, kind, (*said, *reader.given))
    where = _where(reader, final, places)
    if not where and _is_said_again(reader, final, word):
        reader.use(tokens)  # "spark weak on bank 1, orange": of the same cylinders
        return
    if not where:
        where = reader.all_cylinders() if reader.place_of_kind(final) == "cylinder" else (ENGINE,)
        record = reader.kind_record(final)
        plural = any(token.text.casefold().endswith("s") or token.means("mark", "all") for token in tokens)
        well = healthy_word(reader.library, record) if record is not None and record.words else "good"
        judged_one = record is not None and (
            word != well or (final in OF_ONE_PART and reader.car.ignition != "distributor")
        )
        if record is not None and record.complaint:
            where = (ENGINE,)
        elif final in OF_ALL:
            reader.suppose("taken for all cylinders")
        elif reader.place_of_kind(final) == "cylinder" and judged_one and not plural and reader.cylinders != 1:
            where = (ENGINE,)
            reader.ask(f"{final.replace('_', ' ')} {word}: at which cylinder?")
            doubt = doubt or "which cylinder is not said"
    for place in where:
        reader.put(Reading(kind=final, place=place, word=word, conditions=conditions, doubt=doubt), tokens)
    reader.kind = final
    if len(where) == 1 and where[0].kind == "cylinder":
        reader.places = where


def _is_said_again(reader: Reader, kind: str, word: str) -> bool:
    """The sentence has said this word of this kind already, at some cylinders and not at all of them."""
    said = [b.place for b in reader.bodies[reader.since :] if isinstance(b, Reading) and b.kind == kind]
    last = reader.bodies[-1] if reader.bodies else None
    same = isinstance(last, Reading) and last.kind == kind and last.word == word
    return same and all(place.kind == "cylinder" for place in said) and len(set(said)) != reader.cylinders


def narrowed(kind: str, said: Sequence[str]) -> str:
    """The complaint of its own that the library has for a complaint under a condition; else the kind itself."""
    within = table()["narrowed"].get(kind, {})
    return next((within[name] for name in said if name in within), kind)
