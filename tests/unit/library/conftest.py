"""The small library, and texts laid over it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from knowngood.library.load import Draft, add_texts
from knowngood.library.records import Library

HERE = Path(__file__).parent
SMALL = (HERE / "small.toml").read_text(encoding="utf-8")

LayOver = Callable[..., Draft]


@pytest.fixture
def lay_over() -> LayOver:
    """``lay_over(text, ...)``: the small library with each text laid over it, the first one as ``broken.toml``."""

    def lay(*texts: str) -> Draft:
        draft = Draft()
        add_texts(draft, {"small.toml": SMALL})
        for index, text in enumerate(texts):
            add_texts(draft, {f"over{index}.toml" if index else "broken.toml": text})
        return draft

    return lay


@pytest.fixture
def small(lay_over: LayOver) -> Library:
    """The small library alone."""
    return lay_over().library()
