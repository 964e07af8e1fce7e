"""The page of the reference that lists the topics of measurement."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from knowngood.app.measuring import topics
from tools.measure_page import page

DOCS = Path(__file__).parents[2] / "docs"


def test_page_is_fresh(golden: Callable[[str, str], None]) -> None:
    """What `make golden` would write is what stands in the docs."""
    golden("../../docs/reference/measure.md", page())


def test_page_names_every_topic() -> None:
    """With a heading each, an example that begins as it is typed, and no topic that is not there."""
    text = (DOCS / "reference" / "measure.md").read_text(encoding="utf-8")
    named = [line.split("`")[1] for line in text.splitlines() if line.startswith("### `")]
    assert named == list(topics())
    for topic in topics().values():
        assert topic.command in text


def test_page_can_be_found() -> None:
    """From the front page and in the list of pages, and so is the one on errors."""
    front = (DOCS / "index.md").read_text(encoding="utf-8")
    pages = (DOCS.parent / "mkdocs.yml").read_text(encoding="utf-8")
    for name in ("reference/measure.md", "explanation/measurements.md"):
        assert f"({name})" in front
        assert name in pages
