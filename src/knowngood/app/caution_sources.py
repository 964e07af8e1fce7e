"""Where the cautions on a page come from, for who wants to read on."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.library.records import Library


def caution_sources(library: Library, texts: Sequence[str]) -> str:
    """The official sources behind some cautions in one sentence; empty where all are common practice."""
    named = [
        library.sources[caution.source].title
        for caution in library.cautions.values()
        if caution.text in texts and caution.source in library.sources
    ]
    return f"Read on: {'; '.join(dict.fromkeys(named))}." if named else ""
