"""One sheet in three forms of print: the same words, nothing typed read as markup."""

from __future__ import annotations

import itertools
from xml.etree import ElementTree

import pytest

from knowngood.sheets.as_html import as_html
from knowngood.sheets.as_pdf import as_pdf
from knowngood.sheets.as_text import WIDTH, as_text
from knowngood.sheets.plan_picture import plan_picture
from knowngood.sheets.row_strip import LEAST_GAP, row_strip
from knowngood.sheets.sheet import Items, Lines, Picture, Sheet, Signature, Table, Words

HOSTILE = '<script>x</script> #panic("x") $a$ *b* _c_ `d` \\ {{ e }} \u202eright to left'
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><path d="M0 0 V9" stroke="black"/></svg>'


def sheet(words: str) -> Sheet:
    """A sheet with every kind of block."""
    return Sheet(
        title=words,
        car=words,
        date="2026-05-01",
        blocks=(
            Words(words, strong=True),
            Words(words, small=True),
            Items(words, (words, words), boxes=True),
            Items(words, (words,)),
            Table(words, ("cylinder", "gap"), (("1", ""), ("2", "")), to_fill=True),
            Table(words, ("what", "words"), (("a", words * 5),)),
            Lines(words, 3),
            Picture(words, SVG, (words,)),
            Signature((words,)),
        ),
        foot=words,
    )


@pytest.mark.parametrize("words", ["plain", HOSTILE, "", "ж" * 300])
def test_sheet_prints_in_every_form(words: str) -> None:
    """Any words make a page: PDF bytes, HTML, and text with every word in it that is no wider than a terminal."""
    assert as_pdf(sheet(words)).startswith(b"%PDF-")
    assert as_html(sheet(words)).endswith("</html>\n")
    text = as_text(sheet(words))
    assert text.endswith("\n")
    assert max(len(line) for line in text.splitlines()) <= WIDTH
    assert "".join(words.split()) in "".join(text.split())


def test_nothing_typed_is_markup() -> None:
    """Words of a mechanic stay words."""
    page = as_html(sheet(HOSTILE))
    assert "<script>x" not in page
    assert "&lt;script&gt;x" in page


def test_text_fits_the_terminal() -> None:
    """No line is wider than the page, also in a table with too much in it."""
    text = as_text(sheet("words that go on for a while and then some more of them"))
    assert max(len(line) for line in text.splitlines()) <= WIDTH


def test_cells_to_fill_are_places_to_write() -> None:
    """An empty cell is a line to write on, a filled one is as it is."""
    text = as_text(Sheet(title="t", car="c", date="d", blocks=(sheet("x").blocks[4],)))
    rows = [line.split() for line in text.splitlines()[-2:]]
    assert [row[0] for row in rows] == ["1", "2"]
    assert all(set(row[1]) == {"_"} for row in rows)


def test_same_sheet_gives_the_same_bytes() -> None:
    """A PDF carries no clock."""
    assert as_pdf(sheet("x")) == as_pdf(sheet("x"))
    assert b"CreationDate(D:19700101000000Z)" in as_pdf(sheet("x"))


def test_plan_shows_left_bank_below() -> None:
    """Who stands at the flywheel end, on the right of the drawing, has the left bank at the lower edge."""
    svg = plan_picture(((1, 2), (3, 4)), ("left", "right"), (1, 3, 2, 4), {2: ("a < b",)}, {4: 7})
    root = ElementTree.fromstring(svg)
    texts = [element.text for element in root if element.tag.endswith("text")]
    assert texts.index("right bank") < texts.index("left bank")
    assert "fires 1-3-2-4" in texts
    assert "a < b" in texts
    assert svg.count('stroke-width="1.5"/>') == 4 + 7


def test_strip_keeps_figures_apart_and_in_order() -> None:
    """Readings close together are still readable, in the order of their size, inside the drawing."""
    svg = row_strip({1: 175.0, 2: 174.0, 3: 60.0, 4: 175.5}, "psi", window=(140.0, None), before={3: 58.0})
    root = ElementTree.fromstring(svg)
    said = [(element.text, float(element.get("x", "0"))) for element in root if ": " in (element.text or "")]
    above = said[:4]
    assert [text for text, _ in above] == ["3: 60", "2: 174", "1: 175", "4: 175.5"]
    assert all(b - a >= LEAST_GAP - 0.1 for (_, a), (_, b) in itertools.pairwise(above))
    assert any("should be 140" in (element.text or "") for element in root)


def test_strip_of_one_value_is_drawn() -> None:
    """A row that is all alike has no span, and is drawn all the same."""
    assert "2: 5" in row_strip({1: 5.0, 2: 5.0}, "V")
