"""The table of ways of working in the docs is that of the figures that were kept."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.docs.ways_table import BEGIN, END, ways_in_words, with_table

DOCS = Path(__file__).parents[2] / "docs"
PAGE, KEPT = DOCS / "explanation" / "proving-ground.md", DOCS / "figures" / "ways.json"
ROW = {"mean": 1234.4, "median": 80.0, "p90": 200.0, "cars": 3.0, "wrong_parts": 0.333, "checks": 12.0}
ROW |= {"repairs": 1.0, "road_tests": 1.0, "comebacks": 0.0, "left": 0.0}


def test_table_is_that_of_the_kept_figures(request: pytest.FixtureRequest) -> None:
    """What stands in the page is what `make golden` would write."""
    page = PAGE.read_text(encoding="utf-8")
    fresh = with_table(page, json.loads(KEPT.read_text(encoding="utf-8")))
    if request.config.getoption("--golden"):
        PAGE.write_text(fresh, encoding="utf-8")
        page = fresh
    assert page == fresh, "the table is not that of docs/figures/ways.json; `make golden` writes it"


def test_picture_lies_beside_the_figures() -> None:
    """The page shows it."""
    assert KEPT.with_suffix(".svg").exists()
    assert "(../figures/ways.svg)" in PAGE.read_text(encoding="utf-8")


def test_table_by_hand() -> None:
    """A thousand has its comma, a share its interval and whether it reaches its goal."""
    share = {"value": 0.75, "low": 0.5, "high": 1.25, "goal": 0.5, "holds": False}
    content = {"command": "make prove", "date": "2026-01-02", "commit": "abc", "ways": {"by_price": ROW}}
    figures = {"planner.excess_share_of_voi1": share, "planner.excess_share_of_voi1_evened": {**share, "value": 0.7}}
    text = ways_in_words({**content, "figures": figures, "many": {"knows": {**ROW, "cars": 400.0}}})
    assert text.splitlines()[0] == "`make prove`, 2026-01-02, commit abc: 3 cars with something behind it."
    assert "| by price | 1,234 | 80 | 200 | 0.33 | 12.00 | 1.00 | 1.00 | 0.00 | 0.00 |" in text
    assert "| 0.75 (0.50 to 1.25) | 0.70 (0.50 to 1.25) | 0.50 | no |" in text
    assert "The ways that take little, on 400 cars with something behind it:" in text
    assert text.splitlines()[-1].startswith("| knows | 1,234 |")


def test_page_without_marks_is_refused() -> None:
    """Nothing is written where the table should not stand."""
    with pytest.raises(ValueError, match="The page has no"):
        with_table("no marks", {})
    assert with_table(
        f"a{BEGIN}old{END}b", {"command": "", "date": "", "commit": "", "ways": {"a": ROW}, "figures": {}}
    )
