"""Parts and areas of work that told words name: for "done last" and "new parts"."""

from __future__ import annotations

from knowngood.car import Car
from knowngood.library.records import Library
from knowngood.lines.reader import Reader
from knowngood.lines.scan import plain_line, scan
from knowngood.lines.typed import Typed
from knowngood.lines.understood import Recent
from knowngood.lines.vocabulary import vocabulary_of


def parts_named(text: str, car: Car, library: Library) -> tuple[str, ...]:
    """Ids of the parts some words name (``plugs all`` -> ``plug``), each once, in order."""
    vocabulary = vocabulary_of(library)
    plain = plain_line(text)
    reader = Reader(plain, scan(plain, vocabulary), car, library, vocabulary, Recent(), Typed(plain, plain))
    return tuple(dict.fromkeys(part for token in reader.tokens if (part := reader.part(token))))


def areas_named(text: str, library: Library) -> tuple[str, ...]:
    """Ids of the areas of work some words name (``rocker cover gasket`` -> ``rocker_cover``), each once, in order."""
    tokens = scan(plain_line(text), vocabulary_of(library))
    return tuple(dict.fromkeys(area for token in tokens for area in token.ids("area")))
