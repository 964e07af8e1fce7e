"""Reference pages of the library are those of the library as it is."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from knowngood.app.library_pages import library_pages
from knowngood.library.load import read

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "docs" / "reference" / "library"


@cache
def pages() -> dict[str, str]:
    """Every page as it should be."""
    draft = read()
    return library_pages(draft.library(), draft.where.origins)


def test_pages_are_fresh(request: pytest.FixtureRequest) -> None:
    """Each page on disk is what `make golden` would write, and no page is left over."""
    if request.config.getoption("--golden"):
        FOLDER.mkdir(exist_ok=True)
        for old in FOLDER.glob("*.md"):
            old.unlink()
        for name, text in pages().items():
            (FOLDER / name).write_text(text, encoding="utf-8")
    kept = {path.name: path.read_text(encoding="utf-8") for path in FOLDER.glob("*.md")}
    stale = sorted(name for name in kept.keys() | pages().keys() if kept.get(name) != pages().get(name))
    assert stale == [], "these pages are not those of the library; `make golden` writes them"


def test_every_kind_has_its_entry() -> None:
    """No fault, check or other kind of record is left out."""
    library = read().library()
    text = "".join(pages().values())
    for records in (library.faults, library.checks, library.readings, library.codes, library.parts, library.access):
        assert [name for name in records if f"`{name}`" not in text] == []


def test_pages_are_linked() -> None:
    """The first page of the documentation leads to them."""
    assert "(reference/library/index.md)" in (ROOT / "docs" / "index.md").read_text(encoding="utf-8")
