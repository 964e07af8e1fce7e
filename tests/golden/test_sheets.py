"""Sheets without chances, word for word."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from knowngood.app.example import tell_example
from knowngood.app.sheets import sheet_of
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.sheets.as_text import as_text


@pytest.mark.parametrize("name", ["arrival", "closing"])
def test_sheet_is_the_text_that_was_reviewed(name: str, tmp_path: Path, golden: Callable[[str, str], None]) -> None:
    """The example car, all told."""
    code, _ = tell_example(tmp_path, load(), until="")
    with Workshop(tmp_path, load()) as workshop:
        sheet = sheet_of(name, workshop.state(code), workshop.answer(code), "2026-05-01")
    golden(f"sheet_{name}.txt", as_text(sheet))
