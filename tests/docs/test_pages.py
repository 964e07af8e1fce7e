"""Every page of the docs can be found."""

from __future__ import annotations

from pathlib import Path

DOCS = Path(__file__).parents[2] / "docs"


def test_every_page_stands_in_the_list_of_pages() -> None:
    """All but the library's own pages, which its first page lists."""
    nav = (DOCS.parent / "mkdocs.yml").read_text(encoding="utf-8")
    pages = [page.relative_to(DOCS).as_posix() for page in sorted(DOCS.rglob("*.md"))]
    assert len(pages) > 20
    assert not [page for page in pages if f"- {page}\n" not in nav and not page.startswith("reference/library/")]


def test_front_page_leads_to_every_guide_and_explanation() -> None:
    """One tap from the front page."""
    front = (DOCS / "index.md").read_text(encoding="utf-8")
    wanted = [page for room in ("guides", "explanation") for page in sorted((DOCS / room).glob("*.md"))]
    assert not [page.name for page in wanted if f"({page.relative_to(DOCS).as_posix()})" not in front]
