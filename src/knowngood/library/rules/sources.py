"""Sources: where every number and every caution comes from."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from knowngood.errors import Problem
from knowngood.library.records import Library
from knowngood.library.shape import Keys, did_you_mean
from knowngood.library.where import Where

PLAIN_SOURCES = ("common practice", "memory")


def sources_exist(library: Library, where: Where) -> list[Problem]:
    """Every `source` is common practice, memory, or the id of a source."""
    from knowngood.library.load import KINDS

    known = (*PLAIN_SOURCES, *library.sources)
    problems = []
    for kind in KINDS:
        for name, record in getattr(library, kind.place).items():
            for keys, source in _named(record, ()):
                if source not in known and ("source", source) not in where.unread:
                    fact = f"no source is called '{source}'."
                    problems.append(where.problem(kind.table, name, keys, fact, did_you_mean(source, known, "Sources")))
    return problems


def _named(record: msgspec.Struct, at: Keys) -> Iterator[tuple[Keys, str]]:
    for name in record.__struct_fields__:
        value = getattr(record, name)
        if name == "source":
            yield (*at, name), value
        elif isinstance(value, msgspec.Struct):
            yield from _named(value, (*at, name))
        elif isinstance(value, tuple):
            for index, item in enumerate(value):
                if isinstance(item, msgspec.Struct):
                    yield from _named(item, (*at, name, index))


def cautions_have_sources(library: Library, where: Where) -> list[Problem]:
    """No caution rests on memory alone."""
    fix = "Find a source, or common practice."
    return [
        where.problem("caution", caution.id, ("source",), "a caution rests on memory.", fix)
        for caution in library.cautions.values()
        if caution.source == "memory"
    ]
