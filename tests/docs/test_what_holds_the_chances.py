"""The page of claims about the chances names tests that are there."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "reference" / "what-holds-the-chances.md").read_text(encoding="utf-8")
NAMED = re.compile(r"`(tests/[\w/]+\.py)(?:::(test_\w+))?`")


def test_every_test_that_is_named_is_there() -> None:
    """Files and functions, one claim a row at least."""
    rows = [line for line in PAGE.splitlines() if line.startswith("| ") and not line.startswith("| claim")]
    assert len(rows) > 40
    assert all(NAMED.search(row) for row in rows)
    for file, name in NAMED.findall(PAGE):
        text = (ROOT / file).read_text(encoding="utf-8")
        assert not name or f"\ndef {name}(" in text, f"{file} has no {name}"
