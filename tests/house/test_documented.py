"""What can be typed is documented where a user would look."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.cli.main import VERBS

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("verb", sorted(VERBS))
def test_verb_is_in_the_reference(verb: str) -> None:
    """Every verb stands in the terminal's reference page."""
    assert f"| `{verb}` |" in (ROOT / "docs" / "reference" / "terminal.md").read_text(encoding="utf-8")


def test_reference_names_no_verb_that_is_not_there() -> None:
    """The page does not promise more than there is."""
    text = (ROOT / "docs" / "reference" / "terminal.md").read_text(encoding="utf-8")
    named = {line.split("`")[1] for line in text.splitlines() if line.startswith("| `")}
    assert named == set(VERBS)
