"""Sources: where every number and every caution comes from."""

from __future__ import annotations

from knowngood.errors import Problem
from knowngood.library.records import Library
from knowngood.library.shape import did_you_mean, leaves
from knowngood.library.tables import KINDS
from knowngood.library.where import Where

PLAIN_SOURCES = ("common practice", "memory")


def sources_exist(library: Library, where: Where) -> list[Problem]:
    """Every `source` is common practice, memory, or the id of a source."""
    known = (*PLAIN_SOURCES, *library.sources)
    problems = []
    for kind in KINDS:
        for name, record in getattr(library, kind.place).items():
            for keys, source in leaves(record):
                if keys[-1] != "source":
                    continue
                if source not in known and ("source", source) not in where.unread:
                    fact = f"no source is called '{source}'."
                    problems.append(where.problem(kind.table, name, keys, fact, did_you_mean(source, known, "Sources")))
    return problems


def cautions_have_sources(library: Library, where: Where) -> list[Problem]:
    """No caution rests on memory alone."""
    fix = "Find a source, or common practice."
    return [
        where.problem("caution", caution.id, ("source",), "a caution rests on memory.", fix)
        for caution in library.cautions.values()
        if caution.source == "memory"
    ]
