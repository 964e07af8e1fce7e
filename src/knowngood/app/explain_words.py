"""Words shared by the pages on records: what a car must have, where the numbers are from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from knowngood.library.record import Record
from knowngood.library.records import Library
from knowngood.library.shape import leaves


def sentence(text: str) -> str:
    """Text as a sentence; nothing stays nothing.

    >>> sentence("about 40"), sentence("")
    ('About 40.', '')
    """
    return f"{text[0].upper()}{text[1:]}." if text else ""


def limits(needs: Mapping[str, tuple[str, ...]]) -> list[str]:
    """What the car must have for the record to count.

    >>> limits({"ignition": ("pair coil", "distributor")})
    ['only on cars with ignition: pair coil or distributor']
    """
    return [f"only on cars with {field.replace('_', ' ')}: {' or '.join(values)}" for field, values in needs.items()]


def sources_of(library: Library, record: Record) -> Iterable[str]:
    """Every source a record names, published ones with title and section, each once."""
    named = dict.fromkeys(str(value) for keys, value in leaves(record) if keys[-1] == "source")
    for name in named:
        source = library.sources.get(name)
        if source is None:
            yield name
        else:
            yield f"{source.title}, {source.section}" if source.section else source.title
