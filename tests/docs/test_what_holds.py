"""The pages of claims name tests that are there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
NAMED = re.compile(r"`(tests/[\w/]+\.py)(?:::(test_\w+))?`")


@pytest.mark.parametrize("page", ["what-holds-the-chances", "what-holds-the-next-step"])
def test_every_test_that_is_named_is_there(page: str) -> None:
    """Files and functions, one claim a row at least."""
    text = (ROOT / "docs" / "reference" / f"{page}.md").read_text(encoding="utf-8")
    rows = [line for line in text.splitlines() if line.startswith("| ") and not line.startswith("| claim")]
    assert len(rows) > 40
    assert all(NAMED.search(row) for row in rows)
    for file, name in NAMED.findall(text):
        tests = (ROOT / file).read_text(encoding="utf-8")
        assert not name or f"\ndef {name}(" in tests, f"{file} has no {name}"
